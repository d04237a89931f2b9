//! Words for choosing among combinations, with every check made of each.

use super::described::ScriptModel;
use super::study::{ScriptStudy, plain_map};
use crate::explain::{suggest, value_words};
use crate::host::{ScriptError, Session, StudyProgress, Word, Workers, finite};
use crate::study::{
    AskedOutcome, Judged, Options, Questions, Row, StudyAnswer, check_grid, choices_answer, grid_answer,
    outcome_list,
};
use kin_core::study::Progress;
use rhai::{Dynamic, Engine, EvalAltResult, FnPtr, Map, NativeCallContext};

pub(super) const NAMES: &[&str] = &["choices", "grid"];

type Answer<T> = Result<T, Box<EvalAltResult>>;

const CHOICES: &str = "Every combination of listed options, each with all checks, ranked by its worst margin; \
    the table says why each loser loses. Rows do not count for the exit code.\n\n\
    `corner.choices(#{ options: #{ \"coilover.upper_mount.z\": [480, 492, 504], \"spring.rate\": [88, 96] }, \
    fit: #{ wanted: #{ bump: 65, droop: 50 } } })`\n\n\
    Keys: `options` (a map from the keys that lead to a place in the model to lists of values; an alternative may be a map with \
    `name` and `value`, or with `name` and `set`, a map of keys and values changed together; to keep an order of \
    your own, a list of maps with `name` and `of`, and `unit` for numbers that lead to no place in the model), `fit` (the map of `check_fit`), `outcomes` (as for `outcome`; one with `at_least` or \
    `at_most` counts in the ranking), `variant` (a function that takes a copy of the model and a map with what was chosen by option, \
    and gives the changed model; then options may have any name and values).\n\n\
    Can be read: `best` (in words), `best_margin`, `holding`, `unjudged` and `variants` (how many), the tables `ranking` and \
    `outcomes`, `statements`, `stopped`. Ctrl-C ends the study and keeps what is done.";

const GRID: &str = "A grid over one or two numbers, each place with all checks: curves over one number, contour maps over two, \
    with the region where every limit holds marked. Rows do not count for the exit code.\n\n\
    `rig.grid(#{ over: #{ \"coilover.lower_mount.y\": steps(140, 260, 10), \"coilover.upper_mount.y\": steps(120, 200, 10) }, \
    outcomes: \"motion_ratio\" })`\n\n\
    Keys: `over` (one or two lists of rising numbers, each under the keys that lead to it, as `options` of \
    `choices`; the first goes across), `outcomes`, `fit`, `variant` (as for `choices`).\n\n\
    Can be read: `variants`, `holding`, the table `grid`, `statements`, `stopped`. Pictures: `curves` over one number; over two `map`, and `map_2` and so on \
    for further outcomes.";

/// What every variant of a study is made from and asked.
pub(super) struct Asked {
    pub(super) base: ScriptModel,
    pub(super) options: Options,
    pub(super) questions: Questions,
    variant: Option<FnPtr>,
    /// The question as it was written.
    told: serde_json::Value,
}

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let gridding = session.clone();
    Word {
        name: "grid",
        parameters: &["model: model", "asked: map", "study"],
        documentation: GRID,
    }
    .register(
        engine,
        move |context: NativeCallContext, model: &mut ScriptModel, asked: Map| -> Answer<ScriptStudy> {
            let asked = Asked::read(model, asked, "over", "the grid")?;
            check_grid(&asked.options)?;
            let (rows, stopped) = asked.run(&gridding, &context)?;
            let model = &asked.base.model;
            let outcomes = &asked.questions.outcomes;
            let mut answer = grid_answer(&model.title, &model.units, &asked.options, outcomes, &rows)?;
            answer.stopped = stopped;
            asked.finish(&gridding, answer)
        },
    );
    let session = session.clone();
    Word {
        name: "choices",
        parameters: &["model: model", "asked: map", "study"],
        documentation: CHOICES,
    }
    .register(
        engine,
        move |context: NativeCallContext, model: &mut ScriptModel, asked: Map| -> Answer<ScriptStudy> {
            let asked = Asked::read(model, asked, "options", "the choice")?;
            let (rows, stopped) = asked.run(&session, &context)?;
            let model = &asked.base.model;
            let mut answer = choices_answer(
                &model.title,
                &model.units,
                &asked.options,
                &asked.questions.outcomes,
                rows,
            );
            answer.stopped = stopped;
            asked.finish(&session, answer)
        },
    );
}

impl Asked {
    /// Reads what is asked.
    ///
    /// * `over`: the key under which the options stand
    pub(super) fn read(
        model: &ScriptModel,
        mut asked: Map,
        over: &str,
        what: &str,
    ) -> Result<Self, ScriptError> {
        let told = plain_map(&asked);
        let variant = function(&mut asked, "variant")?;
        let Some(options) = asked.remove(over) else {
            return Err(ScriptError::new(format!("{what} needs `{over}`: what varies")).with_key(over));
        };
        let options = Options::read(options, &model.model, variant.is_some())?;
        let questions = questions(model, &mut asked)?;
        no_other_keys(&asked, &[over, "fit", "outcomes", "variant"], what)?;
        let asked = Self {
            base: model.clone(),
            options,
            questions,
            variant,
            told,
        };
        asked.check_keys()?;
        Ok(asked)
    }

    /// A misspelt key fails in every variant: that is said at once.
    fn check_keys(&self) -> Result<(), ScriptError> {
        for option in &self.options.0 {
            if let Some(first) = option.alternatives.first() {
                self.base.with_values(&first.changes)?;
            }
        }
        Ok(())
    }

