//! The load cases of a corner.

use super::balance::STANDARD_GRAVITY;
use super::corner::{CornerForces, CornerLoad, corner_forces};
use super::corner_question::{CornerLoadCase, CornerLoadQuestion};
use super::limits::{WorstForce, against_limits, pulled, worst};
use crate::checks::estimate::ESTIMATE;
use crate::checks::{Finding, Sentence};
use crate::{Corner, Dimension, Error};
use indexmap::IndexMap;
use nalgebra::Vector3;

/// One load case of a corner with its forces.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerLoadResult {
    /// What was assumed.
    pub case: CornerLoadCase,
    /// The same in words.
    pub assumption: Sentence,
    /// The forces.
    pub forces: CornerForces,
}

/// The loads of a corner.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerLoads {
    /// Travel at ride height, from the pickups as measured (mm).
    pub ride_travel: f64,
    /// Every case.
    pub cases: Vec<CornerLoadResult>,
    /// The largest force on every part.
    pub worst: IndexMap<String, WorstForce>,
    /// What holds for all cases, in words.
    pub assumptions: Vec<Sentence>,
    /// The answers: limits given, and springs that would have to pull.
    pub findings: Vec<Finding>,
}

/// The forces in rods, joints and mounts of a corner, in the cases asked for or the usual ones.
///
/// # Errors
/// A question that cannot be right, a position out of reach, or nothing that carries the wheel.
pub fn check_corner_loads(corner: &Corner, question: &CornerLoadQuestion) -> Result<CornerLoads, Error> {
    question.validate(corner.pickups())?;
    let ride_travel = corner.ride_travel()?;
    let wheel_load = question.wheel_load * STANDARD_GRAVITY;
    let unsprung = Vector3::new(0.0, 0.0, -question.unsprung * STANDARD_GRAVITY);
    let mut cases = Vec::new();
    let mut findings = Vec::new();
    for case in question.cases_or_usual(corner.side()) {
        let along = Vector3::new(case.longitudinal, 0.0, 0.0) * wheel_load;
        let rest = Vector3::new(0.0, case.lateral, case.vertical) * wheel_load;
        let (at_contact_point, at_wheel_centre) = if case.through_shaft {
            (rest, unsprung + along)
        } else {
            (rest + along, unsprung)
        };
        let load = CornerLoad {
            at_contact_point,
            at_wheel_centre,
            part_forces: question.part_forces.clone(),
        };
        let forces = corner_forces(&corner.at(ride_travel + case.travel, case.rack)?, &load)?;
        let compression = forces.support.compression;
        findings.extend(pulled(forces.support_name, &case.name, case.travel, compression));
        cases.push(CornerLoadResult {
            assumption: in_words(&case, wheel_load),
            case,
            forces,
        });
    }
    let named: Vec<_> = cases
        .iter()
        .map(|result| {
            (
                result.case.name.as_str(),
                result.case.travel,
                result.forces.by_name(),
            )
        })
        .collect();
    let worst = worst(&named);
    findings.extend(against_limits(&worst, &question.limits)?);
    Ok(CornerLoads {
        ride_travel,
        cases,
        worst,
        assumptions: assumptions(question.cases.is_empty(), question.unsprung),
        findings,
    })
}

fn in_words(case: &CornerLoadCase, wheel_load: f64) -> Sentence {
    let at = if case.through_shaft {
        " at the height of the wheel centre (through a shaft)"
    } else {
        ""
    };
    Sentence::new(format!("`{}`: the ground pushes up with ", case.name))
        .quantity(case.vertical * wheel_load, Dimension::Force)
        .words(format!(
            " ({} times the static wheel load), along the car with ",
            case.vertical
        ))
        .quantity(case.longitudinal * wheel_load, Dimension::Force)
        .words(format!("{at} (forward positive), across it with "))
        .quantity(case.lateral * wheel_load, Dimension::Force)
        .words(" (left positive), at ")
        .length(case.travel)
        .words(" of travel from ride height.")
}

/// What all cases of corners and axles share.
pub(super) fn assumptions(usual_cases: bool, unsprung: f64) -> Vec<Sentence> {
    let mut sentences = vec![
        Sentence::new(
            "Static balance: joints without friction, parts without mass but for the unsprung weight of ",
        )
        .quantity(unsprung, Dimension::Mass)
        .words(", which acts once, at the wheel centre, in every case; shocks, fatigue and loose joints are not in it."),
        Sentence::new(
            "Two pivots on one line share the force along that line as their bushings decide: only its sum is known, \
             and each pivot is shown with all of it.",
        ),
    ];
    if usual_cases {
        sentences.push(Sentence::new(
            "The multiples of the static wheel load are assumptions of common practice, not of any standard; state \
             your own where you know better.",
        ));
    }
    sentences.push(Sentence::new(ESTIMATE.trim_start()));
    sentences
}
