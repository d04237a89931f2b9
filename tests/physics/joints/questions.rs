//! Questions about joints that cannot be answered are refused by name.

use super::swing::{joint, range};
use kin_core::checks::{Joint, JointsQuestion, MotionRange, check_axle_joints, check_corner_joints};
use kin_core::pickups::Point;
use kin_core::{Axle, Corner, samples};

#[test]
fn wrong_questions_are_refused_by_name() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let upper = || joint("coilover.upper_mount", Some([1.0, 0.0, 0.0]));
    let cases = [
        (
            joint("coilover.uper_mount", Some([1.0, 0.0, 0.0])),
            "did you mean `coilover.upper_mount`",
        ),
        (joint("coilover.upper_mount", None), "joints[0].axis"),
        (joint("coilover.upper_mount", Some([0.0, 0.0, 0.0])), "no length"),
        (
            joint("coilover.upper_mount", Some([f64::NAN, 0.0, 0.0])),
            "finite",
        ),
        (
            Joint {
                limit: Some(-3.0),
                ..upper()
            },
            "joints[0].limit",
        ),
        (
            Joint {
                margin: Some(f64::NAN),
                ..upper()
            },
            "joints[0].margin",
        ),
        (
            Joint {
                socket: Some(Point::new(0.0, 0.0, 1.0)),
                ..upper()
            },
            "joints[0].socket",
        ),
        (
            Joint {
                axial: true,
                ..joint("upper_arm.ball_joint", None)
            },
            "axial",
        ),
    ];
    for (joint, words) in cases {
        let question = JointsQuestion {
            joints: vec![joint],
            range: range(50.0, 50.0, 0.0),
        };
        let error = check_corner_joints(&corner, &question)
            .expect_err(words)
            .to_string();
        assert!(error.contains(words), "{words}: {error}");
    }
    let none = JointsQuestion {
        joints: vec![],
        range: MotionRange::default(),
    };
    assert!(check_corner_joints(&corner, &none).is_err());
    let far = JointsQuestion {
        joints: vec![upper()],
        range: range(-1.0, 50.0, 0.0),
    };
    assert!(
        check_corner_joints(&corner, &far)
            .expect_err("negative")
            .to_string()
            .contains("bump")
    );
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let steered = JointsQuestion {
        joints: vec![joint("links.lower_left.body", Some([0.0, 1.0, 0.0]))],
        range: range(50.0, 38.0, 10.0),
    };
    assert!(
        check_axle_joints(&axle, &steered)
            .expect_err("no rack")
            .to_string()
            .contains("rack")
    );
}
