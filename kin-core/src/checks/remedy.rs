//! The smallest changes that make a damper fit, each verified by running the budget again.

use super::Sentence;
use super::allowed::{Demand, moves, smallest};
use super::budget::{DamperLengths, TravelBudget};
use super::remedy_kind::RemedyKind;
use crate::Error;
use crate::suspension::{LengthCurve, Mounted};
use nalgebra::Vector3;

/// A change that mends a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// What is changed.
    pub kind: RemedyKind,
    /// The smallest change that mends it (core units of `kind`, mm for mounts), signed in the direction of `kind`.
    pub change: f64,
    /// The changes for which every limit holds, least and greatest (core units of `kind`).
    pub window: (f64, f64),
    /// The change in words.
    pub sentence: Sentence,
}

impl Remedy {
    /// The mount and the lengths with the change made; none for a remedy that names no single damper, or another part.
    pub(crate) fn applied(
        &self,
        curve: &LengthCurve<'_>,
        lengths: &DamperLengths,
        ride: f64,
        inboard: &Vector3<f64>,
    ) -> Result<Option<(Mounted, DamperLengths)>, Error> {
        let direction = match self.kind {
            RemedyKind::UpperMountAlongDamper => -curve.span_at(ride)?.normalize(),
            RemedyKind::UpperMountUp => Vector3::z(),
            RemedyKind::UpperMountInboard => *inboard,
            RemedyKind::LongerDamper => {
                let unmoved = curve.with_upper_moved(&Vector3::zeros());
                return Ok(Some((unmoved, lengths.longer_by(self.change))));
            }
            // No single damper, or not a damper at all.
            _ => return Ok(None),
        };
        Ok(Some((
            curve.with_upper_moved(&(direction * self.change)),
            *lengths,
        )))
    }
}

/// Wheel travel that a damper must allow, counted from ride height (mm, positive in its own direction).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Required {
    /// Bump before the bump stop is touched.
    pub(crate) to_stop: f64,
    /// Bump before metal is met.
    pub(crate) to_metal: f64,
    /// Droop before topping out.
    pub(crate) to_top_out: f64,
}

impl Required {
    fn met_by(&self, budget: &TravelBudget) -> bool {
        // A root is found to 1e-9 mm, and a mount moved by exactly the smallest change sits exactly on its limit.
        let enough = |found: Option<f64>, needed: f64| found.is_none_or(|found| found >= needed - 1e-6);
        enough(budget.bump_to_stop, self.to_stop)
            && enough(budget.bump_to_metal, self.to_metal)
            && enough(budget.droop_to_top_out, self.to_top_out)
    }
}

/// Moves of a mount beyond this (mm) are another design, not a remedy.
const FARTHEST_MOVE_MM: f64 = 150.0;

/// Everything the search for remedies needs to know.
pub(crate) struct Misfit<'a> {
    pub(crate) curve: LengthCurve<'a>,
    pub(crate) lengths: DamperLengths,
    pub(crate) ride: f64,
    pub(crate) required: Required,
    /// Unit vector that points inboard on this side of the car.
    pub(crate) inboard: Vector3<f64>,
}

