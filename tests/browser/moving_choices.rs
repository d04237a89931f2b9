//! What can be chosen on the moving page, and the words with which it refuses.

use crate::driver::Browser;
use crate::page::{ready, refusal, shown, type_in};
use crate::{run, run_text};
use kin_core::{Axle, Corner, Dimension, Error};
use kin_script::model::{ModelFile, ModelFormat, Suspension};
use kin_script::units::{LengthUnit, Units};

/// Titles of the curves that are seen.
const SEEN: &str = "[...document.querySelectorAll('#curves figure')].filter((figure) => !figure.hidden)\
    .map((figure) => figure.querySelector('title').textContent)";

fn words(browser: &mut Browser, expression: &str) -> Vec<String> {
    serde_json::from_value(browser.value(expression)).unwrap()
}

#[test]
fn a_teacher_chooses_the_curves() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run("27_moving_page.rhai");
    ready(&mut browser, &output.path().join("moving.html"));
    assert_eq!(words(&mut browser, SEEN).len(), 4);
    for key in ["camber", "toe", "roll_centre_height"] {
        browser.value(&format!(
            "document.querySelector('#choices [data-choice={key}]').click()"
        ));
    }
    let seen = words(&mut browser, SEEN);
    assert!(seen.contains(&"Toe, plus is toe-in (deg)".to_owned()), "{seen:?}");
    assert!(!seen.iter().any(|title| title.starts_with("Camber")), "{seen:?}");
    // Every curve that is seen is drawn, and says what it is.
    let drawn = browser.value(
        "[...document.querySelectorAll('#curves figure')].filter((figure) => !figure.hidden)\
         .every((figure) => figure.querySelector('path.now')?.getAttribute('d').length > 100 && figure.querySelector('desc').textContent)",
    );
    assert_ne!(drawn, false);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn the_curves_of_an_axle_stand_against_bump_or_roll() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run("37_moving_axle.rhai");
    ready(&mut browser, &output.path().join("moving_axle.html"));
    let foot = "[...document.querySelectorAll('[data-curve=axle_steer] text')].at(-1).textContent";
    assert_eq!(
        browser.value(foot),
        "droop \u{2190} travel of both wheels (mm) \u{2192} bump"
    );
    browser.value(
        "(() => { const choice = document.getElementById('against'); choice.value = 'roll'; choice.dispatchEvent(new Event('change')); })()",
    );
    assert_eq!(
        browser.value(foot),
        "right wheel up \u{2190} roll of the axle (deg) \u{2192} left wheel up"
    );
    // The mark stays on its curve when one wheel goes up.
    browser.drag("[data-handle=wheelLeft] .knob", (0.0, -14.0));
    let away = browser.value(
        "(() => { const curve = document.querySelector('[data-curve=axle_steer]'); const mark = curve.querySelector('.mark.now'); \
         const line = curve.querySelector('path.now'); const [x, y] = ['cx', 'cy'].map((key) => Number(mark.getAttribute(key))); \
         const length = line.getTotalLength(); \
         return Math.min(...Array.from({ length: 2000 }, (_, step) => line.getPointAtLength((length * step) / 1999)) \
             .map((point) => Math.hypot(point.x - x, point.y - y))); })()",
    );
    assert!(away.as_f64().unwrap() < 0.5, "{away}");
    browser.picture("axle_roll.png");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn construction_lines_meet_in_the_centres() {
    construction_lines(1280, 1000);
}

#[test]
fn construction_lines_fit_a_phone() {
    construction_lines(400, 800);
}

