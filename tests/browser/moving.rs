//! The moving page in a browser: what is taken hold of moves, and the numbers are the native solver's.

use crate::driver::Browser;
use crate::native::compare;
use crate::page::{Shown, cell, ready, refusal, shown, type_in};
use crate::{examples, run, run_text};
use kin_core::pickups::DoubleWishbone;
use kin_script::model::{ModelFile, ModelFormat, Suspension};
use serde_json::json;

/// Holds everything shown to the native solver.
fn held(browser: &mut Browser, described: &DoubleWishbone) -> Shown {
    let shown = shown(browser);
    compare(
        described,
        &shown.pickups,
        shown.travel[0],
        &shown.answer,
        &shown.cells,
    );
    shown
}

/// A vehicle of the examples in millimetres.
fn vehicle(file: &str) -> DoubleWishbone {
    let text = std::fs::read_to_string(examples().join("vehicles").join(file)).unwrap();
    let model = ModelFile::read(&text, ModelFormat::Toml).unwrap();
    match model.suspension().unwrap() {
        Suspension::Corner(corner) => corner.pickups().clone(),
        Suspension::Axle(_) => panic!("{file} is an axle"),
    }
}

/// The rig as example 27 moves it.
fn rig() -> DoubleWishbone {
    let mut rig = vehicle("bench_rig.toml");
    rig.spring.as_mut().unwrap().free_length = Some(275.0);
    rig
}

