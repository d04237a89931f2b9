//! The word for calibrations.

use super::described::ScriptModel;
use super::study::{ScriptStudy, plain_map};
use crate::host::{Session, Word};
use crate::study::calibrate_study;
use rhai::{Engine, EvalAltResult, Map};

pub(super) const NAMES: &[&str] = &["calibrate"];
pub(super) const KEYS: &[&str] = &[
    "deviation",
    "deviations",
    "readings",
    "read",
    "place_deviation",
    "gauge",
    "gauges",
    "candidates",
    "outcomes",
    "band",
];

const CALIBRATE: &str = "Pulls the pickups to where they explain readings on the car best, given how well each was measured.\n\n\
    `corner.calibrate(#{ deviation: 1.5, readings: [#{ curve: \"toe\", at: [-50, 0, 50], read: [0.3, 0.1, -0.2], deviation: 0.02 }] })`; all numbers are in the model's units.\n\n\
    `deviation` is the standard deviation of every coordinate (1.5 mm, about 3 mm at 95 %, unless given); `deviations` gives others by name, such as \
    `#{ \"tie_rod.outer\": 0.5 }`; `covariance` is that of a survey, instead of `deviation`. `readings` is a list of outcomes (see `outcome`), each with `read` and its standard `deviation`; with lists \
    under `at` and `read` it is a row of readings. `place_deviation` is the standard deviation of the travel they were read at. Readings with \
    the same `gauge` share an unknown zero, as of a toe gauge that was set to zero at ride height; `gauges` says how well a zero is known, such as \
    `#{ toe_gauge: 0.2 }`.\n\n\
    `candidates` are other descriptions that may be the true one, by name: `#{ hole_3: #{ \"coilover.lower_mount\": [0, 170, 88] } }`; the most \
    probable is taken. `outcomes` are told before and after the readings, with the share of cases that keep their limits. `band` (`curve`, `from`, `to`) \
    asks for a picture of a curve with its 95 % bands.\n\n\
    The answer has `agrees`, `chi_square`, `chance`, with candidates `candidate` and `candidate_chance`; for each outcome by its name `before`, `now`, \
    `deviation_before`, `deviation_now`, `share_before`, `share_now`; the calibrated `model`; tables `readings`, `moved`, `outcomes`, `candidates`; pictures `band` \
    and `residuals`.";

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let what_if = session.clone();
    Word {
        name: "calibrate",
        parameters: &["model: model", "question: map", "study"],
        documentation: CALIBRATE,
    }
    .register(
        engine,
        move |model: &mut ScriptModel, question: Map| -> Result<ScriptStudy, Box<EvalAltResult>> {
            model.remark_moved_ride(&what_if);
            let asked = plain_map(&question);
            Ok(ScriptStudy::new(asked, calibrate_study(&model.model, question)?))
        },
    );
}
