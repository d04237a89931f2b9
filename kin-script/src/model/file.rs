//! Model files: TOML and JSON with the same names as in scripts.

use super::{Body, Model, from_map};
use crate::arguments::to_dynamic;
use crate::host::ScriptError;
use crate::units::Units;
use rhai::Map;
use serde::Serialize;
use serde_json::Value;
use std::path::Path;

/// The two forms of a model file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ModelFormat {
    /// TOML, the form people write.
    Toml,
    /// JSON, the form programs exchange.
    Json,
}

/// A model as text.
pub struct ModelFile;

impl ModelFormat {
    /// The format that a file name ends in.
    #[must_use]
    pub fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_str()?.to_ascii_lowercase();
        match ending.as_str() {
            "toml" => Some(Self::Toml),
            "json" => Some(Self::Json),
            _ => None,
        }
    }
}

impl ModelFile {
    /// Reads a model from text.
    ///
    /// # Errors
    /// Text that is not TOML or JSON (with line and column), and everything that [`from_map`] refuses.
    pub fn read(text: &str, format: ModelFormat) -> Result<Model, ScriptError> {
        let value: Value = match format {
            ModelFormat::Toml => toml::from_str(text).map_err(|error| {
                ScriptError::new(format!(
                    "the file is not valid TOML: {}",
                    error.to_string().trim_end()
                ))
            })?,
            ModelFormat::Json => serde_json::from_str(text)
                .map_err(|error| ScriptError::new(format!("the file is not valid JSON: {error}")))?,
        };
        let map = to_dynamic(value)
            .try_cast::<Map>()
            .ok_or_else(|| ScriptError::new("the file holds no model: a table with named keys is needed"))?;
        from_map(map, None)
    }

    /// Writes a model as text, in the units it was given in.
    ///
    /// # Errors
    /// When the writer fails.
    pub fn write(model: &Model, format: ModelFormat) -> Result<String, ScriptError> {
        let value = to_value(model)?;
        let failed = |error: &dyn std::fmt::Display| {
            ScriptError::new(format!("the model could not be written: {error}"))
        };
        match format {
            ModelFormat::Toml => toml::to_string(&value).map_err(|error| failed(&error)),
            ModelFormat::Json => {
                let mut text = serde_json::to_string_pretty(&value).map_err(|error| failed(&error))?;
                text.push('\n');
                Ok(text)
            }
        }
    }
}

/// The model as a tree with the names of files and scripts.
///
/// # Errors
/// When the writer fails.
pub(crate) fn to_value(model: &Model) -> Result<Value, ScriptError> {
    let mut tree = serde_json::Map::new();
    tree.insert("title".into(), model.title.as_str().into());
    if let Some(provenance) = &model.provenance {
        tree.insert("provenance".into(), provenance.as_str().into());
    }
    tree.insert("layout".into(), model.layout().into());
    let units = &model.units;
    tree.insert("unit".into(), written(&units.length)?);
    if units.rate != Units::new(units.length, None).rate {
        tree.insert("rate_unit".into(), written(&units.rate)?);
    }
    let body = match &model.body {
        Body::DoubleWishbone { corner, .. } => written(corner)?,
        Body::LiveAxle(axle) => written(axle)?,
    };
    if let Value::Object(body) = body {
        tree.extend(body);
    }
    if let Body::DoubleWishbone {
        right: Some(right), ..
    } = &model.body
    {
        tree.insert("right".into(), written(right)?);
    }
    Ok(Value::Object(tree))
}

fn written(part: &impl Serialize) -> Result<Value, ScriptError> {
    serde_json::to_value(part)
        .map_err(|error| ScriptError::new(format!("the model could not be written: {error}")))
}