    /// Makes and judges every combination. Those that were done, and a remark where the study was stopped.
    pub(super) fn run(
        &self,
        session: &Session,
        context: &NativeCallContext,
    ) -> Result<(Vec<Row>, Option<String>), ScriptError> {
        let count = self.options.combinations();
        let progress = StudyProgress::new(session, "Variants", count);
        let workers = Workers::new(session, context)?;
        let results = workers.map(count, &progress, |combination| self.judge(combination, &workers));
        let rows: Vec<Row> = results
            .into_iter()
            .enumerate()
            .filter_map(|(combination, result)| {
                Some(Row {
                    combination,
                    result: result?,
                })
            })
            .collect();
        let stopped = (rows.len() < count && progress.should_stop()).then(|| {
            format!(
                "{} of {count} variants were done; the others are missing here.",
                rows.len()
            )
        });
        Ok((rows, stopped))
    }

    /// The answer in a script, with a remark on a ride height that the variants moved.
    pub(super) fn finish(&self, session: &Session, answer: StudyAnswer) -> Answer<ScriptStudy> {
        if self.variant.is_none() {
            for combination in [0, self.options.combinations().saturating_sub(1)] {
                if let Ok(variant) = self.base.with_values(&self.changes(combination)) {
                    variant.remark_moved_ride(session);
                }
            }
        }
        Ok(ScriptStudy::new(self.told.clone(), answer))
    }

    fn changes(&self, combination: usize) -> Vec<(String, Dynamic)> {
        let chosen = self.options.chosen(combination);
        chosen
            .flat_map(|(_, alternative)| alternative.changes.clone())
            .collect()
    }

    fn judge(&self, combination: usize, workers: &Workers<'_>) -> Result<Judged, String> {
        let number = |problem: String| format!("variant {}: {problem}", combination + 1);
        let shown = |error: ScriptError| number(in_one_line(&error));
        let model = match &self.variant {
            None => self.base.with_values(&self.changes(combination)).map_err(shown)?,
            Some(function) => {
                let chosen: Map = self
                    .options
                    .chosen(combination)
                    .map(|(option, chosen)| (option.name.as_str().into(), chosen.value.clone()))
                    .collect();
                let made = workers
                    .call(function, (self.base.clone(), chosen))
                    .map_err(number)?;
                let got = value_words(&made);
                made.try_cast::<ScriptModel>().ok_or_else(|| {
                    number(format!(
                        "the function `variant` must give a model, it gave {got}: end it with the changed copy"
                    ))
                })?
            }
        };
        judge(&model, &self.questions, workers).map_err(number)
    }
}

/// Asks everything of a model.
pub(super) fn judge(
    model: &ScriptModel,
    questions: &Questions,
    workers: &Workers<'_>,
) -> Result<Judged, String> {
    let shown = |error: ScriptError| in_one_line(&error);
    let suspension = model.suspension().map_err(shown)?;
    let call = |function: &FnPtr| {
        let number = workers.call(function, (model.clone(),))?;
        finite(&number, "the number of the function").map_err(|error| in_one_line(&error))
    };
    Judged::new(
        &model.model.title,
        &suspension,
        model.model.units,
        questions,
        call,
    )
    .map_err(shown)
}

fn in_one_line(error: &ScriptError) -> String {
    match &error.help {
        Some(help) => format!("{} ({help})", error.what),
        None => error.what.clone(),
    }
}

/// Takes `fit` and `outcomes` out of a question.
pub(super) fn questions(model: &ScriptModel, asked: &mut Map) -> Result<Questions, ScriptError> {
    let mut checks = match asked.remove("fit") {
        None => Map::new(),
        Some(fit) => map_of(fit, "fit")?,
    };
    let wanted = match checks.remove("wanted") {
        None => Map::new(),
        Some(wanted) => map_of(wanted, "wanted")?,
    };
    let axle = model.model.layout() == "live_axle";
    let outcomes: Vec<AskedOutcome> = match asked.remove("outcomes") {
        None => Vec::new(),
        Some(list) => outcome_list(list, axle, &model.model.units)?,
    };
    Ok(Questions {
        wanted,
        checks,
        outcomes,
    })
}

/// A map under a key.
pub(super) fn map_of(value: Dynamic, key: &str) -> Result<Map, ScriptError> {
    value.try_cast_result::<Map>().map_err(|other| {
        let got = value_words(&other);
        ScriptError::new(format!("`{key}`: expected a map #{{ }}, got {got}")).with_key(key)
    })
}

/// Takes a function of the script out of a question.
pub(super) fn function(asked: &mut Map, key: &str) -> Result<Option<FnPtr>, ScriptError> {
    asked
        .remove(key)
        .map(|value| {
            value.try_cast_result::<FnPtr>().map_err(|other| {
                let got = value_words(&other);
                ScriptError::new(format!(
                    "`{key}`: expected a function such as |model, at| {{ .. }}, got {got}"
                ))
                .with_key(key)
            })
        })
        .transpose()
}

/// Refuses keys that nothing reads.
pub(super) fn no_other_keys(left: &Map, known: &[&str], what: &str) -> Result<(), ScriptError> {
    let Some(unknown) = left.keys().next() else {
        return Ok(());
    };
    let error = ScriptError::new(format!("{what} has no key `{unknown}`")).with_key(unknown.as_str());
    Err(match suggest(unknown, known.iter().copied()) {
        Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
        None => error.with_help(format!("its keys are {}", known.join(", "))),
    })
}
