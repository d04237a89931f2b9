//! Roots are roots, and remedies mend: each is done by hand to the pickups, and the check run again.

use super::close;
use crate::laws::random::{axle, corner, hold};
use kin_core::checks::{
    DamperStroke, Remedy, RemedyKind, StrokeQuestion, Verdict, check_axle_stroke, check_corner_stroke,
};
use kin_core::curves::CornerCurve;
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Damper, DoubleWishbone, LiveAxle};
use kin_core::{Axle, Corner, samples};
use proptest::prelude::*;
use std::cell::Cell;

/// A corner or an axle with one damper to speak of: the coilover, or the left coilover of an axle with equal sides.
#[derive(Clone)]
enum Model {
    Corner(Box<DoubleWishbone>),
    Axle(Box<LiveAxle>),
}

impl Model {
    fn damper(&mut self) -> &mut Damper {
        match self {
            Self::Corner(corner) => corner.coilover.as_mut().expect("a coilover"),
            Self::Axle(axle) => &mut axle.coilovers.as_mut().expect("coilovers").left,
        }
    }

    fn check(&self, question: &StrokeQuestion) -> DamperStroke {
        match self {
            Self::Corner(pickups) => {
                let corner = Corner::new(pickups).expect("a corner");
                check_corner_stroke(&corner, question).expect("an answer")
            }
            Self::Axle(pickups) => {
                let axle = Axle::new(pickups).expect("an axle");
                let mut answers = check_axle_stroke(&axle, question).expect("an answer");
                answers.swap_remove(0)
            }
        }
    }

    /// The model with a remedy done by a number of millimetres.
    fn with(&self, remedy: &Remedy, change: f64) -> Self {
        let mut other = self.clone();
        let damper = other.damper();
        let inboard = -damper.upper_mount.y.signum() * Vector3::y();
        let along = (damper.upper_mount - damper.lower_mount).normalize();
        match remedy.kind {
            RemedyKind::UpperMountAlongDamper => damper.upper_mount += along * change,
            RemedyKind::UpperMountUp => damper.upper_mount += Vector3::z() * change,
            RemedyKind::UpperMountInboard => damper.upper_mount += inboard * change,
            RemedyKind::LongerDamper => {
                damper.extended += change;
                damper.compressed += change;
            }
            other => panic!("{other:?} names no change of these pickups"),
        }
        other
    }
}

/// The margins that a remedy speaks of: travel to the stop, travel to topping out, who stops the suspension, and wheels
/// that do not move together.
fn least_margin(answer: &DamperStroke) -> f64 {
    let findings = answer.findings.iter();
    let spoken_of = findings.filter(|finding| {
        ["reach of the linkage", "and the stops"]
            .iter()
            .all(|other| !finding.subject.contains(other))
    });
    spoken_of.fold(f64::INFINITY, |least, finding| least.min(finding.margin))
}

/// Both ends of the window serve and nothing beyond them does; the smallest change is the end nearer to none.
fn mends(model: &Model, remedy: &Remedy, question: &StrokeQuestion) -> Result<(), TestCaseError> {
    let (low, high) = remedy.window;
    prop_assert!(low <= high, "{remedy:?}");
    prop_assert_eq!(remedy.change, 0.0_f64.clamp(low, high));
    // Moves of more than 150 mm are not looked at: such an end is no limit.
    let looked_at = |change: f64| change.abs() < 149.9 && change.is_finite();
    // Roots are found to 1e-9 mm of travel.
    let serves = |change: f64| least_margin(&model.with(remedy, change).check(question)) >= -1e-6;
    for (end, outward) in [(low, -0.01), (high, 0.01)] {
        if looked_at(end) {
            prop_assert!(serves(end), "{:?} by {end} mm does not serve", remedy.kind);
            prop_assert!(
                !serves(end + outward),
                "{:?} by {} mm serves too",
                remedy.kind,
                end + outward
            );
        }
    }
    as_written(model, remedy, question)?;
    let middle = 0.5 * (low + high);
    prop_assert!(
        serves(middle),
        "{:?} by {middle} mm, amid the window, does not serve",
        remedy.kind
    );
    Ok(())
}

/// What the sentence says, done exactly as it says, mends: the least as well as the most, if it names one.
fn as_written(model: &Model, remedy: &Remedy, question: &StrokeQuestion) -> Result<(), TestCaseError> {
    let text = remedy.sentence.to_string();
    let words: Vec<&str> = text.split_whitespace().collect();
    let written: Vec<f64> = words
        .windows(2)
        .filter(|pair| pair[1].starts_with("mm"))
        .map(|pair| pair[0].parse().expect("a number"))
        .collect();
    prop_assert!(matches!(written.len(), 1 | 2), "{text}");
    prop_assert!(written[0] >= remedy.change.abs() - 1e-6, "{text}: {remedy:?}");
    for size in written {
        let done = model.with(remedy, size.copysign(remedy.change)).check(question);
        for finding in done.findings.iter().filter(|finding| {
            ["reach of the linkage", "and the stops"]
                .iter()
                .all(|other| !finding.subject.contains(other))
        }) {
            prop_assert!(
                finding.verdict != Verdict::Fails,
                "{text} Yet by {size} mm: {finding}"
            );
        }
    }
    Ok(())
}