impl Misfit<'_> {
    /// All remedies that were found and verified; the smallest move of the mount first.
    pub(crate) fn remedies(&self) -> Result<Vec<Remedy>, Error> {
        let mut remedies = Vec::new();
        let along = -self.curve.span_at(self.ride)?.normalize();
        for (kind, direction) in [
            (RemedyKind::UpperMountAlongDamper, along),
            (RemedyKind::UpperMountUp, Vector3::z()),
            (RemedyKind::UpperMountInboard, self.inboard),
        ] {
            remedies.extend(self.moved(kind, &direction)?);
        }
        remedies.sort_by(|a, b| a.change.abs().total_cmp(&b.change.abs()));
        remedies.extend(self.another_damper()?);
        Ok(remedies)
    }

    fn travels(&self) -> [(f64, f64, bool); 3] {
        [
            (self.ride + self.required.to_stop, self.lengths.stop_contact, true),
            (self.ride + self.required.to_metal, self.lengths.compressed, true),
            (self.ride - self.required.to_top_out, self.lengths.extended, false),
        ]
    }

    fn moved(&self, kind: RemedyKind, direction: &Vector3<f64>) -> Result<Option<Remedy>, Error> {
        let mut demands = Vec::with_capacity(3);
        for (travel, length, at_least) in self.travels() {
            let Some(travel) = self.curve.within_reach(travel) else {
                return Ok(None);
            };
            demands.push(Demand {
                span: self.curve.span_at(travel)?,
                length,
                at_least,
            });
        }
        let Some((change, window)) = smallest(&moves(&demands, direction, FARTHEST_MOVE_MM)) else {
            return Ok(None);
        };
        let part = self.curve.with_upper_moved(&(direction * change));
        let budget = TravelBudget::measure(&self.curve.of(&part), &self.lengths, self.ride)?;
        if !self.required.met_by(&budget) {
            return Ok(None);
        }
        let where_to = match (kind, change >= 0.0) {
            (RemedyKind::UpperMountAlongDamper, true) => "along the damper, away from the lower mount",
            (RemedyKind::UpperMountAlongDamper, false) => "along the damper, towards the lower mount",
            (RemedyKind::UpperMountInboard, true) => "inboard",
            (RemedyKind::UpperMountInboard, false) => "outboard",
            (_, true) => "up",
            (_, false) => "down",
        };
        let sentence = Sentence::new("Move the upper mount ")
            .words(where_to)
            .words(" by ")
            .length(change.abs())
            .words(" or more, up to ")
            .length(window.0.abs().max(window.1.abs()))
            .words(".");
        Ok(Some(Remedy {
            kind,
            change,
            window,
            sentence,
        }))
    }

    fn another_damper(&self) -> Result<Option<Remedy>, Error> {
        let mut longest_contact = f64::INFINITY;
        let mut shortest_extended = f64::NEG_INFINITY;
        let (mut lowest, mut highest) = (f64::NEG_INFINITY, f64::INFINITY);
        for (travel, length, at_least) in self.travels() {
            let Some(travel) = self.curve.within_reach(travel) else {
                return Ok(None);
            };
            let here = self.curve.at(travel)?.re;
            if at_least {
                highest = highest.min(here - length);
            } else {
                lowest = lowest.max(here - length);
                shortest_extended = shortest_extended.max(here);
            }
            if length == self.lengths.stop_contact {
                longest_contact = longest_contact.min(here);
            }
        }
        if lowest > highest {
            let stroke = shortest_extended - longest_contact;
            let sentence = Sentence::new("No damper of this stroke serves at any length: it takes at least ")
                .length(stroke)
                .words(" of stroke above the bump stop, at least ")
                .length(shortest_extended)
                .words(" long extended, with the bump stop touched at ")
                .length(longest_contact)
                .words(" or less.");
            let window = (stroke, f64::INFINITY);
            return Ok(Some(Remedy {
                kind: RemedyKind::MoreStroke,
                change: stroke,
                window,
                sentence,
            }));
        }
        let change = 0.0_f64.clamp(lowest, highest);
        let budget = TravelBudget::measure(&self.curve, &self.lengths.longer_by(change), self.ride)?;
        if !self.required.met_by(&budget) {
            return Ok(None);
        }
        let sentence = Sentence::new("Or fit a damper of the same stroke that is ")
            .words(if change < 0.0 { "shorter by " } else { "longer by " })
            .length(change.abs())
            .words(" or more, up to ")
            .length(lowest.abs().max(highest.abs()))
            .words(".");
        let window = (lowest, highest);
        Ok(Some(Remedy {
            kind: RemedyKind::LongerDamper,
            change,
            window,
            sentence,
        }))
    }
}
