//! Proof at start-up that the baselines compute what they are said to compute.
//!
//! Three kinds: every rod keeps its length in every position of the workload; positions, angles and rates equal the
//! independent reference cases (`tests/reference`, solved with 60 digits by a separate program); and between
//! neighbouring positions every curve rises by the integral of its exact rate.

use super::axle::{self, Axle};
use super::reference::{self, AxleStep, WISHBONE_POSITIONS, WishboneStep};
use super::wishbone::{self, Wishbone};
use nalgebra::{Matrix3, Vector3};

/// Rod lengths and wheel heights (mm): the accuracy the workloads ask for.
const ROD: f64 = 1e-9;
/// Positions and damper lengths (mm) against the reference, as its README suggests for double precision.
const LENGTH: f64 = 1e-8;
/// Angles (deg) against the reference, as its README suggests.
const ANGLE_DEG: f64 = 1e-9;
/// Rates against the reference, relative to the greater of the reference and [`RATE_FLOOR`].
const RATE: f64 = 1e-8;
/// What counts as near zero for a rate.
const RATE_FLOOR: f64 = 1e-3;
/// Rise over two steps against Simpson's rule on the rates (mm, or mrad). The rule leaves out `h⁵/90` times the fifth
/// derivative: some 1e-8 for steps of 5 mm on links of 500 mm. A rate wrong by a few 1e-8 shows.
const RISE: f64 = 1e-7;

/// Checks both baselines.
///
/// # Errors
/// The first number found wrong, with what was expected.
pub(crate) fn all() -> Result<(), String> {
    check_wishbone().map_err(|error| format!("closed-form double wishbone: {error}"))?;
    check_axle().map_err(|error| format!("closed-form live axle: {error}"))
}

fn check_wishbone() -> Result<(), String> {
    let (pickups, steps) = reference::wishbone()?;
    let mut positions = [wishbone::Position::default(); WISHBONE_POSITIONS];
    wishbone::sweep(&pickups, &mut positions).map_err(|error| error.to_string())?;
    for position in &positions {
        close(
            "rod residual",
            position.travel,
            wishbone_residual(&pickups, position),
            0.0,
            ROD,
        )?;
    }
    for step in &steps {
        let position = positions.iter().find(|position| position.travel == step.travel);
        let position = position.ok_or_else(|| format!("no position at {} mm", step.travel))?;
        compare_wishbone(position, step)?;
    }
    for three in positions.windows(3) {
        let curve = |value: fn(&wishbone::Position) -> f64, rate: fn(&wishbone::Position) -> f64| {
            let rates = [rate(&three[0]), rate(&three[1]), rate(&three[2])];
            rise(value(&three[2]) - value(&three[0]), rates, pickups.travel_step)
        };
        let errors = [
            1000.0 * curve(|p| p.camber, |p| p.camber_rate),
            1000.0 * curve(|p| p.toe, |p| p.toe_rate),
            1000.0 * curve(|p| p.caster, |p| p.caster_rate),
            curve(|p| -p.damper_length, |p| p.motion_ratio),
        ];
        for error in errors {
            close(
                "rise of a curve less the integral of its rate",
                three[1].travel,
                error,
                0.0,
                RISE,
            )?;
        }
    }
    Ok(())
}

/// Sum of the errors (mm) of rod lengths, lengths within the upright and the arm, and the wheel-centre height.
///
/// A sum, not the largest: it keeps a NaN.
pub(crate) fn wishbone_residual(pickups: &Wishbone, position: &wishbone::Position) -> f64 {
    let lengths =
        |upper: Vector3<f64>, lower: Vector3<f64>, tie: Vector3<f64>, wheel, damper: Vector3<f64>| {
            [
                upper - pickups.upper_front,
                upper - pickups.upper_rear,
                lower - pickups.lower_front,
                lower - pickups.lower_rear,
                tie - pickups.tie_inner,
                upper - lower,
                tie - lower,
                tie - upper,
                wheel - lower,
                wheel - upper,
                wheel - tie,
                damper - pickups.lower_front,
                damper - pickups.lower_rear,
                damper - lower,
            ]
            .map(|difference| difference.norm())
        };
    let Wishbone {
        upper_ball,
        lower_ball,
        tie_outer,
        wheel_centre,
        damper_mount,
        ..
    } = *pickups;
    let before = lengths(upper_ball, lower_ball, tie_outer, wheel_centre, damper_mount);
    let static_height = wheel_centre.z;
    let wishbone::Position {
        upper_ball,
        lower_ball,
        tie_outer,
        wheel_centre,
        damper_mount,
        ..
    } = *position;
    let after = lengths(upper_ball, lower_ball, tie_outer, wheel_centre, damper_mount);
    let height = (wheel_centre.z - static_height - position.travel).abs();
    height
        + before
            .iter()
            .zip(&after)
            .map(|(before, after)| (before - after).abs())
            .sum::<f64>()
}

