//! Can the parts be fitted between their mounts at ride height at all, and does bump compress the damper?

use super::check::Check;
use super::finding::{CHECK, failing, settled};
use crate::checks::{DamperLengths, Finding, Sentence, TravelBudget, Verdict};
use crate::{Dimension, Error};

impl Check<'_> {
    /// The findings; none when they can, and when it does.
    pub(super) fn misplaced(
        &self,
        lengths: &DamperLengths,
        budget: &TravelBudget,
    ) -> Result<Vec<Finding>, Error> {
        let mut findings: Vec<Finding> = self
            .cannot_be_fitted(lengths, budget)
            .into_iter()
            .chain(self.works_backwards(budget))
            .collect();
        for (strap, curve) in self.stops.straps.iter().zip(&self.straps) {
            let apart = curve.at(self.ride)?.re;
            if settled(strap.length - apart) < 0.0 {
                let name = &strap.name;
                let statement =
                    Sentence::new(format!("The strap `{name}` is too short for ride height: it is "))
                        .given_length(strap.length)
                        .words(" long, and its mounts are ")
                        .length(apart)
                        .words(" apart there. It would have to be ")
                        .at_least(apart - strap.length, f64::INFINITY)
                        .words(
                            " longer to let the wheel come to ride height. Check its length and its mounts.",
                        );
                findings.push(failing(
                    format!("strap `{name}` at ride height"),
                    (strap.length, apart),
                    Some(0.0),
                    statement,
                ));
            }
        }
        Ok(findings)
    }

    fn cannot_be_fitted(&self, lengths: &DamperLengths, budget: &TravelBudget) -> Option<Finding> {
        let name = &self.name;
        let here = budget.length_at_ride;
        (here > lengths.extended || here < lengths.compressed).then(|| {
            let limit = here.clamp(lengths.compressed, lengths.extended);
            let statement = Sentence::new(format!(
                "The {name} cannot be fitted at ride height: its mounts are "
            ))
            .length(here)
            .words(" apart there, and it reaches from ")
            .given_length(lengths.compressed)
            .words(" to ")
            .given_length(lengths.extended);
            let statement = match self.with_lip_heights_swapped(lengths) {
                Some(swapped) => statement
                    .words(". Are `hub_to_lip` and `hub_to_lip_as_measured` swapped? The other way round the mounts are ")
                    .length(swapped)
                    .words(" apart at ride height, and it can be fitted."),
                None => statement.words(". Check the mounts' unit and signs."),
            };
            let subject = format!("{name}: length at ride height");
            failing(subject, (here, limit), Some(0.0), statement)
        })
    }

    /// The length at ride height with the two heights of the lip swapped (mm), where the damper can then be fitted.
    fn with_lip_heights_swapped(&self, lengths: &DamperLengths) -> Option<f64> {
        let swapped = self.lip_heights_given.then_some(-self.ride)?;
        let length = self.curve.at(self.curve.within_reach(swapped)?).ok()?.re;
        (lengths.compressed..=lengths.extended)
            .contains(&length)
            .then_some(length)
    }

    fn works_backwards(&self, budget: &TravelBudget) -> Option<Finding> {
        let name = &self.name;
        let ratio = budget.motion_ratio_at_ride;
        (ratio <= 0.0).then(|| Finding {
            check: CHECK,
            subject: format!("{name}: which way it works"),
            verdict: Verdict::Fails,
            dimension: Dimension::Ratio,
            value: ratio,
            limit: 0.0,
            margin: -ratio.abs(),
            at_travel: Some(0.0),
            statement: Sentence::new(format!(
                "Bump lengthens the {name} instead of compressing it: motion ratio "
            ))
            .quantity(ratio, Dimension::Ratio)
            .words(" at ride height. Are the upper and the lower mount swapped?"),
            remedies: Vec::new(),
        })
    }
}
