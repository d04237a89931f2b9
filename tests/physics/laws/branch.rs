//! A sweep stays on the assembly that was measured, up to the limit of reach.

use super::random::{corner, held_axle, hold, wild_corner};
use kin_core::nalgebra::{Matrix6, Vector3};
use kin_core::pickups::{Point, Side, mirrored};
use kin_core::{Axle, AxlePosition, AxleTravel, Corner, CornerPosition};
use proptest::prelude::*;
use std::cell::Cell;

/// One row of a constraint Jacobian: how much a force along `along` at `place` works in a motion of the carrier.
fn row(along: Vector3<f64>, place: Point) -> [f64; 6] {
    let moment = place.cross(&along) / 300.0;
    [along.x, along.y, along.z, moment.x, moment.y, moment.z]
}

fn determinant(rows: [[f64; 6]; 6]) -> f64 {
    Matrix6::from_fn(|line, column| rows[line][column]).determinant()
}

/// The determinant of five rods and the wheel's height, built from the points alone. Where the linkage ends it is
/// zero, and the other assembly has the other sign.
fn hold_of_corner(position: &CornerPosition<'_>) -> f64 {
    // The pickups come back as those of a left corner, the points on the side that the corner is on.
    let pickups = position.corner().pickups();
    let side = position.corner().side();
    let own = |point: Point| {
        if side == Side::Left {
            point
        } else {
            mirrored(&point)
        }
    };
    let wheel = position.wheel_centre();
    let rod = |body: Point, joint: Point| row((joint - own(body)).normalize(), joint - wheel);
    let (up, low) = (position.upper_ball_joint(), position.lower_ball_joint());
    determinant([
        row(Vector3::z(), Point::zeros()),
        rod(pickups.upper_arm.front_pivot, up),
        rod(pickups.upper_arm.rear_pivot, up),
        rod(pickups.lower_arm.front_pivot, low),
        rod(pickups.lower_arm.rear_pivot, low),
        rod(own(position.tie_rod_inner()), position.tie_rod_outer()),
    ])
}

/// The same of four links and both wheels' heights.
fn hold_of_axle(position: &AxlePosition<'_>) -> f64 {
    let (left, right) = position.wheel_centres();
    let middle = 0.5 * (left + right);
    let mut rows = [[0.0; 6]; 6];
    rows[0] = row(Vector3::z(), left - middle);
    rows[1] = row(Vector3::z(), right - middle);
    for (line, (body, joint)) in rows.iter_mut().skip(2).zip(position.links().values()) {
        *line = row((joint - body).normalize(), joint - middle);
    }
    determinant(rows)
}

/// Travels that close in on a limit, the last 0.001 mm short of it.
fn closing_in(limit: f64) -> Vec<f64> {
    let rest = (0..).map(|power| 1e-3 * 1.5_f64.powi(power));
    let mut travels: Vec<f64> = rest
        .take_while(|rest| *rest < limit.abs())
        .map(|rest| limit - rest.copysign(limit))
        .collect();
    travels.reverse();
    travels
}

/// Halves the way between two positions until the ball joint moves little from one to the other: a jump would stay.
fn continuous(
    corner: &Corner,
    from: &CornerPosition<'_>,
    to: &CornerPosition<'_>,
) -> Result<(), TestCaseError> {
    const LITTLE_MM: f64 = 30.0;
    let step = (to.upper_ball_joint() - from.upper_ball_joint()).norm();
    if step <= LITTLE_MM {
        return Ok(());
    }
    let (low, high) = (from.travel(), to.travel());
    prop_assert!((high - low).abs() > 1e-6, "a jump of {step} mm at {low} mm");
    let middle = corner.at(0.5 * (low + high), 0.0);
    let middle = middle.map_err(|error| TestCaseError::fail(error.to_string()))?;
    continuous(corner, from, &middle)?;
    continuous(corner, &middle, to)
}

/// Walks to both limits of a corner and watches its determinant and its ball joints; counts the limits met.
fn walk(corner: &Corner, met: &Cell<usize>) -> Result<(), TestCaseError> {
    let measured = corner.at(0.0, 0.0).expect("as measured");
    let sign = hold_of_corner(&measured).signum();
    let reach = corner.reach();
    let limits = || [reach.highest, reach.lowest].into_iter().flatten();
    if limits().any(|limit| limit.abs() < 1e-3) {
        // Measured at a dead point, where no walk can start.
        return Ok(());
    }
    for limit in limits() {
        let sweep = corner.sweep_travel(&closing_in(limit), 0.0);
        let sweep = sweep.map_err(|error| TestCaseError::fail(format!("limit {limit}: {error}")))?;
        let mut last = measured;
        for position in sweep {
            let travel = position.travel();
            prop_assert!(position.rod_residual() <= 1e-9, "at {travel} mm of {limit} mm");
            let here = hold_of_corner(&position);
            prop_assert!(here * sign > 0.0, "other assembly at {travel} mm of {limit} mm");
            continuous(corner, &last, &position)?;
            last = position;
        }
        let beyond = corner.at(limit + 1e-3_f64.copysign(limit), 0.0);
        prop_assert!(beyond.is_err(), "{:?}", beyond);
        met.set(met.get() + 1);
    }
    Ok(())
}

