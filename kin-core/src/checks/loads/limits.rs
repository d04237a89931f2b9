//! The largest force on each part over all cases, against what the part may see.

use crate::checks::{Finding, Sentence, Verdict};
use crate::pickups::validate::{known_part, positive_of};
use crate::{Dimension, Error};
use indexmap::IndexMap;

pub(super) const CHECK: &str = "loads";

/// A force closer to its limit than this share of the limit is tight.
const WANTED_MARGIN: f64 = 0.1;

/// The largest force on one part.
#[derive(Debug, Clone, PartialEq)]
pub struct WorstForce {
    /// The case in which it occurs.
    pub case: String,
    /// Travel of that case, from ride height (mm); the mean of both wheels on an axle.
    pub travel: f64,
    /// The force (N), signed as in its case.
    pub force: f64,
}

/// Every case with its travel from ride height (mm) and its forces by name (N).
pub(super) type NamedForces<'a> = [(&'a str, f64, IndexMap<String, f64>)];

/// The largest force by size on every part.
pub(super) fn worst(cases: &NamedForces<'_>) -> IndexMap<String, WorstForce> {
    let mut worst: IndexMap<String, WorstForce> = IndexMap::new();
    for (case, travel, forces) in cases {
        for (name, force) in forces {
            let larger = worst
                .get(name)
                .is_none_or(|known| force.abs() > known.force.abs());
            if larger {
                let found = WorstForce {
                    case: (*case).to_owned(),
                    travel: *travel,
                    force: *force,
                };
                worst.insert(name.clone(), found);
            }
        }
    }
    worst
}

/// Compares the largest forces with the limits given; without any, the largest force is told and not judged.
pub(super) fn against_limits(
    worst: &IndexMap<String, WorstForce>,
    limits: &IndexMap<String, f64>,
) -> Result<Vec<Finding>, Error> {
    if limits.is_empty() {
        return Ok(without_limits(worst).into_iter().collect());
    }
    let known: Vec<&str> = worst.keys().map(String::as_str).collect();
    let mut findings = Vec::new();
    for (name, &limit) in limits {
        known_part(name, "limits", &known)?;
        positive_of(
            limit,
            Dimension::Force,
            &format!("limits.{name}"),
            "give the most that the part may see",
        )?;
        let Some(found) = worst.get(name) else { continue };
        let size = found.force.abs();
        let statement = Sentence::new(format!("`{name}` sees an estimated "))
            .quantity(size, Dimension::Force)
            .words(format!(" at most, in `{}`; it may see ", found.case))
            .quantity(limit, Dimension::Force)
            .words(".");
        findings.push(Finding {
            check: CHECK,
            subject: name.clone(),
            verdict: Verdict::from_margin(limit - size, WANTED_MARGIN * limit),
            dimension: Dimension::Force,
            value: size,
            limit,
            margin: limit - size,
            at_travel: Some(found.travel),
            statement,
            remedies: Vec::new(),
        });
    }
    Ok(findings)
}

fn without_limits(worst: &IndexMap<String, WorstForce>) -> Option<Finding> {
    let (name, found) = worst
        .iter()
        .max_by(|(_, a), (_, b)| a.force.abs().total_cmp(&b.force.abs()))?;
    let size = found.force.abs();
    let statement = Sentence::new(format!("`{name}` sees the largest force of all, an estimated "))
        .quantity(size, Dimension::Force)
        .words(format!(
            " in `{}`. What the parts may see was not said, so nothing is said of their strength: write it as `limits`, a \
             force for each part by its name here.",
            found.case
        ));
    let value = (size, Dimension::Force);
    let subject = name.clone();
    Some(Finding::not_asked(
        CHECK,
        subject,
        value,
        Some(found.travel),
        statement,
    ))
}

/// A spring cannot pull: where it would have to, the load is not held as the case assumes.
pub(super) fn pulled(name: &str, case: &str, travel: f64, compression: f64) -> Option<Finding> {
    (compression < 0.0).then(|| Finding {
        check: CHECK,
        subject: format!("{name} in {case}"),
        verdict: Verdict::Fails,
        dimension: Dimension::Force,
        value: compression,
        limit: 0.0,
        margin: compression,
        at_travel: Some(travel),
        statement: Sentence::new(format!("In `{case}` the {name} would have to pull with "))
            .quantity(-compression, Dimension::Force)
            .words(
                ", which a spring cannot: the wheel would drop until a stop or strap takes that load, and the \
                 forces of this case are not those of the car.",
            ),
        remedies: Vec::new(),
    })
}