#[test]
fn the_mouse_drags_the_wheel_and_the_points_and_the_numbers_are_the_solvers() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run("27_moving_page.rhai");
    ready(&mut browser, &output.path().join("moving.html"));
    browser.picture("moving.png");
    let described = rig();
    let at_rest = held(&mut browser, &described);
    assert_eq!(at_rest.travel, [0.0]);

    browser.drag("[data-handle=wheel]", (0.0, -25.0));
    let bumped = held(&mut browser, &described);
    assert!(bumped.travel[0] > 5.0, "{:?}", bumped.travel);
    assert!(cell(&bumped, "damper_length") < cell(&at_rest, "damper_length"));
    assert!(cell(&bumped, "wheel_force") > cell(&at_rest, "wheel_force"));

    // With the wheel up: along its arm, under the pointer.
    let before = browser.on_page("[data-handle=damperLower] .spot");
    browser.drag("[data-handle=damperLower] .knob", (70.0, 0.0));
    let after = browser.on_page("[data-handle=damperLower] .spot");
    assert!((after.0 - before.0 - 70.0).abs() < 8.0, "{before:?} {after:?}");
    let slid = held(&mut browser, &described);
    assert_eq!(slid.travel, bumped.travel);
    assert!(cell(&slid, "motion_ratio") > 1.1 * cell(&bumped, "motion_ratio"));
    // The mount stays on the line of its arm: (4, 220, -12) from pivots to ball joint, through (0, 200, 86.36).
    let along = (slid.pickups[34] - 200.0) / 220.0;
    assert!(along > 0.1, "{along}");
    assert!((slid.pickups[33] - 4.0 * along).abs() < 1e-6);
    assert!((slid.pickups[35] - 86.36 + 12.0 * along).abs() < 1e-6);

    for (handle, place) in [
        ("damperUpper", 31),
        ("upperBall", 7),
        ("lowerBall", 16),
        ("upperFront", 1),
        ("upperRear", 4),
        ("lowerFront", 10),
        ("lowerRear", 13),
        ("tieInner", 19),
        ("tieOuter", 22),
    ] {
        let before = shown(&mut browser);
        let middle = browser.on_page(&format!("#front [data-handle={handle}] .spot"));
        browser.drag(&format!("#front [data-handle={handle}] .knob"), (-7.0, -5.0));
        let now = browser.on_page(&format!("#front [data-handle={handle}] .spot"));
        // The point follows the pointer, whatever turned while it moved.
        assert!(
            (now.0 - middle.0 + 7.0).abs() < 0.5 && (now.1 - middle.1 + 5.0).abs() < 0.5,
            "{handle}: {middle:?} {now:?}"
        );
        let after = held(&mut browser, &described);
        assert!(after.pickups[place] < before.pickups[place] - 1.0, "{handle}");
        assert_eq!(after.pickups[place - 1], before.pickups[place - 1], "{handle}");
    }
    browser.picture("moving_dragged.png");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn everything_can_be_done_from_the_keyboard() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run("27_moving_page.rhai");
    ready(&mut browser, &output.path().join("moving.html"));
    let described = rig();
    // Tab comes to a way past the handles, and then to the wheel.
    browser.press("Tab", 1, false);
    assert_eq!(browser.value("document.activeElement.hash"), "#travel");
    browser.press("Tab", 1, false);
    assert_eq!(browser.value("document.activeElement.dataset.handle"), "wheel");
    browser.press("ArrowUp", 3, false);
    browser.press("ArrowUp", 1, true);
    let up = held(&mut browser, &described);
    assert!((up.travel[0] - 13.0).abs() < 1e-9, "{:?}", up.travel);
    assert_eq!(
        browser.value("document.activeElement.getAttribute('aria-valuetext')"),
        "13.0 mm of bump from ride height"
    );
    browser.press("Home", 1, false);
    assert_eq!(held(&mut browser, &described).travel, [-30.0]);
    browser.press("End", 1, false);
    assert_eq!(held(&mut browser, &described).travel, [30.0]);

    browser.press("Tab", 1, false);
    assert_eq!(
        browser.value("document.activeElement.dataset.handle"),
        "damperUpper"
    );
    browser.press("ArrowRight", 1, true);
    browser.press("ArrowDown", 2, false);
    let moved = held(&mut browser, &described);
    assert!((moved.pickups[31] - 170.0).abs() < 1e-9 && (moved.pickups[32] - 328.0).abs() < 1e-9);

    // Two states kept: A is the beginning; what is now becomes B.
    browser.value("document.getElementById('keep-B').focus()");
    browser.press("Enter", 1, false);
    browser.value("document.getElementById('keep-B').click()");
    browser.value("document.getElementById('take-A').click()");
    let back = held(&mut browser, &described);
    assert_eq!(back.pickups[31], 160.0);
    let kept = browser
        .value("Number(document.querySelector('td[data-key=motion_ratio][data-state=B]').dataset.value)");
    assert_eq!(kept.as_f64().unwrap(), cell(&moved, "motion_ratio"));
    browser.picture("moving_compared.png");

    // A point typed as a number; one that cannot be is refused with the reason, and nothing moves.
    type_in(&mut browser, "upperBall-up", "210");
    let higher = held(&mut browser, &described);
    assert_eq!(higher.pickups[8], 210.0);
    type_in(&mut browser, "upperRear-forward", "-41");
    type_in(&mut browser, "tieInner-left", "86");
    let higher = held(&mut browser, &described);
    assert_eq!([higher.pickups[3], higher.pickups[19]], [-41.0, 86.0]);
    type_in(&mut browser, "upperBall-up", "20");
    let refused = held(&mut browser, &described);
    // As text, where what is not there equals itself.
    assert_eq!(format!("{:?}", refused.pickups), format!("{:?}", higher.pickups));
    let why = refusal(&mut browser);
    assert!(why.contains("upper"), "{why}");
    // What changed is said aloud.
    browser.wait_for("document.getElementById('said').textContent.includes('Motion ratio')");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_finger_moves_the_wheel_on_a_phone() {
    let Some(mut browser) = Browser::start(400, 800) else {
        return;
    };
    let output = run("27_moving_page.rhai");
    ready(&mut browser, &output.path().join("moving.html"));
    browser.swipe("[data-handle=wheel]", (0.0, 15.0));
    let down = held(&mut browser, &rig());
    assert!(down.travel[0] < -3.0, "{:?}", down.travel);
    browser.picture("moving_phone.png");
    assert_eq!(browser.value("document.documentElement.scrollWidth"), 400);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn numbers_are_typed_with_point_or_comma_and_nonsense_is_said() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run("27_moving_page.rhai");
    ready(&mut browser, &output.path().join("moving.html"));
    let height = "document.getElementById('front').getBoundingClientRect().height";
    let before = (browser.value(height), shown(&mut browser).pickups);
    let (upper, ball) = ("damperUpper-up", "upperBall-up");
    type_in(&mut browser, ball, "207,5");
    assert_eq!(held(&mut browser, &rig()).pickups[8], 207.5);
    type_in(&mut browser, ball, "two");
    assert_eq!(
        refusal(&mut browser),
        "It stays where it was: \"two\" is no number."
    );
    // A mount far out makes the picture smaller; what is taken back fits it again.
    type_in(&mut browser, upper, "900");
    assert_ne!(browser.value(height), before.0);
    browser.value("document.getElementById('again').click()");
    assert_eq!(browser.value(height), before.0);
    // As text, where what is not there equals itself.
    assert_eq!(
        format!("{:?}", shown(&mut browser).pickups),
        format!("{:?}", before.1)
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn who_wants_no_motion_gets_none() {
    let Some(mut browser) = Browser::start(1000, 800) else {
        return;
    };
    let output = run("27_moving_page.rhai");
    let wish = |value: &str| json!({ "features": [{ "name": "prefers-reduced-motion", "value": value }] });
    browser.call("Emulation.setEmulatedMedia", wish("reduce"));
    ready(&mut browser, &output.path().join("moving.html"));
    assert_eq!(browser.value("document.getElementById('play').hidden"), true);
    browser.call("Emulation.setEmulatedMedia", wish("no-preference"));
    browser.wait_for("!document.getElementById('play').hidden");
    browser.value("document.getElementById('play').click()");
    browser.wait_for("Math.abs(Number(document.querySelector('main').dataset.travel)) > 2");
    held(&mut browser, &rig());
    browser.call("Emulation.setEmulatedMedia", wish("reduce"));
    browser.wait_for("document.getElementById('play').hidden");
    let before = shown(&mut browser).travel;
    std::thread::sleep(std::time::Duration::from_millis(200));
    assert_eq!(shown(&mut browser).travel, before);
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_spring_that_stands_apart_is_taken_hold_of_in_both_views() {
    let Some(mut browser) = Browser::start(1280, 1000) else {
        return;
    };
    let output = run_text(
        "let corner = load(\"vehicles/wagon_front.toml\"); let damper = corner.coilover; corner.coilover = (); corner.damper = damper;
         corner.spring = #{ upper_mount: [10, 470, 480], lower_mount: [20, 560, 190], rides_on: \"lower_arm\", rate: 80, free_length: 330 };
         save(\"model.toml\", corner); save(\"moving.html\", moving_page(corner, #{ droop: 40, bump: 50 }));",
    );
    let text = std::fs::read_to_string(output.path().join("model.toml")).unwrap();
    let model = ModelFile::read(&text, ModelFormat::Toml).unwrap();
    let Suspension::Corner(corner) = model.suspension().unwrap() else {
        panic!("a corner was written")
    };
    ready(&mut browser, &output.path().join("moving.html"));
    let described = corner.pickups();
    let first = held(&mut browser, described);
    // Its lower end slides along the arm from the front, and goes anywhere from the side.
    for (view, handle, place, axes) in [
        ("front", "springUpper", 44, vec![1, 2]),
        ("front", "springLower", 47, vec![0, 1, 2]),
        ("side", "springUpper", 44, vec![0, 2]),
        ("side", "springLower", 47, vec![0, 2]),
        ("side", "lowerRear", 12, vec![0, 2]),
    ] {
        let before = shown(&mut browser);
        browser.drag(&format!("#{view} [data-handle={handle}] .knob"), (15.0, -3.0));
        let after = held(&mut browser, described);
        let changed: Vec<usize> = (0..3)
            .filter(|axis| after.pickups[place + axis] != before.pickups[place + axis])
            .collect();
        assert_eq!(changed, axes, "{view} {handle}");
        let told = browser.value("document.getElementById('held').textContent");
        assert!(told.as_str().unwrap().contains(" forward, "), "{told}");
    }
    assert!(cell(&shown(&mut browser), "wheel_force") != cell(&first, "wheel_force"));
    browser.picture("moving_apart.png");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn every_kind_of_corner_is_solved_as_natively() {
    let Some(mut browser) = Browser::start(1000, 800) else {
        return;
    };
    let apart = "let damper = corner.coilover; corner.coilover = (); corner.damper = damper; corner.spring = #{ upper_mount: \
        [10, 470, 480], lower_mount: [20, 560, 190], rides_on: \"lower_arm\", rate: 80, free_length: 330 };";
    for (name, change) in [
        ("as it is", String::new()),
        (
            "on the upper arm",
            "corner.coilover.rides_on = \"upper_arm\"; corner.coilover.lower_mount = [-10, 560, 440]; \
            corner.coilover.upper_mount = [-10, 500, 760];"
                .to_owned(),
        ),
        (
            "on the upright",
            "corner.coilover.rides_on = \"upright\"; corner.coilover.lower_mount = [0, 680, 230];".to_owned(),
        ),
        ("with studs", "corner.coilover.upper_stud = 12;".to_owned()),
        (
            "measured hanging",
            "corner.ride_height = #{ travel: 30 };".to_owned(),
        ),
        (
            "its spring without a length",
            "corner.spring = #{ rate: 90 };".to_owned(),
        ),
        ("spring apart", apart.to_owned()),
    ] {
        let script = format!(
            "let corner = load(\"vehicles/wagon_front.toml\"); {change}
             save(\"model.toml\", corner); save(\"moving.html\", moving_page(corner, #{{ droop: 40, bump: 50 }}));"
        );
        let output = run_text(&script);
        let text = std::fs::read_to_string(output.path().join("model.toml")).unwrap();
        let model = ModelFile::read(&text, ModelFormat::Toml).unwrap();
        let Suspension::Corner(corner) = model.suspension().unwrap() else {
            panic!("a corner was written")
        };
        ready(&mut browser, &output.path().join("moving.html"));
        browser.value("document.querySelector('[data-handle=wheel]').focus()");
        for (key, from_ride) in [("Home", -40.0), ("PageUp", -30.0), ("End", 50.0)] {
            browser.press(key, 1, false);
            let shown = shown(&mut browser);
            let ride = corner.ride_travel().unwrap();
            assert!((shown.travel[0] - ride - from_ride).abs() < 1e-9, "{name}");
            compare(
                corner.pickups(),
                &shown.pickups,
                shown.travel[0],
                &shown.answer,
                &shown.cells,
            );
        }
        assert_eq!(browser.complaints(), Vec::<String>::new(), "{name}");
    }
}
