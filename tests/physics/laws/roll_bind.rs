//! An axle held by a link too many: what roll stretches.

use super::random::{bound_axle, hold};
use crate::closed_form::axle::parallel_links;
use kin_core::nalgebra::Vector3;
use kin_core::pickups::LiveAxle;
use kin_core::{Axle, AxlePosition, AxleTravel};
use proptest::prelude::*;

/// Parallel links in plan, the upper ones falling forward: in heave both sides turn the axle alike, in roll against each
/// other.
fn binding() -> LiveAxle {
    let mut axle = parallel_links();
    for name in ["upper_left", "upper_right"] {
        axle.links[name].body.z -= 90.0;
    }
    axle
}

fn rolled(axle: &Axle) -> AxlePosition<'_> {
    axle.at(AxleTravel::from_heave(0.0, 60.0)).expect("within reach")
}

fn most_stretch(position: &AxlePosition<'_>) -> f64 {
    position
        .link_stretch()
        .values()
        .fold(0.0, |most, stretch| most.max(stretch.abs()))
}

#[test]
fn heave_stretches_nothing_and_roll_does() {
    let axle = Axle::new(&binding()).expect("an axle");
    assert!(axle.is_held_too_much());
    for heave in [-80.0, -30.0, 30.0, 80.0] {
        let position = axle.at(AxleTravel::both(heave)).expect("within reach");
        assert!(most_stretch(&position) <= 1e-9, "{:?}", position.link_stretch());
    }
    let rolled = most_stretch(&rolled(&axle));
    assert!(rolled > 0.05, "only {rolled} mm in roll");
}

#[test]
fn only_ratios_of_stiffness_matter() {
    let stiff = |scale: f64| {
        let mut pickups = binding();
        for (count, link) in pickups.links.values_mut().enumerate() {
            link.stiffness = Some(scale * (1.0 + count as f64));
        }
        pickups
    };
    let reference = Axle::new(&stiff(1_000.0)).expect("an axle");
    let expected = rolled(&reference).link_stretch();
    for scale in [1.0, 37.0, 250_000.0] {
        let axle = Axle::new(&stiff(scale)).expect("an axle");
        for (name, stretch) in rolled(&axle).link_stretch() {
            let miss = (stretch - expected[&name]).abs();
            assert!(
                miss <= 1e-10,
                "stiffness times {scale}: {name} is off by {miss:e} mm"
            );
        }
    }
    // Links without a stiffness are equally stiff.
    let mut equal = binding();
    let bare = rolled(&Axle::new(&equal).expect("an axle")).link_stretch();
    for link in equal.links.values_mut() {
        link.stiffness = Some(8_000.0);
    }
    let given = rolled(&Axle::new(&equal).expect("an axle")).link_stretch();
    for (name, stretch) in bare {
        assert!((stretch - given[&name]).abs() <= 1e-10, "{name}");
    }
}

/// The links share the bind as springs in a row do: the softest one takes it.
#[test]
fn the_softest_link_takes_the_stretch() {
    let equal = rolled(&Axle::new(&binding()).expect("an axle")).link_stretch();
    let taking_part: Vec<&String> = equal
        .iter()
        .filter(|(_, stretch)| stretch.abs() > 0.01)
        .map(|(name, _)| name)
        .collect();
    assert!(taking_part.len() >= 4, "{equal:?}");
    for soft in taking_part {
        let mut pickups = binding();
        for (name, link) in &mut pickups.links {
            link.stiffness = Some(if name == soft { 5.0 } else { 50_000.0 });
        }
        let axle = Axle::new(&pickups).expect("an axle");
        let position = rolled(&axle);
        let stretch = position.link_stretch();
        for (name, other) in &stretch {
            if name != soft {
                assert!(
                    other.abs() <= 0.01 * stretch[soft].abs(),
                    "soft {soft}: {stretch:?}"
                );
            }
        }
        // It gives way by at least what it did as one of five equal ones.
        assert!(
            stretch[soft].abs() > equal[soft].abs(),
            "soft {soft}: {stretch:?}"
        );
    }
}

/// The stretched links balance each other, but for upright forces at the wheels, which hold the wheels at their heights.
///
/// Statics of a rigid body: forces along X and Y and the moment about Z vanish, and the rest is what two upright
/// forces at the wheel centres can do.
fn unbalanced(pickups: &LiveAxle, position: &AxlePosition<'_>) -> (f64, f64) {
    let (left, right) = position.wheel_centres();
    let middle = 0.5 * (left + right);
    let (mut force, mut moment, mut size) = (Vector3::zeros(), Vector3::zeros(), 0.0);
    let stretch = position.link_stretch();
    for (name, (body, joint)) in position.links() {
        let stiffness = pickups.links[&name].stiffness.unwrap_or(1.0);
        let pull = (body - joint).normalize() * (stiffness * stretch[&name]);
        force += pull;
        moment += (joint - middle).cross(&pull);
        size += pull.norm();
    }
    // Upright forces p and q at the wheels, arm a from the middle to the left wheel: moments (p - q) (a_y, -a_x, 0).
    let arm = left - middle;
    let across = moment.x * arm.x + moment.y * arm.y;
    let rest = force.x.abs().max(force.y.abs()).max(moment.z.abs() / 300.0);
    (rest.max(across.abs() / (300.0 * arm.norm())), size)
}

#[test]
fn stretched_links_balance() {
    hold(
        60,
        (bound_axle(), -60.0..60.0_f64, -60.0..60.0_f64),
        |(mut pickups, heave, roll)| {
            let all_given = pickups.links.values().all(|link| link.stiffness.is_some());
            if !all_given {
                for link in pickups.links.values_mut() {
                    link.stiffness = None;
                }
            }
            let axle = Axle::new(&pickups).expect("an axle");
            let position = axle
                .at(AxleTravel::from_heave(heave, roll))
                .expect("within reach");
            let (rest, size) = unbalanced(&pickups, &position);
            // Round-off of a stretch, 1e-13 mm, under the stiffest link.
            let stiffest = if all_given { 20_000.0 } else { 1.0 };
            prop_assert!(
                rest <= 1e-11 * size + 1e-11 * stiffest,
                "{rest:e} N left of {size:e} N"
            );
            Ok(())
        },
    );
}
