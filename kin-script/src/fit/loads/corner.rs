//! The loads of a corner.

use super::{Case, Loads, Push};
use crate::fit::Report;
use crate::units::Units;
use kin_core::checks::loads::{CornerLoadResult, CornerLoads};

pub(super) fn report(loads: CornerLoads, units: &Units) -> Report {
    Loads {
        cases: loads.cases.into_iter().map(case).collect(),
        worst: loads.worst,
        assumptions: loads.assumptions,
        findings: loads.findings,
    }
    .report(units)
}

fn case(result: CornerLoadResult) -> Case {
    let assumed = &result.case;
    let push = Push {
        wheel: "",
        up: assumed.vertical,
        forward: assumed.longitudinal,
        left: assumed.lateral,
        acts_at: if assumed.through_shaft { "hub" } else { "ground" },
        travel: assumed.travel,
        rack: Some(assumed.rack),
    };
    let forces = result.forces;
    let mut vectors = vec![
        ("ground".to_owned(), forces.force_at_contact_point),
        ("tie_rod.on_upright".to_owned(), forces.tie_rod_on_upright),
    ];
    for (name, arm) in [("upper_arm", &forces.upper_arm), ("lower_arm", &forces.lower_arm)] {
        vectors.push((format!("{name}.on_upright"), arm.ball_joint_on_upright));
        // Of the part along the pivots' own line only the sum is known.
        vectors.push((format!("{name}.front_pivot_across"), -arm.front_pivot_across));
        vectors.push((format!("{name}.rear_pivot_across"), -arm.rear_pivot_across));
        vectors.push((format!("{name}.pivots_along"), -arm.axis * arm.pivots_along_axis));
    }
    Case {
        name: result.case.name,
        assumption: result.assumption,
        wheels: vec![push],
        vectors,
        supports: vec![(forces.support_name.to_owned(), forces.support)],
        forces: forces.by_name(),
    }
}
