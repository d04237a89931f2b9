//! Do the joints swing as far as they must?
//!
//! A pin or stud through an eye, a rod end or a tie-rod end stands across its rod; what counts is by how much the rod
//! leaves the plane at right angles to it, since the rod may turn about the pin as it likes. A ball joint's stud stands
//! in a socket; what counts is the angle between stud and socket. Either is compared with what the joint can swing.

mod bearing_in_bracket;
mod bushing;
mod description;
mod located;
mod orientation;
mod spherical_bearing;

pub use bearing_in_bracket::{BearingInBracket, BracketFit, check_bearing_in_bracket};
pub use bushing::{Bushing, BushingTwist, BushingsQuestion, check_axle_bushings, check_corner_bushings};
pub use description::{Joint, JointsQuestion};
pub use spherical_bearing::SphericalBearing;

use super::motion_range::{Motions, WheelPlace, Worst};
use super::moving_parts::{Mover, Standing};
use super::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::pickups::{Point, incomplete, within};
use crate::pose::PoseError;
use crate::suspension::{Axle, Corner};
use crate::{Dimension, Error, Rounding};
use located::{Located, locate};
use nalgebra::Vector3;
use orientation::Wish;

const CHECK: &str = "joints";
const QUESTION: &str = "the joint check";

/// Rounds in which the worst place of the best axis is added to what the axis is found from.
const ROUNDS: usize = 6;
/// An axis is best when no place is worse than those it was found from by more than this (rad).
const SETTLED_RAD: f64 = 1e-7;

/// How far one joint swings.
#[derive(Debug, Clone, PartialEq)]
pub struct JointSwing {
    /// Which joint.
    pub joint: String,
    /// Swing at ride height (rad).
    pub at_ride: f64,
    /// Swing at full bump, rack straight ahead, or both wheels together (rad).
    pub at_full_bump: f64,
    /// Swing at full droop, rack straight ahead, or both wheels together (rad).
    pub at_full_droop: f64,
    /// The largest swing over all motion (rad).
    pub worst: f64,
    /// Where that is.
    pub worst_at: WheelPlace,
    /// How far the joint can swing (rad), given or found from its sizes.
    pub limit: Option<f64>,
    /// The direction as measured of the pin, or of the socket of a ball joint, with which the largest swing is least.
    pub best_axis: Vector3<f64>,
    /// The largest swing with that direction (rad).
    pub worst_with_best_axis: f64,
    /// The answer; nothing is judged without a limit.
    pub findings: Vec<Finding>,
}

/// Checks joints of a corner.
///
/// # Errors
/// A joint that is not there, sizes or directions that cannot be right, or a travel out of reach.
pub fn check_corner_joints(corner: &Corner, question: &JointsQuestion) -> Result<Vec<JointSwing>, Error> {
    check(Mover::Corner(corner), question)
}

/// Checks joints of a live axle, each wheel taken through its whole travel.
///
/// # Errors
/// A joint that is not there, sizes or directions that cannot be right, or a travel out of reach.
pub fn check_axle_joints(axle: &Axle, question: &JointsQuestion) -> Result<Vec<JointSwing>, Error> {
    check(Mover::Axle(axle), question)
}

fn check(mover: Mover<'_>, question: &JointsQuestion) -> Result<Vec<JointSwing>, Error> {
    if question.joints.is_empty() {
        return Err(Error::Missing {
            question: QUESTION,
            field: "joints",
            advice: "name at least one joint, with the direction of its bolt or stud",
        });
    }
    let motions = Motions::new(mover, &question.range, QUESTION)?;
    let joints = question.joints.iter().enumerate();
    joints
        .map(|(place, joint)| Turned::new(&motions, joint, &format!("joints[{place}]"))?.answer())
        .collect()
}

/// A unit vector from a direction that somebody gave, in the frame that is solved in.
pub(super) fn unit(mover: &Mover<'_>, direction: &Point, field: &str) -> Result<Vector3<f64>, Error> {
    for part in direction.iter() {
        within(*part, field, (-1e6, 1e6), "give a direction [forward, left, up]")?;
    }
    let length = direction.norm();
    if length < 1e-9 {
        let problem = "a direction of no length: give [forward, left, up], such as [1, 0, 0] for a bolt that points forward";
        return Err(incomplete(field, problem).into());
    }
    Ok(mover.on_side(direction) / length)
}

