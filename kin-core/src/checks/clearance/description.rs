//! What moves, what stands, and over which motions: the input of the clearance check.

use crate::pickups::{Measured, Point, Quantity, Side, mirrored};
use serde::{Deserialize, Serialize};

/// The question: which parts, against which obstacles, over what motion, with how much room.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClearanceQuestion {
    /// What moves. Each part is held against every obstacle and against every other part that is not fixed to the
    /// same piece of the car.
    pub parts: Vec<Solid>,
    /// What the parts must stay clear of; obstacles are not held against each other.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub obstacles: Vec<Solid>,
    /// Pairs of names that are not to be compared, such as two parts that meet at a joint.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub except: Vec<(String, String)>,
    /// The gap wanted between any two (mm); 6.35 (a quarter inch; common practice, no source) where it is absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gap: Option<f64>,
    /// Room beyond the wanted gap below which the check says "tight" (mm); 2 where it is absent, what a tape
    /// measure is good for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Option<f64>,
    /// Wheel bump from ride height to look at (mm, positive); the wanted bump of the description where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bump: Option<f64>,
    /// Wheel droop from ride height to look at (mm, positive); the wanted droop of the description where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub droop: Option<f64>,
    /// Rack displacement to each side at full lock (mm, positive), for a steered corner; without it the wheel is
    /// looked at straight ahead only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lock: Option<f64>,
}

/// A solid, and what carries it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Solid {
    /// What it is called in findings.
    pub name: String,
    /// Its form and where it is, with the pickups as measured.
    pub shape: Shape,
    /// What carries it: `body`, `upper_arm`, `lower_arm` or `upright` of a corner; `body`, `axle` or a link's name
    /// of an axle. Body where it is absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fixed_to: Option<String>,
    /// Whether the same solid stands on the other side of the car as well.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub mirror: bool,
    /// The gap wanted around this one (mm), where it is not the common one. Of two solids the larger wish counts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gap: Option<f64>,
}

/// The form of a solid. Lengths in mm, in vehicle axes, with the pickups as measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Shape {
    /// A round part on the line of a damper or spring: its body, or the spring between its seats.
    AlongDamper(AlongDamper),
    /// A round rod or tube between two points that may belong to different pieces: an arm's leg, a link.
    Rod(Rod),
    /// A run of round tube with bends.
    Tube(Tube),
    /// A box in any orientation.
    Box(Block),
    /// A ball.
    Sphere(Ball),
    /// A plane that must not be crossed, such as a floor; it stands on the body.
    Plane(Plane),
    /// A tyre: a disc whose edge is rounded with half the section width.
    Tyre(Tyre),
}

/// A round part on the line of a damper or spring. Exactly two of `from_upper`, `from_lower` and `length` are given:
/// a damper body keeps its length, a spring reaches from seat to seat.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AlongDamper {
    /// Which one, on an axle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// Whether the line is that of the spring that stands apart from the damper.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub on_spring: bool,
    /// Distance from the upper mount to the upper end of the part (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_upper: Option<f64>,
    /// Distance from the lower mount to the lower end of the part (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_lower: Option<f64>,
    /// Length of the part (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<f64>,
    /// Outside radius (mm).
    pub radius: f64,
}

/// A round rod between two points.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rod {
    /// One end.
    pub from: Place,
    /// The other end.
    pub to: Place,
    /// How far short of `from` the rod begins (mm).
    #[serde(default)]
    pub short_of_from: f64,
    /// How far short of `to` the rod ends (mm).
    #[serde(default)]
    pub short_of_to: f64,
    /// Outside radius (mm).
    pub radius: f64,
}

/// A point: a pickup by its name, such as `upper_arm.ball_joint` or `lower_left.axle`, or coordinates (mm) on the
/// piece that the solid is fixed to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Place {
    /// A pickup by its name.
    Named(String),
    /// Coordinates (mm).
    At(Point),
}

/// A run of round tube.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tube {
    /// Points along its centre line (mm).
    pub points: Vec<Point>,
    /// Outside radius (mm).
    pub radius: f64,
}

/// A box.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Block {
    /// Its centre (mm).
    #[serde(alias = "center")]
    pub centre: Point,
    /// Its whole length, width and height along its own axes (mm).
    pub size: Point,
    /// Turn about Z (deg), front to the left positive; applied last.
    #[serde(default)]
    pub yaw: f64,
    /// Turn about Y (deg), nose down positive; applied second.
    #[serde(default)]
    pub pitch: f64,
    /// Turn about X (deg), left side up positive; applied first.
    #[serde(default)]
    pub roll: f64,
}

