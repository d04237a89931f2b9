//! Points that no car has where they are said to be, and odd ones that a car may well have.

use super::{axle_refused, corner_refused, says};
use kin_core::pickups::{Link, Point};
use kin_core::{Axle, Corner, samples};

#[test]
fn a_tie_rod_given_from_the_wrong_end() {
    for corner in [samples::wagon_front(), samples::wagon_front().mirrored()] {
        let mut corner = corner;
        std::mem::swap(&mut corner.tie_rod.inner, &mut corner.tie_rod.outer);
        says(
            &corner_refused(&corner),
            &[
                "`tie_rod.outer` (y = ",
                "302 mm",
                "668 mm",
                "are the two ends swapped?",
            ],
        );
    }
}

#[test]
fn links_given_from_the_wrong_end() {
    for name in ["lower_left", "upper_left"] {
        let mut axle = samples::wagon_rear();
        let link = &mut axle.links[name];
        std::mem::swap(&mut link.body, &mut link.axle);
        says(
            &axle_refused(&axle),
            &[
                &format!("`links.{name}.axle` is "),
                &format!("`links.{name}.body` only "),
                "are the two ends swapped?",
            ],
        );
    }
}

#[test]
fn wheels_far_from_everything() {
    // A digit too many: 757 becomes 7577.
    let mut corner = samples::wagon_front();
    corner.wheel.centre.y = 7_577.0;
    says(
        &corner_refused(&corner),
        &["`wheel.centre` is ", "farther than 600 mm", "a digit too many"],
    );
    let mut corner = samples::wagon_front();
    corner.wheel.centre.x = -2_860.0;
    says(&corner_refused(&corner), &["`wheel.centre` is "]);
    // The front wheels given for the rear axle.
    let mut axle = samples::wagon_rear();
    axle.wheels.left.x = 0.0;
    says(&axle_refused(&axle), &["are the two ends swapped?"]);
    let mut axle = samples::wagon_rear();
    axle.wheels.left.x = -4_860.0;
    says(
        &axle_refused(&axle),
        &[
            "the link nearest to the axle",
            "from one origin, and in one unit?",
        ],
    );
    // One wheel at the front, the other at the rear.
    let mut axle = samples::wagon_rear().with_both_sides();
    axle.wheels.left.x += 2_000.0;
    says(
        &axle_refused(&axle),
        &["`wheels.left` and `wheels.right` are 2000.0 mm apart fore-and-aft"],
    );
}

/// The names decide which pivot a load or a shim belongs to.
#[test]
fn pivots_that_are_swapped_fore_and_aft() {
    let mut corner = samples::wagon_front();
    let arm = &mut corner.upper_arm;
    std::mem::swap(&mut arm.front_pivot, &mut arm.rear_pivot);
    says(
        &corner_refused(&corner),
        &[
            "`upper_arm.front_pivot` (x = ",
            "is behind `upper_arm.rear_pivot` (x = ",
            "are the two pivots swapped",
        ],
    );
}

/// From memory: the longest dampers of tall off-road cars are about a metre and a half long.
#[test]
fn a_damper_longer_than_any_car_has_room_for() {
    let mut corner = samples::wagon_front();
    corner.coilover.as_mut().expect("a coilover").extended = 12_500.0;
    says(
        &corner_refused(&corner),
        &[
            "`coilover.extended` is 12500 mm",
            "between 0 mm and 2000 mm",
            "is the unit right",
        ],
    );
}

/// From memory: the tallest tyres of cars and lorries have a radius of about 700 mm.
#[test]
fn tyres_larger_than_any() {
    let mut corner = samples::wagon_front();
    corner.wheel.tyre_radius = 1_270.0;
    says(
        &corner_refused(&corner),
        &["`wheel.tyre_radius` is 1270 mm", "between 50 mm and 800 mm"],
    );
}

#[test]
fn joints_below_the_road() {
    let mut corner = samples::wagon_front();
    corner.wheel.tyre_radius = 120.0;
    says(
        &corner_refused(&corner),
        &[
            "`lower_arm.ball_joint` (z = 190 mm) is below the road",
            "`wheel.tyre_radius` put at z = 200 mm",
        ],
    );
    let mut axle = samples::wagon_rear();
    axle.wheels.tyre_radius = 100.0;
    axle.links["lower_left"].axle.z = 200.0;
    says(
        &axle_refused(&axle),
        &[
            "`links.lower_left.axle` (z = 200 mm) is below the road",
            "z = 224 mm",
        ],
    );
}

/// Odd, but somebody drives it.
#[test]
fn odd_cars_are_not_refused() {
    // Any origin will do: everything a metre up.
    let mut corner = samples::wagon_front();
    for point in [
        &mut corner.upper_arm.front_pivot,
        &mut corner.upper_arm.rear_pivot,
        &mut corner.upper_arm.ball_joint,
        &mut corner.lower_arm.front_pivot,
        &mut corner.lower_arm.rear_pivot,
        &mut corner.lower_arm.ball_joint,
        &mut corner.tie_rod.inner,
        &mut corner.tie_rod.outer,
        &mut corner.wheel.centre,
    ] {
        point.z += 1_000.0;
    }
    Corner::new(&corner).expect("a corner");
    // Wheels 250 mm farther out, on spacers and deep rims, and tall tyres.
    let mut corner = samples::wagon_front();
    corner.wheel.centre += Point::new(0.0, 250.0, 0.0);
    corner.wheel.tyre_radius = 780.0;
    Corner::new(&corner).expect("a corner");
    // A torque arm: one upper link is the drop link at its front end, far ahead of the axle.
    let mut axle = samples::wagon_rear().with_both_sides();
    axle.links.shift_remove("upper_right");
    axle.links["upper_left"] = Link {
        body: Point::new(-1_700.0, 60.0, 520.0),
        axle: Point::new(-1_690.0, 60.0, 380.0),
        stiffness: None,
    };
    axle.links.insert(
        "panhard_rod".to_owned(),
        Link {
            body: Point::new(-3_000.0, -450.0, 380.0),
            axle: Point::new(-3_000.0, 450.0, 370.0),
            stiffness: None,
        },
    );
    Axle::new(&axle).expect("an axle");
    // A link fixed low under the axle.
    let mut axle = samples::wagon_rear();
    axle.links["lower_left"].axle.z = 40.0;
    Axle::new(&axle).expect("an axle");
}