/// Tries every remedy of a model; counts them.
fn try_all(model: &Model, question: &StrokeQuestion, tried: &Cell<usize>) -> Result<(), TestCaseError> {
    let answer = model.check(question);
    for finding in &answer.findings {
        let fails = finding.verdict == Verdict::Fails;
        prop_assert!(fails || finding.remedies.is_empty(), "{finding}");
        for remedy in &finding.remedies {
            if remedy.kind != RemedyKind::MoreStroke {
                mends(model, remedy, question)?;
                tried.set(tried.get() + 1);
            }
        }
    }
    Ok(())
}

#[test]
fn the_pickup_in_its_drilled_hole() {
    let tried = Cell::new(0);
    let model = Model::Axle(Box::new(samples::pickup_rear()));
    try_all(&model, &StrokeQuestion::default(), &tried).expect("remedies that mend");
    assert!(tried.get() >= 3, "only {} remedies", tried.get());
}

fn questions() -> impl Strategy<Value = StrokeQuestion> {
    (0.0..90.0_f64, 0.0..90.0_f64).prop_map(|(bump, droop)| StrokeQuestion {
        bump: Some(bump),
        droop: Some(droop),
        margin: None,
    })
}

#[test]
fn wagon_front_with_any_wish() {
    let tried = Cell::new(0);
    let moves = (-40.0..40.0_f64, -40.0..40.0_f64, any::<bool>());
    hold(25, (questions(), moves), |(question, (up, out, right))| {
        let mut pickups = samples::wagon_front();
        let mount = &mut pickups.coilover.as_mut().expect("a coilover").upper_mount;
        *mount += Vector3::new(0.0, out, up);
        if right {
            pickups = pickups.mirrored();
        }
        try_all(&Model::Corner(Box::new(pickups)), &question, &tried)
    });
    assert!(tried.get() >= 30, "only {} remedies", tried.get());
}

#[test]
fn pickup_rear_with_any_wish() {
    let tried = Cell::new(0);
    hold(12, (questions(), -60.0..60.0_f64), |(question, up)| {
        let mut model = Model::Axle(Box::new(samples::pickup_rear()));
        model.damper().upper_mount.z += up;
        try_all(&model, &question, &tried)
    });
    assert!(tried.get() >= 20, "only {} remedies", tried.get());
}

/// Where no length of this stroke serves, a damper of the named stroke does, and one of 0.01 mm less does not.
#[test]
fn more_stroke_is_the_least_stroke() {
    let model = Model::Corner(Box::new(samples::wagon_front()));
    let question = StrokeQuestion {
        bump: Some(90.0),
        droop: Some(80.0),
        margin: None,
    };
    let answer = model.check(&question);
    let remedies = answer.findings.iter().flat_map(|finding| &finding.remedies);
    let least = remedies
        .filter(|remedy| remedy.kind == RemedyKind::MoreStroke)
        .map(|remedy| remedy.change)
        .next()
        .expect("a stroke");
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let length = |travel: f64| {
        let position = corner.at(travel, 0.0).expect("within reach");
        CornerCurve::DamperLength.value(&position).expect("a value")
    };
    let (contact, extended) = (length(90.0), length(-80.0));
    close(least, extended - contact, 1e-9, "least stroke");
    let fits = |stroke: f64| {
        let mut other = model.clone();
        let bump_stop = other.damper().bump_stop;
        other.damper().extended = extended;
        other.damper().compressed = extended - stroke - bump_stop;
        least_margin(&other.check(&question)) >= -1e-6
    };
    assert!(fits(least));
    assert!(!fits(least - 0.01));
}

/// At the travel found, the damper has exactly the length it was looked for.
#[test]
fn roots_are_roots() {
    let found = Cell::new(0);
    hold(80, corner(), |pickups| {
        let corner = Corner::new(&pickups).expect("a corner");
        let answer = check_corner_stroke(&corner, &StrokeQuestion::default()).expect("an answer");
        for (travel, length) in [
            (answer.budget.bump_to_stop, answer.lengths.stop_contact),
            (answer.budget.bump_to_metal, answer.lengths.compressed),
            (
                answer.budget.droop_to_top_out.map(|droop| -droop),
                answer.lengths.extended,
            ),
        ] {
            let Some(travel) = travel else { continue };
            let position = corner.at(travel, 0.0).expect("within reach");
            let there = CornerCurve::DamperLength.value(&position).expect("a value");
            prop_assert!((there - length).abs() <= 1e-9, "{there} is not {length}");
            found.set(found.get() + 1);
        }
        Ok(())
    });
    assert!(found.get() >= 80, "only {} roots", found.get());
}

/// The same on axles, where left and right differ.
#[test]
fn roots_of_both_sides_are_roots() {
    use kin_core::AxleTravel;
    use kin_core::curves::AxleCurve;
    hold(40, axle(), |pickups| {
        let axle = Axle::new(&pickups).expect("an axle");
        let answers = check_axle_stroke(&axle, &StrokeQuestion::default()).expect("an answer");
        for answer in &answers {
            let curve = if answer.damper.starts_with("right") {
                AxleCurve::DamperLengthRight
            } else {
                AxleCurve::DamperLengthLeft
            };
            for (travel, length) in [
                (answer.budget.bump_to_stop, answer.lengths.stop_contact),
                (answer.budget.bump_to_metal, answer.lengths.compressed),
                (
                    answer.budget.droop_to_top_out.map(|droop| -droop),
                    answer.lengths.extended,
                ),
            ] {
                let Some(travel) = travel else { continue };
                let position = axle.at(AxleTravel::both(travel)).expect("within reach");
                let there = curve.value(&position).expect("a value");
                prop_assert!((there - length).abs() <= 1e-9, "{there} is not {length}");
            }
        }
        Ok(())
    });
}
