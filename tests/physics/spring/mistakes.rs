//! Wrong inputs have clear errors: each names the field and says what to do.

use super::support::{wagon_corner, wagon_front};
use kin_core::checks::{
    AddedLoad, BumpStopQuestion, ClickCurve, CountedFrom, DamperSettingQuestion, DampingDirection, DynoPoint,
    HelperSpring, RideHeightQuestion, SprungLoad, StopPoint, check_corner_bump_stop,
    check_corner_ride_height, check_wire_spring, corner_damper_setting,
};
use kin_core::{Corner, samples};

/// What the check says to a changed question.
#[track_caller]
fn refused(change: impl FnOnce(&mut RideHeightQuestion), expected: &[&str]) {
    let mut question = wagon_front();
    change(&mut question);
    let error = check_corner_ride_height(&wagon_corner(), &question).expect_err("a wrong question");
    says(&error.to_string(), expected);
}

#[track_caller]
fn says(text: &str, expected: &[&str]) {
    for part in expected {
        assert!(text.contains(part), "`{part}` is not in: {text}");
    }
}

#[test]
fn masses() {
    refused(
        |question| question.load = SprungLoad::default(),
        &["`load`", "exactly one of `sprung_mass`, or `corner_weight`"],
    );
    refused(
        |question| question.load.corner_weight = Some(448.0),
        &["exactly one of"],
    );
    refused(
        |question| question.load.sprung_mass = Some(-406.0),
        &["`load.sprung_mass` is -406", "above 0"],
    );
    refused(
        |question| question.load.sprung_mass = Some(f64::NAN),
        &["`load.sprung_mass` is NaN", "finite"],
    );
    refused(
        |question| question.load.sprung_mass = Some(4e5),
        &["between 0 kg and 20000 kg", "one wheel carries"],
    );
    refused(
        |question| {
            question.load = SprungLoad {
                sprung_mass: None,
                corner_weight: Some(448.0),
                unsprung_mass: None,
            };
        },
        &["`load.unsprung_mass`", "does not rest on the spring"],
    );
    refused(
        |question| {
            question.load = SprungLoad {
                sprung_mass: None,
                corner_weight: Some(42.0),
                unsprung_mass: Some(448.0),
            };
        },
        &["is not above `load.unsprung_mass`", "swapped"],
    );
    refused(
        |question| {
            question.laden = Some(AddedLoad {
                mass: -100.0,
                bump: 20.0,
            });
        },
        &["`laden.mass` is -100"],
    );
}

#[test]
fn threads() {
    let thread = |question: &mut RideHeightQuestion, shortest, longest, pitch| {
        let thread = question.seat_thread.as_mut().expect("a thread");
        (thread.shortest, thread.longest, thread.pitch) = (shortest, longest, pitch);
    };
    refused(
        |question| thread(question, 125.0, 50.0, 2.0),
        &["`seat_thread.longest` (50 mm) is not above `seat_thread.shortest` (125 mm)"],
    );
    refused(
        |question| thread(question, 50.0, 51.0, 2.0),
        &["the thread is too short", "less than one turn of 2 mm"],
    );
    refused(
        |question| thread(question, 50.0, 125.0, -2.0),
        &["`seat_thread.pitch` is -2", "above 0"],
    );
    refused(
        |question| thread(question, 80.0, 125.0, 2.0),
        &[
            "`spring.lower_seat` is 75.46",
            "between 80 mm and 125 mm",
            "for_ride_height",
        ],
    );
}

#[test]
fn lengths() {
    refused(
        |question| question.solid_length = Some(260.0),
        &["the solid length (260 mm) is not below `spring.free_length` (254 mm)"],
    );
    refused(
        |question| question.solid_length = Some(-1.0),
        &["`solid_length` is -1"],
    );
    refused(|question| question.top_spacer = -3.0, &["`top_spacer` is -3"]);
    refused(
        |question| question.bind_allowance = Some(-1.0),
        &["`bind_allowance` is -1"],
    );
    refused(
        |question| question.top_spacer = 150.0,
        &["the spring cannot be fitted", "longer than the damper allows"],
    );
    refused(
        |question| question.wanted_frequency = Some(0.0),
        &["`wanted_frequency` is 0"],
    );
    refused(
        |question| question.sits_low = Some(f64::INFINITY),
        &["`sits_low` is inf"],
    );
    refused(|question| question.sits_low = Some(900.0), &["wheel travel"]);
}

#[test]
fn helpers() {
    let helper = HelperSpring {
        rate: 2.0,
        free_length: 40.0,
        solid_length: 10.0,
        divider: 0.0,
    };
    refused(
        |question| question.helper = Some(HelperSpring { rate: -2.0, ..helper }),
        &["`helper.rate` is -2"],
    );
    refused(
        |question| {
            question.helper = Some(HelperSpring {
                solid_length: 50.0,
                ..helper
            });
        },
        &["is not below `helper.free_length`"],
    );
    refused(
        |question| {
            question.helper = Some(HelperSpring {
                rate: 900.0,
                ..helper
            })
        },
        &["the main spring goes solid", "swapped"],
    );
}

