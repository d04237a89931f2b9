//! Words for teaching: conventions, the rule of thumb, the lever picture, and worksheets.

use super::described::ScriptModel;
use super::gauge::{Asked, Gauge};
use super::pictures::write;
use super::swept::ScriptTable;
use crate::arguments;
use crate::host::{ScriptError, Session, Word, finite};
use crate::teaching::{Chance, SpringLever, Worksheet, conventions_table, lever_rule_table};
use kin_core::curves::{AxleCurve, CornerCurve, LeverRule, RatioConventions};
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map};
use std::sync::Arc;

pub(super) const NAMES: &[&str] = &[
    "motion_ratio_conventions",
    "lever_rule",
    "draw_lever",
    "random_source",
    "random_step",
    "random_item",
    "worksheet",
];

/// Keys of a worksheet, for suggestions.
pub(super) const KEYS: &[&str] = &[
    "seed",
    "intro",
    "questions",
    "ask",
    "answer",
    "decimals",
    "because",
];

/// Steps of a random number at most, and questions of a worksheet.
const MOST_STEPS: f64 = 1e6;
const MOST_QUESTIONS: usize = 200;

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A source of random numbers in a script.
#[derive(Clone)]
struct ScriptChance(Chance);

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    ratios(engine);
    lever(engine, session);
    chance(engine);
    Word {
        name: "worksheet",
        parameters: &["what: map", "map"],
        documentation: "A worksheet for a class: `blank` and `key`, two texts from the same questions, to be saved as `.md` or `.txt`.\n\n\
            Keys: `title`, `seed` (a whole number, printed on both, so that sheet and key find each other), `questions`, and where \
            wanted `intro`. Each question is a map: `ask` (a text), `answer` (a number or a text, worked out by the script), and \
            where wanted `unit`, `decimals` (2 if not given) and `because` (how it is found; only the key shows it). With numbers from \
            `random_source(seed)` each seed is another sheet, and the same seed is the same sheet, byte for byte.\n\n\
            `let sheet = worksheet(#{ title: \"Levers\", seed: 7, questions: [#{ ask: \"..\", answer: 3.5, unit: \"mm\" }] });` \
            then `save(\"worksheet.md\", sheet.blank); save(\"answers.md\", sheet.key);`.",
    }
    .register(engine, worksheet);
}

fn ratios(engine: &mut Engine) {
    Word {
        name: "motion_ratio_conventions",
        parameters: &["position: position/model", "table"],
        documentation: "The motion ratio in the three conventions in use, each labelled: damper over wheel, wheel over damper, and the \
            square of the first. A table with the columns `convention`, `value`, `what_it_says`.\n\n\
            Of a position, `corner.at(#{ bump: 20 }).motion_ratio_conventions()`, or of a model at ride height. Of an axle it is the \
            left damper with both wheels moving alike.",
    }
    .register(engine, |gauge: &mut Gauge| conventions(gauge));
    engine.register_fn("motion_ratio_conventions", |model: &mut ScriptModel| {
        conventions(&at_ride_height(model)?)
    });
    Word {
        name: "lever_rule",
        parameters: &["position: position/model", "table"],
        documentation: "The shop's rule of thumb for the motion ratio beside the exact ratio, with what the gap comes from: lever arm over \
            lever arm, times the cosine of the damper's lean; measured once to the ball joint and once to the wheel centre. A table with \
            the columns `rule`, `motion_ratio`, `off_percent`, `what_it_says`.\n\n\
            Levers are measured across the car from the pivot axis of the arm that carries the damper. Of a corner whose damper rides on \
            an arm, at a position or, of a model, at ride height.",
    }
    .register(engine, |gauge: &mut Gauge| lever_rule(gauge));
    engine.register_fn("lever_rule", |model: &mut ScriptModel| {
        lever_rule(&at_ride_height(model)?)
    });
}

fn lever(engine: &mut Engine, session: &Session) {
    let writing = session.clone();
    Word {
        name: "draw_lever",
        parameters: &["file: text", "position: position/model", "text"],
        documentation: "Draws why the wheel rate goes with the square of the motion ratio, with the numbers of one position, as SVG into the \
            output folder: how far spring and wheel move, with which forces, and the equal areas of work.\n\n\
            The spring is that of the description: `draw_lever(\"lever.svg\", corner.at(#{ bump: 20 }))`; a model is drawn at ride height.",
    }
    .register(engine, move |file: &str, gauge: Gauge| draw_lever(&writing, file, &gauge));
    let writing = session.clone();
    engine.register_fn("draw_lever", move |file: &str, model: ScriptModel| {
        draw_lever(&writing, file, &at_ride_height(&model)?)
    });
}

