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

/// Paper less the margins of the style sheet (12 mm a side), in CSS pixels of 1/96 in (CSS Values and Units, absolute lengths):
/// A4 is 210 mm wide (ISO 216), Letter 8.5 in (ANSI/ASME Y14.1).
const PAPER: [(&str, f64); 2] = [
    ("A4", (210.0 - 24.0) / 25.4 * 96.0),
    ("Letter", (8.5 - 24.0 / 25.4) * 96.0),
];

#[test]
fn the_sheet_fits_both_sizes_of_paper() {
    let Some(mut browser) = Browser::start(1000, 1400) else {
        return;
    };
    let output = run("26_fit_page.rhai");
    browser.open(&output.path().join("sheet.html"));
    browser.call("Emulation.setEmulatedMedia", json!({ "media": "print" }));
    for (name, width) in PAPER {
        let width = width.floor();
        let size = json!({ "width": width, "height": 1000, "deviceScaleFactor": 1, "mobile": false });
        browser.call("Emulation.setDeviceMetricsOverride", size);
        let widest = browser.value(
            "Math.max(...[...document.querySelectorAll('body, table, svg, p, li')].map((part) => part.getBoundingClientRect().right))",
        );
        assert!(
            widest.as_f64().unwrap() <= width + 0.5,
            "{name}: {widest} of {width}"
        );
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