#[test]
fn corners_keep_their_assembly() {
    let met = Cell::new(0);
    hold(60, corner(), |pickups| {
        walk(&Corner::new(&pickups).expect("a corner"), &met)
    });
    assert!(met.get() >= 60, "only {} limits met", met.get());
}

#[test]
fn wild_corners_keep_their_assembly() {
    let met = Cell::new(0);
    hold(400, wild_corner(), |pickups| match Corner::new(&pickups) {
        Ok(corner) => walk(&corner, &met),
        Err(_) => Ok(()),
    });
    assert!(met.get() >= 60, "only {} limits met", met.get());
}

#[test]
fn axles_keep_their_assembly() {
    let met = Cell::new(0);
    hold(60, held_axle(), |pickups| {
        let axle = Axle::new(&pickups).expect("an axle");
        let sign = hold_of_axle(&axle.at(AxleTravel::default()).expect("as measured")).signum();
        let reach = axle.reach();
        for limit in [reach.highest, reach.lowest].into_iter().flatten() {
            let sweep = axle.sweep_heave(&closing_in(limit));
            let sweep = sweep.map_err(|error| TestCaseError::fail(format!("limit {limit}: {error}")))?;
            for position in sweep {
                prop_assert!(
                    hold_of_axle(&position) * sign > 0.0,
                    "{:?} of {limit} mm",
                    position.travel()
                );
                let stretch = position.link_stretch();
                prop_assert!(
                    stretch.values().all(|stretch| stretch.abs() <= 1e-9),
                    "{stretch:?}"
                );
            }
            met.set(met.get() + 1);
        }
        Ok(())
    });
    assert!(met.get() >= 60, "only {} limits met", met.get());
}

/// Rows that close in on a limit start from the rows beside them, which turn ever faster there.
#[test]
fn visited_grids_of_axles_keep_their_assembly() {
    // Near a limit rounding is magnified; another assembly would be millimetres away.
    const SAME_MM: f64 = 1e-5;
    let (visits, ends) = (Cell::new(0), Cell::new(0));
    hold(60, (held_axle(), 0.5..9.0_f64), |(pickups, step)| {
        let axle = Axle::new(&pickups).expect("an axle");
        let sign = hold_of_axle(&axle.at(AxleTravel::default()).expect("as measured")).signum();
        let reach = axle.reach();
        let rolls: Vec<f64> = (-4..=4).map(|place| f64::from(place) * step).collect();
        for limit in [reach.highest, reach.lowest].into_iter().flatten() {
            let heaves = closing_in(limit);
            let mut found = vec![None; heaves.len() * rolls.len()];
            let outcome = axle.follow_grid(&heaves, &rolls, |place, position| found[place] = Some(*position));
            let mut out_of_reach = 0;
            for (place, position) in found.iter().enumerate() {
                let (heave, roll) = (heaves[place / rolls.len()], rolls[place % rolls.len()]);
                let alone = axle.at(AxleTravel::from_heave(heave, roll));
                let (Some(position), Ok(alone)) = (position, &alone) else {
                    prop_assert!(position.is_none(), "{heave}, {roll} is in the grid only");
                    out_of_reach += u32::from(alone.is_err());
                    continue;
                };
                prop_assert!(
                    hold_of_axle(position) * sign > 0.0,
                    "{heave}, {roll} of {limit} mm"
                );
                let ((left, right), (left_alone, right_alone)) =
                    (position.wheel_centres(), alone.wheel_centres());
                let miss = (left - left_alone).norm().max((right - right_alone).norm());
                prop_assert!(
                    miss <= SAME_MM,
                    "{heave}, {roll} of {limit} mm: {miss:e} mm apart"
                );
                visits.set(visits.get() + 1);
            }
            prop_assert_eq!(outcome.is_err(), out_of_reach > 0, "{:?}", outcome);
            ends.set(ends.get() + u32::from(outcome.is_err()));
        }
        Ok(())
    });
    assert!(visits.get() >= 1_000, "only {} positions", visits.get());
    assert!(ends.get() >= 20, "only {} grids met an end", ends.get());
}
