//! A position belongs to the model and to what is asked, never to the way there.

use super::random::{axle, corner, hold, travel_within};
use kin_core::pickups::{DoubleWishbone, Point};
use kin_core::{Axle, AxleTravel, Corner, Pose};
use proptest::collection::vec;
use proptest::prelude::*;

/// How far apart two poses are (mm), rotation counted at 300 mm.
fn apart(one: &Pose, other: &Pose) -> f64 {
    let shift = (one.displacement() - other.displacement()).amax();
    shift.max(300.0 * (one.rotation() - other.rotation()).amax())
}

/// Two ways to one position may differ by this (mm): a hundred times the rounding of a metre.
const SAME_MM: f64 = 1e-11;

fn points(corner: &DoubleWishbone) -> [Point; 5] {
    [
        corner.upper_arm.ball_joint,
        corner.lower_arm.ball_joint,
        corner.tie_rod.inner,
        corner.tie_rod.outer,
        corner.wheel.centre,
    ]
}

#[test]
fn travel_zero_is_what_was_measured() {
    hold(200, corner(), |pickups| {
        let corner = Corner::new(&pickups).expect("a corner");
        let sweep = corner
            .sweep_travel(&[20.0, 0.0, -20.0], 0.0)
            .expect("within reach");
        for position in [corner.at(0.0, 0.0).expect("as measured"), sweep[1]] {
            let found = [
                position.upper_ball_joint(),
                position.lower_ball_joint(),
                position.tie_rod_inner(),
                position.tie_rod_outer(),
                position.wheel_centre(),
            ];
            prop_assert_eq!(found, points(&pickups));
            let damper = pickups.coilover.as_ref().expect("a coilover");
            let ends = position.damper_ends().expect("a damper");
            prop_assert_eq!(ends, (damper.upper_mount, damper.lower_mount));
            prop_assert_eq!(position.rod_residual(), 0.0);
            prop_assert_eq!(position.pose().displacement(), Point::zeros());
        }
        Ok(())
    });
    hold(200, axle(), |pickups| {
        let axle = Axle::new(&pickups).expect("an axle");
        let sweep = axle.sweep_heave(&[-20.0, 0.0, 20.0]).expect("within reach");
        for position in [axle.at(AxleTravel::default()).expect("as measured"), sweep[1]] {
            for (name, ends) in position.links() {
                let link = &pickups.links[&name];
                prop_assert_eq!(ends, (link.body, link.axle));
            }
            let wheels = (pickups.wheels.left, pickups.wheels.right.expect("a right wheel"));
            prop_assert_eq!(position.wheel_centres(), wheels);
            let dampers = pickups.coilovers.as_ref().expect("coilovers");
            let [left, _] = position.damper_ends().expect("dampers");
            prop_assert_eq!(left, (dampers.left.upper_mount, dampers.left.lower_mount));
            prop_assert!(position.link_stretch().values().all(|stretch| *stretch == 0.0));
        }
        Ok(())
    });
}

#[test]
fn rods_keep_their_length() {
    hold(
        60,
        (corner(), vec(-1.0..1.0_f64, 1..12), -20.0..20.0_f64),
        |(pickups, shares, rack)| {
            let corner = Corner::new(&pickups).expect("a corner");
            let (upper, lower) = (&pickups.upper_arm, &pickups.lower_arm);
            for share in shares {
                // The reach is that with the rack straight ahead.
                let travel = travel_within(corner.reach(), share, 120.0, 20.0);
                let Ok(position) = corner.at(travel, rack) else {
                    return Err(TestCaseError::reject("out of reach with this rack displacement"));
                };
                prop_assert!(
                    position.rod_residual() <= 1e-11,
                    "{:e} mm",
                    position.rod_residual()
                );
                // The same from the points themselves, kingpin and steering arm included.
                let [up, low, inner, outer] = [
                    position.upper_ball_joint(),
                    position.lower_ball_joint(),
                    position.tie_rod_inner(),
                    position.tie_rod_outer(),
                ];
                let centre = position.wheel_centre();
                for (a, b, then_a, then_b) in [
                    (upper.front_pivot, up, upper.front_pivot, upper.ball_joint),
                    (upper.rear_pivot, up, upper.rear_pivot, upper.ball_joint),
                    (lower.front_pivot, low, lower.front_pivot, lower.ball_joint),
                    (lower.rear_pivot, low, lower.rear_pivot, lower.ball_joint),
                    (inner, outer, pickups.tie_rod.inner, pickups.tie_rod.outer),
                    (low, up, lower.ball_joint, upper.ball_joint),
                    (low, outer, lower.ball_joint, pickups.tie_rod.outer),
                    (up, centre, upper.ball_joint, pickups.wheel.centre),
                ] {
                    let stretch = (a - b).norm() - (then_a - then_b).norm();
                    prop_assert!(stretch.abs() <= 1e-11, "{stretch:e} mm");
                }
                let risen = centre.z - pickups.wheel.centre.z;
                prop_assert!((risen - travel).abs() <= 1e-11, "{risen} is not {travel}");
            }
            Ok(())
        },
    );
}

#[test]
fn up_then_down_retraces() {
    hold(40, (corner(), 1..30_usize), |(pickups, count)| {
        let corner = Corner::new(&pickups).expect("a corner");
        let top = travel_within(corner.reach(), 1.0, 80.0, 2.0);
        let up = (0..=count).map(|place| top * place as f64 / count as f64);
        let travels: Vec<f64> = up.clone().chain(up.rev()).collect();
        let sweep = corner.sweep_travel(&travels, 0.0).expect("within reach");
        for (there, back) in sweep.iter().zip(sweep.iter().rev()) {
            prop_assert_eq!(there.pose(), back.pose());
        }
        Ok(())
    });
}

