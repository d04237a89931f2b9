//! The word for other arms or another upright on a corner.

use super::core_error;
use super::described::ScriptModel;
use crate::arguments;
use crate::host::{ScriptError, Session, Word};
use crate::model::{Body, Model, Suspension, in_core_units, in_user_units};
use kin_core::Corner;
use kin_core::study::{Swap, swapped};
use rhai::{Dynamic, Engine, EvalAltResult, Map};

pub(super) const NAMES: &[&str] = &["swap"];

type Answer<T> = Result<T, Box<EvalAltResult>>;

const SWAP: &str = "The same corner with other arms or another upright, as it comes to stand with its wheel centre at the \
    same height.\n\n\
    `corner.swap(#{ upper_arm: #{ longer: -8 }, upright: #{ taller: 25 } })`\n\n\
    Keys: `upper_arm` and `lower_arm` (`longer`; `ball_joint`, where the new arm's would be with the arm lying as the old one does \
    at ride height; `front_pivot` and `rear_pivot`, where they are moved to), `upright` (`taller`, along the steering axis; or \
    `upper_ball_joint`, where it would be with the upright standing as the old one does), `tie_rod_longer`. Lengths are in the model's unit.\n\n\
    Body pivots stay unless they are moved, the upright is rigid, the tie rod keeps its length, and what rides on an \
    arm keeps its place on it. A right corner that is given apart gets the mirror images of the parts. Camber, toe, caster, track and damper length come out as on the car and are not set right: `compare` shows them. \
    Travel 0 of the result is where it stands.";

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, _session: &Session) {
    Word {
        name: "swap",
        parameters: &["corner: model", "parts: map", "model"],
        documentation: SWAP,
    }
    .register(engine, |model: &mut ScriptModel, parts: Map| swap(model, parts));
}

fn swap(model: &ScriptModel, parts: Map) -> Answer<ScriptModel> {
    let units = model.model.units;
    let parts: Swap = arguments::read(Dynamic::from_map(parts), "the swap")?;
    let parts = in_core_units(&parts, &units);
    let Suspension::Corner(corner) = &*model.suspension()? else {
        return Err(
            ScriptError::new("`swap` changes arms and upright of a corner, and this is an axle")
                .with_help("give the links of an axle other points, and `compare` both")
                .into(),
        );
    };
    let refused = |error: kin_core::Error| core_error(&error, &units);
    let after = swapped(corner, &parts).map_err(refused)?;
    let right = match &model.model.body {
        Body::DoubleWishbone {
            right: Some(right), ..
        } => {
            // The parts are given for the left: the right gets their mirror images.
            let mirrored = Corner::new(&in_core_units(&right.mirrored(), &units)).map_err(refused)?;
            Some(swapped(&mirrored, &parts).map_err(refused)?.mirrored())
        }
        _ => None,
    };
    Ok(ScriptModel::new(Model {
        body: Body::DoubleWishbone {
            corner: in_user_units(&after, &units),
            right: right.map(|right| in_user_units(&right, &units)),
        },
        ..(*model.model).clone()
    })?)
}
