//! Which single measurement to take again, in a table and in sentences.

use super::asked::Question;
use super::outcomes::capital;
use crate::fit::{Item, Value};
use crate::study::StudyAnswer;
use crate::study::spoken::{decimals_of_two_digits, percent, unit, with_axis};
use crate::table::{Cell, Column, Table, fixed};
use crate::units::Units;
use kin_core::study::{MeasureAgain, MeasurementRanking, Number};

/// Rows of the table: what comes after them helps little.
const MOST_ROWS: usize = 10;
/// Below this share of what the tape allows it is not the tape that decides: one in two hundred, written as 0 % or 1 %.
const NEVER: f64 = 0.005;

/// The measurements as a person reads them.
pub(super) struct Measurements<'a> {
    pub(super) question: &'a Question,
    pub(super) numbers: &'a [Number],
    pub(super) units: Units,
    pub(super) verified: &'a MeasurementRanking,
}

impl Measurements<'_> {
    /// What is measured, a standard deviation (core units) of it in the model's unit, and that unit.
    fn shown(&self, one: &MeasureAgain) -> (String, Box<dyn Fn(f64) -> f64 + '_>, String) {
        let number = one.place.and_then(|place| self.numbers.get(place));
        let reading = one.reading.and_then(|place| self.question.readings.get(place));
        match (number, reading) {
            (Some(number), _) => {
                let (core, symbol) = unit(number, &self.units);
                (
                    with_axis(&number.name),
                    Box::new(move |value| value / core),
                    symbol,
                )
            }
            (None, Some((asked, measurement))) => {
                let measure = asked.measure;
                (
                    measurement.name.clone(),
                    Box::new(move |value| self.units.from_core(value, measure)),
                    self.units.symbol(measure),
                )
            }
            (None, None) => (String::new(), Box::new(|value| value), String::new()),
        }
    }

    /// Adds the sentences, the table and the values to an answer.
    pub(super) fn tell(&self, answer: &mut StudyAnswer) {
        let sure = percent(self.question.sure);
        let best = self.verified.ranking.first();
        let now = self.verified.sure_now;
        if now < NEVER && self.verified.ranking.iter().all(|one| one.sure_at_best < NEVER) {
            answer.statements.push(
                "The tape does not decide this: it fails as measured, by more than the tape can be wrong. Change the design; \
                 measuring again does not mend it."
                    .to_owned(),
            );
            answer.items.push(self.values());
            return;
        }
        if now >= self.question.sure {
            answer.statements.push(format!(
                "That is as sure as wanted ({sure}): nothing needs to be measured again."
            ));
        } else if let Some(best) = best.filter(|best| best.deviation_needed.is_some()) {
            answer.statements.push(self.enough(best, &sure));
        } else if let Some(best) = best {
            let (name, ..) = self.shown(best);
            answer.statements.push(format!(
                "No single measurement makes it {sure} sure: the one that helps most is the {name}, which, measured \
                 perfectly, makes it {}.{}",
                percent(best.sure_at_best),
                if best.place.is_some() && self.question.readings.is_empty() {
                    " A direct reading may do more than a better tape: name what a bar or a gauge can read under `readings`."
                } else {
                    ""
                }
            ));
        }
        for (place, (_, measurement)) in self.question.readings.iter().enumerate() {
            let found = self
                .verified
                .ranking
                .iter()
                .find(|one| one.reading == Some(place));
            let verified = self.verified.readings_verified.get(place).copied().flatten();
            if let (Some(one), Some(deviation), Some(share)) = (found, measurement.deviation, verified)
                && measurement.value.is_none()
            {
                let (name, shown, symbol) = self.shown(one);
                answer.statements.push(format!(
                    "{} read directly to within +-{} {symbol} (standard deviation {} {symbol}) makes it {} sure; {} of the \
                     variants with the errors that are then left hold.",
                    capital(&name),
                    digits(2.0 * shown(deviation)),
                    digits(shown(deviation)),
                    one.sure_as_given.map(percent).unwrap_or_default(),
                    percent(share),
                ));
            }
        }
        if best.is_some() && now < self.question.sure {
            answer.statements.push(
                "How sure a measurement makes it is said for the numbers as they stand: what is then read may move the result \
                 itself, to either side. Give the reading with its `value` to see where it goes."
                    .to_owned(),
            );
        }
        answer.items.push(self.values());
        if now >= self.question.sure {
            return;
        }
        *answer = std::mem::take(answer).table(
            "measurements",
            format!("What to measure again to be {sure} sure: standard deviation now, and needed"),
            self.table(),
        );
    }

    fn enough(&self, best: &MeasureAgain, sure: &str) -> String {
        let (name, shown, symbol) = self.shown(best);
        let needed = best.deviation_needed.map(&shown).unwrap_or_default();
        let verified = self.verified.verified.map_or_else(String::new, |share| {
            format!(" With that, {} of the variants hold.", percent(share))
        });
        let how = match best.place {
            Some(_) => "measure again the",
            None => "read directly the",
        };
        format!(
            "To be {sure} sure, {how} {name}, to within +-{} {symbol} (standard deviation {} {symbol}).{verified}",
            digits(2.0 * needed),
            digits(needed),
        )
    }

    /// The values that a script reads.
    fn values(&self) -> Item {
        let best = self.verified.ranking.first();
        let mut item = Item::new("").with("sure_now", "", Value::Share(self.verified.sure_now));
        if let Some(best) = best {
            let (name, shown, _) = self.shown(best);
            let key = best
                .place
                .and_then(|place| self.numbers.get(place))
                .map(|number| number.name.clone());
            item = item.text("measure_again", "", key.unwrap_or(name));
            if let Some(needed) = best.deviation_needed {
                item = item.with("deviation_needed", "", Value::Number(shown(needed), 3));
            }
            if let Some(share) = self.verified.verified {
                item = item.with("verified", "", Value::Share(share));
            }
        }
        let readings = self.verified.readings_verified.iter().flatten();
        let readings: Vec<Value> = readings.map(|share| Value::Share(*share)).collect();
        item.with("readings_verified", "", Value::List(readings))
    }

    fn table(&self) -> Table {
        // What is read directly is always shown: it was asked about.
        let ranking = self.verified.ranking.iter().enumerate();
        let rows: Vec<&MeasureAgain> = ranking
            .filter(|(place, one)| *place < MOST_ROWS || one.reading.is_some())
            .map(|(_, one)| one)
            .collect();
        let texts = |name: &str, of: &dyn Fn(&MeasureAgain) -> String| Column {
            name: name.to_owned(),
            decimals: 0,
            cells: rows.iter().map(|row| Cell::Text(of(row))).collect(),
        };
        let numbers = |name: &str, decimals: usize, of: &dyn Fn(&MeasureAgain) -> Option<f64>| Column {
            name: name.to_owned(),
            decimals,
            cells: rows.iter().map(|row| Cell::from(of(row))).collect(),
        };
        let smallest = rows.iter().map(|one| self.shown(one).1(one.deviation_now));
        let decimals = decimals_of_two_digits(smallest.fold(f64::INFINITY, f64::min)).max(2);
        Table {
            columns: vec![
                texts("measurement", &|one| match one.place {
                    Some(_) => self.shown(one).0,
                    None => format!("{} (direct)", self.shown(one).0),
                }),
                texts("unit", &|one| self.shown(one).2),
                numbers("now", decimals, &|one| Some(self.shown(one).1(one.deviation_now))),
                numbers("needed", decimals, &|one| {
                    one.deviation_needed.map(|needed| self.shown(one).1(needed))
                }),
                numbers("sure_at_best_%", 1, &|one| Some(100.0 * one.sure_at_best)),
                numbers("sure_as_given_%", 1, &|one| {
                    one.sure_as_given.map(|share| 100.0 * share)
                }),
            ],
        }
    }
}

/// Two digits that count.
fn digits(value: f64) -> String {
    fixed(value, decimals_of_two_digits(value))
}
