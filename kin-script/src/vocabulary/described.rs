//! Words for descriptions: making, loading, changing and copying a model.

mod paths;

use super::core_error;
use super::keys;
use crate::arguments::to_dynamic;
use crate::explain::suggest;
use crate::host::{ScriptError, Session, Word, finite};
use crate::model::{Body, Model, ModelFile, ModelFormat, Suspension, from_map, to_value};
use crate::units::Measure;
use paths::{point_keys, put};
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
    "hold_ride_height",
    "reach",
];

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// A model in a script: a value like any other, so that `let b = a;` is a copy that can be changed by itself.
#[derive(Clone)]
pub(super) struct ScriptModel {
    /// As written, by key; the source of truth for changes.
    map: Map,
    pub(super) model: Arc<Model>,
    suspension: OnceLock<Arc<Suspension>>,
    /// Ride height as a travel (mm) before the script's first change, where it is given as a damper's length: then a
    /// change of the mounts moves it.
    ride_before: Option<f64>,
}

/// Ride height moved by less than this (mm) is not remarked on: no tape shows it.
const UNSEEN_MM: f64 = 0.05;

impl ScriptModel {
    pub(super) fn new(model: Model) -> Result<Self, ScriptError> {
        let map = to_dynamic(to_value(&model)?)
            .try_cast::<Map>()
            .unwrap_or_default();
        Ok(Self {
            map,
            model: Arc::new(model),
            suspension: OnceLock::new(),
            ride_before: None,
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
        let mut known: Vec<&str> = self.map.keys().map(|key| key.as_str()).collect();
        known.extend(keys::of_descriptions());
        let error = if keys::of_descriptions().any(|known| known == key) {
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
        let ride_before = match key {
            "ride_height" => None,
            _ => self.ride_before.or_else(|| self.ride_by_damper()),
        };
        *self = Self {
            ride_before,
            ..Self::new(from_map(map, Some(layout))?)?
        };
        Ok(())
    }

    /// A copy with values put in their places, each named by the keys that lead to it, such as `spring.rate` or
    /// `coilover.upper_mount.z`.
    pub(super) fn with_values(&self, changes: &[(String, Dynamic)]) -> Result<Self, ScriptError> {
        let mut map = self.map.clone();
        for (path, value) in changes {
            put(&mut map, path, value.clone())?;
        }
        let layout = self.model.layout();
        let ride_before = match changes.iter().any(|(path, _)| path.starts_with("ride_height")) {
            true => None,
            false => self.ride_before.or_else(|| self.ride_by_damper()),
        };
        Ok(Self {
            ride_before,
            ..Self::new(from_map(map, Some(layout))?)?
        })
    }

    /// The keys of all points, such as `upper_arm.front_pivot` or `links.panhard_rod.body`.
    pub(super) fn point_keys(&self) -> Vec<String> {
        let mut keys = Vec::new();
        point_keys(&self.map, "", &mut keys);
        keys
    }

    /// The same model with points at other places, each by its key (in the model's unit).
    pub(super) fn with_points(&self, points: &[(String, [f64; 3])]) -> Result<Self, ScriptError> {
        let known = self.point_keys();
        let change = |(key, place): &(String, [f64; 3])| {
            if !known.contains(key) {
                return Err(ScriptError::new(format!(
                    "the model {:?} has no point `{key}`",
                    self.model.title
                )));
            }
            let list: Array = place.iter().copied().map(Dynamic::from_float).collect();
            Ok((key.clone(), list.into()))
        };
        let changes: Vec<(String, Dynamic)> = points.iter().map(change).collect::<Result<_, _>>()?;
        self.with_values(&changes)
    }

    /// Ride height as a travel (mm), where it is given as a damper's length.
    fn ride_by_damper(&self) -> Option<f64> {
        let given = match &self.model.body {
            Body::DoubleWishbone { corner, .. } => corner.ride_height,
            Body::LiveAxle(axle) => axle.ride_height,
        };
        given.and_then(|ride| ride.damper_length)?;
        self.ride_travel().ok()
    }

    /// Says at the end of the run that the wheel sits elsewhere than before the script's changes.
    pub(super) fn remark_moved_ride(&self, session: &Session) {
        let (Some(before), Some(now)) = (self.ride_before, self.ride_by_damper()) else {
            return;
        };
        if (now - before).abs() < UNSEEN_MM {
            return;
        }
        let text = |travel: f64| self.model.units.length.text(travel);
        session.remark(&self.model.title, || {
            format!(
                "{}: its ride height is given as a damper length, so a change made in the script moved the wheel at ride \
                 height, the first time from {} to {} of travel from the pickups as measured; travels from ride height \
                 count from there. To keep the wheel where it was, call `hold_ride_height()` on the copy before changing it.",
                self.model.title,
                text(before),
                text(now)
            )
        });
    }

    /// Gives ride height as the travel it is now, so that later changes leave the wheel where it sits.
    fn hold_ride_height(&mut self) -> Answer<Self> {
        let travel = self.shown(self.ride_travel()?);
        let ride_height: Map = [("travel".into(), travel.into())].into_iter().collect();
        self.set("ride_height", Dynamic::from_map(ride_height))?;
        Ok(self.clone())
    }

    /// Ride height as a travel (mm).
    pub(super) fn ride_travel(&self) -> Result<f64, ScriptError> {
        let ride = self.suspension()?.ride_travel();
        ride.map_err(|error| core_error(&error, &self.model.units))
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
            Points are `[x, y, z]`: forward, left, up. The points, `camber` and `toe` hold as measured, at travel 0. Without \
            `rate_unit`, rates are N/mm beside \"mm\" and lb/in beside \"inch\". `kin words keys` explains every key.",
    }
    .register(engine, |map: Map| made(map, "double_wishbone"));
    Word {
        name: "live_axle",
        parameters: &["pickups: map", "model"],
        documentation: "Describes a live axle on two-point links.\n\n\
            Keys: `unit`, `links` (a map by name, each with `body` and `axle`), `wheels` (`left`, `right`, `tyre_radius`); \
            and where they exist `title`, `rate_unit`, `right: \"mirror\"` (what is given for the left stands mirrored on the \
            right), `pinion` (`point`, `nose_up`), `coilovers` or `dampers` and `springs` (each with `left` and `right`), \
            `ride_height`, `stops`, `wanted`. `kin words keys` explains every key.",
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
        documentation: "Wheel travel at ride height, counted from the pickups as measured, in the model's unit.\n\n\
            With a ride height given as `damper_length` it moves with the mounts: see `hold_ride_height`.",
    }
    .register(engine, |model: &mut ScriptModel| -> Answer<f64> { Ok(model.shown(model.ride_travel()?)) });
    Word {
        name: "hold_ride_height",
        parameters: &["model: model", "model"],
        documentation: "Fixes where the wheel sits: gives this model's ride height as the `travel` it is now, and returns the \
            model.\n\n\
            For what-ifs on a model whose `ride_height` is a `damper_length`. There the car sits where the damper has that \
            length, so moving a mount, changing an arm or a stud moves the wheel too, much as on the \
            car with the same spring. Call it before the change to compare at one wheel position: \
            `let other = corner; other.hold_ride_height(); other.coilover.upper_mount[2] += 10;`",
    }
    .register(engine, ScriptModel::hold_ride_height);
    Word {
        name: "reach",
        parameters: &["model: model", "map"],
        documentation: "Where the linkage itself ends: `bump` and `droop` as wheel travel from the pickups as measured, \
            in the model's unit; `()` where it has no end.",
    }
    .register(engine, |model: &mut ScriptModel| -> Answer<Map> {
        let reach = model.suspension()?.reach();
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
    // Zero minus the number: a point in the middle of the car keeps a plain zero.
    Ok(vec![x.clone(), (0.0 - y).into(), z.clone()])
}
