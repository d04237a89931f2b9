//! The few numbers that are asked for most, a line for each damper: what one wants to read from the wall.

use crate::fit::{FitSheet, Typed};
use crate::model::{Body, Model};
use crate::stroke_sheet::bar_text;
use crate::table::fixed;
use crate::units::{Measure, Units};
use kin_core::Dimension::{Length, Rate};
use kin_core::checks::{DamperStroke, SpringRide};
use kin_core::pickups::Spring;
use serde::Serialize;

/// The numbers: headings, and a line of as many values for each damper.
#[derive(Debug, Default, Serialize)]
pub(super) struct KeyNumbers {
    headings: Vec<&'static str>,
    lines: Vec<KeyLine>,
}

#[derive(Debug, Serialize)]
struct KeyLine {
    name: String,
    values: Vec<String>,
}

/// What one damper and its spring say under each heading; none where it was not asked.
type Told = Vec<(&'static str, Option<String>)>;

/// The key numbers of a sheet. A heading under which nothing stands is left out.
pub(super) fn key_numbers(fit: &FitSheet, model: &Model) -> KeyNumbers {
    let rides = fit.answers.iter().find_map(|answer| match &answer.typed {
        Typed::RideHeight(rides) => Some(rides.as_slice()),
        _ => None,
    });
    let rides = rides.unwrap_or_default();
    let springs = springs(model);
    let lines: Vec<(String, Told)> = (0..fit.stroke.len().max(rides.len()))
        .map(|place| {
            let (stroke, ride) = (fit.stroke.get(place), rides.get(place));
            let name = match (stroke, ride) {
                (Some(stroke), _) => stroke.damper.clone(),
                (None, Some(ride)) => ride.spring.clone(),
                (None, None) => String::new(),
            };
            let mut told = damper(stroke, &fit.units);
            told.extend(spring(ride, springs.get(place).copied(), &fit.units));
            (name, told)
        })
        .collect();
    let shown = |column: usize| {
        let mut cells = lines.iter().filter_map(|(_, told)| told.get(column));
        cells.any(|(_, value)| value.is_some())
    };
    let headings = lines
        .first()
        .map(|(_, told)| told.iter().map(|(heading, _)| *heading));
    let headings = headings.into_iter().flatten().enumerate();
    KeyNumbers {
        headings: headings
            .filter(|(column, _)| shown(*column))
            .map(|(_, heading)| heading)
            .collect(),
        lines: lines
            .iter()
            .map(|(name, told)| KeyLine {
                name: name.clone(),
                values: told
                    .iter()
                    .enumerate()
                    .filter(|(column, _)| shown(*column))
                    .map(|(_, (_, value))| value.clone().unwrap_or_else(|| "-".to_owned()))
                    .collect(),
            })
            .collect(),
    }
}

fn damper(stroke: Option<&DamperStroke>, units: &Units) -> Told {
    let length = |value: f64| units.length.text(value);
    let budget = stroke.map(|stroke| &stroke.budget);
    let bump = budget.map(|budget| {
        let to = |travel: Option<f64>, what: &str| travel.map(|travel| format!("{} {what}", length(travel)));
        let ends = [
            to(budget.bump_to_stop, "to the bump stop"),
            to(budget.bump_to_metal, "to metal"),
        ];
        let ends: Vec<String> = ends.into_iter().flatten().collect();
        if ends.is_empty() {
            "no end of it in reach".to_owned()
        } else {
            ends.join(", ")
        }
    });
    let droop = budget.map(|budget| match budget.droop_to_top_out {
        Some(travel) => format!("{} to topping out", length(travel)),
        None => "no end of it in reach".to_owned(),
    });
    let at_ride = budget.map(|budget| {
        let share = fixed(100.0 * budget.stroke_used_at_ride, 0);
        format!(
            "{}, {share} % of the stroke used",
            bar_text(budget.length_at_ride, units.length)
        )
    });
    vec![
        ("damper at ride height", at_ride),
        ("bump left", bump),
        ("droop left", droop),
        (
            "motion ratio (damper/wheel)",
            budget.map(|budget| fixed(budget.motion_ratio_at_ride, 3)),
        ),
    ]
}

fn spring(ride: Option<&SpringRide>, described: Option<&Spring>, units: &Units) -> Told {
    let rate = Measure {
        dimension: Rate,
        per_travel: false,
    };
    // A description keeps the unit it is written in.
    let spring = described.map(|spring| {
        let free = spring.free_length.map(|free| {
            let millimetres = free * units.length.millimetres();
            format!(", {} free", units.length.given_text(millimetres))
        });
        let number = fixed(spring.rate, units.decimals(Rate));
        format!("{number} {}{}", units.symbol(rate), free.unwrap_or_default())
    });
    let standing = ride.and_then(|ride| ride.standing.as_ref());
    let seat = ride.map(|ride| match ride.possible {
        true => format!("{} from its mount", units.text(ride.needed.seat, Length)),
        false => "none: no such spring fits".to_owned(),
    });
    vec![
        ("spring", spring),
        (
            "wheel rate",
            standing.map(|standing| units.text(standing.wheel_rate.total(), Rate)),
        ),
        ("seat for ride height", seat),
    ]
}

/// The springs of a description, left before right, in its own units.
fn springs(model: &Model) -> Vec<&Spring> {
    match &model.body {
        Body::DoubleWishbone { corner, .. } => corner.spring.iter().collect(),
        Body::LiveAxle(axle) => {
            let sides = axle.springs.iter();
            sides
                .flat_map(|sides| [&sides.left, sides.right.as_ref().unwrap_or(&sides.left)])
                .collect()
        }
    }
}
