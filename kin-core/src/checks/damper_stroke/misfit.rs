//! The smallest changes that make a damper fit, each verified by running the check again.

use super::allowed::{Demand, moves, smallest};
use super::budget::{DamperLengths, TravelBudget};
use super::crossed_wheels::CrossedWheels;
use crate::Error;
use crate::checks::{Remedy, RemedyKind, Sentence};
use crate::suspension::LengthCurve;
use nalgebra::Vector3;

/// Wheel travel that a damper must allow, counted from ride height (mm, positive in its own direction).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Required {
    /// Bump before the bump stop is touched.
    pub(super) to_stop: f64,
    /// Bump before metal is met.
    pub(super) to_metal: f64,
    /// Droop before topping out.
    pub(super) to_top_out: f64,
}

impl Required {
    fn met_by(&self, budget: &TravelBudget) -> bool {
        // A root is found to 1e-9 mm, and a mount moved by exactly the smallest change sits exactly on its limit.
        let enough = |found: Option<f64>, needed: f64| found.is_none_or(|found| found >= needed - 1e-6);
        enough(budget.bump_to_stop, self.to_stop)
            && enough(budget.bump_to_metal, self.to_metal)
            && enough(budget.bump_to_top_out, self.to_metal)
            && enough(budget.droop_to_top_out, self.to_top_out)
            && enough(budget.droop_to_stop, self.to_top_out)
    }
}

/// Moves of a mount beyond this (mm) are another design, not a remedy.
const FARTHEST_MOVE_MM: f64 = 150.0;
/// Changes smaller than this (mm) change nothing, and windows narrower than this hold nothing that could be made.
const SMALLEST_MM: f64 = 1e-4;
/// A length this near to its limit (mm) is what ends a window.
const AT_LIMIT_MM: f64 = 1e-6;

const TOO_EARLY: &str = "it touches its bump stop too early in bump";
const METAL: &str = "it meets metal too early in bump";
const TOPS_OUT: &str = "it tops out too early in droop";

/// Everything the search for remedies needs to know.
pub(super) struct Misfit<'a> {
    pub(super) curve: LengthCurve<'a>,
    pub(super) lengths: DamperLengths,
    pub(super) ride: f64,
    pub(super) required: Required,
    /// Unit vector that points inboard on this side of the car.
    pub(super) inboard: Vector3<f64>,
    /// Wheels that do not move together.
    pub(super) crossed: Option<&'a CrossedWheels<'a>>,
}

