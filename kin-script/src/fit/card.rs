//! The assembly card: the settings of a fit sheet in the order of the work.

use super::text::paragraph;
use super::{FitSheet, Typed};
use crate::stroke_sheet::{CAUTION, bar_text};
use crate::table::fixed;
use crate::units::Units;
use kin_core::Dimension::{self, Angle, FineAngle, Force, Length, Torque};
use kin_core::checks::{
    Alignment, BarAtWheel, BoltCheck, BushingTwist, DamperSetting, DamperStroke, SeatCorrection, SpringRide,
    Verdict,
};
use std::fmt::Write;

/// The card under construction.
struct Card {
    text: String,
    steps: usize,
    units: Units,
}

/// The card of everything that a fit sheet was asked.
#[must_use]
pub fn assembly_card(fit: &FitSheet) -> String {
    let mut card = Card {
        text: String::new(),
        steps: 0,
        units: fit.units,
    };
    let _ = writeln!(card.text, "Assembly card: {}", fit.title);
    not_yet(&mut card, fit);
    card.step("Support the car.");
    card.line(
        "-",
        "Put it on stands rated for it, under the frame, on firm level ground. Never work under a car that only a jack holds.",
    );
    mock_up(&mut card, &fit.stroke);
    for answer in &fit.answers {
        if let Typed::RideHeight(rides) = &answer.typed {
            seats(&mut card, rides);
        }
    }
    for answer in &fit.answers {
        match &answer.typed {
            Typed::Bolts(bolts) => fasteners(&mut card, bolts),
            Typed::DamperSetting(settings) => clicks(&mut card, settings),
            Typed::AntiRollBar(bar) => bar_links(&mut card, bar),
            _ => {}
        }
    }
    at_ride_height(&mut card, fit);
    card.step("After the first short drive");
    card.line(
        "-",
        "tighten every fastener to its torque again, look for marks of touching, and measure ride height again.",
    );
    let alignment = fit.answers.iter().find_map(|answer| match &answer.typed {
        Typed::Alignment(alignment) => Some(alignment),
        _ => None,
    });
    align(&mut card, alignment);
    card.text.push('\n');
    paragraph(&mut card.text, "", CAUTION);
    card.text.trim_end().to_owned()
}

impl Card {
    fn step(&mut self, title: &str) {
        self.steps += 1;
        let _ = writeln!(self.text, "\n{:>2}. {title}", self.steps);
    }

    /// A line with a box to tick, or with a dash for what is not ticked.
    fn line(&mut self, mark: &str, words: &str) {
        paragraph(&mut self.text, &format!("    {mark} "), words);
    }

    fn tick(&mut self, words: &str) {
        self.line("[ ]", words);
    }

    fn show(&self, value: f64, dimension: Dimension) -> String {
        self.units.text(value, dimension)
    }
}

/// What fails comes first: a card must not read like a permission.
fn not_yet(card: &mut Card, fit: &FitSheet) {
    let failing: Vec<String> = fit
        .findings()
        .filter(|finding| finding.verdict == Verdict::Fails)
        .map(|finding| finding.statement.render(card.units.shown()))
        .collect();
    if failing.is_empty() {
        return;
    }
    card.text
        .push_str("Do not build it like this yet. These checks fail:\n");
    for statement in failing {
        card.line("!", &statement);
    }
}

fn mock_up(card: &mut Card, strokes: &[DamperStroke]) {
    if strokes.is_empty() {
        return;
    }
    card.step("Try the mounts with a mock-up bar in place of the damper, before welding.");
    for stroke in strokes {
        let bar = &stroke.mock_up;
        card.tick(&format!(
            "{}: {} at ride height, {} where the bump stop is touched, {} at full droop",
            stroke.damper,
            bar_text(bar.at_ride),
            bar_text(bar.at_stop_contact),
            bar_text(bar.at_full_droop)
        ));
    }
}

fn seats(card: &mut Card, rides: &[SpringRide]) {
    card.step("Set the spring seats, with the damper out or fully extended.");
    for ride in rides {
        let needed = &ride.needed;
        let mut words = format!(
            "{}: seat {} from its mount",
            ride.spring,
            card.show(needed.seat, Length)
        );
        if let Some(turns) = needed.turns {
            let _ = write!(
                words,
                " ({} turns {} from where it is set now)",
                fixed(turns.abs(), 2),
                if turns < 0.0 {
                    "away from the spring"
                } else {
                    "towards the spring"
                }
            );
        }
        if let Some(state) = &ride.at_full_extension {
            let _ = write!(
                words,
                "; preload {}, {}",
                card.show(state.compression, Length),
                card.show(state.force, Force)
            );
        }
        card.tick(&words);
    }
    card.line(
        "!",
        "A spring under load can kill. Use a compressor made for it, and keep out of its line.",
    );
}

