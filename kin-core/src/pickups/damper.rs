//! Dampers and springs: mounts and lengths.

use super::measured::Quantity;
use super::named::{Named, Walk};
use super::{Point, mirrored};
use serde::{Deserialize, Serialize};

/// A damper, with or without a spring around it.
///
/// Lengths are those of the catalogue. Where a mount is a stud, the catalogue gives the length to some mark on it
/// (its shoulder, its tip), while the damper turns about the middle of the bushing stack: `upper_stud` and
/// `lower_stud` say how far that turning point lies beyond the mark. The effective length from turning point to
/// turning point, [`Damper::extended_between_mounts`] and the like, is what every check uses.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Damper {
    /// Turning point of the mount on the body (mm).
    pub upper_mount: Point,
    /// Turning point of the mount on the moving part (mm).
    pub lower_mount: Point,
    /// The part that carries the lower mount: `lower_arm`, `upper_arm`, `upright`, `axle`, or a link's name.
    pub rides_on: String,
    /// Length fully extended, as the catalogue gives it (mm).
    pub extended: f64,
    /// Length fully compressed, metal to metal, as the catalogue gives it (mm).
    pub compressed: f64,
    /// Free length of the bump stop on the shaft (mm): it is touched this much before metal.
    #[serde(default)]
    pub bump_stop: f64,
    /// Stud mount at the upper end: distance from the mark the catalogue measures to, to the turning point (mm),
    /// positive when the turning point lies beyond the mark. Absent for an eye.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upper_stud: Option<f64>,
    /// The same at the lower end (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lower_stud: Option<f64>,
}

impl Damper {
    /// How much longer the damper is between its turning points than the catalogue's length (mm).
    #[must_use]
    pub fn stud_allowance(&self) -> f64 {
        self.upper_stud.unwrap_or(0.0) + self.lower_stud.unwrap_or(0.0)
    }

    /// Fully extended length between the turning points of the mounts (mm).
    #[must_use]
    pub fn extended_between_mounts(&self) -> f64 {
        self.extended + self.stud_allowance()
    }

    /// Fully compressed length between the turning points of the mounts (mm).
    #[must_use]
    pub fn compressed_between_mounts(&self) -> f64 {
        self.compressed + self.stud_allowance()
    }

    /// Length between the turning points at which the bump stop is first touched (mm).
    #[must_use]
    pub fn stop_contact_between_mounts(&self) -> f64 {
        self.compressed_between_mounts() + self.bump_stop
    }

    /// The same damper on the other side of the car.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            upper_mount: mirrored(&self.upper_mount),
            lower_mount: mirrored(&self.lower_mount),
            ..self.clone()
        }
    }
}

/// A spring.
///
/// On a coilover only its seats are given; a spring that stands apart has mounts of its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spring {
    /// Rate (N/mm).
    pub rate: f64,
    /// Length without load (mm); without it the force is unknown, and the wheel rate lacks its geometric term.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_length: Option<f64>,
    /// Distance from the upper mount to the upper seat along the axis (mm).
    #[serde(default)]
    pub upper_seat: f64,
    /// Distance from the lower mount to the lower seat along the axis (mm).
    #[serde(default)]
    pub lower_seat: f64,
    /// Centre of the upper end, for a spring that stands apart (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upper_mount: Option<Point>,
    /// Centre of the lower end, for a spring that stands apart (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lower_mount: Option<Point>,
    /// The part that carries the lower end, for a spring that stands apart.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rides_on: Option<String>,
}

impl Spring {
    /// Force (N, compression positive) with this distance between its mounts (mm).
    ///
    /// Never negative: a spring that is longer than free hangs loose. None when the free length is not given.
    #[must_use]
    pub fn force(&self, between_mounts: f64) -> Option<f64> {
        let installed = between_mounts - self.upper_seat - self.lower_seat;
        self.free_length
            .map(|free| (self.rate * (free - installed)).max(0.0))
    }

    /// The same spring on the other side of the car.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            upper_mount: self.upper_mount.as_ref().map(mirrored),
            lower_mount: self.lower_mount.as_ref().map(mirrored),
            ..self.clone()
        }
    }
}

impl Named for Damper {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("upper_mount", &mut self.upper_mount);
        walk.within("lower_mount", &mut self.lower_mount);
        walk.number("extended", &mut self.extended, Quantity::Length);
        walk.number("compressed", &mut self.compressed, Quantity::Length);
        walk.number("bump_stop", &mut self.bump_stop, Quantity::Length);
        walk.lengths([
            ("upper_stud", &mut self.upper_stud),
            ("lower_stud", &mut self.lower_stud),
        ]);
    }
}

impl Named for Spring {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.number("rate", &mut self.rate, Quantity::Rate);
        walk.lengths([("free_length", &mut self.free_length)]);
        walk.number("upper_seat", &mut self.upper_seat, Quantity::Length);
        walk.number("lower_seat", &mut self.lower_seat, Quantity::Length);
        walk.within("upper_mount", &mut self.upper_mount);
        walk.within("lower_mount", &mut self.lower_mount);
    }
}
