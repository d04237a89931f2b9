//! Static loads: forces in rods, at joints, pivots and mounts, case by case.

mod axle;
mod corner;

use super::asked::refused;
use super::columns::{numbers, words};
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::{Cell, Column, Table};
use crate::units::{Measure, Units};
use indexmap::IndexMap;
use kin_core::Dimension::{self, Force, Length, Ratio};
use kin_core::checks::loads::{SupportForces, WorstForce, check_axle_loads, check_corner_loads};
use kin_core::checks::{Finding, Sentence};
use nalgebra::Vector3;
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "loads",
    counted: "check_loads",
    needs_ride_height: false,
    documentation: "Static forces in every rod, at ball joints and pivots, and of the coilover or spring on its mounts, in load cases that are \
        multiples of the static wheel load. Estimates without shocks and fatigue.\n\n\
        Keys for a corner: `wheel_load` (mass on a scale under the wheel), `unsprung` (mass), `cases` (a list; the usual ones unless \
        given: static, bump, braking, cornering; each `name`, `vertical`, `longitudinal`, `lateral` as multiples of the wheel load, up, \
        forward and left positive, `through_shaft`, `travel`, `rack`), `part_forces` (a list: `name`, `rides_on`, `point`, `force` as \
        [forward, left, up]), `limits` (a map of the most a part may see, by the names of `worst`). For an axle: `wheel_load_left`, \
        `wheel_load_right`, `unsprung` of the whole axle, and in a case `left` and `right` with the multiples, `travel_left`, \
        `travel_right`.\n\n\
        Can be read: `worst` (a map by part), `worst_case` (the case of each), and in `items` after the first one for each case: \
        `name`, `forces` (a map by part: rods with tension positive, coilover or spring with compression positive, joints and \
        pivots by size; a pivot with the most it can see), `vectors` (a map of [forward, left, up]: the ground's force, what acts on \
        the upright or axle at each joint, what acts on the body at each mount).",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    const WHAT: &str = "the question of the loads";
    let report = match asked.suspension {
        Suspension::Corner(corner) => {
            let loads = check_corner_loads(corner, &asked.read(question, WHAT)?);
            corner::report(
                loads.map_err(|error| refused(&error, &asked.units))?,
                &asked.units,
            )
        }
        Suspension::Axle(axle) => {
            let loads = check_axle_loads(axle, &asked.read(question, WHAT)?);
            axle::report(
                loads.map_err(|error| refused(&error, &asked.units))?,
                &asked.units,
            )
        }
    };
    Ok(Answer {
        report,
        typed: Typed::None,
    })
}

/// One case as the sheet shows it.
struct Case {
    name: String,
    assumption: Sentence,
    /// The multiples on each wheel.
    wheels: Vec<Push>,
    forces: IndexMap<String, f64>,
    vectors: Vec<(String, Vector3<f64>)>,
    /// The coilovers or springs by name.
    supports: Vec<(String, SupportForces)>,
}

/// What the ground does to a wheel, in multiples of its static load.
struct Push {
    /// Which wheel, on an axle.
    wheel: &'static str,
    up: f64,
    forward: f64,
    left: f64,
    /// Where the force along the car acts.
    acts_at: &'static str,
    /// Bump from ride height (mm).
    travel: f64,
    /// Rack displacement (mm), on a corner.
    rack: Option<f64>,
}

/// What corner and axle have in common.
struct Loads {
    cases: Vec<Case>,
    worst: IndexMap<String, WorstForce>,
    assumptions: Vec<Sentence>,
    findings: Vec<Finding>,
}

impl Loads {
    fn report(self, units: &Units) -> Report {
        let mut items = vec![self.summary(units)];
        items.extend(self.cases.iter().map(case_item));
        Report {
            check: CHECK.word,
            heading: "Loads (estimate)",
            items,
            findings: self.findings,
        }
    }

