//! The assembly card: the settings of a fit sheet in the order of the work.

use super::text::paragraph;
use super::{FitSheet, Typed};
use crate::stroke_sheet::{CAUTION, bar_text};
use crate::table::fixed;
use crate::units::{LengthUnit, Units};
use kin_core::Dimension::{self, Angle, FineAngle, FineLength, Force, Length, Torque};
use kin_core::Rounding;
use kin_core::checks::{
    Alignment, BarAtWheel, BearingInBracket, BoltCheck, BracketCheck, BracketFit, BumpSteer, BushingTwist,
    DamperSetting, DamperStroke, HoseReach, SeatCorrection, SpringRide, Verdict,
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
        match &answer.typed {
            Typed::Brackets(brackets) => drill(&mut card, brackets),
            Typed::Bearings(bearings) => bearings_in(&mut card, bearings),
            _ => {}
        }
    }
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
            Typed::Hoses(hoses) => lines(&mut card, hoses),
            Typed::BumpSteer(steer) => shims(&mut card, steer),
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
    match alignment {
        Some(alignment) => align(&mut card, alignment),
        None if fit.axle => square(&mut card),
        None => {
            card.step("Send it to alignment.");
            card.tick("camber, caster and toe as wanted, at this ride height");
        }
    }
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
    let failing = || fit.findings().filter(|finding| finding.verdict == Verdict::Fails);
    if failing().next().is_none() {
        return;
    }
    card.text
        .push_str("Do not build it like this yet. These checks fail:\n");
    for finding in failing() {
        card.line("!", &finding.statement.render(card.units.shown()));
        for remedy in &finding.remedies {
            card.line("  -", &remedy.sentence.render(card.units.shown()));
        }
    }
}

fn drill(card: &mut Card, brackets: &[(String, BracketCheck)]) {
    card.step("Drill the brackets.");
    for (name, bracket) in brackets {
        let hole = &bracket.hole;
        let work = if hole.drilled {
            "drill to"
        } else {
            "leave the hole at"
        };
        let diameter = card.units.rounded(hole.diameter, Length, Rounding::AsGiven);
        let edge = card.show(hole.edge_left, Length);
        card.tick(&format!(
            "{name}: {work} {diameter}, which leaves {edge} to the edge"
        ));
    }
}

fn bearings_in(card: &mut Card, bearings: &[(BearingInBracket, BracketFit)]) {
    card.step("Put bearings and spacers into their brackets.");
    for (bearing, fit) in bearings {
        let show = |length| card.units.text(length, FineLength);
        card.tick(&format!(
            "{}: bearing and spacers {} together, bracket {} inside",
            bearing.name,
            show(fit.stack_width),
            show(bearing.bracket_width)
        ));
    }
}

fn lines(card: &mut Card, hoses: &[HoseReach]) {
    card.step("Fit hoses, lines and straps.");
    for hose in hoses {
        card.tick(&format!(
            "{}: {} long; its ends come {} apart at most",
            hose.hose,
            card.show(hose.length, Length),
            card.show(hose.longest, Length)
        ));
    }
}

/// Shims where they take out more than the largest change that is wanted.
fn shims(card: &mut Card, steer: &BumpSteer) {
    let remedies = steer.findings.iter().flat_map(|finding| &finding.remedies);
    let told: Vec<String> = remedies
        .map(|remedy| remedy.sentence.render(card.units.shown()))
        .collect();
    if told.is_empty() {
        return;
    }
    card.step("Shim the tie rods.");
    for remedy in told {
        card.tick(&remedy);
    }
}

fn mock_up(card: &mut Card, strokes: &[DamperStroke]) {
    if strokes.is_empty() {
        return;
    }
    card.step("Try the mounts with a mock-up bar in place of the damper, before welding.");
    let unit = card.units.length;
    for stroke in strokes {
        let bar = &stroke.mock_up;
        card.tick(&format!(
            "{}: {} at ride height, {} where the bump stop is touched, {} at full droop",
            stroke.damper,
            bar_text(bar.at_ride, unit),
            bar_text(bar.at_stop_contact, unit),
            bar_text(bar.at_full_droop, unit)
        ));
    }
}

fn seats(card: &mut Card, rides: &[SpringRide]) {
    card.step("Set the spring seats, with the damper out or fully extended.");
    for ride in rides {
        if !ride.possible {
            let words = format!(
                "{}: no seat to set; a spring cannot be fitted like this",
                ride.spring
            );
            card.line("!", &words);
            continue;
        }
        let needed = &ride.needed;
        let mut words = format!(
            "{}: seat {} from its mount",
            ride.spring,
            card.show(needed.seat, Length)
        );
        if let Some(turns) = needed.turns {
            let _ = write!(words, " ({})", from_now(turns));
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

/// How far a seat is turned from where it is now.
fn from_now(turns: f64) -> String {
    // A twentieth of a turn is less than a hand sets a seat to.
    if turns.abs() < 0.05 {
        return "as it is set now".to_owned();
    }
    let way = if turns < 0.0 { "away from" } else { "towards" };
    format!(
        "{} turns {way} the spring from where it is set now",
        fixed(turns.abs(), 2)
    )
}

/// A torque in both units: wrenches are marked in either.
fn both_torques(torque: f64, units: &Units) -> String {
    let [own, other] = match units.length {
        LengthUnit::Millimetre => [LengthUnit::Millimetre, LengthUnit::Inch],
        LengthUnit::Inch => [LengthUnit::Inch, LengthUnit::Millimetre],
    }
    .map(|length| Units::new(length, None).text(torque, Torque));
    format!("{own} ({other})")
}

fn fasteners(card: &mut Card, bolts: &[(String, BoltCheck)]) {
    card.step("Tighten the fasteners; those through rubber bushings only by hand for now.");
    for (name, bolt) in bolts {
        if let Some(clamp) = bolt.clamp
            && !bolt.torque_serves()
        {
            let words = format!(
                "{name}: {} is no torque for {}: see what fails above",
                both_torques(clamp.torque, &card.units),
                bolt.size.name
            );
            card.line("!", &words);
            continue;
        }
        let clamp = bolt.clamp.unwrap_or(bolt.usual);
        let origin = if bolt.clamp.is_some() {
            ""
        } else {
            " (the trade's usual torque)"
        };
        card.tick(&format!(
            "{name}: {} to {}{origin}, clamp about {}, {} % of its proof load",
            bolt.size.name,
            both_torques(clamp.torque, &card.units),
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

/// What is set on a live axle, whose wheels stand as the axle was made.
fn square(card: &mut Card) {
    card.step("Check how the axle stands.");
    card.tick(
        "square to the car: the same distance from a fixed point of the frame to the axle, left and right",
    );
    card.tick("in the middle: the same distance from either wheel to the frame");
    card.tick("pinion angle, at this ride height");
}

fn align(card: &mut Card, alignment: &Alignment) {
    card.step("Send it to alignment.");
    let remedies = alignment.findings.iter().flat_map(|finding| &finding.remedies);
    let mut told: Vec<String> = remedies
        .map(|remedy| remedy.sentence.render(card.units.shown()))
        .collect();
    // One setting mends all angles.
    told.dedup();
    if !told.is_empty() {
        for remedy in told {
            card.tick(&remedy);
        }
        return;
    }
    let angles = &alignment.found;
    card.tick(&format!(
        "camber {}, caster {}, toe {} of this wheel",
        card.show(angles.camber, FineAngle),
        card.show(angles.caster, FineAngle),
        card.show(angles.toe, FineAngle)
    ));
}
