//! One damper, checked with everything that bears on its stroke.

use super::answer::{DamperStroke, MockUp};
use super::crossed_wheels::CrossedWheels;
use super::misfit::{Misfit, Required};
use super::question::Asked;
use super::stopper::{self, Stopper};
use super::stops::{StopList, given_stops};
use super::travel::StrokeEnd;
use crate::Error;
use crate::checks::{DamperLengths, Finding, TravelBudget, Verdict};
use crate::pickups::{Damper, Stops};
use crate::suspension::LengthCurve;
use nalgebra::Vector3;

/// One damper with everything that bears on its stroke.
pub(super) struct Check<'a> {
    pub(super) name: String,
    pub(super) curve: LengthCurve<'a>,
    pub(super) damper: &'a Damper,
    pub(super) stops: &'a Stops,
    pub(super) straps: Vec<LengthCurve<'a>>,
    /// Travel at ride height, from the pickups as measured (mm).
    pub(super) ride: f64,
    /// Whether that is from the heights of the lip above the hub.
    pub(super) lip_heights_given: bool,
    pub(super) asked: Asked,
    /// Unit vector that points inboard on this side of the car.
    pub(super) inboard: Vector3<f64>,
    /// Wheels of an axle that do not move together.
    pub(super) crossed: Option<CrossedWheels<'a>>,
}

impl Check<'_> {
    pub(super) fn run(&self) -> Result<DamperStroke, Error> {
        let lengths = DamperLengths::of(self.damper);
        let budget = TravelBudget::measure(&self.curve, &lengths, self.ride)?;
        let own_bump = self.own_stops(true)?;
        let own_droop = self.own_stops(false)?;
        let damper_in = |travel| [(Stopper::Damper, travel)];
        let first_in_bump = stopper::first(own_bump.iter().cloned().chain(damper_in(budget.bump_end().0)));
        let first_in_droop = stopper::first(own_droop.iter().cloned().chain(damper_in(budget.droop_end().0)));
        let full_droop = first_in_droop.1.unwrap_or(self.asked.least_droop());
        // Where the linkage itself ends first, the bar is for just short of that.
        let (lowest, _) = self.curve.searchable();
        let mock_up = MockUp {
            at_ride: budget.length_at_ride,
            at_stop_contact: lengths.stop_contact,
            at_full_droop: self.curve.at((self.ride - full_droop).max(lowest))?.re,
        };
        let mut findings = self.findings(&lengths, &budget, &own_bump, &own_droop);
        let mut crossed = match &self.crossed {
            Some(crossed) => crossed.finding()?,
            None => None,
        };
        let mut failed: Vec<&mut Finding> = findings
            .iter_mut()
            .chain(&mut crossed)
            .filter(|finding| finding.verdict == Verdict::Fails)
            .collect();
        if !failed.is_empty() {
            let remedies = self.misfit(&lengths, &own_bump, &own_droop).remedies()?;
            for finding in &mut failed {
                finding.remedies.clone_from(&remedies);
            }
        }
        findings.extend(self.misplaced(&lengths, &budget)?);
        findings.extend(self.stopped_early(&own_bump, self.asked.least_bump(), 1.0));
        findings.extend(self.stopped_early(&own_droop, self.asked.least_droop(), -1.0));
        findings.extend(crossed);
        Ok(DamperStroke {
            damper: self.name.clone(),
            ride_travel: self.ride,
            lengths,
            stud_allowance: self.damper.stud_allowance(),
            asked_bump: self.asked.bump,
            asked_droop: self.asked.droop,
            budget,
            first_in_bump,
            first_in_droop,
            mock_up,
            findings,
        })
    }

    fn misfit<'b>(
        &'b self,
        lengths: &DamperLengths,
        own_bump: &StopList,
        own_droop: &StopList,
    ) -> Misfit<'b> {
        let given = |stops: &StopList| stopper::first(given_stops(stops)).1.unwrap_or(0.0);
        Misfit {
            curve: self.curve,
            lengths: *lengths,
            ride: self.ride,
            required: Required {
                to_stop: self.asked.least_bump(),
                to_metal: self.asked.least_bump().max(given(own_bump)),
                to_top_out: self.asked.least_droop().max(given(own_droop)),
            },
            inboard: self.inboard,
            crossed: self.crossed.as_ref(),
        }
    }

    fn findings(
        &self,
        lengths: &DamperLengths,
        budget: &TravelBudget,
        own_bump: &StopList,
        own_droop: &StopList,
    ) -> Vec<Finding> {
        let mut findings = vec![
            self.travel_finding(&StrokeEnd {
                subject: "bump travel to the bump stop",
                verb: if self.damper.bump_stop > 0.0 {
                    "touches its bump stop"
                } else {
                    "meets metal"
                },
                length: lengths.stop_contact,
                found: budget.bump_to_stop,
                wanted: self.asked.bump,
                sign: 1.0,
            }),
            self.travel_finding(&StrokeEnd {
                subject: "droop travel to topping out",
                verb: "tops out",
                length: lengths.extended,
                found: budget.droop_to_top_out,
                wanted: self.asked.droop,
                sign: -1.0,
            }),
        ];
        let ends = [
            (own_bump, budget.bump_end(), 1.0),
            (own_droop, budget.droop_end(), -1.0),
        ];
        for (stops, (travel, topped_out), sign) in ends {
            let damper = if topped_out {
                ("tops out", lengths.extended, travel)
            } else {
                ("bottoms metal to metal", lengths.compressed, travel)
            };
            let (stopper, at) = stopper::first(given_stops(stops));
            if let Some(stop_travel) = at {
                findings.push(self.stop_finding(&stopper, stop_travel, damper, sign));
            }
        }
        findings.extend(self.turned_round(budget));
        findings.extend(self.linkage_finding(own_bump, self.asked.least_bump(), 1.0));
        findings.extend(self.linkage_finding(own_droop, self.asked.least_droop(), -1.0));
        findings
    }
}

pub(super) fn no_damper(field: &'static str) -> Error {
    Error::Missing {
        question: "the stroke check",
        field,
        advice: "give its mounts and lengths",
    }
}
