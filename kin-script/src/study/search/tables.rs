//! The tables of a search.

use super::answer::Told;
use crate::study::NamedTable;
use crate::table::{Cell, Column, Table};
use crate::units::Measure;

impl Told<'_> {
    pub(super) fn tables(&self) -> Vec<NamedTable> {
        let named = |name, caption: &str, table: Table| NamedTable {
            name,
            caption: caption.to_owned(),
            table,
            is_drawn: false,
        };
        let mut tables = vec![named("targets", "What each target ended at", self.target_table())];
        if !self.asked.question.moves.is_empty() {
            tables.push(named(
                "moves",
                "What moved, as change from the description",
                self.move_table(),
            ));
        }
        if !self.asked.question.keeps.is_empty() {
            tables.push(named(
                "requirements",
                "What each requirement ended at",
                self.keep_table(),
            ));
        }
        if !self.found.front.is_empty() {
            let caption = "Trade-off: deviations from the two targets; neither can be bettered alone";
            tables.push(named("trade_off", caption, self.front_table()));
        }
        tables
    }

    fn move_table(&self) -> Table {
        let question = &self.asked.question;
        let mut columns = vec![text_column(
            "move",
            question.moves.iter().map(|one| one.name.clone()),
        )];
        columns.push(text_column(
            "unit",
            self.asked.moves.iter().map(|words| words.symbol.clone()),
        ));
        columns.push(number_column(
            "stands_at",
            2,
            self.asked.moves.iter().map(|words| words.stands_at),
        ));
        let ends = |low: bool| {
            let pick = move |range: (f64, f64)| if low { range.0 } else { range.1 };
            question
                .moves
                .iter()
                .zip(&self.asked.moves)
                .map(move |(one, words)| Some(pick(one.range) / words.factor))
        };
        columns.push(number_column("from", 2, ends(true)));
        columns.push(number_column("to", 2, ends(false)));
        for (name, candidate) in self
            .variants()
            .into_iter()
            .filter(|(name, _)| *name != "as described")
        {
            let amounts = candidate.moves.iter().zip(&self.asked.moves);
            let name = name.replace(' ', "_");
            columns.push(number_column(
                &name,
                3,
                amounts.map(|(amount, words)| Some(amount / words.factor + 0.0)),
            ));
        }
        Table { columns }
    }

    fn target_table(&self) -> Table {
        let goals = self.asked.question.goals.iter().zip(&self.asked.goals);
        let mut names = Vec::new();
        let mut units = Vec::new();
        let mut bumps = Vec::new();
        let mut targets = Vec::new();
        for (goal, words) in goals {
            for (place, point) in goal.points.iter().enumerate() {
                names.push(goal.name.clone());
                units.push(self.units.symbol(words.measure));
                let bump = words
                    .curve
                    .as_ref()
                    .and_then(|curve| curve.bumps.get(place))
                    .copied();
                bumps.push(bump.map(|bump| self.units.from_core(bump, Measure::LENGTH)));
                targets.push(Some(self.units.from_core(point.target, words.measure)));
            }
        }
        let mut columns = vec![
            text_column("target", names.into_iter()),
            text_column("unit", units.into_iter()),
        ];
        if bumps.iter().any(Option::is_some) {
            let name = format!("bump{}", self.units.suffix(Measure::LENGTH));
            columns.push(number_column(&name, 1, bumps.into_iter()));
        }
        columns.push(number_column("wanted", 3, targets.into_iter()));
        for (name, candidate) in self.variants() {
            let measures = self.asked.goals.iter().zip(&candidate.goals);
            let values = measures.flat_map(|(words, values)| {
                values
                    .iter()
                    .map(|value| Some(self.units.from_core(*value, words.measure)))
            });
            columns.push(number_column(&name.replace(' ', "_"), 3, values));
        }
        Table { columns }
    }

    fn keep_table(&self) -> Table {
        let keeps = || self.asked.question.keeps.iter().zip(&self.asked.keeps);
        let shown =
            |value: Option<f64>, measure: &Measure| value.map(|value| self.units.from_core(value, *measure));
        let mut columns = vec![text_column(
            "requirement",
            keeps().map(|(keep, _)| keep.name.clone()),
        )];
        columns.push(text_column(
            "unit",
            keeps().map(|(_, measure)| self.units.symbol(*measure)),
        ));
        columns.push(number_column(
            "at_least",
            3,
            keeps().map(|(keep, measure)| shown(keep.at_least, measure)),
        ));
        columns.push(number_column(
            "at_most",
            3,
            keeps().map(|(keep, measure)| shown(keep.at_most, measure)),
        ));
        for (name, candidate) in self.variants() {
            let values = candidate.keeps.iter().zip(&self.asked.keeps);
            let values = values.map(|(value, measure)| shown(Some(*value), measure));
            columns.push(number_column(&name.replace(' ', "_"), 3, values));
        }
        columns.retain(|column| column.cells.iter().any(|cell| *cell != Cell::Empty));
        Table { columns }
    }

    fn front_table(&self) -> Table {
        let goals = self.asked.question.goals.iter().zip(&self.asked.goals);
        let mut columns = Vec::new();
        for (place, (goal, words)) in goals.take(2).enumerate() {
            let name = format!("off {}{}", goal.name, self.units.suffix(words.measure));
            let values = self.found.front.iter().map(|point| {
                point
                    .deviations
                    .get(place)
                    .map(|value| self.units.from_core(*value, words.measure))
            });
            columns.push(number_column(&name, 4, values));
        }
        for (place, (one, words)) in self
            .asked
            .question
            .moves
            .iter()
            .zip(&self.asked.moves)
            .enumerate()
        {
            let amounts = self.found.front.iter().map(|point| {
                point
                    .candidate
                    .moves
                    .get(place)
                    .map(|amount| amount / words.factor + 0.0)
            });
            columns.push(number_column(&one.name, 2, amounts));
        }
        Table { columns }
    }
}

/// A column of words.
pub(crate) fn text_column(name: &str, cells: impl Iterator<Item = String>) -> Column {
    Column {
        name: name.to_owned(),
        decimals: 0,
        cells: cells.map(Cell::Text).collect(),
    }
}

/// A column of numbers.
pub(crate) fn number_column(name: &str, decimals: usize, cells: impl Iterator<Item = Option<f64>>) -> Column {
    Column {
        name: name.to_owned(),
        decimals,
        cells: cells.map(Cell::from).collect(),
    }
}
