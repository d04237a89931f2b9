//! Travels that cannot be had.

use super::says;
use kin_core::{Axle, AxleTravel, Corner, PoseError, samples};

#[test]
fn a_corner_out_of_reach() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let reach = corner.reach();
    let (highest, lowest) = (reach.highest.expect("a limit"), reach.lowest.expect("a limit"));
    for (travel, limit) in [
        (highest + 0.5, highest),
        (1_999.0, highest),
        (lowest - 20.0, lowest),
    ] {
        let refused = corner.at(travel, 0.0).expect_err("out of reach");
        let PoseError::OutOfReach {
            asked_mm, limit_mm, ..
        } = refused
        else {
            panic!("{refused}")
        };
        assert_eq!(asked_mm, travel);
        assert!((limit_mm - limit).abs() <= 1e-6, "{limit_mm} is not {limit}");
        let text = refused.to_string();
        says(&text, &["wheel travel is out of reach"]);
        let number = |before: &str| -> f64 {
            let (_, rest) = text.split_once(before).expect("the words");
            let (number, _) = rest.split_once(" mm").expect("a unit");
            number.parse().expect("a number")
        };
        let asked = number("asked: ");
        assert!((asked - travel).abs() <= 5e-4, "{asked} is not {travel}");
        // What is written can be asked for: the limit is rounded towards zero.
        let written = number("ends at ");
        assert!((written - limit).abs() <= 1e-3, "{written} is not {limit}");
        assert!(
            corner.at(written, 0.0).is_ok(),
            "{written} mm is out of reach as well"
        );
    }
    // In a sweep as well, wherever it stands in the list.
    for travels in [vec![0.0, 1_500.0, 20.0], vec![-1_500.0]] {
        let refused = corner.sweep_travel(&travels, 0.0).expect_err("out of reach");
        says(&refused.to_string(), &["wheel travel is out of reach"]);
    }
    let refused = corner.at(0.0, 1_500.0).expect_err("out of reach");
    says(&refused.to_string(), &["rack displacement is out of reach"]);
}

const NO_TRAVEL: [f64; 5] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e9, -1e300];

#[test]
fn numbers_that_are_no_travel() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let bound = Axle::new(&crate::closed_form::axle::parallel_links()).expect("an axle");
    for number in NO_TRAVEL {
        let mut refusals = vec![
            corner.at(number, 0.0).err(),
            corner.at(0.0, number).err(),
            corner.at(20.0, number).err(),
            corner.sweep_travel(&[1.0, number, 2.0], 0.0).err(),
            corner.sweep_travel(&[1.0], number).err(),
            corner.sweep_rack(&[number], 0.0).err(),
            corner.grid(&[0.0, number], &[0.0]).err(),
            corner.grid(&[0.0], &[0.0, number]).err(),
        ];
        for axle in [&axle, &bound] {
            let travel = |left, right| AxleTravel { left, right };
            refusals.extend([
                axle.at(AxleTravel::both(number)).err(),
                axle.at(travel(number, 0.0)).err(),
                axle.at(travel(0.0, number)).err(),
                axle.at(travel(number, -number)).err(),
                axle.sweep_heave(&[0.0, number]).err(),
                axle.sweep_roll(&[0.0, number], 0.0).err(),
                axle.sweep_roll(&[0.0], number).err(),
                axle.grid(&[number], &[0.0]).err(),
                axle.grid(&[0.0], &[number]).err(),
                axle.sweep(&[travel(0.0, number)]).err(),
            ]);
        }
        for (place, refusal) in refusals.into_iter().enumerate() {
            let refusal = refusal.unwrap_or_else(|| panic!("call {place} took {number}"));
            assert!(
                matches!(refusal, PoseError::NotANumber { .. }),
                "call {place}: {refusal}"
            );
            says(
                &refusal.to_string(),
                &["cannot be asked for", "finite number within 2000 mm"],
            );
        }
    }
}

#[test]
fn an_axle_out_of_reach() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let refused = axle.at(AxleTravel::both(1_500.0)).expect_err("out of reach");
    says(&refused.to_string(), &["travel of both wheels is out of reach"]);
    let refused = axle.at(AxleTravel {
        left: 1_200.0,
        right: -1_200.0,
    });
    let refused = refused.expect_err("out of reach");
    says(
        &refused.to_string(),
        &["half the difference of the wheel travels is out of reach"],
    );
}

#[test]
fn an_empty_sweep_is_empty() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    assert!(corner.sweep_travel(&[], 0.0).expect("nothing").is_empty());
    assert!(corner.grid(&[], &[0.0]).expect("nothing").is_empty());
    assert!(corner.grid(&[0.0], &[]).expect("nothing").is_empty());
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    assert!(axle.grid(&[], &[]).expect("nothing").is_empty());
    assert!(axle.sweep(&[]).expect("nothing").is_empty());
}