fn construction_lines(width: u32, height: u32) {
    let Some(mut browser) = Browser::start(width, height) else {
        return;
    };
    for (example, page, labels) in [
        (
            "27_moving_page.rhai",
            "moving.html",
            vec!["instant centre", "roll centre"],
        ),
        (
            "37_moving_axle.rhai",
            "moving_axle.html",
            vec!["roll centre", "instant centre", "anti-squat slope"],
        ),
    ] {
        let output = run(example);
        ready(&mut browser, &output.path().join(page));
        let lines = "document.querySelectorAll('.construction .guide').length";
        assert_eq!(browser.value(lines), 0);
        browser.value("document.getElementById('lines').click()");
        assert!(browser.value(lines).as_u64().unwrap() >= 3, "{example}");
        let found = words(
            &mut browser,
            "[...document.querySelectorAll('.construction .label')].map((label) => label.textContent)",
        );
        for label in labels {
            assert!(
                found.iter().any(|words| words.contains(label)),
                "{label}: {found:?}"
            );
        }
        // Each line is broken, so that it is told from the parts without colour.
        let plain = browser.value(
            "[...document.querySelectorAll('.construction line')].filter((line) => getComputedStyle(line).strokeDasharray === 'none').length",
        );
        assert_eq!(plain, 0);
        if page == "moving_axle.html" {
            // The roll axis: the places where upper and lower links meet lie on one line with the roll centre.
            let bend = browser.value(
                "(() => { const [a, b] = [...document.querySelectorAll('#side .construction .guide')].slice(0, 2) \
                 .map((line) => ['x', 'y'].map((axis) => line.getAttribute(axis + 2) - line.getAttribute(axis + 1))); \
                 return (a[0] * b[1] - a[1] * b[0]) / (Math.hypot(...a) * Math.hypot(...b)); })()",
            );
            assert!(bend.as_f64().unwrap().abs() < 1e-9, "{bend}");
        }
        // Every label is whole.
        let cut = browser.value(
            "[...document.querySelectorAll('.construction .label')].filter((label) => { const box = label.getBoundingClientRect(); \
             const picture = label.closest('svg').getBoundingClientRect(); return box.left < picture.left || box.right > picture.right \
             || box.top < picture.top || box.bottom > picture.bottom; }).length",
        );
        assert_eq!(cut, 0, "{page} at {width}");
        assert_eq!(browser.value("document.documentElement.scrollWidth"), width);
        browser.picture(&format!("lines_{width}_{page}.png"));
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}

#[test]
fn numbers_to_take_hold_of_never_lie_on_each_other() {
    for (width, height) in [(1280, 1000), (400, 800)] {
        let Some(mut browser) = Browser::start(width, height) else {
            return;
        };
        let crowded = "import \"vehicles/three_link\" as coupe; let axle = coupe::rear([-2720, 470, 330], [-2720, -430, 330]);
             axle.right = \"mirror\"; axle.dampers = #{ left: #{ upper_mount: [-2790, 430, 560], lower_mount: [-2760, 520, 230],
                 rides_on: \"axle\", extended: 420, compressed: 270 } };
             axle.springs = #{ left: #{ rate: 40, upper_mount: [-2600, 465, 520], lower_mount: [-2610, 470, 250], rides_on: \"axle\" },
                 right: #{ rate: 40, upper_mount: [-2600, -465, 520], lower_mount: [-2610, -470, 250], rides_on: \"axle\" } };
             save(\"crowded.html\", moving_page(axle));";
        for (output, example, page) in [
            (run("27_moving_page.rhai"), "the rig", "moving.html"),
            (run("37_moving_axle.rhai"), "the axle", "moving_axle.html"),
            (run_text(crowded), "a crowded axle", "crowded.html"),
        ] {
            ready(&mut browser, &output.path().join(page));
            browser.picture(&format!("knobs_{width}_{page}.png"));
            let nearest = browser.value(
                "Math.min(...[...document.querySelectorAll('svg')].flatMap((svg) => { \
                 const places = [...svg.querySelectorAll('.knob')].map((knob) => knob.getBoundingClientRect()); \
                 return places.flatMap((a, one) => places.slice(one + 1).map((b) => Math.hypot(a.x - b.x, a.y - b.y))); }))",
            );
            // Their discs are 22 pixels wide, with a line of 2.5 around.
            assert!(
                nearest.as_f64().unwrap() > 24.5,
                "{example} at {width}: {nearest}"
            );
            assert_eq!(browser.complaints(), Vec::<String>::new());
        }
    }
}

/// A corner in inches whose wheel nearly leaves its reach in droop, and an axle in inches (both invented).
const IN_INCHES: &str = "
    let corner = double_wishbone(#{ unit: \"inch\",
        upper_arm: #{ front_pivot: [6, 15.5, 17.5], rear_pivot: [-6.5, 15.5, 17], ball_joint: [-0.5, 25.5, 18] },
        lower_arm: #{ front_pivot: [6, 11, 8], rear_pivot: [-6.5, 10.5, 8], ball_joint: [0.25, 27, 7.5] },
        tie_rod: #{ inner: [-4.75, 12, 8.5], outer: [-5.5, 26.25, 8.25] }, wheel: #{ centre: [0, 29.75, 12.5], tyre_radius: 12.5 } });
    save(\"corner.toml\", corner); save(\"corner.html\", moving_page(corner, #{ droop: 8, bump: 2 }));
    let axle = live_axle(#{ unit: \"inch\", right: \"mirror\", wheels: #{ left: [-112, 29.5, 12.75], tyre_radius: 12.75 },
        links: #{ lower_left: #{ body: [-92, 18, 10.25], axle: [-112, 19.5, 9.75] }, upper_left: #{ body: [-96.5, 16.5, 17.25], axle: [-110, 5, 18.75] } } });
    save(\"axle.toml\", axle); save(\"axle.html\", moving_page(axle, #{ droop: 2, bump: 2 }));";

/// The words of the program for what is wrong, in inches.
fn told(error: &Error) -> String {
    let units = Units::new(LengthUnit::Inch, None);
    let words = error
        .sentence()
        .render(|value, dimension, rounding| units.rounded(value, dimension, rounding));
    assert!(words.contains(" in"), "{words}");
    let end = if words.ends_with('?') { "" } else { "." };
    format!("It stays where it was: {words}{end}")
}

#[test]
fn numbers_are_written_in_the_units_of_the_page() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run_text(IN_INCHES);
    let units = Units::new(LengthUnit::Inch, None);
    for page in ["corner.html", "axle.html"] {
        ready(&mut browser, &output.path().join(page));
        let cell = browser.value(
            "(() => { const cell = document.querySelector('td[data-key=roll_centre_height][data-state=now]'); \
             return { value: Number(cell.dataset.value), text: cell.textContent, name: cell.parentNode.firstChild.textContent }; })()",
        );
        let native = units.text(cell["value"].as_f64().unwrap(), Dimension::Length);
        assert_eq!(
            format!("{} in", cell["text"].as_str().unwrap().replace('\u{2212}', "-")),
            native
        );
        assert_eq!(cell["name"], "Roll centre above ground (in)");
        // An arrow key is a sixteenth of an inch.
        browser.value("document.querySelector('.hold-wheel').focus()");
        browser.press("ArrowUp", 1, false);
        assert!((shown(&mut browser).travel[0] - 25.4 / 16.0).abs() < 1e-9);
    }
}

#[test]
fn refusals_speak_in_the_units_of_the_page() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run_text(IN_INCHES);
    let model = |file: &str| {
        let text = std::fs::read_to_string(output.path().join(file)).unwrap();
        let model = ModelFile::read(&text, ModelFormat::Toml).unwrap();
        model.suspension().unwrap()
    };
    let Suspension::Corner(corner) = model("corner.toml") else {
        panic!("a corner was written")
    };
    ready(&mut browser, &output.path().join("corner.html"));
    // Its upper arm would be an inch across.
    let mut pickups = corner.pickups().clone();
    for (axis, inches) in [(0, 6.0), (1, 16.0), (2, 17.5)] {
        pickups.upper_arm.ball_joint[axis] = inches * 25.4;
        let word = ["forward", "left", "up"][axis];
        type_in(&mut browser, &format!("upperBall-{word}"), &inches.to_string());
        if let Err(error) = Corner::new(&pickups) {
            assert_eq!(refusal(&mut browser), told(&error));
            pickups.upper_arm.ball_joint[axis] = corner.pickups().upper_arm.ball_joint[axis];
        }
    }
    type_in(&mut browser, "upperBall-up", "30000");
    pickups.upper_arm.ball_joint.z = 30000.0 * 25.4;
    assert_eq!(refusal(&mut browser), told(&Corner::new(&pickups).unwrap_err()));
    // Farther down than the arms let the wheel go.
    ready(&mut browser, &output.path().join("corner.html"));
    type_in(&mut browser, "upperBall-left", "20");
    browser.value("document.querySelector('[data-handle=wheel]').focus()");
    browser.press("Home", 1, false);
    let mut pickups = corner.pickups().clone();
    pickups.upper_arm.ball_joint.y = 20.0 * 25.4;
    let error = Corner::new(&pickups).unwrap().at(-8.0 * 25.4, 0.0).unwrap_err();
    assert_eq!(refusal(&mut browser), told(&Error::from(error)));

    let Suspension::Axle(axle) = model("axle.toml") else {
        panic!("an axle was written")
    };
    ready(&mut browser, &output.path().join("axle.html"));
    let mut pickups = axle.pickups().clone();
    for link in ["lower_left", "lower_right"] {
        pickups.links.get_mut(link).unwrap().axle.z = 30000.0 * 25.4;
    }
    type_in(&mut browser, "link0Axle-up", "30000");
    assert_eq!(refusal(&mut browser), told(&Axle::new(&pickups).unwrap_err()));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
