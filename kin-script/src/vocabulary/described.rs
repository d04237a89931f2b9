//! Words for descriptions: making, loading, changing and copying a model.

use super::core_error;
use crate::arguments::to_dynamic;
use crate::explain::suggest;
use crate::host::{ScriptError, Session, Word, finite};
use crate::model::{Model, ModelFile, ModelFormat, Suspension, from_map, to_value};
use crate::units::Measure;
use rhai::{Array, Dynamic, Engine, EvalAltResult, Map};
use std::path::Path;
use std::sync::{Arc, OnceLock};

pub(super) const NAMES: &[&str] = &[
    "double_wishbone",
    "live_axle",
    "load",
    "mirrored",
    "right_corner",
    "ride_travel",
    "reach",
];

/// Keys of descriptions, for suggestions.
pub(super) const KEYS: &[&str] = &[
    "title",
    "provenance",
    "layout",
    "unit",
    "rate_unit",
    "side",
    "upper_arm",
    "lower_arm",
    "tie_rod",
    "wheel",
    "coilover",
    "damper",
    "spring",
    "ride_height",
    "stops",
    "wanted",
    "right",
    "links",
    "wheels",
    "pinion",
    "coilovers",
    "dampers",
    "springs",
    "front_pivot",
    "rear_pivot",
    "ball_joint",
    "inner",
    "outer",
    "centre",
    "tyre_radius",
    "camber",
    "toe",
    "upper_mount",
    "lower_mount",
    "rides_on",
    "extended",
    "compressed",
    "bump_stop",
    "upper_stud",
    "lower_stud",
    "rate",
    "free_length",
    "upper_seat",
    "lower_seat",
    "travel",
    "damper_length",
    "hub_to_lip",
    "hub_to_lip_as_measured",
    "bump",
    "droop",
    "margin",
    "straps",
    "name",
    "length",
    "body",
    "axle",
    "stiffness",
    "left",
    "point",
    "nose_up",
];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A model in a script: a value like any other, so that `let b = a;` is a copy that can be changed by itself.
#[derive(Clone)]
pub(super) struct ScriptModel {
    /// As written, by key; the source of truth for changes.
    map: Map,
    pub(super) model: Arc<Model>,
    suspension: OnceLock<Arc<Suspension>>,
}

impl ScriptModel {
    fn new(model: Model) -> Result<Self, ScriptError> {
        let map = to_dynamic(to_value(&model)?)
            .try_cast::<Map>()
            .unwrap_or_default();
        Ok(Self {
            map,
            model: Arc::new(model),
            suspension: OnceLock::new(),
        })
    }

    /// The model in millimetres, validated; worked out once.
    pub(super) fn suspension(&self) -> Result<Arc<Suspension>, ScriptError> {
        if let Some(known) = self.suspension.get() {
            return Ok(Arc::clone(known));
        }
        let made = Arc::new(
            self.model
                .suspension()
                .map_err(|error| core_error(&error, &self.model.units))?,
        );
        Ok(Arc::clone(self.suspension.get_or_init(|| made)))
    }

    fn get(&mut self, key: &str) -> Answer<Dynamic> {
        if let Some(value) = self.map.get(key) {
            return Ok(value.clone());
        }
        let error =
            ScriptError::new(format!("the model {:?} has no `{key}`", self.model.title)).with_key(key);
        let known = self
            .map
            .keys()
            .map(|key| key.as_str())
            .chain(KEYS.iter().copied());
        let error = if KEYS.contains(&key) {
            error.with_help(format!("it was not given; set it with `.{key} = ..`"))
        } else {
            match suggest(key, known) {
                Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
                None => error,
            }
        };
        Err(error.into())
    }

    fn set(&mut self, key: &str, value: Dynamic) -> Answer<()> {
        let mut map = self.map.clone();
        map.insert(key.into(), value);
        let layout = self.model.layout();
        *self = Self::new(from_map(map, Some(layout))?)?;
        Ok(())
    }

    /// Ride height as a travel (mm).
    pub(super) fn ride_travel(&self) -> Result<f64, ScriptError> {
        match &*self.suspension()? {
            Suspension::Corner(corner) => corner.ride_travel(),
            Suspension::Axle(axle) => axle.ride_travel(),
        }
        .map_err(|error| core_error(&error, &self.model.units))
    }

    /// A length in the reader's unit.
    pub(super) fn shown(&self, millimetres: f64) -> f64 {
        self.model.units.from_core(millimetres, Measure::LENGTH)
    }
}

