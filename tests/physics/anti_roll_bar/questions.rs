//! Bars that cannot be right are refused by name.

use super::{front_bar, section};
use kin_core::checks::{AntiRollBar, ArmBending, BarSection, BarSide, check_corner_anti_roll_bar};
use kin_core::pickups::Point;
use kin_core::{Corner, samples};

#[test]
fn wrong_bars_are_refused_by_name() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let good = front_bar();
    let with_left = |change: &dyn Fn(&mut BarSide)| {
        let mut bar = good.clone();
        change(&mut bar.left);
        bar
    };
    let cases = [
        (
            AntiRollBar {
                section: section(-24.0, 0.0),
                ..good.clone()
            },
            "section.outside_diameter",
        ),
        (
            AntiRollBar {
                section: section(24.0, 25.0),
                ..good.clone()
            },
            "section.inside_diameter",
        ),
        (
            AntiRollBar {
                section: BarSection {
                    shear_modulus: Some(-1.0),
                    ..section(24.0, 0.0)
                },
                ..good.clone()
            },
            "section.shear_modulus",
        ),
        (
            AntiRollBar {
                arm: ArmBending::Rate(0.0),
                ..good.clone()
            },
            "arm.rate",
        ),
        (
            AntiRollBar {
                length: Some(-900.0),
                ..good.clone()
            },
            "length",
        ),
        (
            AntiRollBar {
                mounted_on: "frame".into(),
                ..good.clone()
            },
            "mounted_on",
        ),
        (
            with_left(&|side| side.rides_on = "lower_amr".into()),
            "did you mean `lower_arm`",
        ),
        (with_left(&|side| side.rides_on = "body".into()), "left.rides_on"),
        (with_left(&|side| side.arm_end = side.root), "left.arm_end"),
        (with_left(&|side| side.link_end = side.arm_end), "left.link_end"),
        (
            with_left(&|side| side.link_end = side.arm_end + (side.arm_end - side.root)),
            "in line",
        ),
        (
            with_left(&|side| side.link_length = Some(-5.0)),
            "left.link_length",
        ),
        (
            with_left(&|side| side.link_length = Some(900.0)),
            "left.link_length",
        ),
        (
            with_left(&|side| side.root = Point::new(f64::NAN, 0.0, 0.0)),
            "left.root",
        ),
        (with_left(&|side| side.root.y = 0.0), "right.root"),
    ];
    for (bar, words) in cases {
        let error = check_corner_anti_roll_bar(&corner, &bar)
            .expect_err(words)
            .to_string();
        assert!(error.contains(words), "{words}: {error}");
    }
}
