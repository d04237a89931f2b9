//! The carrier on its rods: rod lengths, drives and the constraint Jacobian.
//!
//! A rod between the body point b and the carrier point x keeps `(|x - b|^2 - L^2) / 2 = 0`. When the carrier moves
//! with the twist (v, w), that residual changes at the rate `d . v + (r cross d) . w`, with d = x - b and r the
//! carrier point seen from the carrier's origin. These six numbers are one row of the constraint Jacobian; a
//! drive, which prescribes the height of a wheel centre, gives a row of the same form.

mod build;
mod freedom;
mod jacobian;
mod response;
mod rider;
mod rod;
mod stationary;

pub use freedom::LinkageError;
use response::{Bars, Held};
pub(crate) use rider::{ArmPoints, Rider};
pub(crate) use rod::{Rod, RodNumbers};
pub(crate) use stationary::{STATIONARY, StretchedRod, stationarity};

use crate::pickups::Point;
use crate::pose::Solved;
use nalgebra::Vector3;

/// What is asked of a linkage (mm): heave, half the difference of the wheel heights, rack displacement.
///
/// A corner's heave is the travel of its wheel centre, and its half difference stays zero; an axle has no rack.
pub(crate) type Command = [f64; 3];

/// One of the numbers of a command.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Drive {
    /// Both wheels of an axle, or the wheel of a corner, by the same height.
    Heave = 0,
    /// The left wheel up and the right wheel down.
    HalfDifference = 1,
    /// The rack.
    Rack = 2,
}

impl Drive {
    /// One mm of this drive alone.
    pub(crate) const fn direction(self) -> Command {
        match self {
            Self::Heave => [1.0, 0.0, 0.0],
            Self::HalfDifference => [0.0, 1.0, 0.0],
            Self::Rack => [0.0, 0.0, 1.0],
        }
    }
}

/// Rotations are measured against this length (mm) wherever a single number must speak for a whole twist.
pub(crate) const LEVER_MM: f64 = 300.0;

/// A carrier held by rods and driven by wheel heights.
#[derive(Debug, Clone)]
pub(crate) struct Linkage {
    /// Wheel centre of a corner, or the middle between the wheel centres of an axle.
    pub(crate) origin: Point,
    pub(crate) rods: Vec<Rod>,
    /// The same rods as the solver wants them.
    held: Held,
    /// Left wheel centre of an axle seen from the origin; a corner has none.
    pub(crate) half_axle: Option<Vector3<f64>>,
    /// Size of the carrier (mm): from the origin to its farthest rod, or from wheel to wheel.
    pub(crate) size: f64,
    /// Whether there are more rods than the carrier needs.
    pub(crate) held_too_much: bool,
    /// The sign of the determinant in the assembly as measured.
    pub(crate) positive: bool,
    /// The pose as measured, with its twists.
    pub(crate) as_measured: Solved,
}
