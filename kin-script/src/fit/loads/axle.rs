//! The loads of an axle.

use super::{Case, Loads, Push};
use crate::fit::Report;
use crate::units::Units;
use kin_core::checks::loads::{AxleLoadResult, AxleLoads};

pub(super) fn report(loads: AxleLoads, units: &Units) -> Report {
    Loads {
        cases: loads.cases.into_iter().map(case).collect(),
        worst: loads.worst,
        assumptions: loads.assumptions,
        findings: loads.findings,
    }
    .report(units)
}

fn case(result: AxleLoadResult) -> Case {
    let assumed = &result.case;
    let wheels = [
        ("left", &assumed.left, assumed.travel_left),
        ("right", &assumed.right, assumed.travel_right),
    ]
    .map(|(wheel, factors, travel)| Push {
        wheel,
        up: factors.vertical,
        forward: factors.longitudinal,
        left: factors.lateral,
        acts_at: "ground",
        travel,
        rack: None,
    })
    .into();
    let forces = result.forces;
    let [left, right] = forces.forces_at_contact_points;
    let mut vectors = vec![
        ("ground.left".to_owned(), left),
        ("ground.right".to_owned(), right),
    ];
    for (name, link) in &forces.links {
        vectors.push((format!("{name}.on_axle"), link.on_axle));
        vectors.push((format!("{name}.on_body"), link.on_body));
    }
    let name = forces.support_name;
    let supports = ["left", "right"].into_iter().zip(forces.supports);
    Case {
        name: result.case.name,
        assumption: result.assumption,
        wheels,
        vectors,
        supports: supports
            .map(|(side, support)| (format!("{name}.{side}"), support))
            .collect(),
        forces: forces.by_name(),
    }
}
