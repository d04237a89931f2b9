//! Joints.
use kin_core::checks::*;
use kin_core::{Corner, samples};

#[test]
fn scratch() {
    let mut original = samples::wagon_front();
    original.upper_arm.ball_joint = kin_core::pickups::Point::new(3.0, 661.0, 431.0);
    for pickups in [samples::wagon_front(), original] {
        let corner = Corner::new(&pickups).unwrap();
        for (bump, droop) in [(75.0, 50.0), (101.6, 50.0), (99.0, 50.0)] {
            let joint = |at: &str, axis| Joint {
                at: at.into(),
                axis,
                socket: None,
                axial: false,
                limit: Some(20.0),
                bearing: None,
                margin: None,
            };
            let q = JointsQuestion {
                joints: vec![
                    joint("upper_arm.ball_joint", None),
                    joint("lower_arm.ball_joint", None),
                    joint("coilover.upper_mount", Some([1.0, 0.0, 0.0].into())),
                    joint("coilover.lower_mount", Some([1.0, 0.0, 0.0].into())),
                    joint("tie_rod.outer", Some([0.0, 0.0, 1.0].into())),
                ],
                range: MotionRange {
                    bump: Some(bump),
                    droop: Some(droop),
                    rack: None,
                },
            };
            let t = std::time::Instant::now();
            for j in check_corner_joints(&corner, &q).unwrap() {
                println!(
                    "{} ride {:.3} bump {:.3} droop {:.3} worst {:.3} at {:?} best {:?} {:.4}",
                    j.joint,
                    j.at_ride.to_degrees(),
                    j.at_full_bump.to_degrees(),
                    j.at_full_droop.to_degrees(),
                    j.worst.to_degrees(),
                    j.worst_at,
                    j.best_axis,
                    j.worst_with_best_axis.to_degrees()
                );
                for f in j.findings {
                    println!("   {f}");
                }
            }
            println!("{:?}", t.elapsed());
        }
    }
}
