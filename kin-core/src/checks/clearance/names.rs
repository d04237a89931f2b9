//! The pickups and pieces of a suspension by name, as points that can be followed.

use super::anchor::{Anchor, Held, Origin};
use super::description::Place;
use crate::linkage::{Linkage, Rider};
use crate::pickups::{Arm, Damper, DoubleWishbone, LiveAxle, PickupError, Point, Side, Spring, mirrored};
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
        origin: Origin,
        field: impl Fn() -> String,
    ) -> Result<Anchor, PickupError> {
        let held = match (self, piece) {
            (_, "body") => Held::Body(*point),
            (Self::Corner(_), RACK) => Held::Rack(*point),
            (Self::Corner(corner), "upper_arm") => {
                Held::Carried(Rider::on_arm(&(&corner.pickups.upper_arm).into(), point))
            }
            (Self::Corner(corner), "lower_arm") => {
                Held::Carried(Rider::on_arm(&(&corner.pickups.lower_arm).into(), point))
            }
            (Self::Corner(_), "upright") | (Self::Axle(_), "axle") => Held::Carried(Rider::on_carrier(point)),
            (Self::Corner(_), _) => return Err(unknown(&field(), piece, self.pieces().into_iter())),
            (Self::Axle(_), name) => match Rider::on_link(self.linkage(), name, point) {
                Some(rider) => Held::Carried(rider),
                None => return Err(unknown(&field(), piece, self.pieces().into_iter())),
            },
        };
        Ok(Anchor {
            held,
            piece: piece.into(),
            origin,
        })
    }

    /// One end of a rod, with the piece that it belongs to.
    pub(super) fn place(
        &self,
        place: &Place,
        fixed_to: &str,
        field: impl Fn() -> String,
    ) -> Result<(Anchor, String), PickupError> {
        match place {
            Place::At(point) => Ok((
                self.on_piece(fixed_to, point, Origin::Given, field)?,
                fixed_to.to_owned(),
            )),
            Place::Named(name) => {
                let name = name.replace("center", "centre");
                let points = self.points();
                let Some(known) = points.iter().position(|known| known.name == name) else {
                    return Err(unknown(
                        &field(),
                        &name,
                        points.iter().map(|known| known.name.as_str()),
                    ));
                };
                let piece = name.rsplit_once('.').map_or(name.as_str(), |(piece, _)| piece);
                let found = &points[known];
                let anchor = self.on_piece(&found.piece, &found.point, Origin::Pickup(known), field)?;
                Ok((anchor, piece.to_owned()))
            }
        }
    }

    /// The pickups by name.
    fn points(&self) -> Vec<NamedPoint> {
        match self {
            Self::Corner(corner) => corner_points(&corner.pickups),
            Self::Axle(axle) => axle_points(&axle.pickups),
        }
    }

    /// Both mounts of a damper, or of a spring that stands apart, upper first; none if it is not there.
    pub(super) fn mounts(&self, side: Side, on_spring: bool) -> Option<[Anchor; 2]> {
        let part = match (self, on_spring) {
            (Self::Corner(_), true) => "spring".to_owned(),
            (Self::Corner(corner), false) => if corner.pickups.coilover.is_some() {
                "coilover"
            } else {
                "damper"
            }
            .to_owned(),
            (Self::Axle(axle), _) => {
                let parts = match (on_spring, &axle.pickups.coilovers) {
                    (true, _) => "springs",
                    (false, Some(_)) => "coilovers",
                    (false, None) => "dampers",
                };
                format!("{parts}.{}", if side == Side::Left { "left" } else { "right" })
            }
        };
        let points = self.points();
        let mount = |end: &str| {
            let name = format!("{part}.{end}");
            let known = points.iter().position(|point| point.name == name)?;
            let found = points.get(known)?;
            self.on_piece(&found.piece, &found.point, Origin::Pickup(known), String::new)
                .ok()
        };
        Some([mount("upper_mount")?, mount("lower_mount")?])
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

/// The piece of the car that the tie rods' inner joints go with.
const RACK: &str = "rack";

/// A pickup by its name, with the piece of the car that carries it.
#[derive(Debug, Clone)]
pub(super) struct NamedPoint {
    pub(super) name: String,
    pub(super) piece: String,
    pub(super) point: Point,
}

/// Named points, collected from parts of a description.
#[derive(Default)]
struct Points(Vec<NamedPoint>);

impl Points {
    fn on(&mut self, name: &str, piece: &str, point: &Point) {
        self.0.push(NamedPoint {
            name: name.to_owned(),
            piece: piece.to_owned(),
            point: *point,
        });
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

/// The pickups of a corner. Two descriptions of one form give their points in the same order.
pub(super) fn corner_points(pickups: &DoubleWishbone) -> Vec<NamedPoint> {
    let mut points = Points::default();
    points.arm("upper_arm", &pickups.upper_arm);
    points.arm("lower_arm", &pickups.lower_arm);
    points.on("tie_rod.inner", RACK, &pickups.tie_rod.inner);
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
    points.0
}

/// The pickups of an axle, both sides written out, in the same way.
pub(super) fn axle_points(pickups: &LiveAxle) -> Vec<NamedPoint> {
    let mut points = Points::default();
    for (name, link) in &pickups.links {
        points.on(&format!("{name}.body"), "body", &link.body);
        points.on(&format!("{name}.axle"), "axle", &link.axle);
    }
    points.on("wheels.left", "axle", &pickups.wheels.left);
    let right = pickups
        .wheels
        .right
        .unwrap_or_else(|| mirrored(&pickups.wheels.left));
    points.on("wheels.right", "axle", &right);
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
    points.0
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
