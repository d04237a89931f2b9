//! The word for searches.

use super::described::ScriptModel;
use super::study::{ScriptStudy, plain_map};
use crate::host::{Session, StudyProgress, Word};
use crate::study::search_study;
use kin_core::study::Progress;
use rhai::{Engine, EvalAltResult, Map};

pub(super) const NAMES: &[&str] = &["search"];
pub(super) const KEYS: &[&str] = &[
    "move",
    "targets",
    "keep",
    "starts",
    "seed",
    "trade_off",
    "number",
    "point",
    "along",
    "by",
    "step",
    "holes",
    "through",
    "change_through",
    "steady",
    "margin",
];

const SEARCH: &str = "Moves chosen numbers until targets are met and requirements kept, in the model's units.\n\n\
    `corner.search(#{ move: [#{ number: \"tie_rod.outer.z\", by: [-12.7, 0], step: 25.4/16 }], targets: [#{ curve: \"toe\", steady: [-50, 50] }] })` \
    finds the shim stack under the outer tie-rod end that takes out most bump steer.\n\n\
    `move` is a list of maps. `number` is a number by its keys, or a list of them that take the same change; `point` with `along` moves a \
    point (or a list of points) along a direction, such as the face of a frame rail: two entries with the same point and two directions span a \
    plane. `by` is the least and the greatest change. `step` is a real step: shim, hole pitch, half a turn of a thread; the answer then \
    ends at a whole number of steps, found among the neighbours and checked anew. `point` with `holes` (points in a list, or by name in a map) \
    tries each drilled hole.\n\n\
    `targets` is a list of outcomes (see `outcome`) with `target`, or of curves: `curve` with `through` (a list of `[bump, value]`), `change_through` \
    (the same, as change from ride height), or `steady` (`[from, to]`: stays as at ride height). One degree, one millimetre, 0.01 of a ratio \
    count alike; `weight` changes that.\n\n\
    `keep` is a list of outcomes with `at_least` or `at_most` and a wanted `margin`, and the word \"wanted\" for the travel the model \
    itself wants. And `starts` (6 unless given; the first is the model as it is, the others are drawn by `seed`), `trade_off` (how many points of the \
    trade-off between two targets).\n\n\
    The answer has `holds`, for each move by its name `change` and `change_anywhere` (without steps), for each target by its name `deviation` and \
    `deviation_as_described`, the models `model` and `model_anywhere`, tables `targets`, `moves`, `requirements`, `trade_off`, and \
    pictures `targets` and `trade_off`. Sentences say what binds and what it costs.";

/// How many variants a search is expected to build; only the progress bar goes by it.
const USUAL_VARIANTS: usize = 2_000;

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let what_if = session.clone();
    Word {
        name: "search",
        parameters: &["model: model", "question: map", "study"],
        documentation: SEARCH,
    }
    .register(
        engine,
        move |model: &mut ScriptModel, question: Map| -> Result<ScriptStudy, Box<EvalAltResult>> {
            model.remark_moved_ride(&what_if);
            let progress = StudyProgress::new(&what_if, "Search", USUAL_VARIANTS);
            let asked = plain_map(&question);
            let mut found = search_study(&model.model, question, &progress)?;
            if progress.should_stop() {
                found.stopped =
                    Some("before its end; what stands here is the best place found until then".to_owned());
            }
            Ok(ScriptStudy::new(asked, found))
        },
    );
}
