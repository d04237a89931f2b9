//! The animated picture.

use super::written;

const MOVING: &str = "save(\"moving.svg\", animation(load(\"vehicles/bench_rig.toml\"), #{ droop: 30, bump: 30, seconds: 6 }));";

#[test]
fn a_picture_moves_unless_motion_is_not_wanted() {
    let text = written(MOVING, "moving.svg");
    let picture = roxmltree::Document::parse(&text).unwrap();
    let root = picture.root_element();
    for name in ["title", "desc"] {
        let element = root
            .children()
            .find(|node| node.tag_name().name() == name)
            .unwrap();
        assert!(!element.text().unwrap_or_default().is_empty(), "{name}");
    }
    let groups: Vec<_> = root
        .children()
        .filter(|node| node.tag_name().name() == "g")
        .collect();
    // Ride height stands still and is seen without any animation; the others are hidden until they are shown.
    let (still, frames) = groups.split_first().unwrap();
    assert_eq!(still.attribute("class"), Some("kin-still"));
    assert_eq!(still.attribute("visibility"), None);
    assert!(
        frames.len() > 20
            && frames
                .iter()
                .all(|frame| frame.attribute("visibility") == Some("hidden"))
    );
    let words = |group: &roxmltree::Node<'_, '_>| {
        let last = group.children().rfind(|node| node.tag_name().name() == "text");
        last.and_then(|node| node.text())
            .unwrap_or_default()
            .trim()
            .to_owned()
    };
    assert_eq!(words(still), "ride height, damper 246.9 mm, motion ratio 0.605");
    assert!(words(&frames[0]).starts_with("30.0 mm of droop"));
    assert!(words(frames.last().unwrap()).starts_with("30.0 mm of bump"));
    assert!(text.contains("@media (prefers-reduced-motion: no-preference)"));
    // Half of six seconds for the way there, and back the same way.
    assert!(text.contains("animation: 3s step-end infinite alternate"));
    assert_eq!(text.matches("@keyframes").count(), frames.len());
}

#[test]
fn an_axle_moves_as_well() {
    let text = written(
        "save(\"moving.svg\", animation(load(\"vehicles/wagon_rear.toml\")));",
        "moving.svg",
    );
    assert!(text.contains("rear view"));
    assert!(!text.contains("NaN"));
}

#[test]
fn the_same_picture_is_the_same_bytes() {
    assert_eq!(written(MOVING, "moving.svg"), written(MOVING, "moving.svg"));
}
