//! The clearance question checked before anything is moved, in sentences that name the field.

use super::description::{ClearanceQuestion, Place, Shape, Solid};
use super::names::unknown;
use crate::pickups::{PickupError, Point};

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
                let field = format!("{list}[{place}]");
                if solid.name.trim().is_empty() {
                    return Err(incomplete(
                        &format!("{field}.name"),
                        "give it a name, for the findings",
                    ));
                }
                if names.contains(&solid.name.as_str()) {
                    let problem = format!(
                        "there is another `{}`; give each solid a name of its own",
                        solid.name
                    );
                    return Err(incomplete(&format!("{field}.name"), &problem));
                }
                names.push(&solid.name);
                solid.validate(&field)?;
            }
        }
        for (first, second) in &self.except {
            for name in [first, second] {
                if !names.contains(&name.as_str()) {
                    return Err(unknown("clearance.except", name, names.iter().copied()));
                }
            }
        }
        for (value, field) in [(self.gap, "gap"), (self.margin, "margin")] {
            optional(value, &format!("clearance.{field}"), FARTHEST_MM, UNIT_ADVICE)?;
        }
        let travels = [(self.bump, "bump"), (self.droop, "droop"), (self.lock, "lock")];
        for (value, field) in travels {
            let advice = "count it from ride height or straight ahead, positive";
            optional(value, &format!("clearance.{field}"), FARTHEST_TRAVEL_MM, advice)?;
        }
        Ok(())
    }
}

impl Solid {
    fn validate(&self, field: &str) -> Result<(), PickupError> {
        optional(self.gap, &format!("{field}.gap"), FARTHEST_MM, UNIT_ADVICE)?;
        match &self.shape {
            Shape::AlongDamper(part) => {
                let field = format!("{field}.along_damper");
                radius(part.radius, &field)?;
                let given = [
                    (part.from_upper, "from_upper"),
                    (part.from_lower, "from_lower"),
                    (part.length, "length"),
                ];
                if given.iter().filter(|(length, _)| length.is_some()).count() != 2 {
                    let problem = "give exactly two of `from_upper`, `from_lower` and `length`";
                    return Err(incomplete(&field, problem));
                }
                for (length, name) in given {
                    optional(length, &format!("{field}.{name}"), FARTHEST_MM, UNIT_ADVICE)?;
                }
                Ok(())
            }
            Shape::Rod(rod) => {
                let field = format!("{field}.rod");
                radius(rod.radius, &field)?;
                for (end, name) in [(&rod.from, "from"), (&rod.to, "to")] {
                    if let Place::At(point) = end {
                        coordinates(point, &format!("{field}.{name}"))?;
                    }
                }
                for (length, name) in [
                    (rod.short_of_from, "short_of_from"),
                    (rod.short_of_to, "short_of_to"),
                ] {
                    optional(Some(length), &format!("{field}.{name}"), FARTHEST_MM, UNIT_ADVICE)?;
                }
                Ok(())
            }
            Shape::Tube(tube) => {
                let field = format!("{field}.tube");
                radius(tube.radius, &field)?;
                if tube.points.len() < 2 {
                    return Err(incomplete(
                        &format!("{field}.points"),
                        "give at least two points along the tube",
                    ));
                }
                tube.points
                    .iter()
                    .enumerate()
                    .try_for_each(|(place, point)| coordinates(point, &format!("{field}.points[{place}]")))
            }
            Shape::Box(block) => {
                let field = format!("{field}.box");
                coordinates(&block.centre, &format!("{field}.centre"))?;
                for (size, axis) in block.size.iter().zip(["length", "width", "height"]) {
                    positive(*size, &format!("{field}.size ({axis})"))?;
                }
                for (angle, name) in [(block.yaw, "yaw"), (block.pitch, "pitch"), (block.roll, "roll")] {
                    let field = format!("{field}.{name}");
                    within(angle, &field, (-360.0, 360.0), "give degrees")?;
                }
                Ok(())
            }
            Shape::Sphere(ball) => {
                let field = format!("{field}.sphere");
                coordinates(&ball.centre, &format!("{field}.centre"))?;
                optional(
                    Some(ball.radius),
                    &format!("{field}.radius"),
                    FARTHEST_MM,
                    UNIT_ADVICE,
                )
            }
            Shape::Plane(plane) => {
                let field = format!("{field}.plane");
                coordinates(&plane.point, &format!("{field}.point"))?;
                coordinates(&plane.normal, &format!("{field}.normal"))?;
                if plane.normal.norm() < 1e-9 {
                    let problem = "give a direction towards the free side, such as [0, 0, -1] under a floor";
                    return Err(incomplete(&format!("{field}.normal"), problem));
                }
                if self.fixed_to.as_deref().is_some_and(|piece| piece != "body") {
                    return Err(incomplete(
                        &field,
                        "a plane stands on the body; use a box for a moving face",
                    ));
                }
                Ok(())
            }
            Shape::Tyre(tyre) => {
                let field = format!("{field}.tyre");
                positive(tyre.width, &format!("{field}.width"))?;
                tyre.radius
                    .map_or(Ok(()), |radius| positive(radius, &format!("{field}.radius")))
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

fn radius(value: f64, field: &str) -> Result<(), PickupError> {
    positive(value, &format!("{field}.radius"))
}

fn positive(value: f64, field: &str) -> Result<(), PickupError> {
    if value.is_finite() && value <= 0.0 {
        return Err(PickupError::OutOfRange {
            field: field.to_owned(),
            value,
            requirement: "above 0".to_owned(),
            advice: UNIT_ADVICE,
        });
    }
    within(value, field, (0.0, FARTHEST_MM), UNIT_ADVICE)
}

fn optional(value: Option<f64>, field: &str, most: f64, advice: &'static str) -> Result<(), PickupError> {
    value.map_or(Ok(()), |value| within(value, field, (0.0, most), advice))
}

fn within(value: f64, field: &str, range: (f64, f64), advice: &'static str) -> Result<(), PickupError> {
    if !value.is_finite() {
        return Err(PickupError::NotFinite {
            field: field.to_owned(),
            value,
        });
    }
    if value < range.0 || value > range.1 {
        return Err(PickupError::OutOfRange {
            field: field.to_owned(),
            value,
            requirement: format!("between {} and {}", range.0, range.1),
            advice,
        });
    }
    Ok(())
}

fn coordinates(point: &Point, field: &str) -> Result<(), PickupError> {
    let axes = point.iter().zip(["x", "y", "z"]);
    axes.into_iter().try_for_each(|(value, axis)| {
        within(
            *value,
            &format!("{field} {axis}"),
            (-FARTHEST_MM, FARTHEST_MM),
            UNIT_ADVICE,
        )
    })
}
