//! Ride height: where the car sits on its spring, and where the seat must go.

use super::asked::refused;
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use kin_core::Dimension::{Force, Frequency, Length, Mass, Rate, Ratio};
use kin_core::checks::{
    SpringRide, SpringState, Standing, Stopper, check_axle_ride_height, check_corner_ride_height,
};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "ride_height",
    counted: "check_ride_height",
    needs_ride_height: false,
    documentation: "Where the car sits on its spring, where the spring seat must be for the wanted ride height, and what the \
        spring does from full droop to full bump: preload, a loose spring, coil bind, thread.\n\n\
        Rate, free length and seats are the model's. Keys: `load` (`sprung_mass`, or `corner_weight` and `unsprung_mass`), \
        `load_point` (\"wheel_centre\" or \"contact_point\"), `seat` (\"as_set\" or \"for_ride_height\"), `solid_length`, `bind_allowance`, `top_spacer`, `helper` \
        (`rate`, `free_length`, `solid_length`, `divider`), `seat_thread` (`end`, `shortest`, `longest`, `pitch`), `sits_low` (how much \
        lower than wanted the car was found), `tolerance`, `wanted_frequency`, `laden` (`mass`, `bump`). An axle takes one map for \
        both sides, or `left` and `right`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    const WHAT: &str = "the ride height question";
    let rides = match asked.suspension {
        Suspension::Corner(corner) => {
            check_corner_ride_height(corner, &asked.read(question, WHAT)?).map(|only| vec![only])
        }
        Suspension::Axle(axle) => check_axle_ride_height(axle, &asked.read_sides(question, WHAT)?),
    };
    let rides = rides.map_err(|error| refused(&error, &asked.units))?;
    let report = Report {
        check: CHECK.word,
        heading: "Ride height and spring",
        items: rides.iter().map(item).collect(),
        findings: rides.iter().flat_map(|ride| ride.findings.clone()).collect(),
    };
    Ok(Answer {
        report,
        typed: Typed::RideHeight(rides),
    })
}

fn item(ride: &SpringRide) -> Item {
    let needed = &ride.needed;
    let mut item = Item::new(&ride.spring)
        .quantity("sprung_mass", "sprung mass on it", ride.sprung_mass, Mass)
        .length("seat", "seat, from its mount", ride.seat)
        .length("needed_seat", "seat for ride height", needed.seat)
        .length("seat_change", "seat moves to the spring by", needed.change)
        .length(
            "needed_installed_length",
            "spring length at ride height",
            needed.installed_length,
        )
        .quantity("needed_force", "spring force at ride height", needed.force, Force);
    if let Some(turns) = needed.turns {
        item = item.with("seat_turns", "turns of the seat", Value::Number(turns, 2));
    }
    if let Some(correction) = &ride.correction {
        item = item
            .length("sits_low", "the car was found low by", correction.low)
            .length("correction", "seat moves for that by", correction.change)
            .length("quick_correction", "the quick rule says", correction.quick_change);
        if let (Some(turns), Some(quick)) = (correction.turns, correction.quick_turns) {
            item = item
                .with("correction_turns", "turns for that", Value::Number(turns, 2))
                .with("quick_turns", "turns by the quick rule", Value::Number(quick, 2));
        }
    }
    item = match &ride.standing {
        Some(standing) => stand(item, standing),
        None => item.with(
            "low",
            "sits",
            Value::Absent("nowhere: the spring finds no balance"),
        ),
    };
    if let Some(laden) = &ride.laden {
        item = item
            .length("laden_low", "laden, lower by", laden.low)
            .maybe(
                "laden_bump_to_stop",
                "laden, bump to the stop",
                (laden.bump_to_stop, Length),
                "none",
            )
            .maybe(
                "laden_frequency",
                "laden, ride frequency",
                (laden.frequency, Frequency),
                "none",
            );
    }
    if let Some(state) = &ride.at_full_extension {
        item = item
            .length("preload", "preload, damper extended", state.compression)
            .quantity("preload_force", "force, damper extended", state.force, Force);
    }
    item = end(
        item,
        &ride.at_full_droop,
        ["droop_compression", "droop_force", "droop_stopper"],
        [
            "compression at full droop",
            "force at full droop",
            "what ends the droop",
        ],
    );
    item = end(
        item,
        &ride.at_full_bump,
        ["bump_compression", "bump_force", "bump_stopper"],
        [
            "compression at full bump",
            "force at full bump",
            "what ends the bump",
        ],
    );
    if let Some(margin) = ride.coil_margin {
        item = item.length("coil_margin", "coil margin at full bump", margin);
    }
    if let Some(state) = &ride.at_metal {
        item = item.length(
            "metal_installed_length",
            "spring length at metal",
            state.installed_length,
        );
    }
    if let Some(wanted) = &ride.rate_for_frequency {
        item = item
            .quantity(
                "wanted_frequency",
                "frequency asked for",
                wanted.frequency,
                Frequency,
            )
            .quantity("rate_for_frequency", "spring rate for it", wanted.rate, Rate);
    }
    item
}

