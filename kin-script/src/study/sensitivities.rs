//! What moves a result, and by how much: a sorted table, a sentence and a bar chart.

use super::spoken::{part, unit, way, with_axis};
use super::{AskedOutcome, Source, StudyAnswer, StudyPicture, subject};
use crate::arguments;
use crate::fit::{Item, Value};
use crate::host::ScriptError;
use crate::model::Model;
use crate::sheet::bars::{Bar, BarChart};
use crate::table::{Cell, Column, Table, fixed};
use crate::units::Measure;
use crate::vocabulary::core_error;
use kin_core::study::{Number, Sensitivity};
use rhai::{Dynamic, Map};
use serde::Deserialize;

/// Bars that one picture shows: what comes after them matters little.
const MOST_BARS: usize = 15;
/// Digits of a change beyond the first that is not zero.
const MORE_DIGITS: i32 = 2;

/// The keys of the question besides the outcome.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Keys {
    numbers: Option<Vec<String>>,
    step: Option<f64>,
    per: Option<f64>,
}

/// Runs the study on a question in the model's unit.
///
/// # Errors
/// Keys and names that are unknown, a function as the outcome, and an outcome that the model does not have.
pub fn sensitivities(model: &Model, mut question: Map) -> Result<StudyAnswer, ScriptError> {
    let units = model.units;
    let of = question.remove("of").ok_or_else(|| {
        ScriptError::new("the sensitivities: the key `of` is missing: the outcome asked about")
            .with_help("such as of: \"bump_steer\" or of: #{ curve: \"toe\", from: -50, to: 50 }")
            .with_key("of")
    })?;
    let keys: Keys = arguments::read(Dynamic::from_map(question), "the sensitivities")?;
    let asked = AskedOutcome::read(of, model.layout() == "live_axle", &units)?;
    let Source::Core(outcome) = &asked.source else {
        return Err(ScriptError::new("a function has no exact derivatives").with_key("of"));
    };
    let subject = subject(model);
    let places = match &keys.numbers {
        None => subject.coordinates(),
        Some(names) => {
            let mut places = Vec::new();
            for name in names {
                let found = subject
                    .places(name)
                    .map_err(|error| ScriptError::new(error.to_string()).with_key(name.as_str()))?;
                places.extend(found);
            }
            places
        }
    };
    let step = keys.step.unwrap_or(1.0);
    if !(step.is_finite() && step > 0.0) {
        return Err(
            ScriptError::new(format!("the step is {step}: give a length above zero")).with_key("step"),
        );
    }
    let per = keys.per.unwrap_or(1.0);
    if !(per.is_finite() && per > 0.0) {
        let error = ScriptError::new(format!("`per` is {per}: give a travel above zero"));
        return Err(error.with_key("per"));
    }
    if keys.per.is_some() && !asked.measure.per_travel {
        return Err(ScriptError::new(format!(
            "`per` is for rates per travel, and {} is none",
            asked.name
        ))
        .with_key("per"));
    }
    let found = outcome
        .sensitivities(&subject, &places)
        .map_err(|error| core_error(&error, &units))?;
    let value = subject
        .build()
        .and_then(|built| outcome.value(&built))
        .map_err(|error| core_error(&error, &units))?;
    let numbers = subject.numbers();
    let table = Sorted {
        model,
        asked: &asked,
        step,
        per,
        rows: found
            .iter()
            .filter_map(|own| Some((own, numbers.get(own.place)?)))
            .collect(),
    };
    Ok(table.answer(value))
}

/// Sensitivities with their numbers, the largest first.
struct Sorted<'a> {
    model: &'a Model,
    asked: &'a AskedOutcome,
    step: f64,
    /// Travel that a rate is told per, in the model's unit.
    per: f64,
    rows: Vec<(&'a Sensitivity, &'a Number)>,
}

