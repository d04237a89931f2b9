//! The load cases of a corner.

use super::balance::STANDARD_GRAVITY;
use super::corner::{CornerForces, CornerLoad, corner_forces};
use super::corner_question::{CornerLoadCase, CornerLoadQuestion};
use super::limits::{WorstForce, against_limits, pulled, worst};
use super::words::{assumptions, push, stands};
use crate::checks::{Finding, Sentence};
use crate::{Corner, Error};
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
        assumptions: all_assumptions(question),
        findings,
    })
}

fn all_assumptions(question: &CornerLoadQuestion) -> Vec<Sentence> {
    let mut sentences = assumptions(question.cases.is_empty(), question.unsprung);
    let pivots = "Two pivots on one line share the force along that line as their bushings decide: only its sum is known, \
                  and each pivot is shown with all of it.";
    sentences.insert(1, Sentence::new(pivots));
    sentences
}

fn in_words(case: &CornerLoadCase, wheel_load: f64) -> Sentence {
    let start = Sentence::new(format!("`{}`: the ground pushes the wheel", case.name));
    let thrust_at = if case.through_shaft {
        " at the height of the wheel centre, through a shaft"
    } else {
        ""
    };
    let multiples = [case.longitudinal, case.lateral, case.vertical];
    let sentence = stands(push(start, multiples, wheel_load, thrust_at), case.travel);
    if case.rack == 0.0 {
        return sentence.words(".");
    }
    let way = if case.rack > 0.0 { "left" } else { "right" };
    sentence
        .words(", rack ")
        .length(case.rack.abs())
        .words(format!(" to the {way}."))
}
