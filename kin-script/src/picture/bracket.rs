//! A bracket as a paper template at full size.

use crate::host::ScriptError;
use crate::sheet::drawing::{Hole, Page, ScaleUnit, Template};
use crate::units::{LengthUnit, Units};
use crate::vocabulary::core_error;
use kin_core::checks::{BoltSize, BracketForce, HoleClass, Weld, hole_for_bolt};
use serde::Deserialize;

/// Edge distance that the trade keeps at least, in hole diameters: common practice, no source.
const LEAST_EDGE: f64 = 1.5;

/// A bracket to be drawn, in the unit that it states. It takes the keys of the bracket check, so that one map serves both;
/// those of its strength are read and not drawn.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BracketDrawing {
    name: String,
    #[serde(default)]
    unit: LengthUnit,
    page: Option<Page>,
    #[serde(default = "one")]
    tabs: u32,
    thickness: Option<f64>,
    width: f64,
    length: Option<f64>,
    #[serde(default)]
    corner_radius: f64,
    height: Option<f64>,
    edge_distance: Option<f64>,
    #[serde(default)]
    holes: Vec<HoleAsked>,
    hole: Option<f64>,
    bolt: Option<String>,
    #[serde(default)]
    hole_class: HoleClass,
    drill_to: Option<f64>,
    #[serde(rename = "yielding")]
    _yielding: Option<f64>,
    #[serde(rename = "force")]
    _force: Option<BracketForce>,
    #[serde(rename = "load_factor")]
    _load_factor: Option<f64>,
    #[serde(rename = "weld")]
    _weld: Option<Weld>,
}

/// A hole of a pattern.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct HoleAsked {
    at: [f64; 2],
    name: Option<String>,
    diameter: Option<f64>,
}

fn one() -> u32 {
    1
}

impl BracketDrawing {
    /// The sheet.
    ///
    /// # Errors
    /// What is missing or does not go together, a bolt that is not known, and a plate that does not fit on its page.
    pub fn svg(&self) -> Result<String, ScriptError> {
        let mut template = self.template()?;
        template.notes.extend(self.edge_notes(&template));
        template
            .svg()
            .map_err(|error| ScriptError::new(error.to_string()))
    }

    fn template(&self) -> Result<Template, ScriptError> {
        let unit = self.unit.millimetres();
        let mut notes = vec![self.cut_note()];
        let common = self.common_diameter(&mut notes)?;
        let (length, holes) = self.holes(common)?;
        let inch = self.unit == LengthUnit::Inch;
        Ok(Template {
            title: self.name.clone(),
            notes,
            unit: if inch {
                ScaleUnit::inch()
            } else {
                ScaleUnit::millimetre()
            },
            page: self.page.unwrap_or(if inch { Page::Letter } else { Page::A4 }),
            width: self.width * unit,
            length: length * unit,
            corner_radius: self.corner_radius * unit,
            holes,
        })
    }

    fn cut_note(&self) -> String {
        let from = self.thickness.map_or(String::new(), |thickness| {
            format!(" from plate of {}", self.given(thickness))
        });
        match self.tabs {
            1 => format!("Cut 1 of this{from}."),
            count => format!("Cut {count} of these{from}."),
        }
    }

    /// The diameter of holes that state none of their own (mm), with its note.
    fn common_diameter(&self, notes: &mut Vec<String>) -> Result<Option<f64>, ScriptError> {
        let unit = self.unit.millimetres();
        let (present, drill_to) = (
            self.hole.map(|hole| hole * unit),
            self.drill_to.map(|hole| hole * unit),
        );
        let Some(bolt) = &self.bolt else {
            return Ok(drill_to.or(present));
        };
        let units = Units::new(self.unit, None);
        let refused = |error: kin_core::Error| core_error(&error, &units);
        let size = BoltSize::named(bolt).map_err(refused)?;
        let (diameter, drilled) = hole_for_bolt(size, self.hole_class, present, drill_to).map_err(refused)?;
        let text = self.unit.given_text(diameter);
        notes.push(match (drilled, drill_to) {
            (false, _) => format!("Holes of {text}, as they are, for bolts {}.", size.name),
            (true, Some(_)) => format!("Drill to {text} for bolts {}.", size.name),
            (true, None) => format!(
                "Drill to {text} for bolts {}, {} fit.",
                size.name,
                self.hole_class.name()
            ),
        });
        Ok(Some(diameter))
    }

    /// Length of the plate in the stated unit, and its holes.
    fn holes(&self, common: Option<f64>) -> Result<(f64, Vec<Hole>), ScriptError> {
        if self.holes.is_empty() {
            let (Some(height), Some(edge)) = (self.height, self.edge_distance) else {
                return Err(ScriptError::new("the bracket has no hole").with_help(
                    "give `height` and `edge_distance` of its one hole, or `length` of the plate and a list of `holes`",
                ));
            };
            let only = HoleAsked {
                at: [self.width / 2.0, height],
                name: None,
                diameter: None,
            };
            let hole = self.hole_of(0, &only, common)?;
            return Ok((self.length.unwrap_or(height + edge), vec![hole]));
        }
        if self.height.is_some() || self.edge_distance.is_some() {
            let key = if self.height.is_some() {
                "height"
            } else {
                "edge_distance"
            };
            return Err(ScriptError::new(format!(
                "`{key}` belongs to one hole alone, and there is a list of `holes`"
            ))
            .with_key(key)
            .with_help("give each hole its place with `at`, and the plate its `length`"));
        }
        let Some(length) = self.length else {
            return Err(
                ScriptError::new("the bracket needs the key `length`, which is missing")
                    .with_help("it is counted from the root to the opposite edge"),
            );
        };
        let holes = self.holes.iter().enumerate();
        let holes = holes.map(|(index, hole)| self.hole_of(index, hole, common));
        Ok((length, holes.collect::<Result<_, _>>()?))
    }

    fn hole_of(&self, index: usize, asked: &HoleAsked, common: Option<f64>) -> Result<Hole, ScriptError> {
        let unit = self.unit.millimetres();
        let diameter = asked.diameter.map(|own| own * unit).or(common).ok_or_else(|| {
            ScriptError::new("nobody says how large the holes are").with_help(
                "give the `bolt`, such as \"1/2-13\", or `hole`, `drill_to`, or a `diameter` with each hole",
            )
        })?;
        Ok(Hole {
            name: asked.name.clone().unwrap_or_else(|| (index + 1).to_string()),
            at: (asked.at[0] * unit, asked.at[1] * unit),
            diameter,
        })
    }

    /// A warning where holes stand nearer to an edge than the trade keeps.
    fn edge_notes(&self, template: &Template) -> Option<String> {
        let near = template.holes.iter().filter(|hole| {
            // A hole placed at just that distance keeps it.
            template.edge_distance(hole) < LEAST_EDGE * hole.diameter - 1e-6
        });
        let names: Vec<String> = near.map(|hole| hole.name.clone()).collect();
        let (what, stands) = match names.len() {
            0 => return None,
            1 => ("Hole", "stands"),
            _ => ("Holes", "stand"),
        };
        Some(format!(
            "{what} {} {stands} nearer to an edge than the 1.5 hole diameters that the trade keeps at least.",
            crate::explain::joined(&names, "and")
        ))
    }

    fn given(&self, length: f64) -> String {
        self.unit.given_text(length * self.unit.millimetres())
    }
}
