//! Does the damper's stroke hold the wheel's travel?

use super::budget::{DamperLengths, TravelBudget};
use super::crossed_wheels::CrossedWheels;
use super::remedy::{Misfit, Required};
use super::stopper::{self, Stopper};
use super::{Finding, Sentence, Verdict};
use crate::pickups::{Damper, PickupError, Side, Stops, Wanted, wanted_travel};
use crate::suspension::{Axle, Corner, LengthCurve};
use crate::{Dimension, Error};
use nalgebra::Vector3;

/// Wheel travel left beyond a limit below which a check says "tight" (mm), where the user states none: about what
/// a tape measure and a rubber bushing are good for.
const USUAL_MARGIN_MM: f64 = 5.0;

pub(super) const CHECK: &str = "damper_stroke";

/// What the owner asks of the damper; what is absent is taken from the description.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StrokeQuestion {
    /// Wheel bump wanted before the bump stop is touched (mm, from ride height).
    pub bump: Option<f64>,
    /// Wheel droop wanted before the damper tops out (mm, from ride height).
    pub droop: Option<f64>,
    /// Wheel travel beyond the wanted one below which the check says "tight" (mm).
    pub margin: Option<f64>,
}

impl StrokeQuestion {
    fn completed(&self, wanted: Option<Wanted>) -> Result<(f64, f64, f64), PickupError> {
        for (value, field) in [
            (self.bump, "bump"),
            (self.droop, "droop"),
            (self.margin, "margin"),
        ] {
            wanted_travel(value.unwrap_or(0.0), field)?;
        }
        let wanted = wanted.unwrap_or_default();
        Ok((
            self.bump.or(wanted.bump).unwrap_or(0.0),
            self.droop.or(wanted.droop).unwrap_or(0.0),
            self.margin.or(wanted.margin).unwrap_or(USUAL_MARGIN_MM),
        ))
    }
}

/// Lengths to cut a mock-up bar to, between the turning points of the mounts (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MockUp {
    /// At ride height.
    pub at_ride: f64,
    /// Where the bump stop is touched.
    pub at_stop_contact: f64,
    /// At full droop: where the first of all stops acts.
    pub at_full_droop: f64,
}