/// A ball.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ball {
    /// Its centre (mm).
    #[serde(alias = "center")]
    pub centre: Point,
    /// Its radius (mm); 0 for a point that must keep its distance.
    #[serde(default)]
    pub radius: f64,
}

/// A plane.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plane {
    /// A point on it (mm).
    pub point: Point,
    /// Direction square to it towards the free side, of any length.
    pub normal: Point,
}

/// A tyre on the wheel that the description gives.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tyre {
    /// Which one, on an axle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// Section width (mm).
    pub width: f64,
    /// Outside radius without load (mm); the loaded radius of the description where it is absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radius: Option<f64>,
}

impl Solid {
    /// The same solid on the other side of the car.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut other = self.clone();
        match &mut other.shape {
            Shape::AlongDamper(AlongDamper { side, .. }) | Shape::Tyre(Tyre { side, .. }) => {
                *side = Some(match side {
                    Some(Side::Right) => Side::Left,
                    _ => Side::Right,
                });
            }
            Shape::Rod(rod) => {
                for end in [&mut rod.from, &mut rod.to] {
                    match end {
                        Place::At(point) => *point = mirrored(point),
                        Place::Named(name) => *name = other_side(name),
                    }
                }
            }
            Shape::Tube(tube) => tube.points.iter_mut().for_each(|point| *point = mirrored(point)),
            Shape::Box(block) => {
                block.centre = mirrored(&block.centre);
                (block.yaw, block.roll) = (-block.yaw, -block.roll);
            }
            Shape::Sphere(ball) => ball.centre = mirrored(&ball.centre),
            Shape::Plane(plane) => {
                plane.point = mirrored(&plane.point);
                plane.normal = mirrored(&plane.normal);
            }
        }
        other.fixed_to = other.fixed_to.as_deref().map(other_side);
        other
    }
}

/// `lower_left.axle` as `lower_right.axle`, and the other way round.
fn other_side(name: &str) -> String {
    if name.contains("left") {
        name.replace("left", "right")
    } else {
        name.replace("right", "left")
    }
}

impl Measured for ClearanceQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for solid in self.parts.iter_mut().chain(&mut self.obstacles) {
            solid.visit(visitor);
        }
        let lengths = [
            &mut self.gap,
            &mut self.margin,
            &mut self.bump,
            &mut self.droop,
            &mut self.lock,
        ];
        for length in lengths.into_iter().flatten() {
            visitor(length, Quantity::Length);
        }
    }
}

impl Measured for Solid {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        match &mut self.shape {
            Shape::AlongDamper(part) => {
                let lengths = [&mut part.from_upper, &mut part.from_lower, &mut part.length];
                for length in lengths.into_iter().flatten() {
                    visitor(length, Quantity::Length);
                }
                visitor(&mut part.radius, Quantity::Length);
            }
            Shape::Rod(rod) => {
                for end in [&mut rod.from, &mut rod.to] {
                    if let Place::At(point) = end {
                        point.visit(visitor);
                    }
                }
                for length in [&mut rod.short_of_from, &mut rod.short_of_to, &mut rod.radius] {
                    visitor(length, Quantity::Length);
                }
            }
            Shape::Tube(tube) => {
                tube.points.iter_mut().for_each(|point| point.visit(visitor));
                visitor(&mut tube.radius, Quantity::Length);
            }
            Shape::Box(block) => {
                block.centre.visit(visitor);
                block.size.visit(visitor);
                for angle in [&mut block.yaw, &mut block.pitch, &mut block.roll] {
                    visitor(angle, Quantity::Angle);
                }
            }
            Shape::Sphere(ball) => {
                ball.centre.visit(visitor);
                visitor(&mut ball.radius, Quantity::Length);
            }
            // The normal is a direction and has no unit.
            Shape::Plane(plane) => plane.point.visit(visitor),
            Shape::Tyre(tyre) => {
                visitor(&mut tyre.width, Quantity::Length);
                if let Some(radius) = &mut tyre.radius {
                    visitor(radius, Quantity::Length);
                }
            }
        }
        if let Some(gap) = &mut self.gap {
            visitor(gap, Quantity::Length);
        }
    }
}
