//! The clearance question checked before anything is moved, in sentences that name the field.

use super::description::{ClearanceQuestion, Place, Shape, Solid};
use super::field::Field;
use super::names::unknown;
use crate::Dimension;
use crate::pickups::{PickupError, Point, angle_within, length_within, positive_of};

/// Coordinates and lengths beyond this (mm) are taken for a wrong unit or a slip of the pen.
const FARTHEST_MM: f64 = 20_000.0;
/// Wheel travel or rack displacement beyond this (mm) is taken for a wrong unit.
const FARTHEST_TRAVEL_MM: f64 = 1_000.0;

const UNIT_ADVICE: &str = "is the unit right (inches given as millimetres, or the other way round)?";

impl ClearanceQuestion {
    /// Checks that the question can be asked of some suspension.
    ///
    /// # Errors
    /// A [`PickupError`] that names the first field found wrong.
    pub fn validate(&self) -> Result<(), PickupError> {
        if self.parts.is_empty() {
            return Err(incomplete("clearance.parts", "name at least one part that moves"));
        }
        let lists = [
            (&self.parts, "clearance.parts"),
            (&self.obstacles, "clearance.obstacles"),
        ];
        let mut names: Vec<&str> = Vec::new();
        for (solids, list) in lists {
            for (place, solid) in solids.iter().enumerate() {
                let field = Field {
                    list,
                    place,
                    form: "",
                };
                if solid.name.trim().is_empty() {
                    return Err(incomplete(&field.at("name"), "give it a name, for the findings"));
                }
                if names.contains(&solid.name.as_str()) {
                    let problem = format!(
                        "there is another `{}`; give each solid a name of its own",
                        solid.name
                    );
                    return Err(incomplete(&field.at("name"), &problem));
                }
                names.push(&solid.name);
                solid.validate(field)?;
            }
        }
        for (first, second) in &self.except {
            for name in [first, second] {
                if !names.contains(&name.as_str()) {
                    return Err(unknown("clearance.except", name, names.iter().copied()));
                }
            }
        }
        let path = |name: &'static str| move || format!("clearance.{name}");
        for (value, name) in [(self.gap, "gap"), (self.margin, "margin")] {
            optional(value, path(name), FARTHEST_MM, UNIT_ADVICE)?;
        }
        let travels = [(self.bump, "bump"), (self.droop, "droop"), (self.lock, "lock")];
        for (value, name) in travels {
            let advice = "count it from ride height or straight ahead, positive";
            optional(value, path(name), FARTHEST_TRAVEL_MM, advice)?;
        }
        Ok(())
    }
}

