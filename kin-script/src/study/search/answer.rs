//! What a search came to.

use super::asked::AskedSearch;
use super::pictures;
use crate::fit::{Entry, Item, Value};
use crate::model::Model;
use crate::study::StudyAnswer;
use crate::study::changes::changed_model;
use crate::table::fixed;
use crate::units::{Measure, Units};
use kin_core::study::Subject;
use kin_core::study::search::{Candidate, SearchAnswer};

/// A search with its question, for writing.
pub(super) struct Told<'a> {
    pub(super) units: Units,
    pub(super) asked: &'a AskedSearch,
    pub(super) found: &'a SearchAnswer,
}

/// The answer.
pub(super) fn answer(
    model: &Model,
    subject: &Subject,
    asked: &AskedSearch,
    found: &SearchAnswer,
) -> StudyAnswer {
    let told = Told {
        units: model.units,
        asked,
        found,
    };
    let mut answer = StudyAnswer::new("search", format!("Search: {}", model.title), model.units);
    answer.statements = told.statements();
    answer.items = told.items();
    answer.tables = told.tables();
    answer.pictures = pictures::pictures(&told, model, subject);
    if found.stopped {
        answer.stopped = Some(format!(
            "after {} starts; what follows is the best of these",
            found.starts.len()
        ));
    }
    let named = [("model", told.chosen()), ("model_anywhere", found.best.as_ref())];
    for (name, candidate) in named {
        if let Some(candidate) = candidate {
            answer
                .models
                .push((name, changed_model(model, &told.changes(candidate))));
        }
    }
    answer
}

impl Told<'_> {
    /// The variant to build: the one in real steps, where there are steps.
    pub(super) fn chosen(&self) -> Option<&Candidate> {
        self.found.stepped.as_ref().or(self.found.best.as_ref())
    }

    /// Changes of a variant by place.
    pub(super) fn changes(&self, candidate: &Candidate) -> Vec<(usize, f64)> {
        let moves = self.asked.question.moves.iter().zip(&candidate.moves);
        let moved = moves
            .flat_map(|(one, amount)| one.along.iter().map(move |(place, rate)| (*place, rate * amount)));
        let holes = self.asked.question.holes.iter().zip(&candidate.holes);
        let holes = holes
            .filter_map(|(list, hole)| list.holes.get(*hole))
            .flat_map(|hole| hole.changes.clone());
        moved.chain(holes).collect()
    }

    /// The variants that are shown beside each other, with their names.
    pub(super) fn variants(&self) -> Vec<(&'static str, &Candidate)> {
        let best = if self.found.stepped.is_some() {
            "anywhere"
        } else {
            "found"
        };
        let all = [
            ("as described", self.found.as_is.as_ref()),
            (best, self.found.best.as_ref()),
            ("in steps", self.found.stepped.as_ref()),
        ];
        all.into_iter()
            .filter_map(|(name, one)| Some((name, one?)))
            .collect()
    }

    pub(super) fn shown(&self, value: f64, measure: Measure) -> String {
        let number = fixed(
            self.units.from_core(value, measure),
            self.units.decimals_of(measure) + 1,
        );
        format!("{number} {}", self.units.symbol(measure))
            .trim_end()
            .to_owned()
    }

    fn items(&self) -> Vec<Item> {
        let entry = |key, label, value| Entry { key, label, value };
        let holds = self.chosen().is_some_and(Candidate::holds);
        let mut items = vec![Item {
            name: String::new(),
            entries: vec![
                entry("holds", "", Value::Truth(holds)),
                entry(
                    "variants",
                    "",
                    Value::Count(self.found.variants.try_into().unwrap_or(i64::MAX)),
                ),
                entry(
                    "seed",
                    "",
                    Value::Count(self.asked.question.seed.try_into().unwrap_or(i64::MAX)),
                ),
            ],
            tables: Vec::new(),
        }];
        let Some(chosen) = self.chosen() else { return items };
        let decimals = 3;
        for ((place, one), words) in self
            .asked
            .question
            .moves
            .iter()
            .enumerate()
            .zip(&self.asked.moves)
        {
            let of = |candidate: &Candidate| {
                candidate
                    .moves
                    .get(place)
                    .map_or(f64::NAN, |amount| amount / words.factor + 0.0)
            };
            let mut entries = vec![entry("change", "", Value::Number(of(chosen), decimals))];
            if let Some(best) = &self.found.best {
                entries.push(entry("change_anywhere", "", Value::Number(of(best), decimals)));
            }
            items.push(Item {
                name: one.name.clone(),
                entries,
                tables: Vec::new(),
            });
        }
        for ((place, goal), words) in self
            .asked
            .question
            .goals
            .iter()
            .enumerate()
            .zip(&self.asked.goals)
        {
            let of = |candidate: &Candidate| candidate.deviation(&self.asked.question, place);
            let quantity = |value: f64| Value::Number(self.units.from_core(value, words.measure), 4);
            let mut entries = vec![entry("deviation", "", quantity(of(chosen)))];
            if let Some(as_is) = &self.found.as_is {
                entries.push(entry("deviation_as_described", "", quantity(of(as_is))));
            }
            items.push(Item {
                name: goal.name.clone(),
                entries,
                tables: Vec::new(),
            });
        }
        for (list, hole) in self.asked.question.holes.iter().zip(&chosen.holes) {
            let name = list
                .holes
                .get(*hole)
                .map_or_else(String::new, |hole| hole.name.clone());
            items.push(Item {
                name: list.name.clone(),
                entries: vec![entry("hole", "", Value::Text(name))],
                tables: Vec::new(),
            });
        }
        items
    }
}
