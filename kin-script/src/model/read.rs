//! Reading a description from a map with named keys, as scripts write it and files hold it.

use super::{Body, Model};
use crate::arguments;
use crate::explain::suggest;
use crate::host::ScriptError;
use crate::units::{LengthUnit, RateUnit, Units};
use kin_core::pickups::{DoubleWishbone, Side};
use rhai::{Dynamic, Map};
use serde::Deserialize;
use serde::de::DeserializeOwned;

/// The keys beside the pickups.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Header {
    title: Option<String>,
    provenance: Option<String>,
    layout: Option<Layout>,
    unit: LengthUnit,
    rate_unit: Option<RateUnit>,
}

const HEADER_KEYS: [&str; 5] = ["title", "provenance", "layout", "unit", "rate_unit"];

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Layout {
    DoubleWishbone,
    LiveAxle,
}

/// Reads a description.
///
/// * `layout`: the layout a script's word stands for; a file names it with the key `layout`
///
/// # Errors
/// Unknown, missing or wrong keys, each by its path, with the nearest valid key.
pub fn from_map(mut map: Map, layout: Option<&str>) -> Result<Model, ScriptError> {
    let mut head = Map::new();
    for key in HEADER_KEYS {
        if let Some(value) = map.remove(key) {
            head.insert(key.into(), value);
        }
    }
    if let Some(layout) = layout {
        head.entry("layout".into()).or_insert_with(|| layout.into());
    }
    let Some(kind) = head.get("layout").cloned() else {
        return Err(ScriptError::new("the model does not say what it is")
            .with_help("add the key `layout`: \"double_wishbone\" or \"live_axle\"")
            .with_key("layout"));
    };
    if !head.contains_key("unit") {
        return Err(ScriptError::new("the model does not state its unit")
            .with_help("add the key `unit`: \"mm\" or \"inch\"; every length is in that unit"));
    }
    known_units(&head)?;
    let header: Header = arguments::read(Dynamic::from_map(head), "the model")?;
    if layout.is_some_and(|layout| kind.clone().into_string().is_ok_and(|named| named != layout)) {
        return Err(ScriptError::new(format!(
            "the key `layout` says {kind}, but the word used is another"
        ))
        .with_key("layout"));
    }
    let body = match header.layout {
        Some(Layout::LiveAxle) => Body::LiveAxle(
            arguments::read(Dynamic::from_map(map), "the live axle")
                .map_err(|error| with_header_key(error, "the live axle"))?,
        ),
        _ => double_wishbone(map)?,
    };
    Ok(Model {
        title: header.title.unwrap_or_else(|| match body {
            Body::DoubleWishbone { .. } => "Double wishbone".to_owned(),
            Body::LiveAxle(_) => "Live axle".to_owned(),
        }),
        provenance: header.provenance,
        units: Units::new(header.unit, header.rate_unit),
        body,
    })
}

/// Refuses a unit that is not known with those that are. The nearest word would be wrong by a power of ten: `cm` is no
/// slip of the finger for `mm`.
fn known_units(head: &Map) -> Result<(), ScriptError> {
    let unknown = |key: &str, known: &dyn Fn(&str) -> bool| {
        let word = head
            .get(key)
            .and_then(|value| value.as_immutable_string_ref().ok());
        word.filter(|word| !known(word)).map(|word| word.to_string())
    };
    let length = |word: &str| from_word::<LengthUnit>(word).is_some();
    if let Some(word) = unknown("unit", &length) {
        return Err(ScriptError::new(format!(
            "the model, `unit`: {word:?} is neither \"mm\" nor \"inch\""
        ))
        .with_help(
            "those are the units there are, millimetres and inches; convert other lengths first, such as \
                     1 cm = 10 mm",
        )
        .with_key("unit"));
    }
    let rate = |word: &str| from_word::<RateUnit>(word).is_some();
    if let Some(word) = unknown("rate_unit", &rate) {
        return Err(ScriptError::new(format!(
            "the model, `rate_unit`: {word:?} is neither \"N/mm\" nor \"lb/in\""
        ))
        .with_help(
            "convert other rates first; without `rate_unit`, N/mm goes with \"mm\" and lb/in with \"inch\"",
        )
        .with_key("rate_unit"));
    }
    Ok(())
}

fn from_word<T: DeserializeOwned>(word: &str) -> Option<T> {
    serde_json::from_value(serde_json::Value::from(word)).ok()
}

fn double_wishbone(mut map: Map) -> Result<Body, ScriptError> {
    let context = "the double wishbone";
    let right = match map.remove("right") {
        None => None,
        Some(value) if value.is_string() => {
            let word = value.to_string();
            if word != "mirror" {
                return Err(ScriptError::new(format!(
                    "{context}, `right`: {word:?} is neither \"mirror\" nor a map with the right corner"
                ))
                .with_key("right"));
            }
            None
        }
        Some(value) => {
            let mut corner: DoubleWishbone = arguments::read(value, &format!("{context}, `right`"))?;
            corner.side = Side::Right;
            Some(corner)
        }
    };
    let corner =
        arguments::read(Dynamic::from_map(map), context).map_err(|error| with_header_key(error, context))?;
    Ok(Body::DoubleWishbone { corner, right })
}

/// An unknown key may be a misspelt one of those beside the pickups.
fn with_header_key(mut error: ScriptError, context: &str) -> ScriptError {
    let unknown = error
        .key
        .as_deref()
        .filter(|key| error.what == format!("{context} has no key `{key}`"));
    if let Some(nearest) = unknown.and_then(|key| suggest(key, HEADER_KEYS)) {
        error.help = Some(format!("did you mean `{nearest}`?"));
    }
    error
}
