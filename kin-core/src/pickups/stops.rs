//! What stops the wheel besides the damper, and the travel the owner wants.

use super::measured::Quantity;
use super::named::{Named, Walk};
use super::{Point, mirrored};
use serde::{Deserialize, Serialize};

/// Stops of the suspension itself.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stops {
    /// Wheel bump from ride height to the arm's or axle's own stop (mm, positive).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bump: Option<f64>,
    /// Wheel droop from ride height to the arm's or axle's own stop (mm, positive).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub droop: Option<f64>,
    /// Limiting straps, and hoses that must not be pulled.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub straps: Vec<Strap>,
}

/// A strap or hose between the body and a moving part; it stops the wheel when it is taut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strap {
    /// What it is called in findings.
    pub name: String,
    /// Its end on the body (mm).
    pub upper_mount: Point,
    /// Its end on the moving part (mm).
    pub lower_mount: Point,
    /// The part that carries the lower end: `lower_arm`, `upper_arm`, `upright`, `axle`, or a link's name.
    pub rides_on: String,
    /// Distance between its ends when it is taut (mm).
    pub length: f64,
}

/// Wheel travel the owner wants to keep, counted from ride height.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wanted {
    /// Wheel bump before the damper's bump stop is touched (mm, positive).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bump: Option<f64>,
    /// Wheel droop before the damper tops out (mm, positive).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub droop: Option<f64>,
    /// Wheel travel beyond the wanted one below which a check says "tight" (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Option<f64>,
}

impl Stops {
    /// Whether no stop is given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The same stops on the other side of the car.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut other = self.clone();
        for strap in &mut other.straps {
            strap.upper_mount = mirrored(&strap.upper_mount);
            strap.lower_mount = mirrored(&strap.lower_mount);
        }
        other
    }
}

impl Named for Strap {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("upper_mount", &mut self.upper_mount);
        walk.within("lower_mount", &mut self.lower_mount);
        walk.number("length", &mut self.length, Quantity::Length);
    }
}

/// Straps by the names they have.
struct Straps<'a>(&'a mut [Strap]);

impl Named for Straps<'_> {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        for strap in self.0.iter_mut() {
            let name = strap.name.clone();
            walk.within(&name, strap);
        }
    }
}

impl Named for Stops {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.lengths([("bump", &mut self.bump), ("droop", &mut self.droop)]);
        walk.within("straps", &mut Straps(&mut self.straps));
    }
}

impl Named for Wanted {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.lengths([
            ("bump", &mut self.bump),
            ("droop", &mut self.droop),
            ("margin", &mut self.margin),
        ]);
    }
}
