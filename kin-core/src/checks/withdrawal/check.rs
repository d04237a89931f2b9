//! The check of a bolt's way out.

use super::question::{DamperEnd, RoundPart, WithdrawalQuestion};
use crate::checks::motion_range::full_droop;
use crate::checks::moving_parts::Mover;
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::geometry::Segment;
use crate::pickups::{Point, Side};
use crate::{Axle, AxleTravel, Corner, Dimension, Error};

const CHECK: &str = "bolt_withdrawal";

/// A straight path and what comes nearest to it.
#[derive(Debug, Clone, PartialEq)]
pub struct WithdrawalPath {
    /// Where it begins: at the face of the bracket (mm).
    pub start: Point,
    /// Where it ends (mm).
    pub end: Point,
    /// Its radius (mm).
    pub radius: f64,
    /// What comes nearest.
    pub nearest: String,
    /// Gap to it (mm); negative while they overlap, by as much as their middle lines stay apart too little.
    pub gap: f64,
}

/// Why the bolt was looked at where it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkPlace {
    /// The question says so.
    Given,
    /// Full droop, as the car hangs on stands.
    FullDroop,
    /// Ride height, since nothing says how far the wheel hangs down.
    RideHeight,
}

/// The way out of a bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct Withdrawal {
    /// Wheel travel from ride height that was looked at (mm, bump positive).
    pub travel: f64,
    /// Why there.
    pub work_place: WorkPlace,
    /// The bolt drawn out on the side of its head.
    pub head_side: WithdrawalPath,
    /// Room for nut and socket on the other side, where their size is given.
    pub nut_side: Option<WithdrawalPath>,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Everything round that the bolt could meet.
struct Surroundings {
    mount: Point,
    round: Vec<(String, Segment, f64)>,
}

/// Checks the bolt of a corner's damper.
///
/// # Errors
/// A question that cannot be right, a travel out of reach, or no damper.
pub fn check_corner_withdrawal(corner: &Corner, question: &WithdrawalQuestion) -> Result<Withdrawal, Error> {
    question.validate()?;
    let work = Work::of(question, &Mover::Corner(corner))?;
    let position = corner.at(corner.ride_travel()? + work.travel, 0.0)?;
    let damper = position.damper_ends().ok_or_else(no_damper)?;
    run(question, work, damper, position.spring_ends())
}

/// Checks the bolt of one of an axle's dampers, both wheels at the same travel.
///
/// # Errors
/// A question that cannot be right, a travel out of reach, or no dampers.
pub fn check_axle_withdrawal(
    axle: &Axle,
    side: Side,
    question: &WithdrawalQuestion,
) -> Result<Withdrawal, Error> {
    question.validate()?;
    let work = Work::of(question, &Mover::Axle(axle))?;
    let position = axle.at(AxleTravel::both(axle.ride_travel()? + work.travel))?;
    let of_side = |[left, right]: [(Point, Point); 2]| if side == Side::Left { left } else { right };
    let damper = position.damper_ends().map(of_side).ok_or_else(no_damper)?;
    run(question, work, damper, position.spring_ends().map(of_side))
}

/// Where the wheel is while somebody works on the bolt.
#[derive(Clone, Copy)]
struct Work {
    travel: f64,
    place: WorkPlace,
}

impl Work {
    fn of(question: &WithdrawalQuestion, mover: &Mover<'_>) -> Result<Self, Error> {
        let (travel, place) = match question.travel {
            Some(travel) => (travel, WorkPlace::Given),
            None => match full_droop(mover)? {
                Some(droop) => (-droop, WorkPlace::FullDroop),
                None => (0.0, WorkPlace::RideHeight),
            },
        };
        Ok(Self { travel, place })
    }

    fn tell(&self, sentence: Sentence) -> Sentence {
        match self.place {
            WorkPlace::FullDroop => sentence
                .words("at full droop as the car hangs on stands, ")
                .length(-self.travel)
                .words(" below ride height"),
            WorkPlace::RideHeight => sentence.words(
                "at ride height, since nothing says how far the wheel hangs down (give `travel` for that)",
            ),
            WorkPlace::Given if self.travel > 0.0 => {
                sentence.words("at ").length(self.travel).words(" of bump")
            }
            WorkPlace::Given if self.travel < 0.0 => {
                sentence.words("at ").length(-self.travel).words(" of droop")
            }
            WorkPlace::Given => sentence.words("at ride height"),
        }
    }
}

fn no_damper() -> Error {
    Error::Missing {
        question: "the way out of a bolt",
        field: "coilover",
        advice: "give the damper's mounts",
    }
}