fn made(map: Map, layout: &str) -> Answer<ScriptModel> {
    let model = ScriptModel::new(from_map(map, Some(layout))?)?;
    model.suspension()?;
    Ok(model)
}

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    engine
        .register_type_with_name::<ScriptModel>("model")
        .register_indexer_get(|model: &mut ScriptModel, key: &str| model.get(key))
        .register_indexer_set(|model: &mut ScriptModel, key: &str, value: Dynamic| model.set(key, value))
        .register_fn("to_string", |model: &mut ScriptModel| model.model.title.clone())
        .register_fn("to_debug", |model: &mut ScriptModel| model.model.title.clone());
    Word {
        name: "double_wishbone",
        parameters: &["pickups: map", "model"],
        documentation: "Describes a corner with two arms, an upright and a tie rod.\n\n\
            Keys: `unit` (\"mm\" or \"inch\"), `upper_arm` and `lower_arm` (`front_pivot`, `rear_pivot`, `ball_joint`), \
            `tie_rod` (`inner`, `outer`), `wheel` (`centre`, `tyre_radius`, `camber`, `toe`); and where they exist `title`, \
            `rate_unit` (\"N/mm\" or \"lb/in\"), `side`, `coilover` or `damper` (`upper_mount`, `lower_mount`, `rides_on`, \
            `extended`, `compressed`, `bump_stop`, `upper_stud`, `lower_stud`), `spring` (`rate`, `free_length`, `upper_seat`, \
            `lower_seat`), `ride_height` (`travel`, or `damper_length`, or `hub_to_lip` with `hub_to_lip_as_measured`), \
            `stops` (`bump`, `droop`, `straps`), `wanted` (`bump`, `droop`, `margin`), `right` (\"mirror\" or a corner).\n\n\
            Points are `[x, y, z]`: forward, left, up.",
    }
    .register(engine, |map: Map| made(map, "double_wishbone"));
    Word {
        name: "live_axle",
        parameters: &["pickups: map", "model"],
        documentation: "Describes a live axle on two-point links.\n\n\
            Keys: `unit`, `links` (a map by name, each with `body` and `axle`), `wheels` (`left`, `right`, `tyre_radius`); \
            and where they exist `title`, `rate_unit`, `right: \"mirror\"` (what is given for the left stands mirrored on the \
            right), `pinion` (`point`, `nose_up`), `coilovers` or `dampers` and `springs` (each with `left` and `right`), \
            `ride_height`, `stops`, `wanted`.",
    }
    .register(engine, |map: Map| made(map, "live_axle"));
    let reading = session.clone();
    Word {
        name: "load",
        parameters: &["file: text", "model"],
        documentation: "Reads a model file (`.toml` or `.json`) from the script's own folder.",
    }
    .register(engine, move |file: &str| load(&reading, file));
    Word {
        name: "mirrored",
        parameters: &["point: list", "list"],
        documentation: "The point on the other side of the car: `[x, -y, z]`.",
    }
    .register(engine, mirrored);
    Word {
        name: "right_corner",
        parameters: &["corner: model", "model"],
        documentation: "The corner on the right: the one given under `right`, or the mirror image.",
    }
    .register(engine, |model: &mut ScriptModel| -> Answer<ScriptModel> {
        let right = model.model.right_corner().ok_or_else(|| {
            ScriptError::new("an axle has no right corner")
                .with_help("its right side is part of the same model")
        })?;
        Ok(ScriptModel::new(right)?)
    });
    Word {
        name: "ride_travel",
        parameters: &["model: model", "number"],
        documentation: "Wheel travel at ride height, counted from the pickups as measured, in the model's unit.",
    }
    .register(engine, |model: &mut ScriptModel| -> Answer<f64> { Ok(model.shown(model.ride_travel()?)) });
    Word {
        name: "reach",
        parameters: &["model: model", "map"],
        documentation: "Where the linkage itself ends: `bump` and `droop` as wheel travel from the pickups as measured, \
            in the model's unit; `()` where it has no end.",
    }
    .register(engine, |model: &mut ScriptModel| -> Answer<Map> {
        let reach = match &*model.suspension()? {
            Suspension::Corner(corner) => corner.reach(),
            Suspension::Axle(axle) => axle.reach(),
        };
        let shown = |limit: Option<f64>| limit.map_or(Dynamic::UNIT, |limit| model.shown(limit).into());
        Ok([("bump".into(), shown(reach.highest)), ("droop".into(), shown(reach.lowest))].into_iter().collect())
    });
}

fn load(session: &Session, file: &str) -> Answer<ScriptModel> {
    let format = ModelFormat::of(Path::new(file)).ok_or_else(|| {
        ScriptError::new(format!("{file:?} is no model file")).with_help("model files end in .toml or .json")
    })?;
    let text = session
        .script_folder()
        .read_text(file, session.limits().file_bytes)?;
    let in_file = |error: ScriptError| ScriptError {
        what: format!("{file}: {}", error.what),
        key: None,
        ..error
    };
    let model = ScriptModel::new(ModelFile::read(&text, format).map_err(in_file)?)?;
    model.suspension().map_err(in_file)?;
    Ok(model)
}

fn mirrored(point: Array) -> Answer<Array> {
    let [x, y, z] = point.as_slice() else {
        return Err(ScriptError::new(format!(
            "a point has three numbers [x, y, z], this one has {}",
            point.len()
        ))
        .into());
    };
    let y = finite(y, "y of the point")?;
    Ok(vec![x.clone(), (-y).into(), z.clone()])
}