fn compare_wishbone(position: &wishbone::Position, step: &WishboneStep) -> Result<(), String> {
    let at = step.travel;
    for (name, point, expected) in [
        ("wheel centre", position.wheel_centre, step.wheel_centre),
        ("upper ball joint", position.upper_ball, step.upper_ball),
        ("lower ball joint", position.lower_ball, step.lower_ball),
        ("tie-rod outer joint", position.tie_outer, step.tie_outer),
        ("damper mount", position.damper_mount, step.damper_moving),
    ] {
        close(name, at, (point - Vector3::from(expected)).norm(), 0.0, LENGTH)?;
    }
    close(
        "damper length",
        at,
        position.damper_length,
        step.damper_length,
        LENGTH,
    )?;
    close(
        "camber (deg)",
        at,
        position.camber.to_degrees(),
        step.camber_deg,
        ANGLE_DEG,
    )?;
    close(
        "toe (deg)",
        at,
        position.toe.to_degrees(),
        step.toe_deg,
        ANGLE_DEG,
    )?;
    close(
        "caster (deg)",
        at,
        position.caster.to_degrees(),
        step.caster_deg,
        ANGLE_DEG,
    )?;
    close_rate("motion ratio", at, position.motion_ratio, step.motion_ratio)?;
    close_rate(
        "camber rate",
        at,
        position.camber_rate.to_degrees(),
        step.dcamber_dtravel_deg_per_mm,
    )?;
    close_rate(
        "toe rate",
        at,
        position.toe_rate.to_degrees(),
        step.dtoe_dtravel_deg_per_mm,
    )?;
    close_rate(
        "caster rate",
        at,
        position.caster_rate.to_degrees(),
        step.dcaster_dtravel_deg_per_mm,
    )
}

fn check_axle() -> Result<(), String> {
    let (pickups, steps) = reference::axle()?;
    let mut positions = [axle::Position::default(); axle::POSITIONS];
    axle::sweep(&pickups, &mut positions).map_err(|error| error.to_string())?;
    check_axle_rates(&pickups, &positions)?;
    for position in &positions {
        let at = position.travel[0];
        close("link residual", at, axle_residual(&pickups, position), 0.0, ROD)?;
    }
    // The reference positions are multiples of 5 mm.
    let pickups = Axle {
        heave_step: 5.0,
        roll_step: 5.0,
        ..pickups
    };
    axle::sweep(&pickups, &mut positions).map_err(|error| error.to_string())?;
    for step in &steps {
        let position = positions
            .iter()
            .find(|position| position.travel == [step.zL, step.zR]);
        let position = position.ok_or_else(|| format!("no position at {} and {} mm", step.zL, step.zR))?;
        compare_axle(position, step)?;
    }
    Ok(())
}

/// Sum of the errors (mm) of link lengths and wheel-centre heights.
pub(crate) fn axle_residual(pickups: &Axle, position: &axle::Position) -> f64 {
    let rotation = rotation(&position.rotation);
    let origin = Vector3::new(pickups.wheel_centre[0], 0.0, pickups.wheel_centre[2]);
    let moved =
        |p: Vector3<f64>| origin + Vector3::from(position.origin_displacement) + rotation * (p - origin);
    let mut sum = 0.0;
    for (side, travel) in [(1.0, position.travel[0]), (-1.0, position.travel[1])] {
        let on_side = |p: [f64; 3]| Vector3::new(p[0], side * p[1], p[2]);
        let wheel = on_side(pickups.wheel_centre);
        sum += (moved(wheel).z - wheel.z - travel).abs();
        for link in [&pickups.lower, &pickups.upper] {
            let (body, axle) = (on_side(link.body), on_side(link.axle));
            sum += ((moved(axle) - body).norm() - (axle - body).norm()).abs();
        }
    }
    sum
}