/// The stroke check of one damper.
#[derive(Debug, Clone, PartialEq)]
pub struct DamperStroke {
    /// Which damper.
    pub damper: String,
    /// Travel at ride height, from the pickups as measured (mm).
    pub ride_travel: f64,
    /// Its lengths between the turning points of its mounts.
    pub lengths: DamperLengths,
    /// How much these differ from the catalogue's lengths because of stud mounts (mm).
    pub stud_allowance: f64,
    /// Where it sits, and the travel left.
    pub budget: TravelBudget,
    /// What stops the wheel first in bump, and after how much bump from ride height (mm).
    pub first_in_bump: (Stopper, Option<f64>),
    /// What stops the wheel first in droop, and after how much droop from ride height (mm).
    pub first_in_droop: (Stopper, Option<f64>),
    /// Lengths for a mock-up bar.
    pub mock_up: MockUp,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Checks the damper of a corner.
///
/// # Errors
/// Without a damper, when ride height cannot be reached, or when a wanted travel is no length between 0 and 1000 mm.
pub fn check_corner_stroke(corner: &Corner, question: &StrokeQuestion) -> Result<DamperStroke, Error> {
    let (Some(curve), Some(damper)) = (
        LengthCurve::of_corner_damper(corner),
        corner.pickups().any_damper(),
    ) else {
        return Err(no_damper("coilover"));
    };
    let pickups = corner.pickups();
    let straps: Vec<LengthCurve<'_>> = corner
        .straps
        .iter()
        .map(|part| LengthCurve::of_corner(corner, part))
        .collect();
    let name = if pickups.coilover.is_some() {
        "coilover"
    } else {
        "damper"
    };
    let check = Check {
        name: name.to_owned(),
        curve,
        damper,
        stops: &pickups.stops,
        straps,
        ride: corner.ride_travel()?,
        asked: question.completed(pickups.wanted)?,
        inboard: -Vector3::y(),
    };
    check.run()
}

/// Checks both dampers of an axle with both wheels moving together, and with one wheel up and the other down.
///
/// # Errors
/// Without dampers, when ride height cannot be reached, or when a wanted travel is no length between 0 and 1000 mm.
pub fn check_axle_stroke(axle: &Axle, question: &StrokeQuestion) -> Result<Vec<DamperStroke>, Error> {
    let pickups = axle.pickups();
    let (Some(sides), Some(mounts)) = (pickups.any_dampers(), &axle.dampers) else {
        return Err(no_damper("coilovers"));
    };
    let name = if pickups.coilovers.is_some() {
        "coilover"
    } else {
        "damper"
    };
    let (Some(right), Some(right_mount)) = (sides.right.as_ref(), mounts.right.as_ref()) else {
        return Err(no_damper("coilovers.right"));
    };
    let run = |name: String, side: Side| {
        let (damper, mount) = if side == Side::Left {
            (&sides.left, &mounts.left)
        } else {
            (right, right_mount)
        };
        let check = Check {
            name,
            curve: LengthCurve::of_axle(axle, mount),
            damper,
            stops: &pickups.stops,
            straps: axle
                .straps
                .iter()
                .map(|part| LengthCurve::of_axle(axle, part))
                .collect(),
            ride: axle.ride_travel()?,
            asked: question.completed(pickups.wanted)?,
            inboard: if side == Side::Left {
                -Vector3::y()
            } else {
                Vector3::y()
            },
        };
        let mut result = check.run()?;
        let wheels = CrossedWheels {
            axle,
            mount,
            name: &check.name,
            lengths: result.lengths,
            ride: check.ride,
            bump: check.asked.0,
            droop: check.asked.1,
        };
        let mut crossed = wheels.finding()?;
        if let Some(finding) = crossed
            .as_mut()
            .filter(|finding| finding.verdict == Verdict::Fails)
        {
            // What mends both wheels together usually mends this too; only what was seen to is offered.
            let offered = result.findings.iter().find(|other| !other.remedies.is_empty());
            for remedy in offered.map_or(&[][..], |other| &other.remedies) {
                if wheels.mended_by(remedy, &check.curve, &check.inboard)? {
                    finding.remedies.push(remedy.clone());
                }
            }
        }
        result.findings.extend(crossed);
        Ok::<_, Error>(result)
    };
    let left = run(format!("left {name}"), Side::Left)?;
    let right = run(format!("right {name}"), Side::Right)?;
    if alike(&left, &right) {
        return Ok(vec![run(format!("{name} on either side"), Side::Left)?]);
    }
    Ok(vec![left, right])
}

/// Whether both sides give the same numbers, so that one report speaks for both.
fn alike(left: &DamperStroke, right: &DamperStroke) -> bool {
    left.findings.len() == right.findings.len()
        && left.lengths == right.lengths
        && left
            .findings
            .iter()
            .zip(&right.findings)
            .all(|(a, b)| a.verdict == b.verdict && (a.value - b.value).abs() < 1e-6)
}

fn no_damper(field: &'static str) -> Error {
    Error::Missing {
        question: "the stroke check",
        field,
        advice: "give its mounts and lengths",
    }
}

/// One damper with everything that bears on its stroke.
struct Check<'a> {
    name: String,
    curve: LengthCurve<'a>,
    damper: &'a Damper,
    stops: &'a Stops,
    straps: Vec<LengthCurve<'a>>,
    ride: f64,
    /// Wanted bump, wanted droop, margin (mm).
    asked: (f64, f64, f64),
    inboard: Vector3<f64>,
}

