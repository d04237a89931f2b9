//! Corners that cannot be right.

use super::{corner_refused, says};
use kin_core::pickups::{Arm, Measured, Quantity, Side};
use kin_core::samples;

#[test]
fn coincident_pickups() {
    let mut corner = samples::wagon_front();
    corner.upper_arm.rear_pivot = corner.upper_arm.front_pivot;
    says(
        &corner_refused(&corner),
        &[
            "`upper_arm.front_pivot`",
            "`upper_arm.rear_pivot`",
            "0 mm apart",
            "span the axis",
        ],
    );
    let mut corner = samples::wagon_front();
    corner.tie_rod.inner = corner.tie_rod.outer;
    says(
        &corner_refused(&corner),
        &["`tie_rod.inner`", "`tie_rod.outer`", "they coincide"],
    );
    let mut corner = samples::wagon_front();
    corner.lower_arm.ball_joint = corner.upper_arm.ball_joint;
    says(
        &corner_refused(&corner),
        &["`lower_arm.ball_joint`", "`upper_arm.ball_joint`", "coincide"],
    );
    let mut corner = samples::wagon_front();
    let damper = corner.coilover.as_mut().expect("a coilover");
    damper.upper_mount = damper.lower_mount;
    says(
        &corner_refused(&corner),
        &["`coilover.upper_mount`", "`coilover.lower_mount`", "coincide"],
    );
}

#[test]
fn a_ball_joint_between_the_pivots() {
    let mut corner = samples::wagon_front();
    // In line with both pivots of an arm that leans outboard.
    corner.lower_arm.rear_pivot.y = 150.0;
    corner.lower_arm.ball_joint =
        corner.lower_arm.front_pivot + 1.8 * (corner.lower_arm.front_pivot - corner.lower_arm.rear_pivot);
    says(
        &corner_refused(&corner),
        &[
            "`lower_arm.ball_joint`",
            "must stand off the line through both pivots",
        ],
    );
}

fn in_inches(arm: &mut Arm) {
    arm.visit(&mut |value, kind| {
        if kind == Quantity::Length {
            *value /= 25.4;
        }
    });
}

#[test]
fn inches_given_as_millimetres() {
    // An arm of some 10 inches becomes one of 10 "mm".
    let mut corner = samples::wagon_front();
    in_inches(&mut corner.upper_arm);
    says(
        &corner_refused(&corner),
        &[
            "`upper_arm.front_pivot`",
            "`upper_arm.ball_joint`",
            "mm apart",
            "is the unit right",
        ],
    );
    // Just one length, a 15 "mm" tie rod.
    let mut corner = samples::wagon_front();
    corner.tie_rod.inner = corner.tie_rod.outer;
    corner.tie_rod.inner.y -= 15.0;
    says(
        &corner_refused(&corner),
        &["`tie_rod.inner`", "15 mm apart", "is the unit right"],
    );
    let mut corner = samples::wagon_front();
    corner.wheel.tyre_radius /= 25.4;
    says(
        &corner_refused(&corner),
        &[
            "`wheel.tyre_radius`",
            "between 50 mm and 800 mm",
            "is the unit right",
        ],
    );
    let mut corner = samples::wagon_front();
    let damper = corner.coilover.as_mut().expect("a coilover");
    damper.extended /= 25.4;
    damper.compressed /= 25.4;
    says(
        &corner_refused(&corner),
        &["`coilover.compressed`", "is the unit right"],
    );
    // And all of them at once.
    let mut corner = samples::wagon_front();
    corner.visit(&mut |value, kind| {
        if kind == Quantity::Length {
            *value /= 25.4;
        }
    });
    says(&corner_refused(&corner), &["is the unit right"]);
}

#[test]
fn millimetres_given_as_inches() {
    let mut corner = samples::wagon_front();
    corner.visit(&mut |value, kind| {
        if kind == Quantity::Length {
            *value *= 25.4;
        }
    });
    says(
        &corner_refused(&corner),
        &["`wheel.tyre_radius`", "is the unit right"],
    );
    let mut corner = samples::wagon_front();
    in_inches(&mut corner.lower_arm);
    corner.lower_arm.visit(&mut |value, _| *value *= 25.4 * 25.4);
    says(
        &corner_refused(&corner),
        &["`lower_arm.front_pivot`", "mm apart", "is the unit right"],
    );
    let mut corner = samples::wagon_front();
    corner.wheel.centre.x = 25_400.0;
    says(
        &corner_refused(&corner),
        &[
            "`wheel.centre x`",
            "between -20000 mm and 20000 mm",
            "is the unit right",
        ],
    );
}

#[test]
fn signs_of_y() {
    // One point on the wrong side.
    let mut corner = samples::wagon_front();
    corner.tie_rod.outer.y = -corner.tie_rod.outer.y;
    says(
        &corner_refused(&corner),
        &[
            "`tie_rod.outer`",
            "y = -668 mm",
            "a left corner",
            "Y points left",
            "side: \"right\"",
        ],
    );
    // All of them: the right corner given as a left one.
    let mut corner = samples::wagon_front().mirrored();
    corner.side = Side::Left;
    says(
        &corner_refused(&corner),
        &["`wheel.centre`", "a left corner", "side: \"right\""],
    );
    let mut corner = samples::wagon_front();
    corner.side = Side::Right;
    says(
        &corner_refused(&corner),
        &["`wheel.centre`", "a right corner", "side: \"left\""],
    );
    // Pivot and ball joint swapped.
    let mut corner = samples::wagon_front();
    let arm = &mut corner.lower_arm;
    (arm.front_pivot, arm.ball_joint) = (arm.ball_joint, arm.front_pivot);
    says(
        &corner_refused(&corner),
        &[
            "`lower_arm.ball_joint`",
            "is not outboard of `lower_arm.front_pivot`",
            "not swapped",
        ],
    );
}

#[test]
fn arms_swapped() {
    let mut corner = samples::wagon_front();
    std::mem::swap(&mut corner.upper_arm, &mut corner.lower_arm);
    says(
        &corner_refused(&corner),
        &[
            "the upper ball joint (z = 190 mm) is not above the lower one (z = 462 mm)",
            "swapped?",
        ],
    );
}

#[test]
fn a_tie_rod_on_the_kingpin() {
    let mut corner = samples::wagon_front();
    let (low, up) = (corner.lower_arm.ball_joint, corner.upper_arm.ball_joint);
    corner.tie_rod.outer = low + 0.4 * (up - low);
    says(&corner_refused(&corner), &["tie_rod.outer"]);
}

#[test]
fn angles_out_of_range() {
    for (angle, name) in [(40.0, "camber"), (-40.0, "camber"), (16.0, "toe")] {
        let mut corner = samples::wagon_front();
        let field = if name == "camber" {
            &mut corner.wheel.camber
        } else {
            &mut corner.wheel.toe
        };
        *field = angle;
        let text = corner_refused(&corner);
        says(
            &text,
            &[
                &format!("`wheel.{name}` is {angle}"),
                "between -15 deg and 15 deg",
                "degrees",
            ],
        );
    }
}
