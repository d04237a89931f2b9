//! Axles that cannot be right.

use super::{axle_refused, says};
use kin_core::pickups::{RightSide, Spring};
use kin_core::samples;

#[test]
fn links_of_no_length() {
    let mut axle = samples::wagon_rear();
    let link = &mut axle.links["upper_left"];
    link.axle = link.body;
    says(
        &axle_refused(&axle),
        &[
            "`links.upper_left.body`",
            "`links.upper_left.axle`",
            "they coincide",
        ],
    );
    let mut axle = samples::wagon_rear();
    let link = &mut axle.links["upper_left"];
    link.body /= 25.4;
    link.axle /= 25.4;
    says(
        &axle_refused(&axle),
        &["`links.upper_left.body`", "is the unit right"],
    );
    let mut axle = samples::wagon_rear();
    axle.links.clear();
    says(
        &axle_refused(&axle),
        &["`links`", "four of them, or three and a panhard rod"],
    );
}

#[test]
fn a_missing_right_side() {
    // Links and wheels of the left only, and no word of a mirror.
    let mut axle = samples::wagon_rear();
    axle.right = RightSide::Given;
    says(
        &axle_refused(&axle),
        &["`wheels.right`", "give the right wheel", "mirror"],
    );
    let mut axle = samples::wagon_rear().with_both_sides();
    axle.coilovers.as_mut().expect("coilovers").right = None;
    says(&axle_refused(&axle), &["`coilovers.right`", "mirror"]);
    let mut axle = samples::wagon_rear().with_both_sides();
    axle.springs.as_mut().expect("springs").right = None;
    says(&axle_refused(&axle), &["`springs.right`", "mirror"]);
}

#[test]
fn wheels_on_the_wrong_side() {
    let mut axle = samples::wagon_rear().with_both_sides();
    let left = axle.wheels.left;
    axle.wheels.left = axle.wheels.right.expect("a right wheel");
    axle.wheels.right = Some(left);
    says(
        &axle_refused(&axle),
        &[
            "`wheels.left` (y = -752 mm)",
            "not to the left of `wheels.right`",
            "Y points left",
        ],
    );
    let mut axle = samples::wagon_rear();
    axle.wheels.tyre_radius = 12.75;
    says(
        &axle_refused(&axle),
        &["`wheels.tyre_radius`", "is the unit right"],
    );
}

#[test]
fn other_numbers() {
    let mut axle = samples::wagon_rear();
    axle.links["lower_left"].stiffness = Some(-5.0);
    says(
        &axle_refused(&axle),
        &["`links.lower_left.stiffness` is -5", "above 0"],
    );
    let mut axle = samples::wagon_rear();
    axle.pinion.as_mut().expect("a pinion").nose_up = 90.0;
    says(
        &axle_refused(&axle),
        &["`pinion.nose_up` is 90", "between -45 deg and 45 deg", "degrees"],
    );
    let mut axle = samples::wagon_rear();
    axle.dampers = axle.coilovers.clone();
    says(
        &axle_refused(&axle),
        &["`dampers`", "either `coilovers` or `dampers`, not both"],
    );
}

#[test]
fn unknown_links_are_suggested() {
    let mut axle = samples::wagon_rear();
    axle.coilovers.as_mut().expect("coilovers").left.rides_on = "lower_lft".into();
    says(
        &axle_refused(&axle),
        &[
            "`coilovers.left.rides_on` says `lower_lft`",
            "`axle`, `lower_left`",
            "did you mean `lower_left`?",
        ],
    );
    let mut axle = samples::wagon_rear();
    let springs = axle.springs.as_mut().expect("springs");
    springs.left = Spring {
        upper_mount: Some([-2_600.0, 400.0, 500.0].into()),
        lower_mount: Some([-2_600.0, 450.0, 260.0].into()),
        rides_on: Some("axel".into()),
        ..springs.left.clone()
    };
    says(
        &axle_refused(&axle),
        &["`springs.left.rides_on`", "did you mean `axle`?"],
    );
}