impl Sorted<'_> {
    /// The change of the outcome for one step of a number, in the model's units.
    fn change(&self, (own, number): &(&Sensitivity, &Number)) -> f64 {
        let (core, _) = unit(number, &self.model.units);
        let change = own.rate * core * self.step;
        self.per * self.model.units.from_core(change, self.asked.measure)
    }

    /// Decimals that show the largest change with three digits.
    fn decimals(&self) -> usize {
        let largest = self.rows.first().map_or(1.0, |row| self.change(row).abs());
        let first = if largest > 0.0 {
            -largest.log10().floor() as i32
        } else {
            0
        };
        usize::try_from(first + MORE_DIGITS).unwrap_or(0).min(9)
    }

    fn outcome_unit(&self) -> String {
        let symbol = self.model.units.symbol(self.asked.measure);
        match symbol.rsplit_once('/') {
            Some((own, travel)) if self.per != 1.0 => format!("{own}/{} {travel}", plain(self.per)),
            _ => symbol,
        }
    }

    /// The name of the column of changes, with its unit.
    fn column(&self) -> String {
        let suffix = self.model.units.suffix(self.asked.measure);
        let per = format!("_per_{}_", plain(self.per).replace('.', "_"));
        match suffix.rsplit_once("_per_") {
            Some((own, travel)) if self.per != 1.0 => format!("change{own}{per}{travel}"),
            _ => format!("change{suffix}"),
        }
    }

    fn signed(&self, row: &(&Sensitivity, &Number)) -> String {
        let text = fixed(self.change(row), self.decimals());
        if text.starts_with('-') || text.chars().all(|digit| "0.".contains(digit)) {
            text
        } else {
            format!("+{text}")
        }
    }

    fn answer(&self, value: f64) -> StudyAnswer {
        let units = self.model.units;
        let title = format!("What moves {}: {}", self.asked.name, self.model.title);
        let mut answer = StudyAnswer::new("sensitivities", title, units);
        if let Some(statement) = self.statement() {
            answer = answer.says(statement);
        }
        let measure = self.asked.measure;
        let as_measured = if measure.per_travel {
            Value::PerTravel(value, measure.dimension)
        } else {
            Value::Quantity(value, measure.dimension)
        };
        let shown = self.per * units.from_core(value, measure);
        let words = format!("{} {}", fixed(shown, self.decimals()), self.outcome_unit());
        let own =
            Item::new("")
                .with("value", "", as_measured)
                .text("as_measured", "as measured", words.trim_end());
        answer
            .items
            .push(own.with("step", "", Value::Number(self.step, 2)));
        answer = answer.table("sensitivities", self.caption(), self.table());
        if let Some(table) = answer.tables.last_mut() {
            table.is_drawn = true;
        }
        answer.pictures.push(("bars", StudyPicture::Bars(self.chart())));
        answer
    }

    fn statement(&self) -> Option<String> {
        let row = self.rows.first()?;
        let (_, number) = row;
        let (_, symbol) = unit(number, &self.model.units);
        let unit = self.outcome_unit();
        Some(format!(
            "{} {symbol} {} at the {}: {}{}{unit} of {}. Nothing else asked about moves it as much.",
            plain(self.step),
            way(number, 1.0),
            part(&number.name),
            self.signed(row),
            if unit.is_empty() { "" } else { " " },
            self.asked.name,
        ))
    }

    fn caption(&self) -> String {
        format!(
            "Change of {} for {} more of each number; forward, left and up are more",
            self.asked.name,
            plain(self.step)
        )
    }

    fn table(&self) -> Table {
        let decimals = self.decimals();
        let texts = |name: &str, of: &dyn Fn(&Number) -> String| Column {
            name: name.to_owned(),
            decimals: 0,
            cells: self
                .rows
                .iter()
                .map(|(_, number)| Cell::Text(of(number)))
                .collect(),
        };
        let change = Column {
            name: self.column(),
            decimals,
            cells: self
                .rows
                .iter()
                .map(|row| Cell::Number(self.change(row)))
                .collect(),
        };
        let step = |number: &Number| format!("{} {}", plain(self.step), unit(number, &self.model.units).1);
        Table {
            columns: vec![
                texts("number", &|number| number.name.clone()),
                texts("more_by", &step),
                change,
            ],
        }
    }

    fn chart(&self) -> BarChart {
        let shown = self.rows.iter().take(MOST_BARS);
        let bars = shown.map(|row| Bar {
            label: with_axis(&row.1.name),
            value: self.change(row),
            text: self.signed(row),
        });
        let more = self.rows.len().saturating_sub(MOST_BARS);
        let lengths = self.model.units.symbol(Measure::LENGTH);
        let left_out = match more {
            0 => String::new(),
            more => format!("; the {more} that move it less are left out"),
        };
        BarChart {
            title: format!("What moves {}", self.asked.name),
            subtitle: Some(format!("{}{left_out}", self.model.title)),
            name: format!("Change for {} {lengths} more", plain(self.step)),
            axis: self.outcome_unit(),
            bars: bars.collect(),
            ..BarChart::default()
        }
    }
}

/// A number with as many decimals as it needs.
fn plain(number: f64) -> String {
    let text = fixed(number, 3);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
