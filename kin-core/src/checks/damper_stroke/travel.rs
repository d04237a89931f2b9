//! Is there as much travel as wanted before the damper reaches one of its lengths?

use super::check::Check;
use super::finding::{CHECK, failing, settled, way};
use crate::Dimension;
use crate::checks::{Finding, Sentence, TravelBudget, Verdict};

/// One end of the stroke, and the travel to it.
pub(super) struct StrokeEnd {
    /// What is compared, in a few words.
    pub(super) subject: &'static str,
    /// What the damper does there.
    pub(super) verb: &'static str,
    /// Its length there (mm).
    pub(super) length: f64,
    /// Travel to it, counted from ride height (mm, positive in its own direction); none where it is never met.
    pub(super) found: Option<f64>,
    /// Travel wanted (mm), if any is.
    pub(super) wanted: Option<f64>,
    /// 1 in bump, -1 in droop.
    pub(super) sign: f64,
}

impl Check<'_> {
    /// The finding about one end of the stroke.
    pub(super) fn travel_finding(&self, end: &StrokeEnd) -> Finding {
        let name = &self.name;
        let wanted = end.wanted.unwrap_or(0.0);
        let found = end.found.unwrap_or_else(|| self.farthest(end.sign));
        let margin = settled(found - wanted);
        let verdict = match (end.wanted, margin < 0.0) {
            (None, false) => Verdict::NotAsked,
            _ => Verdict::from_margin(margin, self.asked.margin),
        };
        Finding {
            check: CHECK,
            subject: format!("{name}: {}", end.subject),
            verdict,
            dimension: Dimension::Length,
            value: found,
            limit: wanted,
            margin,
            at_travel: Some(found * end.sign),
            statement: self.travel_statement(end, found, margin),
            remedies: Vec::new(),
        }
    }

    fn travel_statement(&self, end: &StrokeEnd, found: f64, margin: f64) -> Sentence {
        let (name, verb, way) = (&self.name, end.verb, way(end.sign));
        let start = if found < 0.0 {
            past(
                Sentence::new(format!(
                    "At ride height the {name} is already past where it {verb}: its "
                ))
                .length(end.length)
                .words(" between mounts lie "),
                found,
                end.sign,
            )
        } else if end.found.is_none() {
            Sentence::new(format!("The {name} {verb} nowhere in the "))
                .length(found)
                .words(format!(" of {way} from ride height "))
                .words(if self.linkage_ends(end.sign) {
                    "that the linkage goes"
                } else {
                    "that were looked at; the linkage itself goes farther"
                })
        } else {
            Sentence::new(format!("The {name} {verb} at "))
                .length(found)
                .words(format!(" of {way} from ride height, "))
                .length(end.length)
                .words(" between mounts")
        };
        match end.wanted {
            Some(wanted) => {
                let start = start
                    .words("; ")
                    .length(wanted)
                    .words(format!(" of {way} are wanted"));
                if found < 0.0 {
                    start.words(".")
                } else if margin < 0.0 {
                    start.words(": ").length(-margin).words(" too little.")
                } else {
                    start.words(": ").length(margin).words(" to spare.")
                }
            }
            None if found < 0.0 => start.words("."),
            None => start.words(format!(
                ". How much {way} you need was not said, so nothing is said of fit: write it as `{way}` under `wanted`."
            )),
        }
    }

    /// Does the damper's length turn round within the wanted travel, so that it meets the other end of its stroke?
    /// Silent when not.
    pub(super) fn turned_round(&self, budget: &TravelBudget) -> Vec<Finding> {
        let bump_stop = if self.damper.bump_stop > 0.0 {
            "touches its bump stop"
        } else {
            "meets metal"
        };
        let cases = [
            (
                budget.bump_to_top_out,
                self.asked.least_bump(),
                1.0,
                "tops out",
                "longer",
            ),
            (
                budget.droop_to_stop,
                self.asked.least_droop(),
                -1.0,
                bump_stop,
                "shorter",
            ),
        ];
        let found = cases.into_iter().filter_map(|(found, wanted, sign, verb, becomes)| {
            let found = found.filter(|found| settled(found - wanted) < 0.0)?;
            let (name, way) = (&self.name, way(sign));
            let statement = Sentence::new(format!("The {name} {verb} at "))
                .length(found)
                .words(format!(" of {way} from ride height, where "))
                .length(wanted)
                .words(format!(
                    " are wanted: on the way its length turns round, and more {way} makes it {becomes} again. Move a mount \
                     so that all of the travel works it one way."
                ));
            let subject = format!("{name}: its length turns round in {way}");
            Some(failing(subject, (found, wanted), Some(found * sign), statement))
        });
        found.collect()
    }

    /// Whether the linkage itself ends what can be looked at in one direction.
    pub(super) fn linkage_ends(&self, sign: f64) -> bool {
        let reach = self.curve.reach();
        let limit = if sign > 0.0 { reach.highest } else { reach.lowest };
        // What is looked at ends a little short of the linkage's own end.
        limit.is_some_and(|limit| (limit - self.ride) * sign - self.farthest(sign) < 2.0)
    }

    /// How far the linkage goes in one direction from ride height (mm), or is looked at.
    pub(super) fn farthest(&self, sign: f64) -> f64 {
        let (lowest, highest) = self.curve.searchable();
        if sign > 0.0 {
            highest - self.ride
        } else {
            self.ride - lowest
        }
    }
}

/// Says where a limit lies that is passed before ride height (mm, negative).
pub(super) fn past(sentence: Sentence, found: f64, sign: f64) -> Sentence {
    sentence.length(-found).words(if sign > 0.0 {
        " of wheel travel below ride height"
    } else {
        " of wheel travel above ride height"
    })
}