fn stand(item: Item, standing: &Standing) -> Item {
    let rate = &standing.wheel_rate;
    let mut item = item
        .length("low", "sits lower than wanted by", standing.low)
        .length("installed_length", "spring length", standing.installed_length)
        .length("compression", "compression", standing.compression)
        .quantity("force", "spring force", standing.force, Force)
        .quantity("motion_ratio", "motion ratio", standing.motion_ratio, Ratio)
        .quantity("wheel_rate", "wheel rate", rate.total(), Rate)
        .quantity(
            "wheel_rate_from_spring",
            "  of it from the spring",
            rate.from_spring,
            Rate,
        )
        .maybe(
            "wheel_rate_geometric",
            "  of it from the geometry",
            (rate.geometric, Rate),
            "not known",
        )
        .maybe(
            "frequency",
            "ride frequency",
            (standing.frequency, Frequency),
            "none: the wheel rate is not positive",
        )
        .quantity(
            "contact_rate",
            "rate at the contact point",
            standing.contact_point.rate,
            Rate,
        );
    if let Some(roll) = &standing.in_roll {
        item = item
            .quantity(
                "roll_motion_ratio",
                "motion ratio in roll",
                roll.motion_ratio,
                Ratio,
            )
            .quantity(
                "roll_wheel_rate",
                "wheel rate in roll",
                roll.wheel_rate.total(),
                Rate,
            )
            .quantity(
                "roll_wheel_rate_from_spring",
                "  of it from the spring",
                roll.wheel_rate.from_spring,
                Rate,
            )
            .maybe(
                "roll_wheel_rate_geometric",
                "  of it from the geometry",
                (roll.wheel_rate.geometric, Rate),
                "not known",
            );
    }
    item = item
        .maybe(
            "bump_to_stop",
            "bump to the stop",
            (standing.bump_to_stop, Length),
            "no bump stop in reach",
        )
        .maybe(
            "bump",
            "bump to its end",
            (standing.bump, Length),
            "beyond the linkage's reach",
        )
        .maybe(
            "droop",
            "droop to its end",
            (standing.droop, Length),
            "beyond the linkage's reach",
        );
    match standing.bump_share {
        Some(share) => item.with("bump_share", "bump, of the free travel", Value::Share(share)),
        None => item,
    }
}

/// The spring where the travel ends.
fn end(
    item: Item,
    (stopper, state): &(Stopper, Option<SpringState>),
    keys: [&'static str; 3],
    labels: [&'static str; 3],
) -> Item {
    let Some(state) = state else { return item };
    item.length(keys[0], labels[0], state.compression)
        .quantity(keys[1], labels[1], state.force, Force)
        .text(keys[2], labels[2], stopper.to_string())
}
