//! The pickups and pieces of a suspension by name, as points that can be followed.

use super::anchor::Anchor;
use super::description::Place;
use crate::linkage::{Linkage, Rider};
use crate::pickups::{Arm, Damper, DoubleWishbone, LiveAxle, PickupError, Point, Side, Spring};
use crate::suspension::{Axle, Corner};
use nalgebra::Vector3;

/// What solids can be fixed to: the suspension that the question is about.
#[derive(Debug, Clone, Copy)]
pub(super) enum Mover<'a> {
    Corner(&'a Corner),
    Axle(&'a Axle),
}

/// A wheel as the clearance check needs it.
#[derive(Debug, Clone, Copy)]
pub(super) struct WheelDisc {
    pub(super) centre: Point,
    pub(super) spin_axis: Vector3<f64>,
    pub(super) tyre_radius: f64,
}

impl<'a> Mover<'a> {
    pub(super) fn linkage(&self) -> &'a Linkage {
        match self {
            Self::Corner(corner) => &corner.linkage,
            Self::Axle(axle) => &axle.linkage,
        }
    }

    /// The pieces that a solid can be fixed to.
    fn pieces(&self) -> Vec<&'a str> {
        match self {
            Self::Corner(_) => vec!["body", "upper_arm", "lower_arm", "upright"],
            Self::Axle(axle) => {
                let links = axle.pickups.links.keys().map(String::as_str);
                ["body", "axle"].into_iter().chain(links).collect()
            }
        }
    }

    /// A point given with the pickups as measured, fixed to a piece.
    ///
    /// * `field`: path of the field that names the piece, for messages
    pub(super) fn on_piece(
        &self,
        piece: &str,
        point: &Point,
        field: impl Fn() -> String,
    ) -> Result<Anchor, PickupError> {
        let linkage = self.linkage();
        let rider = match (self, piece) {
            (_, "body") => return Ok(Anchor::Body(*point)),
            (Self::Corner(corner), "upper_arm") => {
                Some(Rider::on_arm(&(&corner.pickups.upper_arm).into(), point))
            }
            (Self::Corner(corner), "lower_arm") => {
                Some(Rider::on_arm(&(&corner.pickups.lower_arm).into(), point))
            }
            (Self::Corner(_), "upright") | (Self::Axle(_), "axle") => Some(Rider::on_carrier(point)),
            (Self::Corner(_), _) => None,
            (Self::Axle(_), name) => Rider::on_link(linkage, name, point),
        };
        rider
            .map(Anchor::Carried)
            .ok_or_else(|| unknown(&field(), piece, self.pieces().into_iter()))
    }

    /// One end of a rod, with the piece that it belongs to.
    pub(super) fn place(
        &self,
        place: &Place,
        fixed_to: &str,
        field: impl Fn() -> String,
    ) -> Result<(Anchor, String), PickupError> {
        match place {
            Place::At(point) => Ok((self.on_piece(fixed_to, point, field)?, fixed_to.to_owned())),
            Place::Named(name) => {
                let name = name.replace("center", "centre");
                let mut points = self.points();
                let known = points.iter().position(|(known, _)| *known == name);
                let Some(known) = known else {
                    return Err(unknown(
                        &field(),
                        &name,
                        points.iter().map(|(name, _)| name.as_str()),
                    ));
                };
                let piece = name.rsplit_once('.').map_or(name.as_str(), |(piece, _)| piece);
                Ok((points.swap_remove(known).1, piece.to_owned()))
            }
        }
    }

    fn points(&self) -> Vec<(String, Anchor)> {
        match self {
            Self::Corner(corner) => corner_points(*self, &corner.pickups),
            Self::Axle(axle) => axle_points(*self, &axle.pickups),
        }
    }

    /// Both mounts of a damper, or of a spring that stands apart, upper first; none if it is not there.
    pub(super) fn mounts(&self, side: Side, on_spring: bool) -> Option<[Anchor; 2]> {
        let (damper, spring) = match self {
            Self::Corner(corner) => (corner.pickups.any_damper(), corner.pickups.spring.as_ref()),
            Self::Axle(axle) => {
                let dampers = axle.pickups.any_dampers();
                let springs = axle.pickups.springs.as_ref();
                match side {
                    Side::Left => (dampers.map(|both| &both.left), springs.map(|both| &both.left)),
                    Side::Right => (
                        dampers.and_then(|both| both.right.as_ref()),
                        springs.and_then(|both| both.right.as_ref()),
                    ),
                }
            }
        };
        let (upper, lower, part) = if on_spring {
            let spring = spring?;
            (
                spring.upper_mount?,
                spring.lower_mount?,
                spring.rides_on.as_deref()?,
            )
        } else {
            let damper = damper?;
            (damper.upper_mount, damper.lower_mount, damper.rides_on.as_str())
        };
        let lower = self.on_piece(part, &lower, String::new).ok()?;
        Some([Anchor::Body(upper), lower])
    }

    /// The wheel on one side.
    pub(super) fn wheel(&self, side: Side) -> WheelDisc {
        match self {
            Self::Corner(corner) => WheelDisc {
                centre: corner.pickups.wheel.centre,
                spin_axis: corner.geometry.spin_axis,
                tyre_radius: corner.pickups.wheel.tyre_radius,
            },
            Self::Axle(axle) => {
                let outward = if side == Side::Left { 1.0 } else { -1.0 };
                WheelDisc {
                    centre: axle.linkage.origin + axle.half_axle * outward,
                    spin_axis: Vector3::y() * outward,
                    tyre_radius: axle.pickups.wheels.tyre_radius,
                }
            }
        }
    }

    /// The piece that the wheel is on.
    pub(super) fn carrier(&self) -> &'static str {
        match self {
            Self::Corner(_) => "upright",
            Self::Axle(_) => "axle",
        }
    }
}

