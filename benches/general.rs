//! The general solver of the library on the fixed workloads: the same vehicles, positions and outputs as the
//! baselines, and proof at start-up that the outputs are equal.
//!
//! A corner or an axle is built once and then swept; the baselines derive their constants with each sweep, which is a
//! thousandth of it.

use super::closed_form::{axle, wishbone};
use kin_core::nalgebra::{Matrix3, Vector3};
use kin_core::pickups::{
    Arm, AxleSides, AxleWheels, Damper, DoubleWishbone, Link, LiveAxle, RightSide, Side, Stops, TieRod, Wheel,
};
use kin_core::{Axle, Corner};

/// Lengths and points (mm): both solvers leave round-off only.
const LENGTH: f64 = 1e-10;
/// Angles (rad) and entries of a rotation: the same on arms up to 1 m.
const ANGLE: f64 = 1e-13;
/// Rates, relative to the greater of the rate and [`RATE_FLOOR`]. The baselines keep the rates of a pose up to 1e-6 mm
/// away, some 1e-9 of themselves.
const RATE: f64 = 1e-8;
/// What counts as near zero for a rate.
const RATE_FLOOR: f64 = 1e-3;

/// A damper that fits any length: the workloads do not ask.
fn damper(upper_mount: Vector3<f64>, lower_mount: Vector3<f64>, rides_on: &str) -> Damper {
    Damper {
        upper_mount,
        lower_mount,
        rides_on: rides_on.to_owned(),
        extended: 2_000.0,
        compressed: 60.0,
        bump_stop: 0.0,
        upper_stud: None,
        lower_stud: None,
    }
}

/// The corner of the baseline in the library's terms.
///
/// # Errors
/// The library refuses it.
pub(crate) fn corner(given: &wishbone::Wishbone) -> Result<Corner, String> {
    Corner::new(&DoubleWishbone {
        side: Side::Left,
        upper_arm: Arm {
            front_pivot: given.upper_front,
            rear_pivot: given.upper_rear,
            ball_joint: given.upper_ball,
        },
        lower_arm: Arm {
            front_pivot: given.lower_front,
            rear_pivot: given.lower_rear,
            ball_joint: given.lower_ball,
        },
        tie_rod: TieRod {
            inner: given.tie_inner,
            outer: given.tie_outer,
        },
        wheel: Wheel {
            centre: given.wheel_centre,
            tyre_radius: 320.0,
            camber: given.camber.to_degrees(),
            toe: given.toe.to_degrees(),
        },
        coilover: Some(damper(given.damper_body, given.damper_mount, "lower_arm")),
        damper: None,
        spring: None,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    })
    .map_err(|error| error.to_string())
}

/// The axle of the baseline in the library's terms.
///
/// # Errors
/// The library refuses it.
pub(crate) fn live_axle(given: &axle::Axle) -> Result<Axle, String> {
    let link = |name: &str, pair: &axle::MirroredPair| {
        let link = Link {
            body: Vector3::from(pair.body),
            axle: Vector3::from(pair.axle),
            stiffness: None,
        };
        (name.to_owned(), link)
    };
    let (upper_mount, lower_mount) = (Vector3::from(given.damper.body), Vector3::from(given.damper.axle));
    Axle::new(&LiveAxle {
        right: RightSide::Mirror,
        links: [link("lower_left", &given.lower), link("upper_left", &given.upper)]
            .into_iter()
            .collect(),
        wheels: AxleWheels {
            left: Vector3::from(given.wheel_centre),
            right: None,
            tyre_radius: 320.0,
        },
        pinion: None,
        coilovers: Some(AxleSides {
            left: damper(upper_mount, lower_mount, "axle"),
            right: None,
        }),
        dampers: None,
        springs: None,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    })
    .map_err(|error| error.to_string())
}

/// Travels of the wishbone sweep (mm).
pub(crate) fn travels(count: usize, step: f64) -> Vec<f64> {
    let middle = (count / 2) as f64;
    (0..count).map(|index| (index as f64 - middle) * step).collect()
}

