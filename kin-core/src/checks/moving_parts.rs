//! Points and directions on any part of a suspension, wherever the wheels and the rack are.

use crate::linkage::Rider;
use crate::numeric::real::{WithRate, fixed, value};
use crate::pickups::{PickupError, Point, Side, known_part, mirrored};
use crate::pose::{CarrierMotion, Motion, PoseError, first_rates};
use crate::suspension::{Axle, AxleTravel, Corner, ROLL};
use nalgebra::{Matrix3, Vector3};

/// Directions are carried as the difference of two points this far apart (mm).
const DIRECTION_MM: f64 = 100.0;

/// What moves.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Mover<'a> {
    Corner(&'a Corner),
    Axle(&'a Axle),
}

/// A point that is fixed to some part.
#[derive(Debug, Clone)]
pub(crate) enum Anchor {
    Body(Point),
    /// On the rack or centre link.
    Rack(Point),
    Rides(Rider),
}

/// A part seen as something that turns: its origin and three points around it.
#[derive(Debug, Clone)]
pub(crate) struct Turning(Box<[Anchor; 4]>);

/// The moving parts at one place of the wheels and the rack.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Standing {
    /// The carrier, with its rates along the travel of this wheel or of both wheels together.
    pub(crate) carrier: CarrierMotion<f64>,
    /// Displacement of the rack in the frame that is solved in (mm).
    rack: f64,
}

impl Mover<'_> {
    /// The names of the parts that something can be fixed to.
    pub(crate) fn parts(&self) -> Vec<&str> {
        match self {
            Self::Corner(_) => vec!["body", "rack", "lower_arm", "upper_arm", "upright"],
            Self::Axle(axle) => ["body", "axle"]
                .into_iter()
                .chain(axle.pickups().links.keys().map(String::as_str))
                .collect(),
        }
    }

    /// Between the car's own axes and those that are solved in: a right corner is solved as its mirror image.
    pub(crate) fn on_side(&self, point: &Point) -> Point {
        match self {
            Self::Corner(corner) if corner.side() == Side::Right => mirrored(point),
            _ => *point,
        }
    }

    /// Where everything is with this wheel at a travel (mm, from the pickups as measured) and the rack displaced, or
    /// with the left and the right wheel of an axle at two travels.
    pub(crate) fn at(&self, first: f64, second: f64) -> Result<Standing, PoseError> {
        Ok(match self {
            Self::Corner(corner) => {
                let position = corner.at(first, second)?;
                Standing {
                    carrier: position.state().carrier,
                    rack: position.solved.command[2],
                }
            }
            Self::Axle(axle) => {
                let travel = AxleTravel {
                    left: first,
                    right: second,
                };
                Standing {
                    carrier: axle.at(travel)?.in_heave(),
                    rack: 0.0,
                }
            }
        })
    }

    /// With the rack straight ahead, or both wheels of an axle together, at a travel from the pickups as measured (mm).
    pub(crate) fn at_travel(&self, travel: f64) -> Result<Standing, PoseError> {
        match self {
            Self::Corner(_) => self.at(travel, 0.0),
            Self::Axle(_) => self.at(travel, travel),
        }
    }

    /// An axle with both wheels at a travel from the pickups as measured (mm), with rates per mm of the left wheel up and
    /// the right one down; none for a corner, and at the very limit of reach.
    pub(crate) fn rolling(&self, travel: f64) -> Result<Option<Standing>, PoseError> {
        let Self::Axle(axle) = self else { return Ok(None) };
        let position = axle.at(AxleTravel::both(travel))?;
        let motion = Motion::new(&axle.linkage, &position.solved);
        Ok(motion.map(|motion| Standing {
            carrier: first_rates(&axle.linkage.origin, position.pose(), &motion.twist(&ROLL)),
            rack: 0.0,
        }))
    }

    /// A point fixed to a part, given where it was as measured in the frame that is solved in.
    pub(crate) fn anchor(&self, point: &Point, part: &str, field: &str) -> Result<Anchor, PickupError> {
        known_part(part, field, &self.parts())?;
        Ok(match (self, part) {
            (_, "body") => Anchor::Body(*point),
            (Self::Corner(_), "rack") => Anchor::Rack(*point),
            (Self::Corner(corner), "lower_arm") => {
                Anchor::Rides(Rider::on_arm(&(&corner.pickups().lower_arm).into(), point))
            }
            (Self::Corner(corner), "upper_arm") => {
                Anchor::Rides(Rider::on_arm(&(&corner.pickups().upper_arm).into(), point))
            }
            (Self::Corner(_), _) => Anchor::Rides(Rider::on_carrier(point)),
            (Self::Axle(axle), part) => Anchor::Rides(
                Rider::on_link(&axle.linkage, part, point).unwrap_or_else(|| Rider::on_carrier(point)),
            ),
        })
    }

    /// How a part turns, seen at a point of it.
    pub(crate) fn turning(&self, near: &Point, part: &str, field: &str) -> Result<Turning, PickupError> {
        let anchor = |offset: Vector3<f64>| self.anchor(&(near + offset * DIRECTION_MM), part, field);
        Ok(Turning(Box::new([
            anchor(Vector3::zeros())?,
            anchor(Vector3::x())?,
            anchor(Vector3::y())?,
            anchor(Vector3::z())?,
        ])))
    }
}

impl Standing {
    /// Where a point is, with its rate per mm of travel of this wheel or of both wheels together.
    pub(crate) fn moving(&self, anchor: &Anchor) -> Vector3<WithRate> {
        match anchor {
            Anchor::Body(point) => fixed(point),
            Anchor::Rack(point) => fixed(&(point + Vector3::new(0.0, self.rack, 0.0))),
            Anchor::Rides(rider) => rider.place(&self.carrier.carried(rider.followed())),
        }
    }

    /// Where a point is (mm).
    pub(crate) fn place(&self, anchor: &Anchor) -> Point {
        value(&self.moving(anchor))
    }

    /// The rotation of a part since the pickups were measured.
    pub(crate) fn turn(&self, part: &Turning) -> Matrix3<f64> {
        let [origin, x, y, z] = part.0.as_ref();
        if matches!(origin, Anchor::Body(_) | Anchor::Rack(_)) {
            return Matrix3::identity();
        }
        let origin = self.place(origin);
        let axis = |anchor| (self.place(anchor) - origin) / DIRECTION_MM;
        Matrix3::from_columns(&[axis(x), axis(y), axis(z)])
    }
}