#[test]
fn one_position_of_a_corner_is_that_of_any_sweep() {
    let asked = (vec(-1.0..1.0_f64, 1..60), vec(-25.0..25.0_f64, 1..4));
    hold(60, (corner(), asked), |(pickups, (shares, racks))| {
        let corner = Corner::new(&pickups).expect("a corner");
        let reach = corner.reach();
        let travels: Vec<f64> = shares
            .iter()
            .map(|share| travel_within(reach, *share, 120.0, 25.0))
            .collect();
        let grid = corner.grid(&travels, &racks).expect("within reach");
        for (&rack, row) in racks.iter().zip(grid.chunks(travels.len())) {
            let sweep = corner.sweep_travel(&travels, rack).expect("within reach");
            for ((&travel, in_grid), in_sweep) in travels.iter().zip(row).zip(&sweep) {
                let alone = corner.at(travel, rack).expect("within reach");
                let miss = apart(alone.pose(), in_sweep.pose());
                prop_assert!(miss <= SAME_MM, "travel {travel}, rack {rack}: {miss:e} mm apart");
                // Threads change nothing: not a bit.
                prop_assert_eq!(in_grid.pose(), in_sweep.pose());
                prop_assert_eq!((in_grid.travel(), in_grid.rack()), (travel, rack));
            }
        }
        let steered = corner.sweep_rack(&racks, travels[0]).expect("within reach");
        for (&rack, position) in racks.iter().zip(&steered) {
            let alone = corner.at(travels[0], rack).expect("within reach");
            prop_assert_eq!(position.pose(), alone.pose());
        }
        Ok(())
    });
}

#[test]
fn one_position_of_an_axle_is_that_of_any_sweep() {
    let asked = (vec(-70.0..70.0_f64, 1..20), vec(-45.0..45.0_f64, 1..20));
    hold(60, (axle(), asked), |(pickups, (heaves, rolls))| {
        let axle = Axle::new(&pickups).expect("an axle");
        let grid = axle.grid(&heaves, &rolls).expect("within reach");
        let again = axle.grid(&heaves, &rolls).expect("within reach");
        for (&heave, row) in heaves.iter().zip(grid.chunks(rolls.len())) {
            let sweep = axle.sweep_roll(&rolls, heave).expect("within reach");
            let travels: Vec<AxleTravel> = rolls
                .iter()
                .map(|roll| AxleTravel::from_heave(heave, *roll))
                .collect();
            let listed = axle.sweep(&travels).expect("within reach");
            for (((travel, in_grid), in_sweep), in_list) in travels.iter().zip(row).zip(&sweep).zip(&listed) {
                let alone = axle.at(*travel).expect("within reach");
                prop_assert_eq!(in_list.pose(), alone.pose());
                for other in [in_grid, in_sweep] {
                    let miss = apart(alone.pose(), other.pose());
                    prop_assert!(miss <= SAME_MM, "{travel:?}: {miss:e} mm apart");
                }
            }
        }
        // Threads change nothing: not a bit.
        for (one, other) in grid.iter().zip(&again) {
            prop_assert_eq!(one.pose(), other.pose());
        }
        let sweep = axle.sweep_heave(&heaves).expect("within reach");
        for (&heave, position) in heaves.iter().zip(&sweep) {
            let alone = axle.at(AxleTravel::both(heave)).expect("within reach");
            let miss = apart(alone.pose(), position.pose());
            prop_assert!(miss <= SAME_MM, "heave {heave}: {miss:e} mm apart");
        }
        Ok(())
    });
}

/// Places of a grid: even ones, as sweeps mostly are, or any, in any order and some of them twice.
fn grid_places(most: f64) -> impl Strategy<Value = Vec<f64>> {
    let even = (1..9_usize, 0.3..1.0_f64, -0.5..0.5_f64).prop_map(move |(each_way, share, shift)| {
        let step = share * most / (each_way as f64 + 0.5);
        (0..=2 * each_way)
            .map(|index| (index as f64 - each_way as f64 + shift) * step)
            .collect()
    });
    let any = vec(-most..most, 1..8).prop_map(|mut places: Vec<f64>| {
        places.extend_from_within(..1);
        places
    });
    prop_oneof![even, any]
}

#[test]
fn one_position_of_an_axle_is_that_of_any_grid_that_is_only_visited() {
    hold(
        100,
        (axle(), grid_places(70.0), grid_places(45.0)),
        |(pickups, heaves, rolls)| {
            let axle = Axle::new(&pickups).expect("an axle");
            let mut poses = vec![None; heaves.len() * rolls.len()];
            axle.follow_grid(&heaves, &rolls, |place, position| {
                poses[place] = Some(*position.pose())
            })
            .expect("within reach");
            for (place, pose) in poses.iter().enumerate() {
                let (heave, roll) = (heaves[place / rolls.len()], rolls[place % rolls.len()]);
                let alone = axle
                    .at(AxleTravel::from_heave(heave, roll))
                    .expect("within reach");
                let miss = apart(alone.pose(), &pose.expect("visited"));
                prop_assert!(miss <= SAME_MM, "heave {heave}, roll {roll}: {miss:e} mm apart");
            }
            Ok(())
        },
    );
}