fn fasteners(card: &mut Card, bolts: &[(String, BoltCheck)]) {
    card.step("Tighten the fasteners; those through rubber bushings only by hand for now.");
    for (name, bolt) in bolts {
        let clamp = bolt.clamp.unwrap_or(bolt.usual);
        let origin = if bolt.clamp.is_some() {
            ""
        } else {
            " (the trade's usual torque)"
        };
        card.tick(&format!(
            "{name}: {} to {}{origin}, clamp about {}, {} % of its proof load",
            bolt.size.name,
            card.show(clamp.torque, Torque),
            card.show(clamp.force, Force),
            fixed(100.0 * clamp.share_of_proof, 0)
        ));
    }
    card.line(
        "!",
        "Brackets and their bolts are safety parts: the part maker's torque goes before this one.",
    );
}

fn clicks(card: &mut Card, settings: &[DamperSetting]) {
    card.step("Set the dampers to their starting clicks.");
    for setting in settings {
        for (name, direction) in [("bump", &setting.bump), ("rebound", &setting.rebound)] {
            if let Some(direction) = direction {
                card.tick(&format!("{}, {name}: {}", setting.damper, direction.start));
            }
        }
    }
}

fn bar_links(card: &mut Card, bar: &BarAtWheel) {
    card.step("Set the links of the anti-roll bar, with the car on its wheels.");
    card.tick(&format!(
        "left link {} long, the right one {}: the bar is then free of preload at ride height",
        card.show(bar.left_link_without_preload, Dimension::FineLength),
        card.show(bar.link_lengths[1], Dimension::FineLength)
    ));
}

fn at_ride_height(card: &mut Card, fit: &FitSheet) {
    card.step("Put the car on its wheels and roll it until it has settled.");
    for stroke in &fit.stroke {
        let length = card.show(stroke.budget.length_at_ride, Length);
        card.tick(&format!(
            "{}: {length} between its mounts at ride height",
            stroke.damper
        ));
    }
    let rides = fit.answers.iter().filter_map(|answer| match &answer.typed {
        Typed::RideHeight(rides) => Some(rides),
        _ => None,
    });
    for ride in rides.flatten() {
        if let Some(correction) = &ride.correction {
            card.tick(&corrected(card, &ride.spring, correction));
        }
    }
    let bushings = fit.answers.iter().filter_map(|answer| match &answer.typed {
        Typed::Bushings(bushings) => Some(bushings),
        _ => None,
    });
    let bushings: Vec<&BushingTwist> = bushings.flatten().collect();
    for bushing in &bushings {
        card.tick(&format!(
            "{}: tighten now; from here it twists {} at most",
            bushing.bushing,
            card.show(
                (bushing.at_full_bump - bushing.at_ride)
                    .abs()
                    .max((bushing.at_full_droop - bushing.at_ride).abs()),
                Angle
            )
        ));
    }
    if bushings.is_empty() {
        card.tick("bolts through rubber bushings: tighten them now, at ride height, not hanging");
    }
}

/// What to do about a car that was found too low or too high.
fn corrected(card: &Card, spring: &str, correction: &SeatCorrection) -> String {
    let by = match correction.turns {
        Some(turns) => format!("{} turns", fixed(turns.abs(), 2)),
        None => card.show(correction.change.abs(), Length),
    };
    let found = card.show(correction.low.abs(), Length);
    let side = if correction.low < 0.0 { "high" } else { "low" };
    let way = if correction.change < 0.0 {
        "away from"
    } else {
        "towards"
    };
    format!("{spring}: found {found} {side}: move its seat {by} {way} the spring")
}

fn align(card: &mut Card, alignment: Option<&Alignment>) {
    card.step("Send it to alignment.");
    let Some(alignment) = alignment else {
        card.tick("camber, caster and toe as wanted, at this ride height");
        return;
    };
    for setting in &alignment.settings {
        let mut words = format!(
            "{}: {}",
            setting.pickup,
            card.show(setting.amount, Dimension::FineLength)
        );
        if let Some(shims) = setting.shims {
            let _ = write!(words, ", {shims} shims");
        }
        if let Some(turn) = setting.eccentric_turn {
            let _ = write!(words, ", eccentric turned {}", card.show(turn, Angle));
        }
        card.tick(&words);
    }
    let after = &alignment.after;
    card.tick(&format!(
        "camber {}, caster {}, toe {} of this wheel",
        card.show(after.camber, FineAngle),
        card.show(after.caster, FineAngle),
        card.show(after.toe, FineAngle)
    ));
}
