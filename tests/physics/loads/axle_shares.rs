//! More links than the axle needs share as their stiffness decides; links that carry something hand it to both ends.

use kin_core::checks::loads::{AxleForces, AxleLoad, axle_forces};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Link, LiveAxle};
use kin_core::{Axle, AxleTravel, samples};

const LOADS: [Vector3<f64>; 2] = [
    Vector3::new(1_200.0, -900.0, 4_100.0),
    Vector3::new(700.0, -400.0, 2_300.0),
];

fn forces(pickups: &LiveAxle, travel: f64) -> AxleForces {
    let axle = Axle::new(pickups).expect("an axle");
    let load = AxleLoad {
        at_contact_points: LOADS,
        ..AxleLoad::default()
    };
    let position = axle.at(AxleTravel::both(travel)).expect("within reach");
    axle_forces(&position, &load).expect("forces")
}

/// Closed form: two springs side by side on one line share in the ratio of their rates, and the rest of the axle does
/// not know that there are two.
#[test]
fn a_doubled_link_shares_by_stiffness() {
    let single = samples::wagon_rear().with_both_sides();
    let mut doubled = single.clone();
    for link in doubled.links.values_mut() {
        link.stiffness = Some(20_000.0);
    }
    let mut beside: Link = doubled.links["lower_left"];
    beside.stiffness = Some(5_000.0);
    doubled.links.insert("second_lower_left".into(), beside);
    for travel in [0.0, 30.0, -30.0] {
        let (alone, shared) = (forces(&single, travel), forces(&doubled, travel));
        assert!(shared.shared_by_stiffness && !alone.shared_by_stiffness);
        let whole = alone.links["lower_left"].tension;
        for (name, expected) in [
            ("lower_left", whole * 0.8),
            ("second_lower_left", whole * 0.2),
            ("lower_right", alone.links["lower_right"].tension),
            ("upper_left", alone.links["upper_left"].tension),
            ("upper_right", alone.links["upper_right"].tension),
        ] {
            let found = shared.links[name].tension;
            assert!(
                (found - expected).abs() < 1e-6,
                "{name} at {travel}: {found} is not {expected}"
            );
        }
        for (found, expected) in shared.supports.iter().zip(&alone.supports) {
            assert!((found.compression - expected.compression).abs() < 1e-6);
        }
    }
}

/// Roll stretches links that are one too many; with a stiffness in N/mm that puts force into them without any load.
#[test]
fn stretched_links_balance_among_themselves() {
    let mut pickups = samples::wagon_rear().with_both_sides();
    for link in pickups.links.values_mut() {
        link.stiffness = Some(8_000.0);
    }
    let panhard_rod = Link {
        body: kin_core::pickups::Point::new(-2_700.0, 420.0, 330.0),
        axle: kin_core::pickups::Point::new(-2_720.0, -430.0, 300.0),
        stiffness: Some(2_000.0),
    };
    pickups.links.insert("panhard_rod".into(), panhard_rod);
    let axle = Axle::new(&pickups).expect("an axle");
    let position = axle
        .at(AxleTravel {
            left: 40.0,
            right: -40.0,
        })
        .expect("within reach");
    let stretched = position
        .link_stretch()
        .values()
        .fold(0.0, |most: f64, value| most.max(value.abs()));
    assert!(stretched > 0.01, "this axle binds in roll");
    // Without any load: the coilovers hold what the bind asks, and everything balances.
    let found = axle_forces(&position, &AxleLoad::default()).expect("forces");
    let most = found
        .links
        .values()
        .fold(0.0, |most: f64, link| most.max(link.tension.abs()));
    assert!(
        most > 10.0,
        "bind puts force into the links, found {most} N at most"
    );
    let sum: Vector3<f64> = found
        .links
        .values()
        .map(|link| link.on_axle)
        .sum::<Vector3<f64>>()
        + found
            .supports
            .iter()
            .map(|support| support.force_on_moving_part)
            .sum::<Vector3<f64>>();
    assert!(sum.amax() < 1e-6, "{sum:?}");
}

/// Closed form: a beam on two supports. A coilover halfway along a level link that stands square to it puts half of its
/// force on each end.
#[test]
fn a_coilover_on_a_link_loads_both_ends() {
    let mut pickups = samples::wagon_rear().with_both_sides();
    let dampers = pickups.coilovers.as_mut().expect("coilovers");
    for (damper, name) in [
        (Some(&mut dampers.left), "lower_left"),
        (dampers.right.as_mut(), "lower_right"),
    ] {
        let damper = damper.expect("a coilover");
        let link = pickups.links[name];
        let along = (link.axle - link.body).normalize();
        let across = (Vector3::z() - along * along.z).normalize();
        damper.rides_on = name.to_owned();
        damper.lower_mount = 0.5 * (link.body + link.axle);
        damper.upper_mount = damper.lower_mount + across * 330.0;
    }
    let found = forces(&pickups, 0.0);
    for (support, name) in found.supports.iter().zip(["lower_left", "lower_right"]) {
        let link = &found.links[name];
        let given = pickups.links[name];
        let along = (given.axle - given.body).normalize();
        let half = support.force_on_moving_part * 0.5;
        let axial = along * -link.tension;
        assert!((link.on_axle - (half + axial)).amax() < 1e-9, "{name}");
        assert!((link.on_body - (half - axial)).amax() < 1e-9, "{name}");
        assert!(link.twist.abs() < 1e-6);
    }
}
