//! The picture for slides in a browser.

use crate::driver::Browser;
use crate::run;
use serde_json::json;

/// How many of these are seen.
const SEEN: &str = "((mark) => [...document.querySelectorAll(mark)].filter((group) => getComputedStyle(group).visibility === 'visible').length)";

#[test]
fn the_picture_moves_by_itself_and_stands_still_for_who_wants_no_motion() {
    let Some(mut browser) = Browser::start(900, 700) else {
        return;
    };
    let output = run("27_moving_page.rhai");
    let wish = |value: &str| json!({ "features": [{ "name": "prefers-reduced-motion", "value": value }] });
    browser.call("Emulation.setEmulatedMedia", wish("no-preference"));
    browser.open(&output.path().join("slide.svg"));
    let words = "[...document.querySelectorAll('.kin-frame')].find((group) => getComputedStyle(group).visibility === 'visible')\
        .lastElementChild.textContent";
    let mut told = std::collections::BTreeSet::new();
    for _ in 0..40 {
        assert_eq!(browser.value(&format!("{SEEN}('.kin-frame')")), 1);
        assert_eq!(browser.value(&format!("{SEEN}('.kin-still')")), 0);
        told.insert(browser.value(words).to_string());
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    assert!(told.len() > 5, "{told:?}");
    browser.picture("slide.png");
    browser.call("Emulation.setEmulatedMedia", wish("reduce"));
    browser.wait_for(&format!(
        "{SEEN}('.kin-frame') === 0 && {SEEN}('.kin-still') === 1"
    ));
    assert_eq!(browser.complaints(), Vec::<String>::new());
}
