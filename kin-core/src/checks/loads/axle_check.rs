//! The load cases of an axle.

use super::axle::{AxleForces, AxleLoad, axle_forces};
use super::axle_question::{AxleLoadCase, AxleLoadQuestion, WheelFactors};
use super::balance::STANDARD_GRAVITY;
use super::limits::{WorstForce, against_limits, pulled, worst};
use super::words::{assumptions, push, stands};
use crate::checks::{Finding, Sentence};
use crate::{Axle, AxleTravel, Error};
use indexmap::IndexMap;
use nalgebra::Vector3;

/// One load case of an axle with its forces.
#[derive(Debug, Clone, PartialEq)]
pub struct AxleLoadResult {
    /// What was assumed.
    pub case: AxleLoadCase,
    /// The same in words.
    pub assumption: Sentence,
    /// The forces.
    pub forces: AxleForces,
}

/// The loads of an axle.
#[derive(Debug, Clone, PartialEq)]
pub struct AxleLoads {
    /// Travel of both wheels at ride height, from the pickups as measured (mm).
    pub ride_travel: f64,
    /// Every case.
    pub cases: Vec<AxleLoadResult>,
    /// The largest force on every part.
    pub worst: IndexMap<String, WorstForce>,
    /// What holds for all cases, in words.
    pub assumptions: Vec<Sentence>,
    /// The answers: limits given, and springs that would have to pull.
    pub findings: Vec<Finding>,
}

/// The forces in links and mounts of an axle, in the cases asked for or the usual ones.
///
/// # Errors
/// A question that cannot be right, a position out of reach, or nothing that carries the axle.
pub fn check_axle_loads(axle: &Axle, question: &AxleLoadQuestion) -> Result<AxleLoads, Error> {
    question.validate(axle.pickups())?;
    let ride_travel = axle.ride_travel()?;
    let wheel_loads =
        [question.wheel_load_left, question.wheel_load_right].map(|mass| mass * STANDARD_GRAVITY);
    let half_weight = Vector3::new(0.0, 0.0, -0.5 * question.unsprung * STANDARD_GRAVITY);
    let mut cases = Vec::new();
    let mut findings = Vec::new();
    for case in question.cases_or_usual() {
        let [left, right] = wheel_loads;
        let load = AxleLoad {
            at_contact_points: [vector(&case.left) * left, vector(&case.right) * right],
            at_wheel_centres: [half_weight; 2],
            part_forces: question.part_forces.clone(),
        };
        let travel = AxleTravel {
            left: ride_travel + case.travel_left,
            right: ride_travel + case.travel_right,
        };
        let forces = axle_forces(&axle.at(travel)?, &load)?;
        for (side, support) in ["left", "right"].into_iter().zip(&forces.supports) {
            let one = forces.support_name.trim_end_matches('s');
            let name = format!("{side} {one}");
            findings.extend(pulled(&name, &case.name, case.mean_travel(), support.compression));
        }
        cases.push(AxleLoadResult {
            assumption: in_words(&case, wheel_loads),
            case,
            forces,
        });
    }
    let named: Vec<_> = cases
        .iter()
        .map(|result| {
            let case = &result.case;
            (case.name.as_str(), case.mean_travel(), result.forces.by_name())
        })
        .collect();
    let worst = worst(&named);
    findings.extend(against_limits(&worst, &question.limits)?);
    let mut assumptions = assumptions(question.cases.is_empty(), question.unsprung);
    if axle.is_held_too_much() {
        assumptions.insert(
            1,
            Sentence::new(
                "More links hold the axle than it needs: how they share depends on their bushings, here on the \
                 stiffness given, or on equal stiffness where none is given.",
            ),
        );
    }
    Ok(AxleLoads {
        ride_travel,
        cases,
        worst,
        assumptions,
        findings,
    })
}

fn vector(factors: &WheelFactors) -> Vector3<f64> {
    Vector3::new(factors.longitudinal, factors.lateral, factors.vertical)
}

fn in_words(case: &AxleLoadCase, wheel_loads: [f64; 2]) -> Sentence {
    let [left, right] = wheel_loads;
    let mut sentence = Sentence::new(format!("`{}`: the ground pushes", case.name));
    for (side, factors, load, travel) in [
        (" the left wheel", &case.left, left, case.travel_left),
        ("; the right wheel", &case.right, right, case.travel_right),
    ] {
        let multiples = [factors.longitudinal, factors.lateral, factors.vertical];
        sentence = stands(push(sentence.words(side), multiples, load, ""), travel);
    }
    sentence.words(".")
}
