//! From described solids to pieces that follow the suspension.

use super::anchor::{Anchor, Instant, Origin};
use super::description::{AlongDamper, Block, Rod, Shape, Solid, Tyre};
use super::field::Field;
use super::names::Mover;
use super::piece::{Form, Piece, Stretch};
use super::validate::incomplete;
use crate::geometry::{Core, HalfSpace};
use crate::pickups::{PickupError, Side};
use crate::pose::Twist;
use crate::{Dimension, Sentence};
use nalgebra::{Rotation3, Unit, Vector3};

/// A solid that follows the suspension.
#[derive(Debug, Clone)]
pub(super) struct Body {
    pub(super) name: String,
    pub(super) pieces: Vec<Piece>,
    /// The one rigid piece of the car that carries all of it; none where it spans several.
    pub(super) carrier: Option<String>,
    /// The damper or spring that it is on: side, and whether it is a spring that stands apart.
    pub(super) on_damper: Option<(Side, bool)>,
    /// Wanted gap of its own (mm).
    pub(super) gap: Option<f64>,
    /// Whether it is a part that moves, or an obstacle.
    pub(super) is_part: bool,
}

impl Body {
    /// * `field`: path of the solid, for messages
    pub(super) fn new(
        mover: Mover<'_>,
        solid: &Solid,
        is_part: bool,
        field: Field,
    ) -> Result<Self, PickupError> {
        let fixed_to = solid.fixed_to.as_deref().unwrap_or("body");
        let fixed_field = || field.at("fixed_to");
        let anchor = |point: &Vector3<f64>| mover.on_piece(fixed_to, point, Origin::Given, fixed_field);
        let one = |form: Form, radius: f64| vec![Piece { form, radius }];
        let mut carrier = Some(fixed_to.to_owned());
        let mut on_damper = None;
        let pieces = match &solid.shape {
            Shape::AlongDamper(part) => {
                let side = part.side.unwrap_or_default();
                on_damper = Some((side, part.on_spring));
                carrier = Some(format!(
                    "{}{side:?}",
                    if part.on_spring { "spring" } else { "damper" }
                ));
                one(along_damper(mover, part, field.of(".along_damper"))?, part.radius)
            }
            Shape::Rod(rod) => {
                let (form, on) = rod_form(mover, rod, fixed_to, field.of(".rod"))?;
                carrier = on;
                one(form, rod.radius)
            }
            Shape::Tube(tube) => tube
                .points
                .windows(2)
                .map(|ends| {
                    Ok(Piece {
                        form: Form::Rod {
                            ends: [anchor(&ends[0])?, anchor(&ends[1])?],
                            short_of: [0.0; 2],
                        },
                        radius: tube.radius,
                    })
                })
                .collect::<Result<_, PickupError>>()?,
            Shape::Box(block) => one(cuboid(block, anchor)?, 0.0),
            Shape::Sphere(ball) => {
                let centre = anchor(&ball.centre)?;
                let form = Form::Rod {
                    ends: [centre.clone(), centre],
                    short_of: [0.0; 2],
                };
                one(form, ball.radius)
            }
            Shape::Plane(plane) => {
                let half_space = HalfSpace {
                    point: plane.point,
                    normal: Unit::new_normalize(plane.normal),
                };
                one(Form::HalfSpace(half_space), 0.0)
            }
            Shape::Tyre(tyre) => {
                carrier = Some(mover.carrier().to_owned());
                disc(mover, tyre, field.of(".tyre"))?
            }
        };
        let body = Self {
            name: solid.name.clone(),
            pieces,
            carrier,
            on_damper,
            gap: solid.gap,
            is_part,
        };
        body.has_length(mover, field)?;
        Ok(body)
    }

    /// A rod that its own ends cut away, or a spring longer than its damper, is a slip of the pen.
    fn has_length(&self, mover: Mover<'_>, field: Field) -> Result<(), PickupError> {
        let instant = Instant::new(
            &mover.linkage().origin,
            &mover.linkage().as_measured,
            &Twist::zero(),
            0.0,
        );
        for piece in &self.pieces {
            let (ends, cut) = match &piece.form {
                Form::Rod { ends, short_of } => (ends, short_of[0] + short_of[1]),
                Form::AlongDamper { mounts, stretch } => match stretch {
                    Stretch::Between {
                        from_upper,
                        from_lower,
                    } => (mounts, from_upper + from_lower),
                    Stretch::HangsOnUpper { .. } | Stretch::StandsOnLower { .. } => continue,
                },
                _ => continue,
            };
            let bare = Piece {
                form: Form::Rod {
                    ends: ends.clone(),
                    short_of: [0.0; 2],
                },
                radius: piece.radius,
            };
            let Core::Segment(segment) = bare.place(&instant).core else {
                continue;
            };
            let length = (segment.end - segment.start).norm();
            if cut > 0.0 && cut >= length {
                return Err(PickupError::Misplaced {
                    field: field.to_string(),
                    problem: Sentence::new(format!(
                        "nothing is left of `{}` ({field}): its ends are ",
                        self.name
                    ))
                    .length(length)
                    .words(" apart, and ")
                    .length(cut)
                    .words(" are taken off"),
                    advice: "check the distances from the ends",
                });
            }
        }
        Ok(())
    }

