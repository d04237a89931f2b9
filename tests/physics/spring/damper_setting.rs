//! Damping ratios per click and starting settings on the wagon's front damper.

use super::support::{close, finding, wagon_corner, wagon_front};
use kin_core::checks::{
    ClickCurve, CountedFrom, DamperSettingQuestion, DampingDirection, DynoPoint, RideHeightQuestion,
    SprungLoad, Verdict, axle_damper_setting, corner_damper_setting,
};
use kin_core::pickups::AxleSides;
use kin_core::{Axle, samples};

fn curve(click: u32, points: &[(f64, f64)]) -> ClickCurve {
    ClickCurve {
        click,
        points: points
            .iter()
            .map(|&(speed, force)| DynoPoint { speed, force })
            .collect(),
    }
}

/// An invented adjuster of 20 clicks, measured at three of them.
fn measured(wanted_ratio: Option<f64>) -> DampingDirection {
    DampingDirection {
        clicks: 20,
        counted_from: CountedFrom::FullStiff,
        dyno: vec![
            curve(20, &[(50.0, 200.0), (100.0, 350.0)]),
            curve(0, &[(50.0, 600.0), (100.0, 1_000.0)]),
            curve(10, &[(50.0, 400.0), (100.0, 650.0)]),
        ],
        wanted_ratio,
    }
}

fn unmeasured(clicks: u32, counted_from: CountedFrom) -> DampingDirection {
    DampingDirection {
        clicks,
        counted_from,
        dyno: Vec::new(),
        wanted_ratio: None,
    }
}

/// Common practice, no source: without dyno points one starts in the middle, and ten clicks back from full stop are the
/// middle of twenty.
#[test]
fn without_dyno_points_one_starts_in_the_middle() {
    let question = DamperSettingQuestion {
        bump: Some(unmeasured(20, CountedFrom::FullStiff)),
        rebound: Some(unmeasured(24, CountedFrom::FullSoft)),
        ..DamperSettingQuestion::default()
    };
    let found = corner_damper_setting(&wagon_corner(), &wagon_front(), &question).expect("an answer");
    let (bump, rebound) = (found.bump.expect("asked for"), found.rebound.expect("asked for"));
    assert_eq!(
        bump.start.to_string(),
        "from full stiff, back off 10 of 20 clicks"
    );
    assert_eq!(
        rebound.start.to_string(),
        "from full soft, turn in 12 of 24 clicks"
    );
    assert_eq!((bump.start_ratio, found.findings), (None, Vec::new()));
}

/// By hand from the scenario's figures: motion ratio 0.605, wheel rate 35.75 N/mm, 406 kg.
#[test]
fn damping_ratio_by_click() {
    let question = DamperSettingQuestion {
        wheel_speed: Some(100.0),
        bump: Some(measured(Some(0.40))),
        rebound: None,
    };
    let found = corner_damper_setting(&wagon_corner(), &wagon_front(), &question).expect("an answer");
    close(found.speed.damper, 60.5, 0.02);
    assert_eq!(found.speed.in_roll, None);
    let critical = 2.0 * (35_750.0_f64 * 406.0).sqrt() / 1_000.0;
    close(found.critical_damping, critical, 1e-3 * critical);
    let bump = found.bump.expect("asked for");
    let clicks: Vec<u32> = bump.clicks.iter().map(|click| click.click).collect();
    assert_eq!(clicks, [0, 10, 20]);
    for (click, force) in bump.clicks.iter().zip([684.0, 452.5, 231.5]) {
        close(click.force, force, 0.2);
        let ratio = force / 60.5 * 0.605 * 0.605 / critical;
        close(click.ratio, ratio, 2e-3 * ratio);
    }
    // 0.543 at full stiff, 0.359 ten clicks back: 0.40 is 7.8 clicks back.
    assert_eq!(bump.start.click, 8);
    close(bump.start_ratio.expect("between measured clicks"), 0.396, 1e-3);
    assert_eq!(
        finding(&found.findings, "damping ratio in bump").verdict,
        Verdict::Holds
    );
    assert!(
        found.findings[0]
            .to_string()
            .contains("from full stiff, back off 8 of 20 clicks")
    );
}

#[test]
fn a_ratio_out_of_the_adjusters_range_fails_at_its_nearest_end() {
    let question = DamperSettingQuestion {
        wheel_speed: None,
        bump: None,
        rebound: Some(measured(Some(0.9))),
    };
    let found = corner_damper_setting(&wagon_corner(), &wagon_front(), &question).expect("an answer");
    assert_eq!(found.rebound.expect("asked for").start.click, 0);
    let ratio = finding(&found.findings, "damping ratio in rebound");
    assert_eq!(ratio.verdict, Verdict::Fails);
    assert!(ratio.margin < 0.0);
}

#[test]
fn dyno_points_must_reach_the_dampers_speed() {
    let question = DamperSettingQuestion {
        wheel_speed: Some(200.0),
        bump: Some(measured(None)),
        rebound: None,
    };
    let error = corner_damper_setting(&wagon_corner(), &wagon_front(), &question).expect_err("too fast");
    let said = error.to_string();
    assert!(
        said.contains("`wheel_speed` is 200") && said.contains("at most 165 mm/s"),
        "{said}"
    );
}

#[test]
fn dampers_of_an_axle_are_slower_in_roll() {
    let axle = Axle::new(&samples::wagon_rear()).expect("a good axle");
    let sides = AxleSides {
        left: RideHeightQuestion {
            load: SprungLoad::of_sprung_mass(322.0),
            ..RideHeightQuestion::default()
        },
        right: None,
    };
    let question = DamperSettingQuestion {
        wheel_speed: Some(100.0),
        bump: Some(measured(None)),
        rebound: None,
    };
    let both = axle_damper_setting(&axle, &sides, &question).expect("an answer");
    assert_eq!(both.len(), 2);
    for setting in &both {
        // The scenario's motion ratios: 0.984 with both wheels, 0.601 in roll.
        close(setting.speed.damper, 98.43, 0.01);
        close(setting.speed.in_roll.expect("an axle"), 60.09, 0.01);
    }
}