fn run(
    question: &WithdrawalQuestion,
    work: Work,
    damper: (Point, Point),
    spring: Option<(Point, Point)>,
) -> Result<Withdrawal, Error> {
    let mut round = Vec::new();
    for (part, ends, name) in [
        (&question.damper, Some(damper), "the damper"),
        (&question.spring, spring, "the spring"),
    ] {
        let Some(part) = part else { continue };
        let ends = ends.ok_or(Error::Missing {
            question: "the way out of a bolt",
            field: "spring",
            advice: "the description has no spring; leave it out here, or give it there",
        })?;
        round.push((name.to_owned(), between(part, ends)?, part.radius));
    }
    for obstacle in &question.obstacles {
        let line = Segment {
            start: obstacle.start,
            end: obstacle.end,
        };
        round.push((obstacle.name.clone(), line, obstacle.radius));
    }
    let (upper, lower) = damper;
    let around = Surroundings {
        mount: match question.end {
            DamperEnd::UpperMount => upper,
            DamperEnd::LowerMount => lower,
        },
        round,
    };
    let head_side = around.way_out(question, 1.0);
    let socket = (question.socket_length, 0.5 * question.socket_diameter);
    let nut_side =
        (socket.0 > 0.0 && socket.1 > 0.0).then(|| around.path(question, -1.0, socket.0, socket.1));
    let mut head = finding(question, work, &head_side, "bolt out on the head side");
    if head.verdict == Verdict::Fails {
        // Put in the other way round, the bolt comes out on the side that is now the nut's.
        let turned = around.way_out(question, -1.0);
        if turned.gap >= 0.0 {
            head.remedies.push(Remedy {
                kind: RemedyKind::BoltTurnedRound,
                change: 0.0,
                window: (0.0, 0.0),
                sentence: Sentence::new("Put the bolt in from the other side: there it comes out with ")
                    .length(turned.gap)
                    .words(" to spare."),
            });
        }
    }
    let nut = nut_side
        .as_ref()
        .map(|path| finding(question, work, path, "nut and socket"));
    Ok(Withdrawal {
        travel: work.travel,
        work_place: work.place,
        head_side,
        nut_side,
        findings: std::iter::once(head).chain(nut).collect(),
    })
}

/// The middle line of a part around the axis between two mounts.
fn between(part: &RoundPart, (upper, lower): (Point, Point)) -> Result<Segment, Error> {
    let span = lower - upper;
    let length = span.norm();
    if part.from_upper + part.from_lower > length {
        return Err(Error::NotForThisLayout {
            question: "the way out of a bolt".to_owned(),
            reason: Sentence::new("a round part begins ")
                .length(part.from_upper)
                .words(" from the upper mount and ends ")
                .length(part.from_lower)
                .words(" from the lower one, but they are only ")
                .length(length)
                .words(" apart here"),
        });
    }
    let along = span / length;
    Ok(Segment {
        start: upper + along * part.from_upper,
        end: lower - along * part.from_lower,
    })
}

impl Surroundings {
    /// The path of head and bolt on the side of the head (`sign` = 1) or on the other (-1).
    fn way_out(&self, question: &WithdrawalQuestion, sign: f64) -> WithdrawalPath {
        let length = question.bolt_length + question.head_height;
        self.path(question, sign, length, 0.5 * question.head_diameter)
    }

    /// A straight path from the face of the bracket, taken as round-ended: up to its radius on the safe side at its ends.
    fn path(&self, question: &WithdrawalQuestion, sign: f64, length: f64, radius: f64) -> WithdrawalPath {
        let along = question.towards_head.normalize() * sign;
        let start = self.mount + along * (0.5 * question.outside_width);
        let line = Segment {
            start,
            end: start + along * length,
        };
        let nearest = self
            .round
            .iter()
            .map(|(name, other, around)| (name, line.closest_to_segment(other).distance - radius - around))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        WithdrawalPath {
            start: line.start,
            end: line.end,
            radius,
            nearest: nearest.map_or_else(String::new, |(name, _)| name.clone()),
            gap: nearest.map_or(f64::MAX, |(_, gap)| gap),
        }
    }
}

fn finding(question: &WithdrawalQuestion, work: Work, path: &WithdrawalPath, what: &str) -> Finding {
    let verdict = Verdict::from_margin(path.gap, question.wanted_gap());
    let name = &question.name;
    let start = work.tell(Sentence::new(format!("{name}, {what}, ")));
    let statement = if verdict == Verdict::Fails {
        start
            .words(format!(": the straight path meets {}; ", path.nearest))
            .length(-path.gap)
            .words(" are lacking: there is no room for it with these parts in place.")
    } else {
        start
            .words(format!(
                ": the straight path clears everything, nearest {} by ",
                path.nearest
            ))
            .length(path.gap)
            .words(".")
    };
    Finding {
        check: CHECK,
        subject: format!("{name}: {what}"),
        verdict,
        dimension: Dimension::Length,
        value: path.gap,
        limit: 0.0,
        margin: path.gap,
        at_travel: Some(work.travel),
        statement,
        remedies: Vec::new(),
    }
}