/// Sweeps the corner into `positions` and returns how often the solver factored its constraints.
///
/// # Errors
/// A position is out of reach.
pub(crate) fn sweep_corner(
    corner: &Corner,
    travels: &[f64],
    positions: &mut [wishbone::Position],
) -> Result<u32, String> {
    let mut factorisations = 0;
    corner
        .follow_travel(travels, 0.0, |index, position| {
            factorisations += position.factorisations();
            let readings = position.readings();
            let none = Vector3::repeat(f64::NAN);
            positions[index] = wishbone::Position {
                travel: position.travel(),
                upper_ball: readings.upper_ball_joint,
                lower_ball: readings.lower_ball_joint,
                tie_outer: readings.tie_rod_outer,
                damper_mount: readings.damper_lower_mount.unwrap_or(none),
                wheel_centre: readings.wheel_centre,
                camber: readings.camber.value,
                toe: readings.toe.value,
                caster: readings.caster.value,
                damper_length: readings.damper_length.map_or(f64::NAN, |length| length.value),
                motion_ratio: readings.motion_ratio().unwrap_or(f64::NAN),
                camber_rate: readings.camber.rate,
                toe_rate: readings.toe.rate,
                caster_rate: readings.caster.rate,
            };
        })
        .map_err(|error| error.to_string())?;
    Ok(factorisations)
}

/// Heaves and half differences of the axle grid (mm).
pub(crate) fn grid(given: &axle::Axle) -> (Vec<f64>, Vec<f64>) {
    (
        travels(axle::HEAVE_POSITIONS, given.heave_step),
        travels(axle::ROLL_POSITIONS, given.roll_step),
    )
}

/// Sweeps the axle into `positions`, heave by heave, and returns how often the solver factored its constraints.
///
/// # Errors
/// A position is out of reach.
pub(crate) fn sweep_axle(
    axle: &Axle,
    (heaves, half_differences): &(Vec<f64>, Vec<f64>),
    positions: &mut [axle::Position],
) -> Result<u32, String> {
    let mut factorisations = 0;
    axle.follow_grid(heaves, half_differences, |index, position| {
        factorisations += position.factorisations();
        let readings = position.readings();
        let travel = position.travel();
        let [left, right] = readings.damper_lengths.unwrap_or_default();
        positions[index] = axle::Position {
            travel: [travel.left, travel.right],
            origin_displacement: readings.displacement.into(),
            rotation: readings.rotation.transpose().into(),
            damper_length: [left.value, right.value],
            compression_rate: [left, right].map(|length| length.by_wheel().map(|rate| -rate)),
            steer: readings.steer.value,
            roll: readings.roll.value,
            pinion: readings.pinion_nose_up_change.value,
            steer_rate: readings.steer.by_wheel(),
            roll_rate: readings.roll.by_wheel(),
            pinion_rate: readings.pinion_nose_up_change.by_wheel(),
        };
    })
    .map_err(|error| error.to_string())?;
    Ok(factorisations)
}

/// Compares the outputs of the general solver with those of the baselines, position by position.
///
/// # Errors
/// The first number that differs.
pub(crate) fn check(wishbone_given: &wishbone::Wishbone, axle_given: &axle::Axle) -> Result<(), String> {
    let mut limit = [wishbone::Position::default(); super::closed_form::reference::WISHBONE_POSITIONS];
    let mut found = limit;
    wishbone::sweep(wishbone_given, &mut limit).map_err(|error| error.to_string())?;
    let travels = travels(limit.len(), wishbone_given.travel_step);
    sweep_corner(&corner(wishbone_given)?, &travels, &mut found)?;
    for (found, limit) in found.iter().zip(&limit) {
        compare_corner(found, limit)
            .map_err(|error| format!("general solver, corner at {} mm: {error}", limit.travel))?;
    }

    let mut limit = [axle::Position::default(); axle::POSITIONS];
    let mut found = limit;
    axle::sweep(axle_given, &mut limit).map_err(|error| error.to_string())?;
    sweep_axle(&live_axle(axle_given)?, &grid(axle_given), &mut found)?;
    for (index, limit) in limit.iter().enumerate() {
        // The baseline goes roll by roll.
        let (roll, heave) = (index / axle::HEAVE_POSITIONS, index % axle::HEAVE_POSITIONS);
        compare_axle(&found[heave * axle::ROLL_POSITIONS + roll], limit)
            .map_err(|error| format!("general solver, axle at {:?} mm: {error}", limit.travel))?;
    }
    Ok(())
}