#[test]
fn springs_of_the_description() {
    let with = |change: &dyn Fn(&mut kin_core::pickups::DoubleWishbone)| {
        let mut pickups = samples::wagon_front();
        change(&mut pickups);
        let corner = Corner::new(&pickups).expect("a good corner");
        check_corner_ride_height(&corner, &wagon_front())
            .expect_err("a wrong spring")
            .to_string()
    };
    says(
        &with(&|pickups| pickups.spring = None),
        &["`spring`, which is not given", "free length"],
    );
    says(
        &with(&|pickups| pickups.spring.as_mut().expect("a spring").free_length = None),
        &["`spring.free_length`, which is not given", "on the bench"],
    );
    says(
        &with(&|pickups| pickups.spring.as_mut().expect("a spring").free_length = Some(360.0)),
        &["360 mm long without load", "349.25 mm between its mounts"],
    );
    let bare = samples::wagon_front();
    let no_damper = kin_core::pickups::DoubleWishbone {
        coilover: None,
        spring: None,
        ..bare
    };
    let corner = Corner::new(&no_damper).expect("a good corner");
    let error = check_corner_ride_height(&corner, &wagon_front()).expect_err("no damper");
    says(&error.to_string(), &["`coilover`, which is not given"]);
}

#[test]
fn bump_stop_tables() {
    let refused = |table: &[(f64, f64)], expected: &[&str]| {
        let table = table
            .iter()
            .map(|&(compression, force)| StopPoint { compression, force });
        let question = BumpStopQuestion {
            table: table.collect(),
            load_factor: None,
        };
        let error =
            check_corner_bump_stop(&wagon_corner(), &wagon_front(), &question).expect_err("a wrong table");
        says(&error.to_string(), expected);
    };
    refused(&[], &["`table`", "at one compression at least"]);
    refused(&[(0.0, 0.0)], &["at one compression at least"]);
    refused(&[(10.0, 900.0), (5.0, 1_000.0)], &["line 1", "does not rise"]);
    refused(&[(10.0, 900.0), (15.0, 800.0)], &["line 1", "do not fall"]);
    refused(&[(-1.0, 900.0)], &["line 0", "does not rise"]);
    refused(&[(10.0, f64::NAN)], &["`table[0].force` is NaN"]);
    let mut pickups = samples::wagon_front();
    pickups.coilover.as_mut().expect("a coilover").bump_stop = 0.0;
    let corner = Corner::new(&pickups).expect("a good corner");
    let question = BumpStopQuestion {
        table: vec![StopPoint {
            compression: 10.0,
            force: 900.0,
        }],
        load_factor: None,
    };
    let error = check_corner_bump_stop(&corner, &wagon_front(), &question).expect_err("no stop");
    says(&error.to_string(), &["`bump_stop`, which is not given"]);
}

#[test]
fn damper_settings() {
    let direction = DampingDirection {
        clicks: 20,
        counted_from: CountedFrom::FullStiff,
        dyno: vec![ClickCurve {
            click: 0,
            points: vec![DynoPoint {
                speed: 100.0,
                force: 900.0,
            }],
        }],
        wanted_ratio: None,
    };
    let refused = |change: &dyn Fn(&mut DampingDirection), expected: &[&str]| {
        let mut changed = direction.clone();
        change(&mut changed);
        let question = DamperSettingQuestion {
            bump: Some(changed),
            ..DamperSettingQuestion::default()
        };
        let error =
            corner_damper_setting(&wagon_corner(), &wagon_front(), &question).expect_err("a wrong damper");
        says(&error.to_string(), expected);
    };
    refused(&|damper| damper.clicks = 0, &["`bump.clicks` is 0"]);
    refused(
        &|damper| damper.dyno[0].click = 21,
        &["`bump.dyno[0].click` is 21", "20 clicks"],
    );
    refused(
        &|damper| damper.dyno.push(damper.dyno[0].clone()),
        &["click 0 is given twice"],
    );
    refused(&|damper| damper.dyno[0].points.clear(), &["at least one speed"]);
    refused(
        &|damper| damper.dyno[0].points[0].speed = -100.0,
        &["speeds above 0 in rising order"],
    );
    refused(
        &|damper| damper.wanted_ratio = Some(-0.3),
        &["`bump.wanted_ratio` is -0.3"],
    );
    let question = DamperSettingQuestion {
        wheel_speed: Some(0.0),
        ..DamperSettingQuestion::default()
    };
    let error = corner_damper_setting(&wagon_corner(), &wagon_front(), &question).expect_err("no speed");
    says(&error.to_string(), &["`wheel_speed` is 0"]);
}

#[test]
fn wire_springs() {
    let good = kin_core::checks::WireSpring {
        wire_diameter: 12.0,
        mean_diameter: Some(90.0),
        outside_diameter: None,
        inside_diameter: None,
        total_coils: 9.0,
        ends: kin_core::checks::SpringEnds::ClosedGround,
        free_length: Some(254.0),
        shear_modulus: None,
        allowed_stress: None,
    };
    assert!(check_wire_spring(&good).is_ok());
    let refused = |change: &dyn Fn(&mut kin_core::checks::WireSpring), expected: &[&str]| {
        let mut changed = good;
        change(&mut changed);
        says(
            &check_wire_spring(&changed).expect_err("no spring").to_string(),
            expected,
        );
    };
    refused(&|spring| spring.wire_diameter = 0.0, &["`wire_diameter` is 0"]);
    refused(&|spring| spring.mean_diameter = Some(10.0), &["no room inside"]);
    refused(&|spring| spring.total_coils = 2.0, &["2 dead coils"]);
    refused(
        &|spring| spring.free_length = Some(100.0),
        &["the solid length (108 mm)"],
    );
    refused(
        &|spring| spring.shear_modulus = Some(78.0),
        &["steel is near 78000 MPa"],
    );
    refused(
        &|spring| spring.allowed_stress = Some(0.0),
        &["`allowed_stress` is 0"],
    );
}