    /// The same with everything of it that is on the body moved (mm).
    pub(super) fn shifted(&self, change: &Vector3<f64>) -> Self {
        let mut other = self.clone();
        for piece in &mut other.pieces {
            match &mut piece.form {
                Form::Rod { ends, .. } => ends.iter_mut().for_each(|end| *end = end.shifted(change)),
                Form::AlongDamper { mounts, .. } => mounts[0] = mounts[0].shifted(change),
                Form::Cuboid { centre, tips, .. } => {
                    *centre = centre.shifted(change);
                    tips.iter_mut().for_each(|tip| *tip = tip.shifted(change));
                }
                Form::Disc { centre, tip, .. } => {
                    *centre = centre.shifted(change);
                    *tip = tip.shifted(change);
                }
                Form::HalfSpace(half_space) => half_space.point += change,
            }
        }
        other
    }

    /// Whether all of it stands on the body.
    pub(super) fn stands(&self) -> bool {
        self.pieces.iter().all(Piece::stands)
    }
}

fn along_damper(mover: Mover<'_>, part: &AlongDamper, field: Field) -> Result<Form, PickupError> {
    let side = part.side.unwrap_or_default();
    if part.side.is_some() && matches!(mover, Mover::Corner(_)) {
        return Err(incomplete(
            &field.at("side"),
            "a corner has one side; leave `side` out",
        ));
    }
    let missing = if part.on_spring {
        "no spring stands apart here; leave `on_spring` out for a spring on the coilover"
    } else {
        "there is no damper or coilover here; give its mounts, or describe the part as a rod"
    };
    let mounts = mover
        .mounts(side, part.on_spring)
        .ok_or_else(|| incomplete(&field.to_string(), missing))?;
    let stretch = match (part.from_upper, part.from_lower, part.length) {
        (Some(from_upper), Some(from_lower), None) => Stretch::Between {
            from_upper,
            from_lower,
        },
        (Some(from_upper), None, Some(length)) => Stretch::HangsOnUpper { from_upper, length },
        (None, Some(from_lower), Some(length)) => Stretch::StandsOnLower { from_lower, length },
        _ => {
            let problem = "give exactly two of `from_upper`, `from_lower` and `length`";
            return Err(incomplete(&field.to_string(), problem));
        }
    };
    Ok(Form::AlongDamper { mounts, stretch })
}

fn rod_form(
    mover: Mover<'_>,
    rod: &Rod,
    fixed_to: &str,
    field: Field,
) -> Result<(Form, Option<String>), PickupError> {
    let (from, on_from) = mover.place(&rod.from, fixed_to, || field.at("from"))?;
    let (to, on_to) = mover.place(&rod.to, fixed_to, || field.at("to"))?;
    let form = Form::Rod {
        ends: [from, to],
        short_of: [rod.short_of_from, rod.short_of_to],
    };
    Ok((form, (on_from == on_to).then_some(on_from)))
}

fn cuboid(
    block: &Block,
    anchor: impl Fn(&Vector3<f64>) -> Result<Anchor, PickupError>,
) -> Result<Form, PickupError> {
    let [roll, pitch, yaw] = [block.roll, block.pitch, block.yaw].map(f64::to_radians);
    let turn = Rotation3::from_euler_angles(roll, pitch, yaw);
    let tip = |axis: Vector3<f64>| anchor(&Piece::tip(&block.centre, &(turn * axis)));
    Ok(Form::Cuboid {
        centre: anchor(&block.centre)?,
        tips: Box::new([tip(Vector3::x())?, tip(Vector3::y())?, tip(Vector3::z())?]),
        half: block.size * 0.5,
    })
}

/// A tyre is a disc of the outside radius less half the section width, with half that width around it.
fn disc(mover: Mover<'_>, tyre: &Tyre, field: Field) -> Result<Vec<Piece>, PickupError> {
    if tyre.side.is_some() && matches!(mover, Mover::Corner(_)) {
        return Err(incomplete(
            &field.at("side"),
            "a corner has one side; leave `side` out",
        ));
    }
    let side = tyre.side.unwrap_or_default();
    let wheel = mover.wheel(side);
    let (outside, rounding) = (tyre.radius.unwrap_or(wheel.tyre_radius), 0.5 * tyre.width);
    if rounding >= outside {
        return Err(PickupError::QuantityOutOfRange {
            field: field.at("width"),
            value: tyre.width,
            dimension: Dimension::Length,
            requirement: Sentence::new("less than the tyre's diameter of ").given_length(2.0 * outside),
            advice: "give the section width",
        });
    }
    let anchor = |point: &Vector3<f64>, origin: Origin| {
        mover.on_piece(mover.carrier(), point, origin, || field.to_string())
    };
    let form = Form::Disc {
        centre: anchor(&wheel.centre, Origin::WheelCentre(side))?,
        tip: anchor(
            &Piece::tip(&wheel.centre, &wheel.spin_axis),
            Origin::WheelTip(side),
        )?,
        radius: outside - rounding,
        of_wheel: tyre.radius.is_none(),
    };
    Ok(vec![Piece {
        form,
        radius: rounding,
    }])
}
