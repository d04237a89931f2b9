//! What a search came to, in sentences.

use super::answer::Told;
use crate::table::fixed;
use kin_core::study::search::{Binding, Bound, Candidate, Move, Side};

/// Ends of starts nearer than this share of each range are the same place.
const SAME_PLACE: f64 = 1e-3;

impl Told<'_> {
    pub(super) fn statements(&self) -> Vec<String> {
        let mut all = Vec::new();
        let Some(best) = &self.found.best else {
            all.push(self.nothing_built());
            return all;
        };
        if best.holds() {
            all.push(self.found_words(best));
            all.extend(self.goal_words());
            all.extend(
                self.found
                    .binding
                    .iter()
                    .filter_map(|binding| self.price_words(best, binding)),
            );
        } else {
            all.push(self.miss_words(best));
        }
        if self.asked.question.front.is_some() && best.holds() && self.found.front.len() < 2 {
            all.push("There is no trade-off: one place is the best for both targets.".to_owned());
        }
        all.extend(self.start_words(best));
        all
    }

    fn nothing_built(&self) -> String {
        let reason = self
            .found
            .starts
            .iter()
            .find_map(|start| start.end.as_ref().err());
        match reason {
            Some(reason) => format!("No start could be built. The first said: {reason}."),
            None => "The search was stopped before its first start ended.".to_owned(),
        }
    }

    fn found_words(&self, best: &Candidate) -> String {
        match &self.found.stepped {
            Some(stepped) if stepped.holds() => format!(
                "Found in real steps: {}. Without steps it would be {}.",
                self.place_words(stepped),
                self.place_words(best)
            ),
            Some(stepped) => format!(
                "Found: {}. But no whole number of steps keeps every requirement; the nearest miss in steps is {}.",
                self.place_words(best),
                self.place_words(stepped)
            ),
            None => format!("Found: {}.", self.place_words(best)),
        }
    }

    /// Where a variant is, in words.
    fn place_words(&self, candidate: &Candidate) -> String {
        let moves = self
            .asked
            .question
            .moves
            .iter()
            .zip(&self.asked.moves)
            .zip(&candidate.moves);
        let moves = moves.map(|((one, words), amount)| {
            let sign = if *amount >= 0.0 { "+" } else { "" };
            let mut text = format!(
                "{} {sign}{}",
                one.name,
                self.amount(*amount, words.factor, &words.symbol)
            );
            let steps = one
                .step
                .map(|step| amount / step)
                .filter(|steps| (steps - steps.round()).abs() < 1e-9);
            if let Some(steps) = steps {
                let count = steps.abs().round();
                let noun = if count == 1.0 { "step" } else { "steps" };
                text = format!("{text} ({count} {noun})");
            }
            text
        });
        let holes = self.asked.question.holes.iter().zip(&candidate.holes);
        let holes =
            holes.filter_map(|(list, hole)| Some(format!("{}: {}", list.name, list.holes.get(*hole)?.name)));
        let all: Vec<String> = moves.chain(holes).collect();
        all.join(", ")
    }

    fn amount(&self, amount: f64, factor: f64, symbol: &str) -> String {
        let decimals = self.units.decimals(kin_core::Dimension::FineLength);
        format!("{} {symbol}", fixed(amount / factor, decimals))
            .trim_end()
            .to_owned()
    }

    /// What each target ended at.
    fn goal_words(&self) -> Vec<String> {
        let goals = self
            .asked
            .question
            .goals
            .iter()
            .zip(&self.asked.goals)
            .enumerate();
        let told = goals.map(|(place, (goal, words))| {
            let several = goal.points.len() > 1;
            let ends = self.variants().into_iter().map(|(name, candidate)| {
                let value = if several {
                    candidate.deviation(&self.asked.question, place)
                } else {
                    candidate
                        .goals
                        .get(place)
                        .and_then(|values| values.first())
                        .copied()
                        .unwrap_or(f64::NAN)
                };
                format!("{} {name}", self.shown(value, words.measure))
            });
            let ends = ends.collect::<Vec<_>>().join(", ");
            if several {
                format!("{}: off its targets (root mean square) by {ends}.", goal.name)
            } else {
                let target = goal.points.first().map_or(f64::NAN, |point| point.target);
                format!(
                    "{}: {ends}; wanted {}.",
                    goal.name,
                    self.shown(target, words.measure)
                )
            }
        });
        told.collect()
    }

    /// The goal that a moved bound brings most, and by how much (core units).
    fn gain(&self, best: &Candidate, relaxed: &Candidate) -> Option<(usize, f64)> {
        let question = &self.asked.question;
        let goals = 0..question.goals.len();
        let gains = goals.map(|goal| {
            (
                goal,
                best.deviation(question, goal) - relaxed.deviation(question, goal),
            )
        });
        let weighed = |(goal, gain): &(usize, f64)| {
            question
                .goals
                .get(*goal)
                .map_or(0.0, |asked| gain * asked.weight / asked.unit)
        };
        gains.max_by(|one, other| weighed(one).total_cmp(&weighed(other)))
    }

    fn price_words(&self, best: &Candidate, binding: &Binding) -> Option<String> {
        let (place, measure, more) = match binding.bound {
            Bound::Move(place, side) => {
                let one = self.asked.question.moves.get(place)?;
                let words = self.asked.moves.get(place)?;
                let end = if side == Side::Low {
                    one.range.0
                } else {
                    one.range.1
                };
                let end = self.amount(end, words.factor, &words.symbol);
                let more = format!(
                    "{} more room",
                    self.amount(binding.moved, words.factor, &words.symbol)
                );
                (
                    format!("{} is at the end of its range ({end})", one.name),
                    None,
                    more,
                )
            }
            Bound::Keep(place, side) => {
                let keep = self.asked.question.keeps.get(place)?;
                let measure = *self.asked.keeps.get(place)?;
                let (limit, way) = match side {
                    Side::Low => (keep.at_least?, "less"),
                    Side::High => (keep.at_most?, "more"),
                };
                let more = format!("{} {way}", self.shown(binding.moved, measure));
                let limit = self.shown(limit, measure);
                (
                    format!("{} is at its limit of {limit}", keep.name),
                    Some(measure),
                    more,
                )
            }
        };
        let _ = measure;
        let (goal, gain) = self.gain(best, &binding.relaxed)?;
        if !binding.costs || gain <= 0.0 {
            return Some(format!("{place}, but {more} would bring nothing."));
        }
        let name = &self.asked.question.goals.get(goal)?.name;
        let gain = self.shown(gain, self.asked.goals.get(goal)?.measure);
        Some(format!(
            "{place}: {more} would bring {name} nearer to its target by {gain}."
        ))
    }

    fn miss_words(&self, nearest: &Candidate) -> String {
        let missed = self
            .asked
            .question
            .keeps
            .iter()
            .zip(&nearest.keeps)
            .zip(&self.asked.keeps);
        let missed = missed.filter_map(|((keep, value), measure)| {
            let (limit, words) = match (keep.at_least, keep.at_most) {
                (Some(limit), _) if *value < limit => (limit, "at least"),
                (_, Some(limit)) if *value > limit => (limit, "at most"),
                _ => return None,
            };
            let (value, limit) = (self.shown(*value, *measure), self.shown(limit, *measure));
            Some(format!("{} {value} where {words} {limit} is required", keep.name))
        });
        format!(
            "No place in these ranges keeps every requirement. The nearest miss is at {}: {}.",
            self.place_words(nearest),
            missed.collect::<Vec<_>>().join("; ")
        )
    }

    /// How far the starts agree.
    fn start_words(&self, best: &Candidate) -> Option<String> {
        let all = self.found.starts.len();
        if all < 2 {
            return None;
        }
        let same = |candidate: &Candidate| {
            let moves = self
                .asked
                .question
                .moves
                .iter()
                .zip(&candidate.moves)
                .zip(&best.moves);
            let near = |((one, here), there): ((&Move, &f64), &f64)| {
                (here - there).abs() <= SAME_PLACE * (one.range.1 - one.range.0)
            };
            candidate.holes == best.holes && moves.into_iter().all(near)
        };
        let ends = || {
            self.found
                .starts
                .iter()
                .filter_map(|start| start.end.as_ref().ok())
        };
        let alike = ends().filter(|end| same(end)).count();
        let failed = all - ends().count();
        let failed = if failed > 0 {
            format!("; {failed} could not be built")
        } else {
            String::new()
        };
        Some(format!(
            "{alike} of {all} starts (seed {}) came to this place{failed}. {} variants were built.",
            self.asked.question.seed, self.found.variants
        ))
    }
}
