//! The moving page as a file; what it does in a browser is in `tests/browser`.

use super::{is_accessible, names_are_sound, stands_alone, written};

pub(super) const MOVING: &str =
    "save(\"moving.html\", moving_page(load(\"vehicles/bench_rig.toml\"), #{ droop: 30, bump: 30 }));";

pub(super) const AXLE: &str =
    "save(\"axle.html\", moving_page(load(\"vehicles/wagon_rear.toml\"), #{ droop: 60, bump: 60 }));";

#[test]
fn the_page_stands_alone_and_is_accessible() {
    for page in [written(MOVING, "moving.html"), written(AXLE, "axle.html")] {
        stands_alone(&page);
        is_accessible(&page);
        names_are_sound(&page);
        assert!(page.contains("aria-live=\"polite\"") && page.contains("prefers-reduced-motion"));
        // Small enough to be mailed: the solver takes four fifths of it.
        assert!(page.len() < 450_000, "{} bytes", page.len());
    }
}

#[test]
fn the_same_page_is_the_same_bytes() {
    assert_eq!(written(MOVING, "moving.html"), written(MOVING, "moving.html"));
    assert_eq!(written(AXLE, "axle.html"), written(AXLE, "axle.html"));
}

#[test]
fn travel_beyond_the_reach_of_the_linkage_is_refused() {
    let page = "moving_page(load(\"vehicles/wagon_front.toml\"), #{ droop: 50, bump: 500 });";
    let refused = super::run(page).complaint;
    for words in [
        "`bump`: 500.0 mm is asked",
        "the linkage itself ends at 352.2 mm of",
    ] {
        assert!(refused.contains(words), "{refused}");
    }
}

#[test]
fn the_right_side_follows_only_where_the_description_mirrors_it() {
    assert!(
        written(AXLE, "axle.html")
            .contains("The right side is the mirror of the left: they follow each other")
    );
    let both = written(
        "let axle = load(\"vehicles/wagon_rear.toml\"); let left = axle.links.lower_left;
         axle.links.lower_right = #{ body: [left.body[0], -left.body[1], left.body[2]], axle: [left.axle[0], -left.axle[1], left.axle[2]] };
         save(\"axle.html\", moving_page(axle));",
        "axle.html",
    );
    let model = both
        .split("id=\"model\">")
        .nth(1)
        .unwrap()
        .split("</script>")
        .next()
        .unwrap();
    let model: serde_json::Value = serde_json::from_str(model).unwrap();
    let mirror = |name: &str| {
        let links = model["links"].as_array().unwrap();
        let link = links.iter().find(|link| link["name"] == name).unwrap();
        link["mirror"]
            .as_u64()
            .map(|place| links[place as usize]["name"].clone())
    };
    assert_eq!(mirror("lower_left"), None);
    assert_eq!(mirror("upper_left").unwrap(), "upper_right");
    assert_eq!(
        model["mirrored"],
        serde_json::json!({ "dampers": true, "springs": true })
    );
}