fn compare_axle(position: &axle::Position, step: &AxleStep) -> Result<(), String> {
    let at = step.zL;
    let displacement = Vector3::from(position.origin_displacement) - Vector3::from(step.origin_displacement);
    close("origin displacement", at, displacement.norm(), 0.0, LENGTH)?;
    // Entries of the rotation act on arms up to 1 m: a thousandth of the length tolerance.
    let turned = rotation(&step.R);
    close(
        "rotation",
        at,
        (rotation(&position.rotation) - turned).norm(),
        0.0,
        LENGTH / 1000.0,
    )?;
    close(
        "left damper length",
        at,
        position.damper_length[0],
        step.damper_length_left,
        LENGTH,
    )?;
    close(
        "right damper length",
        at,
        position.damper_length[1],
        step.damper_length_right,
        LENGTH,
    )?;
    let [left, right] = position.compression_rate;
    close_rate("left compression by left wheel", at, left[0], step.dcomp_L_dzL)?;
    close_rate("left compression by right wheel", at, left[1], step.dcomp_L_dzR)?;
    close_rate("right compression by left wheel", at, right[0], step.dcomp_R_dzL)?;
    close_rate("right compression by right wheel", at, right[1], step.dcomp_R_dzR)?;

    let steer = (-turned[(0, 1)]).atan2(turned[(1, 1)]).to_degrees();
    close(
        "axle steer (deg)",
        at,
        position.steer.to_degrees(),
        steer,
        ANGLE_DEG,
    )?;
    close(
        "roll (deg)",
        at,
        position.roll.to_degrees(),
        step.roll_deg,
        ANGLE_DEG,
    )?;
    close(
        "pinion angle (deg)",
        at,
        position.pinion.to_degrees(),
        step.pinion_nose_up_deg,
        ANGLE_DEG,
    )?;
    let in_heave = |rate: [f64; 2]| rate[0] + rate[1];
    let in_roll = |rate: [f64; 2]| rate[0] - rate[1];
    let pinion = in_heave(position.pinion_rate).to_degrees();
    close_rate(
        "pinion rate in heave",
        at,
        pinion,
        step.dpinion_nose_up_dtravel_deg_per_mm,
    )?;

    // Rates in roll from the reference angular velocity ω: the rotation changes by ω × R.
    let rate = Vector3::from(step.roll_mode_angular_velocity_rad_per_mm).cross_matrix() * turned;
    let angle_rate = |y: (f64, f64), x: (f64, f64)| (y.1 * x.0 - y.0 * x.1) / (x.0 * x.0 + y.0 * y.0);
    let entry = |i: usize, j: usize| (turned[(i, j)], rate[(i, j)]);
    let minus = |(value, rate): (f64, f64)| (-value, -rate);
    close_rate(
        "steer rate in roll",
        at,
        in_roll(position.steer_rate),
        angle_rate(minus(entry(0, 1)), entry(1, 1)),
    )?;
    close_rate(
        "roll rate in roll",
        at,
        in_roll(position.roll_rate),
        angle_rate(entry(2, 1), entry(2, 2)),
    )?;
    let (sine, sine_rate) = entry(2, 0);
    let expected = sine_rate / (1.0 - sine * sine).sqrt();
    close_rate("pinion rate in roll", at, in_roll(position.pinion_rate), expected)
}

fn check_axle_rates(pickups: &Axle, positions: &[axle::Position; axle::POSITIONS]) -> Result<(), String> {
    type Curve = (fn(&axle::Position) -> f64, fn(&axle::Position) -> [f64; 2]);
    let curves: [Curve; 5] = [
        (|p| -p.damper_length[0], |p| p.compression_rate[0]),
        (|p| -p.damper_length[1], |p| p.compression_rate[1]),
        (|p| 1000.0 * p.steer, |p| p.steer_rate.map(|rate| 1000.0 * rate)),
        (|p| 1000.0 * p.roll, |p| p.roll_rate.map(|rate| 1000.0 * rate)),
        (|p| 1000.0 * p.pinion, |p| p.pinion_rate.map(|rate| 1000.0 * rate)),
    ];
    // Neighbours along the heave lie side by side, along the roll one line apart; the right wheel follows or opposes.
    for (apart, step, right) in [
        (1, pickups.heave_step, 1.0),
        (axle::HEAVE_POSITIONS, pickups.roll_step, -1.0),
    ] {
        for (index, at) in positions.iter().enumerate() {
            let before = index.checked_sub(apart).and_then(|index| positions.get(index));
            let (Some(before), Some(after)) = (before, positions.get(index + apart)) else {
                continue;
            };
            if ((after.travel[0] - before.travel[0]) - 2.0 * step).abs() > ROD {
                continue; // The ends of two lines are not neighbours.
            }
            for (value, rate) in curves {
                let rates = [before, at, after].map(|position| {
                    let [by_left, by_right] = rate(position);
                    by_left + right * by_right
                });
                let error = rise(value(after) - value(before), rates, step);
                close(
                    "rise of a curve less the integral of its rate",
                    at.travel[0],
                    error,
                    0.0,
                    RISE,
                )?;
            }
        }
    }
    Ok(())
}

fn rotation(rows: &[[f64; 3]; 3]) -> Matrix3<f64> {
    Matrix3::from(*rows).transpose()
}

/// Rise over two steps less the integral of the rate by Simpson's rule.
fn rise(rise: f64, rates: [f64; 3], step: f64) -> f64 {
    rise - step / 3.0 * (rates[0] + 4.0 * rates[1] + rates[2])
}

fn close(what: &str, at: f64, computed: f64, expected: f64, tolerance: f64) -> Result<(), String> {
    // Written so that a NaN fails.
    if (computed - expected).abs() <= tolerance {
        return Ok(());
    }
    Err(format!(
        "{what} at {at} mm of travel is {computed}, expected {expected} (tolerance {tolerance})"
    ))
}

fn close_rate(what: &str, at: f64, computed: f64, expected: f64) -> Result<(), String> {
    close(
        what,
        at,
        computed,
        expected,
        RATE * expected.abs().max(RATE_FLOOR),
    )
}
