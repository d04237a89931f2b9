//! Words for how sure a result is, and what moves it.

use super::described::ScriptModel;
use super::study::{ScriptStudy, plain_map};
use crate::host::{Session, Word};
use crate::study;
use rhai::{Engine, EvalAltResult, Map};

pub(super) const NAMES: &[&str] = &["tolerance", "sensitivities"];

type Answer<T> = Result<T, Box<EvalAltResult>>;

const TOLERANCE: &str = "How sure results are, given how well the pickups were measured: to first order, and by building \
    variants with random errors.\n\n\
    Keys, one of the first three at least: `deviation` (one standard deviation of every coordinate, about half of what the tape is \
    good for), `deviations` (a map from names such as `\"coilover.upper_mount\"` or `\"tie_rod.outer.z\"` to standard deviations of \
    those alone, 0 for exact), `covariance` (of a survey, by its word `covariance`; or `numbers`, a list of names, and `matrix`, a list of rows, in \
    squares of the model's unit or of `unit`). `outcomes` (a list as for `outcome`, with `at_least` and `at_most`; the model's own `wanted` bump and droop are limits \
    by themselves); `checks` (a map as for `check_fit`; the stroke check is among them where `wanted` is); `curves` (names) with \
    `bump` (where along the travel from ride height) for bands; `samples` (variants, 10000), `seed` (1); `sure` (the share wanted, \
    0.99); `readings` (a list of what a bar or a gauge could read: `outcome`, `name`, `deviation`, and `value` once it was read).\n\n\
    `print` shows the sheet. Can be read: `holds` (share in which everything holds), `requirements_hold` and \
    `requirements_hold_linear`, `failed`; each outcome by its name with `value`, `deviation`, `deviation_linear`, `low` and `high` \
    (5 and 95 %), `holds`, `holds_linear`, `turns_with` and `turns_at` (the error of one number at which the verdict turns); \
    `measure_again`, `deviation_needed`, `verified`, `readings_verified`; the tables `outcomes`, `findings`, `measurements` and one \
    for each curve by its name; the picture `bands`. The same seed gives the same bytes. Does not count for the exit code.";

const SENSITIVITIES: &str = "What moves one result, and by how much: the exact derivative with respect to every coordinate, the \
    largest first.\n\n\
    Keys: `of` (an outcome as for `outcome`), `numbers` (names such as `\"tie_rod\"` or `\"coilover.upper_mount.z\"`; all coordinates \
    without), `step` (how much more of each number the changes are told for, 1 of the model's unit), `per` (the travel that a rate \
    is told per, 1; 25.4 in a model in mm tells bump steer per inch).\n\n\
    `print` shows the sheet. Can be read: `value` (as measured) and the table `sensitivities`; the picture `bars`.";

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let session = session.clone();
    Word {
        name: "tolerance",
        parameters: &["model: model", "question: map", "study"],
        documentation: TOLERANCE,
    }
    .register(
        engine,
        move |model: &mut ScriptModel, question: Map| -> Answer<ScriptStudy> {
            let asked = plain_map(&question);
            let answer = study::tolerance(&model.model, question, &session)?;
            Ok(ScriptStudy::new(asked, answer))
        },
    );
    Word {
        name: "sensitivities",
        parameters: &["model: model", "question: map", "study"],
        documentation: SENSITIVITIES,
    }
    .register(
        engine,
        |model: &mut ScriptModel, question: Map| -> Answer<ScriptStudy> {
            let asked = plain_map(&question);
            Ok(ScriptStudy::new(
                asked,
                study::sensitivities(&model.model, question)?,
            ))
        },
    );
}
