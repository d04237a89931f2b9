//! The moving page as a file; what it does in a browser is in `tests/browser`.

use super::{is_accessible, names_are_sound, stands_alone, written};

pub(super) const MOVING: &str =
    "save(\"moving.html\", moving_page(load(\"vehicles/bench_rig.toml\"), #{ droop: 30, bump: 30 }));";

#[test]
fn the_page_stands_alone_and_is_accessible() {
    let page = written(MOVING, "moving.html");
    stands_alone(&page);
    is_accessible(&page);
    names_are_sound(&page);
    assert!(page.contains("aria-live=\"polite\"") && page.contains("prefers-reduced-motion"));
    assert!(page.len() < 400_000, "{} bytes", page.len());
}

#[test]
fn the_same_page_is_the_same_bytes() {
    assert_eq!(written(MOVING, "moving.html"), written(MOVING, "moving.html"));
}