impl Misfit<'_> {
    /// All remedies that were found and verified; the smallest move of the mount first.
    pub(super) fn remedies(&self) -> Result<Vec<Remedy>, Error> {
        let Some(demands) = self.demands()? else {
            return Ok(Vec::new());
        };
        let mut remedies = Vec::new();
        let along = -self.curve.span_at(self.ride)?.normalize();
        for (kind, direction) in [
            (RemedyKind::UpperMountAlongDamper, along),
            (RemedyKind::UpperMountUp, Vector3::z()),
            (RemedyKind::UpperMountInboard, self.inboard),
        ] {
            remedies.extend(self.moved(&demands, kind, &direction)?);
        }
        remedies.sort_by(|a, b| a.change.abs().total_cmp(&b.change.abs()));
        remedies.extend(self.another_damper(&demands)?);
        Ok(remedies)
    }

    /// What the damper's length must keep to; none where the linkage does not reach the travel.
    fn demands(&self) -> Result<Option<Vec<Demand>>, Error> {
        let mut demands = Vec::new();
        for (travel, length, at_least, otherwise) in [
            (
                self.ride + self.required.to_stop,
                self.lengths.stop_contact,
                true,
                TOO_EARLY,
            ),
            (
                self.ride + self.required.to_metal,
                self.lengths.compressed,
                true,
                METAL,
            ),
            (
                self.ride - self.required.to_top_out,
                self.lengths.extended,
                false,
                TOPS_OUT,
            ),
        ] {
            let Some(travel) = self.curve.within_reach(travel) else {
                return Ok(None);
            };
            demands.push(Demand {
                span: self.curve.span_at(travel)?,
                length,
                at_least,
                otherwise,
            });
        }
        if let Some(crossed) = self.crossed {
            demands.extend(crossed.demands()?);
        }
        Ok(Some(demands))
    }

    fn moved(
        &self,
        demands: &[Demand],
        kind: RemedyKind,
        direction: &Vector3<f64>,
    ) -> Result<Option<Remedy>, Error> {
        let Some((change, window)) = smallest(&moves(demands, direction, FARTHEST_MOVE_MM)) else {
            return Ok(None);
        };
        let serves = |change: f64| -> Result<bool, Error> {
            let part = self.curve.with_upper_moved(&(direction * change));
            let budget = TravelBudget::measure(&self.curve.of(&part), &self.lengths, self.ride)?;
            let crossed = self
                .crossed
                .map_or(Ok(true), |crossed| crossed.holds_with(&part, &self.lengths))?;
            Ok(crossed && self.required.met_by(&budget))
        };
        if !worth_making(change, window) || !serves(change)? {
            return Ok(None);
        }
        let where_to = match (kind, change >= 0.0) {
            (RemedyKind::UpperMountAlongDamper, true) => "along the damper, away from the lower mount,",
            (RemedyKind::UpperMountAlongDamper, false) => "along the damper, towards the lower mount,",
            (RemedyKind::UpperMountInboard, true) => "inboard",
            (RemedyKind::UpperMountInboard, false) => "outboard",
            (_, true) => "up",
            (_, false) => "down",
        };
        let far = if change > 0.0 { window.1 } else { window.0 };
        let ended_by = demands
            .iter()
            .find(|demand| demand.left_after(&(direction * far)).abs() < AT_LIMIT_MM);
        let sentence = Sentence::new("Move the upper mount ")
            .words(where_to)
            .words(" by ");
        Ok(Some(Remedy {
            kind,
            change,
            window,
            sentence: bounds(sentence, change, far, ended_by, "farther"),
        }))
    }

    fn another_damper(&self, demands: &[Demand]) -> Result<Option<Remedy>, Error> {
        let mut longest_contact = f64::INFINITY;
        let mut shortest_extended = f64::NEG_INFINITY;
        // How much longer the damper must be at least, and may be at most, and what says so.
        let mut least: Option<(f64, &Demand)> = None;
        let mut most: Option<(f64, &Demand)> = None;
        for demand in demands {
            let here = demand.span.norm();
            let longer = here - demand.length;
            if demand.at_least {
                if most.is_none_or(|(most, _)| longer < most) {
                    most = Some((longer, demand));
                }
            } else {
                shortest_extended = shortest_extended.max(here);
                if least.is_none_or(|(least, _)| longer > least) {
                    least = Some((longer, demand));
                }
            }
            if demand.length == self.lengths.stop_contact {
                longest_contact = longest_contact.min(here);
            }
        }
        let (Some((lowest, for_lowest)), Some((highest, for_highest))) = (least, most) else {
            return Ok(None);
        };
        if lowest > highest {
            let stroke = shortest_extended - longest_contact;
            let sentence = Sentence::new("No damper of this stroke serves at any length: it takes at least ")
                .at_least(stroke, f64::INFINITY)
                .words(" of stroke above the bump stop, at least ")
                .at_least(shortest_extended, f64::INFINITY)
                .words(" long extended, with the bump stop touched at ")
                .at_most(longest_contact, f64::INFINITY)
                .words(" or less.");
            return Ok(Some(Remedy {
                kind: RemedyKind::MoreStroke,
                change: stroke,
                window: (stroke, f64::INFINITY),
                sentence,
            }));
        }
        let window = (lowest, highest);
        let change = 0.0_f64.clamp(lowest, highest);
        let longer = self.lengths.longer_by(change);
        let budget = TravelBudget::measure(&self.curve, &longer, self.ride)?;
        let unmoved = self.curve.with_upper_moved(&Vector3::zeros());
        let crossed = self
            .crossed
            .map_or(Ok(true), |crossed| crossed.holds_with(&unmoved, &longer))?;
        if !worth_making(change, window) || !crossed || !self.required.met_by(&budget) {
            return Ok(None);
        }
        let (way, far, ended_by) = if change > 0.0 {
            ("longer", highest, for_highest)
        } else {
            ("shorter", lowest, for_lowest)
        };
        let sentence = Sentence::new("Or fit a damper of the same stroke that is ")
            .words(way)
            .words(" by ");
        let beyond = if change > 0.0 {
            "longer still"
        } else {
            "shorter still"
        };
        Ok(Some(Remedy {
            kind: RemedyKind::LongerDamper,
            change,
            window,
            sentence: bounds(sentence, change, far, Some(ended_by), beyond),
        }))
    }
}

/// Whether a change changes something, and somebody could make it.
fn worth_making(change: f64, window: (f64, f64)) -> bool {
    change.abs() >= SMALLEST_MM && window.1 - window.0 >= SMALLEST_MM
}

/// The end of a sentence that says by how much: the least, the most, and what sets the most.
fn bounds(
    sentence: Sentence,
    change: f64,
    far: f64,
    ended_by: Option<&Demand>,
    beyond: &'static str,
) -> Sentence {
    let room = (far - change).abs();
    let sentence = sentence.at_least(change.abs(), room);
    match ended_by {
        Some(demand) => sentence
            .words(" or more, but ")
            .at_most(far.abs(), room)
            .words(" at most: ")
            .words(beyond)
            .words(", and ")
            .words(demand.otherwise)
            .words("."),
        // The search ends there, not the window.
        None => sentence.words(" or more."),
    }
}