/// A joint with its directions.
struct Turned<'a> {
    motions: &'a Motions<'a>,
    joint: &'a Joint,
    located: Located,
    wish: Wish,
    /// The stud of an arm's ball joint, fixed to the upright, as measured.
    stud: Vector3<f64>,
    /// The pin, or the socket: what can be set, as measured.
    axis: Vector3<f64>,
    limit: Option<f64>,
    margin: f64,
}

impl<'a> Turned<'a> {
    fn new(motions: &'a Motions<'a>, joint: &'a Joint, field: &str) -> Result<Self, Error> {
        let mover = &motions.mover;
        let named = |name: &str| format!("{field}.{name}");
        let located = locate(mover, &joint.at, joint.axial, &named("at"))?;
        let given = |direction: &Option<Point>, name: &str| {
            direction
                .as_ref()
                .map(|direction| unit(mover, direction, &named(name)))
                .transpose()
        };
        let (axis, socket) = (given(&joint.axis, "axis")?, given(&joint.socket, "socket")?);
        let at_ride = motions.at_travel(0.0)?;
        let (wish, stud, axis) = match &located {
            Located::Across { .. } => {
                if socket.is_some() {
                    let problem = "a pin across a rod has an `axis` and no socket";
                    return Err(incomplete(&named("socket"), problem).into());
                }
                let problem = "say how the bolt or stud points, [forward, left, up], such as [1, 0, 0]";
                let axis = axis.ok_or_else(|| incomplete(&named("axis"), problem))?;
                (Wish::Across, Vector3::zeros(), axis)
            }
            Located::Along { holder, ends } => {
                if axis.is_some() {
                    let problem =
                        "the stud of an axial joint points along its rod: give its `socket`, or nothing";
                    return Err(incomplete(&named("axis"), problem).into());
                }
                let centred = || {
                    let along = Located::direction(ends, &at_ride);
                    at_ride.turn(holder).transpose() * along
                };
                (Wish::Along, Vector3::zeros(), socket.unwrap_or_else(centred))
            }
            Located::Arm {
                arm,
                upright,
                steering_axis,
            } => {
                let stud = axis.unwrap_or(*steering_axis);
                let centred = || at_ride.turn(arm).transpose() * (at_ride.turn(upright) * stud);
                (Wish::Along, stud, socket.unwrap_or_else(centred))
            }
        };
        let (limit, margin) = joint.limits(field)?;
        Ok(Self {
            motions,
            joint,
            located,
            wish,
            stud,
            axis,
            limit,
            margin,
        })
    }

    /// The direction of the rod or of the stud, seen from the part that the pin or the socket is fixed to.
    fn direction(&self, standing: &Standing) -> Vector3<f64> {
        match &self.located {
            Located::Across { holder, ends } | Located::Along { holder, ends } => {
                standing.turn(holder).transpose() * Located::direction(ends, standing)
            }
            Located::Arm { arm, upright, .. } => {
                standing.turn(arm).transpose() * (standing.turn(upright) * self.stud)
            }
        }
    }

    fn swing(&self, axis: &Vector3<f64>, standing: &Standing) -> f64 {
        self.wish.angle(axis, &self.direction(standing))
    }

    fn worst(&self, axis: &Vector3<f64>) -> Result<Worst, PoseError> {
        self.motions.greatest(|standing| self.swing(axis, standing))
    }

    /// The axis with the least worst swing, and that swing.
    fn best(&self) -> Result<(Vector3<f64>, f64), PoseError> {
        let samples = self.motions.samples().iter();
        let mut directions: Vec<_> = samples.map(|standing| self.direction(standing)).collect();
        let mut best = (self.axis, self.worst(&self.axis)?.value);
        for _ in 0..ROUNDS {
            let axis = orientation::best(self.wish, &self.axis, &directions);
            let known = directions
                .iter()
                .map(|direction| self.wish.angle(&axis, direction))
                .fold(0.0, f64::max);
            let worst = self.worst(&axis)?;
            if worst.value < best.1 {
                best = (axis, worst.value);
            }
            if worst.value <= known + SETTLED_RAD {
                break;
            }
            directions.push(self.direction(&worst.standing));
        }
        Ok(best)
    }

