//! An axle that is not held is refused with the free motion in words.

use crate::closed_form::axle::parallel_links;
use crate::published;
use kin_core::pickups::LiveAxle;
use kin_core::{Axle, Error, LinkageError, samples};

/// The motion and the advice of the refusal.
fn free_motion(pickups: &LiveAxle) -> (String, String) {
    match Axle::new(pickups) {
        Err(Error::Linkage(LinkageError::HeldTooLittle {
            carrier,
            motion,
            advice,
            ..
        })) => {
            assert_eq!(carrier, "axle");
            (motion, advice)
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn parallel_links_leave_the_axle_free_sideways() {
    let mut axle = parallel_links();
    axle.links.shift_remove("panhard_rod");
    let (motion, advice) = free_motion(&axle);
    assert_eq!(motion, "move sideways");
    assert!(advice.contains("4 links"), "{advice}");
    assert!(advice.contains("panhard rod"), "{advice}");
    // One of them less, and it is still sideways that nothing holds.
    axle.links.shift_remove("upper_right");
    let (motion, advice) = free_motion(&axle);
    assert_eq!(motion, "move sideways");
    assert!(advice.contains("3 links"), "{advice}");
}

#[test]
fn links_at_one_height_leave_the_axle_free_to_wind_up() {
    let mut axle = parallel_links();
    for name in ["upper_left", "upper_right"] {
        axle.links.shift_remove(name);
    }
    let (motion, _) = free_motion(&axle);
    let known = ["move", "turn about"];
    assert!(known.iter().any(|words| motion.starts_with(words)), "{motion}");
    // With the panhard rod as third, sideways is held as well; what is left is the wind-up about the lower links.
    let mut axle = parallel_links();
    axle.links.shift_remove("upper_left");
    axle.links.shift_remove("upper_right");
    assert_eq!(axle.links.len(), 3);
    let (motion, advice) = free_motion(&axle);
    assert!(
        motion.starts_with("turn about a crosswise line (wind up)"),
        "{motion}"
    );
    assert!(advice.contains("upper link"), "{advice}");
}

#[test]
fn links_without_spread_leave_the_axle_free_to_steer() {
    let mut axle = parallel_links();
    axle.links.shift_remove("upper_right");
    for (name, link) in &mut axle.links {
        if name != "panhard_rod" {
            link.body.y = 0.0;
            link.axle.y = 0.0;
        }
    }
    axle.links["lower_right"].body.z += 70.0;
    axle.links["lower_right"].axle.z += 70.0;
    let (motion, advice) = free_motion(&axle);
    assert!(
        motion.starts_with("turn about an upright line (steer)"),
        "{motion}"
    );
    assert!(advice.contains("spread the links apart"), "{advice}");
}

#[test]
fn every_triangulated_link_is_needed() {
    for sample in [samples::wagon_rear(), samples::pickup_rear()] {
        let whole = sample.with_both_sides();
        assert_eq!(whole.links.len(), 4);
        for name in whole.links.keys() {
            let mut axle = whole.clone();
            axle.links.shift_remove(name);
            let (motion, advice) = free_motion(&axle);
            assert!(advice.contains("3 links"), "without {name}: {advice}");
            assert!(
                motion.starts_with("move") || motion.starts_with("turn about"),
                "without {name}: {motion}"
            );
            assert!(!motion.contains("NaN"), "without {name}: {motion}");
        }
    }
}

#[test]
fn a_link_given_twice_does_not_count_twice() {
    let mut axle = samples::wagon_rear().with_both_sides();
    let twice = axle.links["lower_left"];
    axle.links.insert("upper_right".to_owned(), twice);
    free_motion(&axle);
}

/// A tie rod whose line meets the kingpin cannot hold the upright against steering.
///
/// The corner is one whose wheel centre neither rises nor falls with steer: the kingpin and it lie in a plane across the
/// car. Otherwise the wheel's height would hold the steer.
#[test]
fn a_tie_rod_in_the_kingpin_is_refused() {
    let mut corner = published::pickups();
    let (low, up) = (corner.lower_arm.ball_joint, corner.upper_arm.ball_joint);
    corner.tie_rod.inner = corner.tie_rod.outer - 2.0 * (0.5 * (low + up) - corner.tie_rod.outer);
    let refused = kin_core::Corner::new(&corner);
    let Err(Error::Linkage(LinkageError::HeldTooLittle {
        carrier,
        motion,
        through,
        ..
    })) = refused
    else {
        panic!("{refused:?}")
    };
    assert_eq!(carrier, "upright");
    assert!(
        motion.starts_with("turn about an upright line (steer)"),
        "{motion}"
    );
    // The line of the free turn is the kingpin.
    let through = through.expect("a line");
    let along = (up - low).normalize();
    let off = (through - low).cross(&along).norm();
    assert!(off <= 1e-6, "{through:?} is {off} mm off the kingpin");
}
