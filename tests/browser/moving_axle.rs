//! The moving page of a live axle in a browser: wheels and links are moved, and the numbers are the native solver's.

use crate::driver::Browser;
use crate::native_axle::{LINK, LINKS, compare};
use crate::page::{Shown, cell, ready, refusal, shown, type_in};
use crate::{examples, run, run_text};
use kin_core::pickups::LiveAxle;
use kin_script::model::{ModelFile, ModelFormat, Suspension};
use tempfile::TempDir;

/// A written model in millimetres, both sides written out.
fn axle(text: &str) -> LiveAxle {
    let model = ModelFile::read(text, ModelFormat::Toml).unwrap();
    match model.suspension().unwrap() {
        Suspension::Axle(axle) => axle.pickups().clone(),
        Suspension::Corner(_) => panic!("an axle was written"),
    }
}

/// The axle of example 37.
fn wagon() -> LiveAxle {
    axle(&std::fs::read_to_string(examples().join("vehicles/wagon_rear.toml")).unwrap())
}

/// Runs a script that makes `axle`, and gives the axle beside its page.
fn page_of(script: &str) -> (TempDir, LiveAxle) {
    let output = run_text(&format!(
        "import \"vehicles/three_link\" as coupe; {script}
         save(\"model.toml\", axle); save(\"moving.html\", moving_page(axle, #{{ droop: 50, bump: 60 }}));"
    ));
    let described = axle(&std::fs::read_to_string(output.path().join("model.toml")).unwrap());
    (output, described)
}

/// Holds everything shown to the native solver.
fn held(browser: &mut Browser, described: &LiveAxle) -> Shown {
    let shown = shown(browser);
    let travel = [shown.travel[0], shown.travel[1]];
    compare(described, &shown.pickups, travel, &shown.answer, &shown.cells);
    shown
}

/// Moves a slider as a hand does.
fn slide(browser: &mut Browser, slider: &str, value: f64) {
    browser.value(&format!(
        "(() => {{ const slider = document.getElementById('{slider}'); slider.value = {value}; \
         for (const name of ['input', 'change']) slider.dispatchEvent(new Event(name)); }})()"
    ));
}

#[test]
fn the_mouse_moves_each_wheel_both_wheels_and_every_point() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run("37_moving_axle.rhai");
    ready(&mut browser, &output.path().join("moving_axle.html"));
    browser.picture("axle.png");
    let described = wagon();
    assert_eq!(held(&mut browser, &described).travel, [0.0, 0.0]);
    browser.drag("[data-handle=wheelLeft] .knob", (0.0, -12.0));
    let left = held(&mut browser, &described);
    assert!(
        left.travel[0] > 10.0 && left.travel[1] == 0.0,
        "{:?}",
        left.travel
    );
    assert!(cell(&left, "roll_angle") > 0.005);
    browser.drag("[data-handle=wheelRight] .knob", (0.0, 8.0));
    let crossed = held(&mut browser, &described);
    assert!(
        crossed.travel[0] == left.travel[0] && crossed.travel[1] < -5.0,
        "{:?}",
        crossed.travel
    );
    browser.drag("[data-handle=axle] .knob", (0.0, -6.0));
    let both = held(&mut browser, &described);
    let by = [0, 1].map(|wheel: usize| both.travel[wheel] - crossed.travel[wheel]);
    assert!(by[0] > 5.0 && (by[0] - by[1]).abs() < 1e-9, "{by:?}");

    // Every point follows the pointer, in each view where it is seen, and its mirror image follows it.
    let mirrored = |key: &str| match key {
        "damperLeftUpper" => (11, 21),
        "damperLeftLower" => (14, 24),
        "link0Body" => (LINKS, LINKS + LINK),
        "link0Axle" => (LINKS + 3, LINKS + LINK + 3),
        "link2Body" => (LINKS + 2 * LINK, LINKS + 3 * LINK),
        "link2Axle" => (LINKS + 2 * LINK + 3, LINKS + 3 * LINK + 3),
        other => panic!("{other} is not expected"),
    };
    let keys = browser.value(
        "[...document.querySelectorAll('#front [data-handle]')].map((handle) => handle.dataset.handle)",
    );
    let keys: Vec<String> = serde_json::from_value(keys).unwrap();
    let points: Vec<&String> = keys
        .iter()
        .filter(|key| !key.starts_with("wheel") && *key != "axle")
        .collect();
    assert_eq!(points.len(), 6, "{keys:?}");
    // Across and up in each view, and which way the first is counted.
    for (view, axes) in [("front", [1, 2]), ("side", [0, 2]), ("top", [1, 0])] {
        for key in &points {
            let handle = |part: &str| format!("#{view} [data-handle={key}] .{part}");
            let before = shown(&mut browser);
            // On its picture: words above that take another line move the whole picture.
            let place = |browser: &mut Browser| {
                let (spot, picture) = (
                    browser.on_page(&handle("spot")),
                    browser.on_page(&format!("#{view}")),
                );
                (spot.0 - picture.0, spot.1 - picture.1)
            };
            let from = place(&mut browser);
            browser.drag(&handle("knob"), (6.0, -4.0));
            let to = place(&mut browser);
            assert!(
                (to.0 - from.0 - 6.0).abs() < 0.5 && (to.1 - from.1 + 4.0).abs() < 0.5,
                "{view} {key}: {from:?} {to:?}"
            );
            let after = held(&mut browser, &described);
            let (first, other) = mirrored(key);
            for axis in 0..3 {
                let change = after.pickups[first + axis] - before.pickups[first + axis];
                assert_eq!(
                    change.abs() > 1.0,
                    axes.contains(&axis),
                    "{view} {key} {axis}: {change}"
                );
                let image = if axis == 1 { -1.0 } else { 1.0 };
                assert_eq!(after.pickups[other + axis], image * after.pickups[first + axis]);
            }
        }
    }
    // On the right hand as well: the left one is pulled the other way.
    for view in ["front", "top"] {
        let before = shown(&mut browser);
        browser.drag(&format!("#{view} [data-image=link2Axle]"), (-8.0, -5.0));
        let after = held(&mut browser, &described);
        let (left, right) = mirrored("link2Axle");
        assert!(after.pickups[left + 1] < before.pickups[left + 1] - 1.0, "{view}");
        assert!(
            after.pickups[right + 1] > before.pickups[right + 1] + 1.0,
            "{view}"
        );
    }
    browser.picture("axle_dragged.png");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn bump_and_roll_from_the_keyboard_the_sliders_and_the_fields() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run("37_moving_axle.rhai");
    ready(&mut browser, &output.path().join("moving_axle.html"));
    let described = wagon();
    browser.press("Tab", 2, false);
    assert_eq!(
        browser.value("document.activeElement.dataset.handle"),
        "wheelLeft"
    );
    browser.press("ArrowUp", 2, true);
    assert_eq!(held(&mut browser, &described).travel, [20.0, 0.0]);
    browser.press("Tab", 1, false);
    browser.press("ArrowDown", 3, false);
    assert_eq!(held(&mut browser, &described).travel, [20.0, -3.0]);
    browser.press("Tab", 1, false);
    assert_eq!(browser.value("document.activeElement.dataset.handle"), "axle");
    // Both go as far as the first of them can.
    browser.press("End", 1, false);
    assert_eq!(held(&mut browser, &described).travel, [60.0, 37.0]);
    assert_eq!(
        browser.value("document.getElementById('where').textContent.split(';')[0]"),
        "Left wheel 60.0 mm of bump from ride height, right wheel 37.0 mm of bump from ride height"
    );
    slide(&mut browser, "travel", 10.0);
    assert_eq!(held(&mut browser, &described).travel, [21.5, -1.5]);
    slide(&mut browser, "roll", -25.0);
    assert_eq!(held(&mut browser, &described).travel, [-15.0, 35.0]);
    slide(&mut browser, "roll", 60.0);
    assert_eq!(held(&mut browser, &described).travel, [60.0, -40.0]);

    type_in(&mut browser, "link2Axle-left", "180");
    type_in(&mut browser, "damperLeftUpper-forward", "-2870");
    let typed = held(&mut browser, &described);
    assert_eq!(
        [
            typed.pickups[LINKS + 2 * LINK + 4],
            typed.pickups[LINKS + 3 * LINK + 4]
        ],
        [180.0, -180.0]
    );
    assert_eq!([typed.pickups[11], typed.pickups[21]], [-2870.0, -2870.0]);
    // Kept as B, and back to A, which is the beginning.
    browser.value("document.getElementById('keep-B').click()");
    browser.value("document.getElementById('take-A').click()");
    let back = held(&mut browser, &described);
    assert_eq!(back.pickups[11], -2898.0);
    let kept = browser
        .value("Number(document.querySelector('td[data-key=roll_steer][data-state=B]').dataset.value)");
    assert_eq!(kept.as_f64().unwrap(), cell(&typed, "roll_steer"));
    // What cannot be is refused by its name, and nothing moves.
    type_in(&mut browser, "link2Axle-forward", "1e6");
    let refused = held(&mut browser, &described);
    assert_eq!(refused.pickups[LINKS + 2 * LINK + 3], -2795.0);
    let why = refusal(&mut browser);
    assert!(why.contains("`links.upper_left.axle x` is 1000000 mm"), "{why}");
    browser.picture("axle_compared.png");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_finger_moves_an_axle_on_a_phone() {
    let Some(mut browser) = Browser::start(400, 800) else {
        return;
    };
    let output = run("37_moving_axle.rhai");
    ready(&mut browser, &output.path().join("moving_axle.html"));
    let described = wagon();
    browser.swipe("[data-handle=axle] .knob", (0.0, -8.0));
    let up = held(&mut browser, &described);
    assert!(
        up.travel[0] > 5.0 && up.travel[0] == up.travel[1],
        "{:?}",
        up.travel
    );
    browser.swipe("[data-handle=wheelRight] .knob", (0.0, 8.0));
    let one = held(&mut browser, &described);
    assert!(one.travel[1] < one.travel[0] - 5.0, "{:?}", one.travel);
    // A number among its neighbours.
    browser.swipe("#front [data-handle=link0Axle] .knob", (-5.0, 6.0));
    let moved = held(&mut browser, &described);
    assert!(moved.pickups[LINKS + 4] > 500.0 && moved.pickups[LINKS + 5] < 240.0);
    assert_eq!(moved.pickups[LINKS + LINK + 4], -moved.pickups[LINKS + 4]);
    browser.picture("axle_phone.png");
    assert_eq!(browser.value("document.documentElement.scrollWidth"), 400);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn every_kind_of_axle_is_solved_as_natively() {
    let Some(mut browser) = Browser::start(1000, 800) else {
        return;
    };
    let three_link = "let axle = coupe::rear([-2720, 470, 330], [-2720, -430, 330]);";
    let dampers = "axle.right = \"mirror\"; axle.dampers = #{ left: #{ upper_mount: [-2790, 430, 560], \
        lower_mount: [-2760, 520, 230], rides_on: \"axle\", extended: 420, compressed: 270 } }; axle.springs = #{ left: #{ rate: 40, \
        free_length: 340, upper_mount: [-2600, 465, 520], lower_mount: [-2610, 470, 250], rides_on: \"lower_left\" } };";
    let five_link = "let axle = live_axle(#{ unit: \"mm\", right: \"mirror\", links: #{ \
        lower_left: #{ body: [-2200, 450, 250], axle: [-2750, 470, 240], stiffness: 20000 }, \
        upper_left: #{ body: [-2250, 420, 420], axle: [-2720, 430, 440], stiffness: 2000 }, \
        panhard_rod: #{ body: [-2860, 480, 380], axle: [-2850, -480, 340], stiffness: 20000 } }, \
        wheels: #{ left: [-2750, 750, 320], tyre_radius: 320 } });";
    for (name, script, handles) in [
        ("a panhard rod, and nothing else", three_link.to_owned(), 8),
        ("springs on the links", format!("{three_link} {dampers}"), 12),
        ("more links than it needs", five_link.to_owned(), 6),
        (
            "the other one of the examples, measured hanging",
            "let axle = load(\"vehicles/pickup_rear.toml\"); axle.ride_height = #{ travel: 25 };".to_owned(),
            6,
        ),
    ] {
        let (output, described) = page_of(&script);
        ready(&mut browser, &output.path().join("moving.html"));
        let found = browser.value("document.querySelectorAll('#front .handle:not(.hold-wheel)').length");
        assert_eq!(found, handles, "{name}");
        let ride = shown(&mut browser).travel[0];
        for (heave, roll) in [(0.0, 30.0), (-20.0, 0.0), (15.0, -20.0)] {
            slide(&mut browser, "roll", 0.0);
            slide(&mut browser, "travel", heave);
            slide(&mut browser, "roll", roll);
            let shown = held(&mut browser, &described);
            let expected = [ride + heave + roll, ride + heave - roll];
            for (travel, expected) in shown.travel.iter().zip(expected) {
                assert!((travel - expected).abs() < 1e-9, "{name}: {travel} {expected}");
            }
        }
        assert_eq!(browser.complaints(), Vec::<String>::new(), "{name}");
    }
}