fn chance(engine: &mut Engine) {
    engine
        .register_type_with_name::<ScriptChance>("random source")
        .register_fn("to_string", |_: &mut ScriptChance| {
            "a source of random numbers".to_owned()
        });
    Word {
        name: "random_source",
        parameters: &["seed: number", "random source"],
        documentation: "A source of random numbers that begins at a seed, a whole number from 0: the same seed gives the same numbers on \
            every machine. `let chance = random_source(7); let travel = chance.random_step(-20, 20, 5);`",
    }
    .register(engine, |seed: i64| -> Answer<ScriptChance> {
        let seed = u64::try_from(seed)
            .map_err(|_| ScriptError::new(format!("the seed {seed} is below zero; give a whole number from 0")))?;
        Ok(ScriptChance(Chance::new(seed)))
    });
    Word {
        name: "random_step",
        parameters: &[
            "source: random source",
            "from: number",
            "to: number",
            "step: number",
            "number",
        ],
        documentation: "One of the numbers `from`, `from + step`, and so on up to `to`, each as likely.",
    }
    .register(engine, random_step);
    Word {
        name: "random_item",
        parameters: &["source: random source", "list: list", "item"],
        documentation: "One item of a list, each as likely.",
    }
    .register(
        engine,
        |chance: &mut ScriptChance, list: Array| -> Answer<Dynamic> {
            let place = chance.0.place(list.len());
            let item = place.and_then(|place| list.into_iter().nth(place));
            Ok(item.ok_or_else(|| ScriptError::new("the list is empty: there is nothing to draw from"))?)
        },
    );
}

fn at_ride_height(model: &ScriptModel) -> Result<Gauge, ScriptError> {
    Gauge::new(
        model,
        &Asked {
            bump: Some(0.0),
            ..Asked::default()
        },
    )
}

fn conventions(gauge: &Gauge) -> Answer<ScriptTable> {
    let ratio = gauge.read(
        |corner| CornerCurve::MotionRatio.value(corner),
        |axle| AxleCurve::MotionRatioLeft.value(axle),
    )?;
    let ratio = ratio.ok_or_else(no_damper)?;
    let forms = RatioConventions::of(ratio).ok_or_else(|| {
        ScriptError::new("the damper does not move here, so its inverse ratio has no value")
    })?;
    Ok(ScriptTable(Arc::new(conventions_table(&forms))))
}

fn lever_rule(gauge: &Gauge) -> Answer<ScriptTable> {
    let found = gauge.read(
        |corner| Some((LeverRule::at(corner)?, CornerCurve::MotionRatio.value(corner)?)),
        |_| None,
    )?;
    let (rule, exact) = found.ok_or_else(|| {
        ScriptError::new("the lever rule needs a corner whose damper rides on an arm")
            .with_help("a damper on the upright or on an axle has no lever of its own to measure")
    })?;
    Ok(ScriptTable(Arc::new(lever_rule_table(&rule, exact))))
}

fn draw_lever(session: &Session, file: &str, gauge: &Gauge) -> Answer<String> {
    let lever = gauge.read(SpringLever::of_corner, SpringLever::of_axle)?;
    let lever = lever.ok_or_else(|| {
        ScriptError::new("the lever picture needs a spring, and the description has none")
            .with_help("give it: `spring: #{ rate: 50 }`, and the mounts of a coilover or of the spring")
    })?;
    let svg = lever
        .picture(&gauge.model().title, &gauge.place_text()?, &gauge.model().units)
        .svg()
        .map_err(|error| ScriptError::new(error.to_string()))?;
    write(session, file, &svg)
}

fn no_damper() -> ScriptError {
    ScriptError::new("there is no motion ratio without a damper")
        .with_help("describe a `coilover` or a `damper`")
}

fn random_step(chance: &mut ScriptChance, from: Dynamic, to: Dynamic, step: Dynamic) -> Answer<f64> {
    let (from, to, step) = (
        finite(&from, "`from`")?,
        finite(&to, "`to`")?,
        finite(&step, "`step`")?,
    );
    // A hair more, so that rounding does not lose the last step.
    let steps = ((to - from) / step + 1e-9).floor();
    if !(step > 0.0 && (0.0..=MOST_STEPS).contains(&steps)) {
        return Err(ScriptError::new(format!(
            "there are no random numbers from {from} to {to} in steps of {step}"
        ))
        .with_help("`step` is above zero, `to` not below `from`, and there are at most a million steps")
        .into());
    }
    let place = chance.0.place(steps as usize + 1).unwrap_or_default();
    Ok(from + place as f64 * step)
}

fn worksheet(what: Map) -> Answer<Map> {
    let sheet: Worksheet = arguments::read(Dynamic::from_map(what), "the worksheet")?;
    if sheet.questions.is_empty() || sheet.questions.len() > MOST_QUESTIONS {
        return Err(ScriptError::new(format!(
            "a worksheet has 1 to {MOST_QUESTIONS} questions, this one has {}",
            sheet.questions.len()
        ))
        .with_key("questions")
        .into());
    }
    let texts = [("blank", sheet.blank()), ("key", sheet.key())];
    Ok(texts
        .map(|(name, text)| (name.into(), text.into()))
        .into_iter()
        .collect())
}
