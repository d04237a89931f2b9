//! What stops the wheel besides the damper.

use super::check::Check;
use super::finding::{CHECK, failing, settled, way};
use super::stopper::{self, Stopper};
use super::travel::past;
use crate::checks::{Finding, Sentence, Verdict};
use crate::{Dimension, Error};

/// What can stop the wheel, each with its travel from ride height (mm, positive in its own direction).
pub(super) type StopList = Vec<(Stopper, Option<f64>)>;

impl Check<'_> {
    /// Everything but the damper that stops the wheel.
    pub(super) fn own_stops(&self, bump: bool) -> Result<StopList, Error> {
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

    /// Does a stop that the user gave act before the wanted travel? Silent when not.
    pub(super) fn stopped_early(&self, stops: &StopList, wanted: f64, sign: f64) -> Option<Finding> {
        let (stopper, at) = stopper::first(given_stops(stops));
        let found = at.filter(|travel| settled(travel - wanted) < 0.0)?;
        let way = way(sign);
        let statement = Sentence::new(format!("In {way}, {stopper} acts at "))
            .length(found)
            .words(" from ride height, but ")
            .length(wanted)
            .words(" are wanted: no damper gives more. Move the stop, or want less.");
        let subject = format!("wanted {way} and the stops");
        Some(failing(subject, (found, wanted), Some(found * sign), statement))
    }

    /// Does the suspension's own stop act before the damper does?
    ///
    /// * `damper`: what the damper does at its end, its length there (mm), and the travel to it if it is met
    pub(super) fn stop_finding(
        &self,
        stopper: &Stopper,
        stop_travel: f64,
        damper: (&str, f64, Option<f64>),
        sign: f64,
    ) -> Finding {
        let (verb, length, damper_travel) = damper;
        let way = way(sign);
        let found = damper_travel.unwrap_or_else(|| self.farthest(sign));
        let margin = settled(found - stop_travel);
        let name = &self.name;
        let verdict = Verdict::from_margin(margin, self.asked.margin);
        let start = Sentence::new(format!("In {way}, {stopper} acts at ")).length(stop_travel);
        let statement = match (verdict, damper_travel) {
            (Verdict::Fails, Some(_)) => {
                let start = start.words(format!(", but the {name} {verb} "));
                let start = if found < 0.0 {
                    past(start, found, sign)
                } else {
                    start.words("at ").length(found)
                };
                start
                    .words(", ")
                    .length(length)
                    .words(" between mounts: the damper would stop the suspension.")
            }
            (Verdict::Fails, None) if !self.linkage_ends(sign) => start
                .words("; the travel looked at ends at ")
                .length(found)
                .words(format!(", and the {name} {verb} nowhere in it.")),
            (Verdict::Fails, None) => start
                .words(", but the linkage itself ends at ")
                .length(found)
                .words(": that stop is never met."),
            (_, Some(_)) => start
                .words(format!(", before the {name} {verb} at "))
                .length(found)
                .words("."),
            (_, None) if !self.linkage_ends(sign) => start
                .words(format!("; the {name} {verb} nowhere in the "))
                .length(found)
                .words(format!(" of {way} from ride height that were looked at.")),
            (_, None) => start.words(format!("; the {name} {verb} nowhere within the linkage's reach.")),
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
    pub(super) fn linkage_finding(&self, stops: &StopList, wanted: f64, sign: f64) -> Option<Finding> {
        let limit = stops
            .iter()
            .find(|(stopper, _)| *stopper == Stopper::Linkage)?
            .1?;
        let way = way(sign);
        (limit < wanted).then(|| {
            let statement = Sentence::new("The linkage itself ends at ")
                .length(limit)
                .words(format!(" of {way} from ride height; "))
                .length(wanted)
                .words(format!(" are wanted, and no damper gives more {way} than "))
                .at_most(self.farthest(sign), f64::INFINITY)
                .words(
                    ". Want no more than that, to be told what would mend the rest; or check the pickups of the arms.",
                );
            let subject = format!("reach of the linkage in {way}");
            failing(subject, (limit, wanted), Some(limit * sign), statement)
        })
    }
}

/// The stops that the user gave, without the linkage's own end.
pub(super) fn given_stops(stops: &StopList) -> impl Iterator<Item = (Stopper, Option<f64>)> + '_ {
    stops
        .iter()
        .filter(|(stopper, _)| *stopper != Stopper::Linkage)
        .cloned()
}