fn compare_corner(found: &wishbone::Position, limit: &wishbone::Position) -> Result<(), String> {
    let points = |at: &wishbone::Position| {
        [
            at.upper_ball,
            at.lower_ball,
            at.tie_outer,
            at.damper_mount,
            at.wheel_centre,
        ]
    };
    for (found, limit) in points(found).iter().zip(points(limit)) {
        close("a point", (found - limit).norm(), 0.0, LENGTH)?;
    }
    close("travel", found.travel, limit.travel, 0.0)?;
    close("damper length", found.damper_length, limit.damper_length, LENGTH)?;
    close("camber", found.camber, limit.camber, ANGLE)?;
    close("toe", found.toe, limit.toe, ANGLE)?;
    close("caster", found.caster, limit.caster, ANGLE)?;
    close_rate("motion ratio", found.motion_ratio, limit.motion_ratio)?;
    close_rate("camber rate", found.camber_rate, limit.camber_rate)?;
    close_rate("toe rate", found.toe_rate, limit.toe_rate)?;
    close_rate("caster rate", found.caster_rate, limit.caster_rate)
}

fn compare_axle(found: &axle::Position, limit: &axle::Position) -> Result<(), String> {
    let rates = |what: &str, found: [f64; 2], limit: [f64; 2]| {
        close_rate(what, found[0], limit[0])?;
        close_rate(what, found[1], limit[1])
    };
    let shift = Vector3::from(found.origin_displacement) - Vector3::from(limit.origin_displacement);
    close("displacement", shift.norm(), 0.0, LENGTH)?;
    let turn = Matrix3::from(found.rotation) - Matrix3::from(limit.rotation);
    close("rotation", turn.norm(), 0.0, ANGLE)?;
    for side in 0..2 {
        close("travel", found.travel[side], limit.travel[side], LENGTH)?;
        close(
            "damper length",
            found.damper_length[side],
            limit.damper_length[side],
            LENGTH,
        )?;
        rates(
            "compression",
            found.compression_rate[side],
            limit.compression_rate[side],
        )?;
    }
    close("axle steer", found.steer, limit.steer, ANGLE)?;
    rates("axle steer", found.steer_rate, limit.steer_rate)?;
    close("pinion angle", found.pinion, limit.pinion, ANGLE)?;
    rates("pinion angle", found.pinion_rate, limit.pinion_rate)?;
    // The baseline's roll is the last of three turns; the library's is the rise of the line through the wheel centres:
    // its sine is sin(roll) cos(pinion).
    let ((sin, cos), (sin_pinion, cos_pinion)) = (limit.roll.sin_cos(), limit.pinion.sin_cos());
    let roll = (sin * cos_pinion).asin();
    let roll_rate = [0, 1].map(|wheel| {
        (cos * cos_pinion * limit.roll_rate[wheel] - sin * sin_pinion * limit.pinion_rate[wheel]) / roll.cos()
    });
    close("roll", found.roll, roll, ANGLE)?;
    rates("roll", found.roll_rate, roll_rate)
}

fn close(what: &str, found: f64, expected: f64, tolerance: f64) -> Result<(), String> {
    // Written so that a NaN fails.
    if (found - expected).abs() <= tolerance {
        return Ok(());
    }
    Err(format!(
        "{what} is {found}, expected {expected} (tolerance {tolerance})"
    ))
}

fn close_rate(what: &str, found: f64, expected: f64) -> Result<(), String> {
    let what = format!("rate of {what}");
    close(&what, found, expected, RATE * expected.abs().max(RATE_FLOOR))
}