impl Solid {
    fn validate(&self, field: Field) -> Result<(), PickupError> {
        optional(self.gap, || field.at("gap"), FARTHEST_MM, UNIT_ADVICE)?;
        match &self.shape {
            Shape::AlongDamper(part) => {
                let field = field.of(".along_damper");
                positive(part.radius, || field.at("radius"))?;
                let given = [
                    (part.from_upper, "from_upper"),
                    (part.from_lower, "from_lower"),
                    (part.length, "length"),
                ];
                if given.iter().filter(|(length, _)| length.is_some()).count() != 2 {
                    let problem = "give exactly two of `from_upper`, `from_lower` and `length`";
                    return Err(incomplete(&field.to_string(), problem));
                }
                given.into_iter().try_for_each(|(length, name)| {
                    optional(length, || field.at(name), FARTHEST_MM, UNIT_ADVICE)
                })
            }
            Shape::Rod(rod) => {
                let field = field.of(".rod");
                positive(rod.radius, || field.at("radius"))?;
                for (end, name) in [(&rod.from, "from"), (&rod.to, "to")] {
                    if let Place::At(point) = end {
                        coordinates(point, || field.at(name))?;
                    }
                }
                let short = [
                    (rod.short_of_from, "short_of_from"),
                    (rod.short_of_to, "short_of_to"),
                ];
                short.into_iter().try_for_each(|(length, name)| {
                    within(length, || field.at(name), (0.0, FARTHEST_MM), UNIT_ADVICE)
                })
            }
            Shape::Tube(tube) => {
                let field = field.of(".tube");
                positive(tube.radius, || field.at("radius"))?;
                if tube.points.len() < 2 {
                    let problem = "give at least two points along the tube";
                    return Err(incomplete(&field.at("points"), problem));
                }
                let mut points = tube.points.iter().enumerate();
                points.try_for_each(|(place, point)| {
                    coordinates(point, || field.at(format_args!("points[{place}]")))
                })
            }
            Shape::Box(block) => {
                let field = field.of(".box");
                coordinates(&block.centre, || field.at("centre"))?;
                for (size, axis) in block.size.iter().zip(["length", "width", "height"]) {
                    positive(*size, || field.at(format_args!("size ({axis})")))?;
                }
                let angles = [(block.yaw, "yaw"), (block.pitch, "pitch"), (block.roll, "roll")];
                angles.into_iter().try_for_each(|(angle, name)| {
                    angle_within(angle, &field.at(name), (-360.0, 360.0), "give degrees")
                })
            }
            Shape::Sphere(ball) => {
                let field = field.of(".sphere");
                coordinates(&ball.centre, || field.at("centre"))?;
                within(
                    ball.radius,
                    || field.at("radius"),
                    (0.0, FARTHEST_MM),
                    UNIT_ADVICE,
                )
            }
            Shape::Plane(plane) => {
                let field = field.of(".plane");
                coordinates(&plane.point, || field.at("point"))?;
                coordinates(&plane.normal, || field.at("normal"))?;
                if plane.normal.norm() < 1e-9 {
                    let problem = "give a direction towards the free side, such as [0, 0, -1] under a floor";
                    return Err(incomplete(&field.at("normal"), problem));
                }
                if self.fixed_to.as_deref().is_some_and(|piece| piece != "body") {
                    let problem = "a plane stands on the body; use a box for a moving face";
                    return Err(incomplete(&field.to_string(), problem));
                }
                Ok(())
            }
            Shape::Tyre(tyre) => {
                let field = field.of(".tyre");
                positive(tyre.width, || field.at("width"))?;
                tyre.radius
                    .map_or(Ok(()), |radius| positive(radius, || field.at("radius")))
            }
        }
    }
}

pub(super) fn incomplete(field: &str, problem: &str) -> PickupError {
    PickupError::Incomplete {
        field: field.to_owned(),
        problem: problem.to_owned(),
    }
}

fn positive(value: f64, field: impl Fn() -> String) -> Result<(), PickupError> {
    if value.is_finite() && value <= 0.0 {
        return positive_of(value, Dimension::Length, &field(), UNIT_ADVICE);
    }
    within(value, field, (0.0, FARTHEST_MM), UNIT_ADVICE)
}

fn optional(
    value: Option<f64>,
    field: impl Fn() -> String,
    most: f64,
    advice: &'static str,
) -> Result<(), PickupError> {
    value.map_or(Ok(()), |value| within(value, field, (0.0, most), advice))
}

fn within(
    value: f64,
    field: impl Fn() -> String,
    range: (f64, f64),
    advice: &'static str,
) -> Result<(), PickupError> {
    // The path is only written where it is wanted.
    if value >= range.0 && value <= range.1 {
        return Ok(());
    }
    length_within(value, &field(), range, advice)
}

fn coordinates(point: &Point, field: impl Fn() -> String) -> Result<(), PickupError> {
    let mut axes = point.iter().zip(["x", "y", "z"]);
    axes.try_for_each(|(value, axis)| {
        let path = || format!("{} {axis}", field());
        within(*value, path, (-FARTHEST_MM, FARTHEST_MM), UNIT_ADVICE)
    })
}
