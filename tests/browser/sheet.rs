//! The sheet in a browser.

use crate::driver::Browser;
use crate::{run, run_text};
use serde_json::json;

#[test]
fn the_sheet_opens_from_a_file_without_errors_or_requests() {
    let Some(mut browser) = Browser::start(1000, 1400) else {
        return;
    };
    let output = run("26_fit_page.rhai");
    browser.open(&output.path().join("sheet.html"));
    browser.picture("sheet.png");
    assert_eq!(browser.complaints(), Vec::<String>::new());
    let verdict = browser.value("document.querySelector('.verdict').innerText");
    assert!(verdict.as_str().unwrap().contains("TIGHT."), "{verdict}");
    // Nothing is cut off at the side, and both pictures have a size.
    assert_eq!(browser.value("document.documentElement.scrollWidth"), 1000);
    let sizes = browser.value(
        "[...document.querySelectorAll('figure svg')].map((svg) => Math.round(svg.getBoundingClientRect().height))",
    );
    assert_eq!(sizes.as_array().unwrap().len(), 2);
    assert!(
        sizes
            .as_array()
            .unwrap()
            .iter()
            .all(|size| size.as_i64().unwrap() > 200),
        "{sizes}"
    );
}

#[test]
fn the_sheet_fits_a_phone() {
    let Some(mut browser) = Browser::start(400, 800) else {
        return;
    };
    let output = run("26_fit_page.rhai");
    browser.open(&output.path().join("sheet.html"));
    browser.picture("sheet_phone.png");
    assert_eq!(browser.complaints(), Vec::<String>::new());
    assert_eq!(browser.value("document.documentElement.scrollWidth"), 400);
}

/// Width and height of paper (in): A4 is 210 mm by 297 mm (ISO 216), Letter 8.5 in by 11 in (ANSI/ASME Y14.1).
const PAPER: [(&str, f64, f64); 2] = [("A4", 210.0 / 25.4, 297.0 / 25.4), ("Letter", 8.5, 11.0)];
/// Margins of the style sheet, both sides together (in): 12 mm left and right, 11 mm above, 15 mm below.
const MARGINS: (f64, f64) = (24.0 / 25.4, 26.0 / 25.4);
/// CSS pixels in an inch (CSS Values and Units, absolute lengths).
const DOTS: f64 = 96.0;

#[test]
fn the_sheet_fits_both_sizes_of_paper() {
    let Some(mut browser) = Browser::start(1000, 1400) else {
        return;
    };
    let output = run("26_fit_page.rhai");
    browser.open(&output.path().join("sheet.html"));
    browser.call("Emulation.setEmulatedMedia", json!({ "media": "print" }));
    for (name, width, height) in PAPER {
        let (width, height) = (
            ((width - MARGINS.0) * DOTS).floor(),
            ((height - MARGINS.1) * DOTS).floor(),
        );
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        browser.call("Emulation.setDeviceMetricsOverride", size);
        let widest = browser.value(
            "Math.max(...[...document.querySelectorAll('body, table, svg, p, li')].map((part) => part.getBoundingClientRect().right))",
        );
        assert!(
            widest.as_f64().unwrap() <= width + 0.5,
            "{name}: {widest} of {width}"
        );
        // The first page is complete: from the title to the drawing, which is not too small to be read.
        let wall = browser.value("document.querySelector('.wall').getBoundingClientRect().bottom");
        assert!(wall.as_f64().unwrap() <= height, "{name}: {wall} of {height}");
        let drawing =
            browser.value("document.querySelector('.wall figure svg').getBoundingClientRect().height");
        assert!(
            drawing.as_f64().unwrap() > 50.0 / 25.4 * DOTS,
            "{name}: {drawing}"
        );
    }
}

#[test]
fn the_sheet_prints_on_four_pages_of_either_paper() {
    let Some(mut browser) = Browser::start(1000, 1400) else {
        return;
    };
    let output = run("26_fit_page.rhai");
    browser.open(&output.path().join("sheet.html"));
    for (name, width, height) in PAPER {
        let pages = browser.printed_pages(width, height);
        assert!((3..=4).contains(&pages), "{name}: {pages} pages");
    }
}

#[test]
fn a_hostile_name_is_text_on_both_pages() {
    let Some(mut browser) = Browser::start(1000, 800) else {
        return;
    };
    let name = "</title><script>alert(1)</script><img src=x onerror=alert(2)>";
    let output = run_text(&format!(
        "let corner = load(\"vehicles/wagon_front.toml\");
         corner.title = \"{name}\";
         save(\"sheet.html\", page(corner.fit(#{{ wanted: #{{ bump: 60 }} }}), #{{ pictures: [draw(\"front.svg\", corner)], tables: #{{}},
             sources: #{{ coilover: \"{name}\" }} }}));
         save(\"moving.html\", moving_page(corner));
         let axle = load(\"vehicles/wagon_rear.toml\"); axle.title = \"{name}\"; axle.links[\"{name}\"] = axle.links.upper_left;
         axle.links.upper_right = #{{ body: [-2455, -420, 440], axle: [-2795, -125, 474] }}; axle.links.remove(\"upper_left\");
         save(\"axle.html\", moving_page(axle));"
    ));
    for page in ["sheet.html", "moving.html", "axle.html"] {
        browser.open(&output.path().join(page));
        assert_eq!(
            browser.value("document.querySelector('h1').textContent"),
            name,
            "{page}"
        );
        assert_eq!(browser.complaints(), Vec::<String>::new(), "{page}");
    }
    let words = browser.value("document.getElementById('points').textContent");
    assert!(
        words.as_str().unwrap().contains(&format!("{name}, body end")),
        "{words}"
    );
}
