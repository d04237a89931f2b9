//! Corners: parallel arms, the roll centre from arm angles, and an upright damper.

use super::close;
use crate::published;
use kin_core::curves::CornerCurve as C;
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Arm, Damper, DoubleWishbone, Point, Side, Stops, TieRod, Wheel};
use kin_core::{Along, Corner};

const ARM_MM: f64 = 350.0;
const CONTACT_Y_MM: f64 = 700.0;

/// Two equal level arms and a tie rod of the same length, all across the car: the upright moves without turning.
pub(crate) fn parallel_arms() -> DoubleWishbone {
    let arm = |height: f64| Arm {
        front_pivot: Point::new(120.0, 250.0, height),
        rear_pivot: Point::new(-140.0, 250.0, height),
        ball_joint: Point::new(0.0, 250.0 + ARM_MM, height),
    };
    DoubleWishbone {
        side: Side::Left,
        upper_arm: arm(430.0),
        lower_arm: arm(200.0),
        tie_rod: TieRod {
            inner: Point::new(-130.0, 240.0, 210.0),
            outer: Point::new(-130.0, 240.0 + ARM_MM, 210.0),
        },
        wheel: Wheel {
            centre: Point::new(0.0, CONTACT_Y_MM, 310.0),
            tyre_radius: 310.0,
            camber: 0.0,
            toe: 0.0,
        },
        coilover: None,
        damper: None,
        spring: None,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}

/// Equal parallel arms of length L: the upright shifts by `sqrt(L^2 - z^2) - L`, and the roll centre of the pair is
/// `y dy/dz` of the contact point. Elementary geometry; the numbers are derived from it.
#[test]
fn equal_parallel_arms() {
    let corner = Corner::new(&parallel_arms()).expect("a corner");
    for (travel, shift, roll_centre) in [
        (0.0, 0.0, 0.0),
        (30.0, -1.288_085, -60.110_815),
        (60.0, -5.181_207, -120.901_553),
    ] {
        for sign in [1.0, -1.0] {
            let z: f64 = sign * travel;
            let position = corner.at(z, 0.0).expect("within reach");
            let label = format!("travel {z}");
            let value = |curve: C| curve.value(&position).expect("a value");
            let inward = (ARM_MM.powi(2) - z.powi(2)).sqrt();
            close(
                inward - ARM_MM,
                shift,
                5e-7,
                "the formula against the printed shift",
            );
            close(value(C::HalfTrackChange), inward - ARM_MM, 1e-9, &label);
            let expected = -(CONTACT_Y_MM + inward - ARM_MM) * z / inward;
            close(
                expected,
                sign * roll_centre,
                1e-6,
                "the formula against the printed height",
            );
            close(value(C::RollCentreHeight), expected, 1e-9, &label);
            // Nothing turns: camber, toe, caster and kingpin inclination stay, and so do their rates.
            for curve in [C::Camber, C::Toe, C::Caster, C::KingpinInclination] {
                close(value(curve), 0.0, 1e-14, &label);
                let rate = curve.rate(&position, Along::Travel).expect("a rate");
                close(rate, 0.0, 1e-14, &label);
            }
            let rate = C::HalfTrackChange.rate(&position, Along::Travel).expect("a rate");
            close(rate, -z / inward, 1e-12, &label);
            // Instant centres of an upright that does not turn lie at infinity.
            assert_eq!(C::FrontViewInstantCentreY.value(&position), None, "{label}");
            assert_eq!(C::SideViewInstantCentreX.value(&position), None, "{label}");
        }
    }
}

/// Equal parallel arms reach as far as they are long, up and down: no farther, and up to there.
#[test]
fn equal_parallel_arms_end_upright() {
    let corner = Corner::new(&parallel_arms()).expect("a corner");
    for sign in [1.0, -1.0] {
        let z: f64 = sign * (ARM_MM - 0.1);
        let position = corner.at(z, 0.0).expect("within reach");
        let inward = (ARM_MM.powi(2) - z.powi(2)).sqrt();
        let found = C::HalfTrackChange.value(&position).expect("a value");
        close(found, inward - ARM_MM, 1e-8, "close to the end");
        let refused = corner.at(sign * (ARM_MM + 0.1), 0.0);
        assert!(refused.is_err(), "{refused:?}");
    }
}

/// Roll centre from the angles of the arms: J. Reimpell, H. Stoll, J. Betzler, The Automotive Chassis (formula from
/// memory).
///
/// `k = c sin(90 + sigma - alpha) / sin(alpha + beta)`, `p = k sin(beta) + d`,
/// `h = p / (k cos(beta) + d tan(sigma) + r) * b / 2`.
#[test]
fn roll_centre_from_arm_angles() {
    let pickups = published::pickups();
    let corner = Corner::new(&pickups).expect("a corner");
    let here = corner.at(0.0, 0.0).expect("as measured");
    let (upper, lower) = (&pickups.upper_arm, &pickups.lower_arm);
    // Angles of the arms in front view: the upper one falls outboard, and so does the lower one.
    let fall = |arm: &Arm| {
        let span = arm.ball_joint - arm.front_pivot;
        (-span.z).atan2(span.y)
    };
    let (alpha, beta) = (-fall(upper), fall(lower));
    close(alpha.to_degrees(), -11.827_299, 1e-6, "alpha");
    close(beta.to_degrees(), 13.128_235, 1e-6, "beta");
    let kingpin = upper.ball_joint - lower.ball_joint;
    let sigma = (-kingpin.y).atan2(kingpin.z);
    let spacing = kingpin.norm();
    let height = lower.ball_joint.z;
    let contact_y = pickups.wheel.centre.y;
    let scrub = contact_y - (lower.ball_joint.y + height * sigma.tan());
    let k = spacing * (sigma - alpha).cos() / (alpha + beta).sin();
    let p = k * beta.sin() + height;
    let expected = p / (k * beta.cos() + height * sigma.tan() + scrub) * contact_y;
    close(k, 12_261.088_6, 1e-4, "k");
    close(p, 3_013.876_5, 1e-4, "p");
    let found = C::RollCentreHeight.value(&here).expect("a value");
    close(found, expected, 1e-5, "roll centre");
}

/// An upright damper above the wheel centre that rides on the upright moves as much as the wheel at travel 0.
#[test]
fn an_upright_damper_on_the_wheel_centre_has_motion_ratio_one() {
    let mut pickups = kin_core::samples::wagon_front();
    let damper = Damper {
        upper_mount: pickups.wheel.centre + Vector3::new(0.0, 0.0, 300.0),
        lower_mount: pickups.wheel.centre,
        rides_on: "upright".into(),
        extended: 400.0,
        compressed: 200.0,
        bump_stop: 0.0,
        upper_stud: None,
        lower_stud: None,
    };
    pickups.coilover = Some(damper);
    let corner = Corner::new(&pickups).expect("a corner");
    let here = corner.at(0.0, 0.0).expect("as measured");
    close(
        C::MotionRatio.value(&here).expect("a value"),
        1.0,
        1e-15,
        "motion ratio",
    );
    // Elsewhere its foot has moved sideways: with the span s and the wheel centre's slope c', -s . c' / |s|.
    let there = corner.at(40.0, 0.0).expect("within reach");
    let span = there.wheel_centre() - damper_top(&pickups);
    let step = 1e-3;
    let centre = |travel: f64| corner.at(travel, 0.0).expect("within reach").wheel_centre();
    let slope = (centre(40.0 + step) - centre(40.0 - step)) / (2.0 * step);
    let found = C::MotionRatio.value(&there).expect("a value");
    close(
        found,
        -span.dot(&slope) / span.norm(),
        1e-9,
        "motion ratio at 40 mm",
    );
}

fn damper_top(pickups: &DoubleWishbone) -> Point {
    pickups.coilover.as_ref().expect("a coilover").upper_mount
}