/// Names with points, collected from parts of a description.
struct Points<'a> {
    mover: Mover<'a>,
    found: Vec<(String, Anchor)>,
}

impl Points<'_> {
    fn on(&mut self, name: &str, piece: &str, point: &Point) {
        if let Ok(anchor) = self.mover.on_piece(piece, point, String::new) {
            self.found.push((name.to_owned(), anchor));
        }
    }

    fn arm(&mut self, name: &str, arm: &Arm) {
        self.on(&format!("{name}.front_pivot"), "body", &arm.front_pivot);
        self.on(&format!("{name}.rear_pivot"), "body", &arm.rear_pivot);
        self.on(&format!("{name}.ball_joint"), "upright", &arm.ball_joint);
    }

    fn damper(&mut self, name: &str, damper: &Damper) {
        self.on(&format!("{name}.upper_mount"), "body", &damper.upper_mount);
        self.on(
            &format!("{name}.lower_mount"),
            &damper.rides_on,
            &damper.lower_mount,
        );
    }

    fn spring(&mut self, name: &str, spring: &Spring) {
        if let (Some(upper), Some(lower), Some(part)) =
            (spring.upper_mount, spring.lower_mount, &spring.rides_on)
        {
            self.on(&format!("{name}.upper_mount"), "body", &upper);
            self.on(&format!("{name}.lower_mount"), part, &lower);
        }
    }
}

fn corner_points(mover: Mover<'_>, pickups: &DoubleWishbone) -> Vec<(String, Anchor)> {
    let mut points = Points {
        mover,
        found: Vec::new(),
    };
    points.arm("upper_arm", &pickups.upper_arm);
    points.arm("lower_arm", &pickups.lower_arm);
    let inner = Anchor::Rack(pickups.tie_rod.inner);
    points.found.push(("tie_rod.inner".to_owned(), inner));
    points.on("tie_rod.outer", "upright", &pickups.tie_rod.outer);
    points.on("wheel.centre", "upright", &pickups.wheel.centre);
    for (damper, name) in [(&pickups.coilover, "coilover"), (&pickups.damper, "damper")] {
        if let Some(damper) = damper {
            points.damper(name, damper);
        }
    }
    if let Some(spring) = &pickups.spring {
        points.spring("spring", spring);
    }
    points.found
}

fn axle_points(mover: Mover<'_>, pickups: &LiveAxle) -> Vec<(String, Anchor)> {
    let mut points = Points {
        mover,
        found: Vec::new(),
    };
    for (name, link) in &pickups.links {
        points.on(&format!("{name}.body"), "body", &link.body);
        points.on(&format!("{name}.axle"), "axle", &link.axle);
    }
    for (side, name) in [(Side::Left, "wheels.left"), (Side::Right, "wheels.right")] {
        points.on(name, "axle", &mover.wheel(side).centre);
    }
    if let Some(pinion) = &pickups.pinion {
        points.on("pinion.point", "axle", &pinion.point);
    }
    for (sides, name) in [(&pickups.coilovers, "coilovers"), (&pickups.dampers, "dampers")] {
        let Some(sides) = sides else { continue };
        points.damper(&format!("{name}.left"), &sides.left);
        if let Some(right) = &sides.right {
            points.damper(&format!("{name}.right"), right);
        }
    }
    if let Some(sides) = &pickups.springs {
        points.spring("springs.left", &sides.left);
        if let Some(right) = &sides.right {
            points.spring("springs.right", right);
        }
    }
    points.found
}

/// An unknown name, with those that exist and the nearest of them.
pub(super) fn unknown<'a>(field: &str, value: &str, known: impl Iterator<Item = &'a str>) -> PickupError {
    let known: Vec<&str> = known.collect();
    let nearest = known
        .iter()
        .map(|name| (strsim::jaro_winkler(name, value), name))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .filter(|(likeness, _)| *likeness > 0.75);
    let suggestion = nearest.map_or(String::new(), |(_, name)| format!("; did you mean `{name}`?"));
    let quoted: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
    PickupError::UnknownPart {
        field: field.to_owned(),
        value: value.to_owned(),
        known: quoted.join(", "),
        suggestion,
    }
}