    fn summary(&self, units: &Units) -> Item {
        let of = |value: fn(&WorstForce) -> Value| {
            let worst = self.worst.iter();
            Value::Named(worst.map(|(part, worst)| (part.clone(), value(worst))).collect())
        };
        let mounts: Vec<(&Case, &(String, SupportForces))> = self
            .cases
            .iter()
            .flat_map(|case| case.supports.iter().map(move |support| (case, support)))
            .collect();
        Item::new("")
            .sentences("assumptions", "assumed", &self.assumptions)
            .with("worst", "", of(|worst| Value::Quantity(worst.force, Force)))
            .with("worst_case", "", of(|worst| Value::Text(worst.case.clone())))
            .table(
                "cases: the ground's push on the wheel, in multiples of its static load",
                self.pushes(units),
            )
            .table(
                "rods (tension positive), coilover or spring (compression positive), joints and pivots (size)",
                self.forces(units),
            )
            .table("on the body at the upper mount, in vehicle axes", mount_table(&mounts, units))
    }

    fn pushes(&self, units: &Units) -> Table {
        let rows: Vec<(&Case, &Push)> = self
            .cases
            .iter()
            .flat_map(|case| case.wheels.iter().map(move |push| (case, push)))
            .collect();
        let number = |name: &str, dimension, of: fn(&Push) -> Option<f64>| {
            numbers(&rows, units, name, dimension, |(_, push)| of(push))
        };
        let mut columns = vec![words(&rows, "case", |(case, _)| case.name.clone())];
        if rows.iter().any(|(_, push)| !push.wheel.is_empty()) {
            columns.push(words(&rows, "wheel", |(_, push)| push.wheel.to_owned()));
        }
        columns.extend([
            number("up", Ratio, |push| Some(push.up)),
            number("forward", Ratio, |push| Some(push.forward)),
            number("left", Ratio, |push| Some(push.left)),
            words(&rows, "acts_at", |(_, push)| push.acts_at.to_owned()),
            number("bump", Length, |push| Some(push.travel)),
        ]);
        if rows.iter().any(|(_, push)| push.rack.is_some()) {
            columns.push(number("rack", Length, |push| push.rack));
        }
        Table { columns }
    }

    /// Parts down, cases across.
    fn forces(&self, units: &Units) -> Table {
        let parts: Vec<&String> = self.worst.keys().collect();
        let mut columns = vec![words(&parts, "part", |part| (*part).clone())];
        for case in &self.cases {
            columns.push(Column {
                name: format!("{}{}", case.name.replace(' ', "_"), units.suffix(FORCE)),
                decimals: units.decimals(Force),
                cells: parts
                    .iter()
                    .map(|part| {
                        let force = case.forces.get(*part);
                        Cell::from(force.map(|force| units.from_core(*force, FORCE)))
                    })
                    .collect(),
            });
        }
        Table { columns }
    }
}

const FORCE: Measure = Measure {
    dimension: Force,
    per_travel: false,
};

fn mount_table(rows: &[(&Case, &(String, SupportForces))], units: &Units) -> Table {
    let along = |name: &str, axis: usize| {
        numbers(rows, units, name, Force, |(_, (_, support))| {
            support.force_on_body.as_slice().get(axis).copied()
        })
    };
    Table {
        columns: vec![
            words(rows, "case", |(case, _)| case.name.clone()),
            words(rows, "part", |(_, (name, _))| name.clone()),
            along("forward", 0),
            along("left", 1),
            along("up", 2),
        ],
    }
}

/// A case for scripts; the sheet has it in the tables.
fn case_item(case: &Case) -> Item {
    let forces = case.forces.iter();
    let forces = forces.map(|(part, force)| (part.clone(), Value::Quantity(*force, Force)));
    let vector = |vector: &Vector3<f64>, dimension: Dimension| Value::Vector((*vector).into(), dimension);
    let mut vectors: Vec<(String, Value)> = case
        .vectors
        .iter()
        .map(|(name, force)| (name.clone(), vector(force, Force)))
        .collect();
    for (name, support) in &case.supports {
        vectors.push((format!("{name}.on_body"), vector(&support.force_on_body, Force)));
        vectors.push((
            format!("{name}.on_moving_part"),
            vector(&support.force_on_moving_part, Force),
        ));
    }
    Item::new(&case.name)
        .with("assumption", "", Value::Sentence(case.assumption.clone()))
        .with("forces", "", Value::Named(forces.collect()))
        .with("vectors", "", Value::Named(vectors))
}