    fn answer(&self) -> Result<JointSwing, Error> {
        let worst = self.worst(&self.axis)?;
        let (best_axis, worst_with_best_axis) = self.best()?;
        let at = |travel: f64| -> Result<f64, PoseError> {
            Ok(self.swing(&self.axis, &self.motions.at_travel(travel)?))
        };
        let findings = vec![match self.limit {
            Some(limit) => self.finding(&worst, limit, &best_axis, worst_with_best_axis)?,
            None => self.without_limit(&worst),
        }];
        Ok(JointSwing {
            joint: self.joint.at.clone(),
            at_ride: at(0.0)?,
            at_full_bump: at(self.motions.bump)?,
            at_full_droop: at(-self.motions.droop)?,
            worst: worst.value,
            worst_at: worst.place,
            limit: self.limit,
            best_axis: self.motions.mover.on_side(&best_axis),
            worst_with_best_axis,
            findings,
        })
    }

    fn without_limit(&self, worst: &Worst) -> Finding {
        let name = &self.joint.at;
        let start = Sentence::new(format!("The joint `{name}` swings "))
            .angle(worst.value)
            .words(" ");
        let statement = worst.place.tell(start).words(
            ". How far it can swing was not said, so nothing is said of fit: write it as `limit`, in degrees either way, or \
             give the sizes of its `bearing`.",
        );
        Finding::not_asked(
            CHECK,
            self.subject(),
            (worst.value, Dimension::Angle),
            worst.place.travel(),
            statement,
        )
    }

    fn subject(&self) -> String {
        format!("{}: swing of the joint", self.joint.at)
    }

    fn finding(
        &self,
        worst: &Worst,
        limit: f64,
        best_axis: &Vector3<f64>,
        with_best: f64,
    ) -> Result<Finding, Error> {
        let name = &self.joint.at;
        let margin = limit - worst.value;
        let verdict = Verdict::from_margin(margin, self.margin);
        let start = Sentence::new(format!("The joint `{name}` swings "))
            .angle(worst.value)
            .words(" ");
        let mut statement = worst.place.tell(start).words("; it can swing ").angle(limit);
        if verdict == Verdict::Fails {
            let swing = |standing: &Standing| self.swing(&self.axis, standing);
            statement = match self.motions.first_beyond(limit, &worst.place, swing)? {
                Some(place) => place.tell(statement.words(". It passes that ")),
                None => statement,
            };
            statement = statement.words(": beyond, it levers on its bolt or stud, which bends or breaks.");
        } else {
            statement = statement.words(", ").angle(margin).words(" to spare.");
        }
        let mut remedies = Vec::new();
        if verdict == Verdict::Fails {
            if with_best <= limit {
                remedies.push(self.turned(best_axis, with_best));
            }
            let sentence = Sentence::new("Or fit a joint that swings ")
                .rounded(
                    worst.value,
                    Dimension::Angle,
                    Rounding::Up { room: f64::INFINITY },
                )
                .words(" or more either way.");
            remedies.push(Remedy {
                kind: RemedyKind::MoreSwing,
                change: worst.value,
                window: (worst.value, f64::INFINITY),
                sentence,
            });
        }
        Ok(Finding {
            check: CHECK,
            subject: self.subject(),
            verdict,
            dimension: Dimension::Angle,
            value: worst.value,
            limit,
            margin,
            at_travel: worst.place.travel(),
            statement,
            remedies,
        })
    }

    /// The pin or socket turned to its best direction.
    fn turned(&self, best_axis: &Vector3<f64>, with_best: f64) -> Remedy {
        let mut axis = self.motions.mover.on_side(best_axis);
        if axis[axis.iamax()] < 0.0 {
            axis = -axis;
        }
        let change = self
            .axis
            .cross(best_axis)
            .norm()
            .atan2(self.axis.dot(best_axis).abs());
        let what = match self.wish {
            Wish::Across => "bolt",
            Wish::Along => "socket",
        };
        let sentence = Sentence::new(format!("Turn its {what} by "))
            .angle(change)
            .words(format!(
                ", to point along [{:.3}, {:.3}, {:.3}] (forward, left, up, as measured): the joint then swings ",
                axis.x, axis.y, axis.z
            ))
            .angle(with_best)
            .words(" at most.");
        Remedy {
            kind: RemedyKind::TurnJoint,
            change,
            window: (change, change),
            sentence,
        }
    }
}
