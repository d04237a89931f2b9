//! A live axle on two-point links.

use super::measured::{Measured, Quantity};
use super::named::{Named, Walk};
use super::{Damper, Point, RideHeight, RightSide, Spring, Stops, Wanted, mirrored};
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// A rigid link with a joint at each end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Link {
    /// Joint on the body (mm).
    pub body: Point,
    /// Joint on the axle (mm).
    pub axle: Point,
    /// Axial stiffness of the link with its bushings (N/mm). Only an axle held by more links than it needs uses
    /// it; links without one count as equally stiff.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stiffness: Option<f64>,
}

/// The two wheels of an axle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleWheels {
    /// Centre of the left wheel (mm).
    pub left: Point,
    /// Centre of the right wheel (mm); absent when the right side is the mirror.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub right: Option<Point>,
    /// Loaded radius: wheel centre to the ground (mm).
    #[serde(alias = "tire_radius")]
    pub tyre_radius: f64,
}

/// Where the propeller shaft meets the axle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pinion {
    /// Centre of the joint at the pinion (mm).
    pub point: Point,
    /// Angle of the pinion shaft at travel 0 (deg), nose up positive.
    #[serde(default)]
    pub nose_up: f64,
}

/// Something mounted once on each side of an axle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleSides<T> {
    /// The left one.
    pub left: T,
    /// The right one; absent when the right side is the mirror.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub right: Option<T>,
}

fn none<T>() -> Option<T> {
    None
}

/// A live axle, with all that is mounted on it.
///
/// Lengths are millimetres, angles degrees, rates N/mm. The points hold at travel 0, "as measured".
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LiveAxle {
    /// Whether the right side is given or mirrored.
    #[serde(default, skip_serializing_if = "is_given")]
    pub right: RightSide,
    /// The links by name, such as `upper_left`, `lower_right` or `panhard_rod`.
    pub links: IndexMap<String, Link>,
    /// The wheels.
    pub wheels: AxleWheels,
    /// The pinion, for the driveline.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pinion: Option<Pinion>,
    /// Dampers with springs around them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coilovers: Option<AxleSides<Damper>>,
    /// Dampers without springs; the springs stand apart.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dampers: Option<AxleSides<Damper>>,
    /// The springs; without mounts of their own they sit on the coilovers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub springs: Option<AxleSides<Spring>>,
    /// Where the car sits; travel 0 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ride_height: Option<RideHeight>,
    /// What stops the axle besides the dampers.
    #[serde(default, skip_serializing_if = "Stops::is_empty")]
    pub stops: Stops,
    /// Wheel travel the owner wants to keep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted: Option<Wanted>,
}

fn is_given(right: &RightSide) -> bool {
    *right == RightSide::Given
}

impl LiveAxle {
    /// The axle with its right side written out, where the description says that it is the mirror of the left.
    ///
    /// A link whose name ends in `_left` gets a partner named `_right`, unless that one is given; wheels, dampers
    /// and springs likewise.
    #[must_use]
    pub fn with_both_sides(&self) -> Self {
        let mut whole = self.clone();
        if self.right == RightSide::Given {
            return whole;
        }
        whole.right = RightSide::Given;
        whole.links.clear();
        for (name, link) in &self.links {
            whole.links.insert(name.clone(), *link);
            if let Some(stem) = name.strip_suffix("_left") {
                let partner = format!("{stem}_right");
                if !self.links.contains_key(&partner) {
                    let other = Link {
                        body: mirrored(&link.body),
                        axle: mirrored(&link.axle),
                        stiffness: link.stiffness,
                    };
                    whole.links.insert(partner, other);
                }
            }
        }
        whole.wheels.right.get_or_insert(mirrored(&self.wheels.left));
        for sides in [&mut whole.coilovers, &mut whole.dampers].into_iter().flatten() {
            let other = partner_mount(sides.left.mirrored());
            sides.right.get_or_insert(other);
        }
        if let Some(sides) = &mut whole.springs {
            let mut other = sides.left.mirrored();
            if let Some(name) = other
                .rides_on
                .as_deref()
                .and_then(|name| name.strip_suffix("_left"))
            {
                other.rides_on = Some(format!("{name}_right"));
            }
            sides.right.get_or_insert(other);
        }
        whole
    }

    /// The dampers, whether they carry the springs or not.
    #[must_use]
    pub fn any_dampers(&self) -> Option<&AxleSides<Damper>> {
        self.coilovers.as_ref().or(self.dampers.as_ref())
    }
}

/// A mirrored damper on a left link rides on the right link.
fn partner_mount(mut damper: Damper) -> Damper {
    if let Some(stem) = damper.rides_on.strip_suffix("_left") {
        damper.rides_on = format!("{stem}_right");
    }
    damper
}

impl<T: Measured> Measured for AxleSides<T> {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.left.visit(visitor);
        self.right.visit(visitor);
    }
}

impl<T: Named> Named for AxleSides<T> {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("left", &mut self.left);
        walk.within("right", &mut self.right);
    }
}

impl Named for Link {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("body", &mut self.body);
        walk.within("axle", &mut self.axle);
        if let Some(stiffness) = &mut self.stiffness {
            walk.number("stiffness", stiffness, Quantity::Rate);
        }
    }
}

impl Named for IndexMap<String, Link> {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        for (name, link) in self {
            walk.within(name, link);
        }
    }
}

impl Named for AxleWheels {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("left", &mut self.left);
        walk.within("right", &mut self.right);
        walk.number("tyre_radius", &mut self.tyre_radius, Quantity::Length);
    }
}

impl Named for Pinion {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("point", &mut self.point);
        walk.number("nose_up", &mut self.nose_up, Quantity::Angle);
    }
}

impl Named for LiveAxle {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.within("links", &mut self.links);
        walk.within("wheels", &mut self.wheels);
        walk.within("pinion", &mut self.pinion);
        walk.within("coilovers", &mut self.coilovers);
        walk.within("dampers", &mut self.dampers);
        walk.within("springs", &mut self.springs);
        walk.within("ride_height", &mut self.ride_height);
        walk.within("stops", &mut self.stops);
        walk.within("wanted", &mut self.wanted);
    }
}