impl Check<'_> {
    fn run(&self) -> Result<DamperStroke, Error> {
        let lengths = DamperLengths::of(self.damper);
        let budget = TravelBudget::measure(&self.curve, &lengths, self.ride)?;
        let own_bump = self.own_stop(true)?;
        let own_droop = self.own_stop(false)?;
        let damper_in = |travel| [(Stopper::Damper, travel)];
        let first_in_bump = stopper::first(own_bump.iter().cloned().chain(damper_in(budget.bump_to_metal)));
        let first_in_droop = stopper::first(
            own_droop
                .iter()
                .cloned()
                .chain(damper_in(budget.droop_to_top_out)),
        );
        let full_droop = first_in_droop.1.unwrap_or(self.asked.1);
        // Where the linkage itself ends first, the bar is for just short of that.
        let (lowest, _) = self.curve.searchable();
        let mock_up = MockUp {
            at_ride: budget.length_at_ride,
            at_stop_contact: lengths.stop_contact,
            at_full_droop: self.curve.at((self.ride - full_droop).max(lowest))?.re,
        };
        let mut findings = self.findings(&lengths, &budget, &own_bump, &own_droop);
        if findings.iter().any(|finding| finding.verdict == Verdict::Fails) {
            let remedies = self.misfit(&lengths, &own_bump, &own_droop).remedies()?;
            for finding in findings
                .iter_mut()
                .filter(|finding| finding.verdict == Verdict::Fails)
            {
                finding.remedies.clone_from(&remedies);
            }
        }
        findings.extend(self.misplaced(&lengths, &budget));
        findings.extend(self.stopped_early(&own_bump, self.asked.0, 1.0));
        findings.extend(self.stopped_early(&own_droop, self.asked.1, -1.0));
        Ok(DamperStroke {
            damper: self.name.clone(),
            ride_travel: self.ride,
            lengths,
            stud_allowance: self.damper.stud_allowance(),
            budget,
            first_in_bump,
            first_in_droop,
            mock_up,
            findings,
        })
    }

    /// Everything but the damper that stops the wheel, with the travel from ride height (mm, positive).
    fn own_stop(&self, bump: bool) -> Result<Vec<(Stopper, Option<f64>)>, Error> {
        let (lowest, highest) = self.curve.searchable();
        let mut stops = vec![(
            Stopper::OwnStop,
            if bump { self.stops.bump } else { self.stops.droop },
        )];
        for (strap, curve) in self.stops.straps.iter().zip(&self.straps) {
            let end = if bump { highest } else { lowest };
            let travel = curve.first_travel_taut(strap.length, self.ride, end)?;
            stops.push((
                Stopper::Strap(strap.name.clone()),
                travel.map(|travel| (travel - self.ride).abs()),
            ));
        }
        let reach = self.curve.reach();
        let limit = if bump { reach.highest } else { reach.lowest };
        stops.push((Stopper::Linkage, limit.map(|limit| (limit - self.ride).abs())));
        Ok(stops)
    }

    fn misfit<'b>(
        &'b self,
        lengths: &DamperLengths,
        own_bump: &[(Stopper, Option<f64>)],
        own_droop: &[(Stopper, Option<f64>)],
    ) -> Misfit<'b> {
        let given = |stops: &[(Stopper, Option<f64>)]| stopper::first(given_stops(stops)).1.unwrap_or(0.0);
        Misfit {
            curve: self.curve,
            lengths: *lengths,
            ride: self.ride,
            required: Required {
                to_stop: self.asked.0,
                to_metal: self.asked.0.max(given(own_bump)),
                to_top_out: self.asked.1.max(given(own_droop)),
            },
            inboard: self.inboard,
        }
    }

    fn findings(
        &self,
        lengths: &DamperLengths,
        budget: &TravelBudget,
        own_bump: &[(Stopper, Option<f64>)],
        own_droop: &[(Stopper, Option<f64>)],
    ) -> Vec<Finding> {
        let (bump, droop, _) = self.asked;
        let (lowest, highest) = self.curve.searchable();
        let mut findings = vec![
            self.travel_finding(
                "bump travel to the bump stop",
                budget.bump_to_stop.unwrap_or(highest - self.ride),
                bump,
                1.0,
                (
                    if self.damper.bump_stop > 0.0 {
                        "touches its bump stop"
                    } else {
                        "meets metal"
                    },
                    lengths.stop_contact,
                ),
            ),
            self.travel_finding(
                "droop travel to topping out",
                budget.droop_to_top_out.unwrap_or(self.ride - lowest),
                droop,
                -1.0,
                ("tops out", lengths.extended),
            ),
        ];
        let in_bump = (
            budget.bump_to_metal,
            "bottoms metal to metal",
            lengths.compressed,
            1.0,
        );
        let in_droop = (budget.droop_to_top_out, "tops out", lengths.extended, -1.0);
        for (stops, (damper, verb, length, sign)) in [(own_bump, in_bump), (own_droop, in_droop)] {
            let (stopper, at) = stopper::first(given_stops(stops));
            if let Some(stop_travel) = at {
                findings.push(self.stop_finding(&stopper, stop_travel, damper, (verb, length), sign));
            }
        }
        findings.extend(self.linkage_finding(own_bump, bump, 1.0));
        findings.extend(self.linkage_finding(own_droop, droop, -1.0));
        findings
    }

    /// Can the damper be fitted between its mounts at all, and does bump compress it? Silent when so.
    fn misplaced(&self, lengths: &DamperLengths, budget: &TravelBudget) -> Vec<Finding> {
        let name = &self.name;
        let fails = |subject: &str, dimension, value: f64, limit: f64, statement| Finding {
            check: CHECK,
            subject: format!("{name}: {subject}"),
            verdict: Verdict::Fails,
            dimension,
            value,
            limit,
            margin: -(value - limit).abs(),
            at_travel: Some(0.0),
            statement,
            remedies: Vec::new(),
        };
        let mut findings = Vec::new();
        let here = budget.length_at_ride;
        if here > lengths.extended || here < lengths.compressed {
            let limit = here.clamp(lengths.compressed, lengths.extended);
            let statement = Sentence::new(format!(
                "The {name} cannot be fitted at ride height: its mounts are "
            ))
            .length(here)
            .words(" apart there, and it reaches from ")
            .length(lengths.compressed)
            .words(" to ")
            .length(lengths.extended)
            .words(". Check the mounts' unit and signs.");
            findings.push(fails(
                "length at ride height",
                Dimension::Length,
                here,
                limit,
                statement,
            ));
        }
        if budget.motion_ratio_at_ride <= 0.0 {
            let statement = Sentence::new(format!(
                "Bump lengthens the {name} instead of compressing it: motion ratio "
            ))
            .quantity(budget.motion_ratio_at_ride, Dimension::Ratio)
            .words(" at ride height. Are the upper and the lower mount swapped?");
            let ratio = budget.motion_ratio_at_ride;
            findings.push(fails(
                "which way it works",
                Dimension::Ratio,
                ratio,
                0.0,
                statement,
            ));
        }
        findings
    }

    /// Does a stop that the user gave act before the wanted travel? Silent when not.
    fn stopped_early(&self, stops: &[(Stopper, Option<f64>)], wanted: f64, sign: f64) -> Option<Finding> {
        let (stopper, at) = stopper::first(given_stops(stops));
        let found = at.filter(|travel| *travel < wanted - 1e-9)?;
        let way = if sign > 0.0 { "bump" } else { "droop" };
        Some(Finding {
            check: CHECK,
            subject: format!("wanted {way} and the stops"),
            verdict: Verdict::Fails,
            dimension: Dimension::Length,
            value: found,
            limit: wanted,
            margin: found - wanted,
            at_travel: Some(found * sign),
            statement: Sentence::new(format!("In {way}, {stopper} acts at "))
                .length(found)
                .words(" from ride height, but ")
                .length(wanted)
                .words(" are wanted: no damper gives more. Move the stop, or want less."),
            remedies: Vec::new(),
        })
    }

    /// Is there as much travel as wanted before the damper reaches a length?
    fn travel_finding(
        &self,
        subject: &str,
        found: f64,
        wanted: f64,
        sign: f64,
        (verb, length): (&str, f64),
    ) -> Finding {
        let way = if sign > 0.0 { "bump" } else { "droop" };
        let margin = found - wanted;
        let verdict = Verdict::from_margin(margin, self.asked.2);
        let name = &self.name;
        let statement = if found < 0.0 {
            Sentence::new(format!(
                "At ride height the {name} is already past where it {verb}: its "
            ))
            .length(length)
            .words(" between mounts are reached ")
            .length(-found)
            .words(" of wheel travel before ride height; ")
            .length(wanted)
            .words(format!(" of {way} are wanted."))
        } else {
            let start = Sentence::new(format!("The {name} {verb} at "))
                .length(found)
                .words(format!(" of {way} from ride height, "))
                .length(length)
                .words(" between mounts; ")
                .length(wanted)
                .words(format!(" of {way} are wanted: "));
            if margin < 0.0 {
                start.length(-margin).words(" too little.")
            } else {
                start.length(margin).words(" to spare.")
            }
        };
        Finding {
            check: CHECK,
            subject: format!("{name}: {subject}"),
            verdict,
            dimension: Dimension::Length,
            value: found,
            limit: wanted,
            margin,
            at_travel: Some(found * sign),
            statement,
            remedies: Vec::new(),
        }
    }

    /// Does the suspension's own stop act before the damper does?
    fn stop_finding(
        &self,
        stopper: &Stopper,
        stop_travel: f64,
        damper_travel: Option<f64>,
        (verb, length): (&str, f64),
        sign: f64,
    ) -> Finding {
        let way = if sign > 0.0 { "bump" } else { "droop" };
        let (lowest, highest) = self.curve.searchable();
        let end = if sign > 0.0 {
            highest - self.ride
        } else {
            self.ride - lowest
        };
        let found = damper_travel.unwrap_or(end);
        let margin = found - stop_travel;
        let name = &self.name;
        let verdict = Verdict::from_margin(margin, self.asked.2);
        let start = Sentence::new(format!("In {way}, {stopper} acts at ")).length(stop_travel);
        let statement = if verdict == Verdict::Fails {
            start
                .words(format!(", but the {name} {verb} at "))
                .length(found)
                .words(", ")
                .length(length)
                .words(" between mounts: the damper would stop the suspension.")
        } else {
            start
                .words(format!(", before the {name} {verb} at "))
                .length(found)
                .words(".")
        };
        Finding {
            check: CHECK,
            subject: format!("{name}: who stops the suspension in {way}"),
            verdict,
            dimension: Dimension::Length,
            value: found,
            limit: stop_travel,
            margin,
            at_travel: Some(found * sign),
            statement,
            remedies: Vec::new(),
        }
    }

    /// Does the linkage itself reach the wanted travel? Silent when it does.
    fn linkage_finding(&self, stops: &[(Stopper, Option<f64>)], wanted: f64, sign: f64) -> Option<Finding> {
        let limit = stops
            .iter()
            .find(|(stopper, _)| *stopper == Stopper::Linkage)?
            .1?;
        let way = if sign > 0.0 { "bump" } else { "droop" };
        (limit < wanted).then(|| Finding {
            check: CHECK,
            subject: format!("reach of the linkage in {way}"),
            verdict: Verdict::Fails,
            dimension: Dimension::Length,
            value: limit,
            limit: wanted,
            margin: limit - wanted,
            at_travel: Some(limit * sign),
            statement: Sentence::new("The linkage itself ends at ")
                .length(limit)
                .words(format!(" of {way} from ride height; "))
                .length(wanted)
                .words(" are wanted. No damper helps: check the pickups of the arms."),
            remedies: Vec::new(),
        })
    }
}

/// The stops that the user gave, without the linkage's own end.
fn given_stops(stops: &[(Stopper, Option<f64>)]) -> impl Iterator<Item = (Stopper, Option<f64>)> + '_ {
    stops
        .iter()
        .filter(|(stopper, _)| *stopper != Stopper::Linkage)
        .cloned()
}
