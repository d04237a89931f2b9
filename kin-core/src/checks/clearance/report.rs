//! What the clearance check answers.

use super::anchor::Instant;
use super::measure::{Lowest, overlaps};
use super::motions::{MotionKind, Motions};
use super::names::Mover;
use super::piece::{Form, Stretch};
use super::remedy::remedies;
use super::rounded_hull::{RoundedHull, hulls};
use super::scene::{Pair, Scene};
use super::words;
use crate::Dimension;
use crate::checks::motion_range::WheelPlace;
use crate::checks::{Finding, Verdict};
use crate::geometry::Core;
use crate::numeric::real::value;
use crate::pickups::{Point, Side, mirrored};
use crate::pose::PoseError;
use crate::pose::Twist;
use nalgebra::Vector3;

const CHECK: &str = "clearance";

/// The clearance check of a corner or an axle.
#[derive(Debug, Clone, PartialEq)]
pub struct Clearance {
    /// Travel at ride height, from the pickups as measured (mm).
    pub ride_travel: f64,
    /// Every pair that was compared, the tightest first.
    pub pairs: Vec<PairClearance>,
    /// The answers, in the same order.
    pub findings: Vec<Finding>,
}

/// The clearance of two solids.
#[derive(Debug, Clone, PartialEq)]
pub struct PairClearance {
    /// The part that moves.
    pub part: String,
    /// The obstacle, or the other part.
    pub other: String,
    /// The gap wanted between them (mm).
    pub wanted: f64,
    /// The gap at ride height (mm).
    pub at_ride: f64,
    /// The least gap over all motions.
    pub least: LeastGap,
    /// The least gap of every kind of motion by itself. The kinds that hold others (travel with steering, each wheel by
    /// itself) are listed only where they find less.
    pub by_motion: Vec<LeastGap>,
    /// Where the two overlap, kind of motion by kind of motion.
    pub overlaps: Vec<Overlap>,
    /// The direction of moving the other solid that gains most, at the place of the least gap; none where the cores
    /// meet, since no direction leads out there.
    pub moving_other: Option<MoveGain>,
    /// The same for the upper mount of a part on a damper.
    pub moving_upper_mount: Option<MoveGain>,
    /// Both solids where the gap is least, the part first: the hulls that each of them is made of. A plane has none.
    pub at_least: [Vec<RoundedHull>; 2],
}

/// A least gap, with where and when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeastGap {
    /// The gap (mm); negative where the parts overlap, by so much.
    pub gap: f64,
    /// Whether the parts overlap by more than the gap says: the axes of round parts meet, or an axis meets the box.
    pub cores_meet: bool,
    /// The closest point of the part's surface, or of its core where the cores meet (mm).
    pub on_part: Point,
    /// The closest point of the other solid's surface (mm).
    pub on_other: Point,
    /// The kind of motion.
    pub motion: MotionKind,
    /// Where the wheels stand.
    pub wheels: WheelPlace,
}

/// A stretch of a motion on which two solids overlap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// The kind of motion.
    pub motion: MotionKind,
    /// Where the wheels stand at one end of it.
    pub from: WheelPlace,
    /// Where they stand at the other end.
    pub to: WheelPlace,
}

/// A direction, and what a move along it gains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoveGain {
    /// Unit vector in vehicle axes.
    pub direction: Vector3<f64>,
    /// Gap gained per mm of the move, at first.
    pub gain: f64,
}

pub(super) fn report(scene: &Scene<'_, '_>, measured: &[Pair]) -> Result<Clearance, PoseError> {
    let mut answers = Vec::with_capacity(measured.len());
    for pair in measured {
        if let Some(lowest) = pair.measured.lowest() {
            answers.push(answer(scene, measured, pair, lowest)?);
        }
    }
    answers.sort_by(|a, b| a.1.margin.total_cmp(&b.1.margin));
    let (pairs, findings) = answers.into_iter().unzip();
    Ok(Clearance {
        ride_travel: scene.motions.extent.ride,
        pairs,
        findings,
    })
}

fn answer(
    scene: &Scene<'_, '_>,
    all: &[Pair],
    pair: &Pair,
    lowest: &Lowest,
) -> Result<(PairClearance, Finding), PoseError> {
    let motions = scene.motions;
    let bodies = pair.solids.map(|place| &scene.solids[place]);
    let least = least_gap(scene, pair, lowest);
    let by_motion = pair.measured.by_motion.iter();
    let overlaps = if least.gap < 0.0 {
        overlaps(motions, bodies)?
    } else {
        Vec::new()
    };
    let overlaps = overlaps.into_iter().filter_map(|(line, (from, to))| {
        let (kind, walked) = motions.lines.get(line)?;
        Some(Overlap {
            motion: *kind,
            from: motions.wheels_at(&walked.line.command_at(from)),
            to: motions.wheels_at(&walked.line.command_at(to)),
        })
    });
    let gains = gains(scene, pair, lowest);
    let clearance = PairClearance {
        part: bodies[0].body.name.clone(),
        other: bodies[1].body.name.clone(),
        wanted: scene.wanted(pair.solids),
        at_ride: pair.measured.at_ride,
        least,
        by_motion: by_motion.map(|lowest| least_gap(scene, pair, lowest)).collect(),
        overlaps: overlaps.collect(),
        moving_other: gains.0.map(|gain| on_side(motions, gain)),
        moving_upper_mount: gains.1.map(|gain| on_side(motions, gain)),
        at_least: hulls(motions, bodies, lowest),
    };
    let margin = least.gap - clearance.wanted;
    let verdict = Verdict::from_margin(margin, scene.margin);
    let remedies = if verdict == Verdict::Fails {
        remedies(scene, all, pair, lowest, gains.1)?
    } else {
        Vec::new()
    };
    let finding = Finding {
        check: CHECK,
        subject: format!("{} to {}", clearance.part, clearance.other),
        verdict,
        dimension: Dimension::Length,
        value: least.gap,
        limit: clearance.wanted,
        margin,
        at_travel: words::one_travel(&least),
        statement: words::statement(&clearance),
        remedies,
    };
    Ok((clearance, finding))
}

fn least_gap(scene: &Scene<'_, '_>, pair: &Pair, lowest: &Lowest) -> LeastGap {
    let motions = scene.motions;
    let closest = &lowest.look.closest;
    let radius = |which: usize| {
        let pieces = &scene.solids[pair.solids[which]].body.pieces;
        pieces.get(lowest.pieces[which]).map_or(0.0, |piece| piece.radius)
    };
    let on_side = |point: Point| {
        if is_right(motions) {
            mirrored(&point)
        } else {
            point
        }
    };
    LeastGap {
        gap: lowest.look.gap,
        cores_meet: lowest.look.met(),
        on_part: on_side(closest.on_first - closest.direction * radius(0)),
        on_other: on_side(closest.on_second + closest.direction * radius(1)),
        motion: lowest.kind,
        wheels: lowest.wheels,
    }
}

pub(super) fn is_right(motions: &Motions<'_>) -> bool {
    matches!(motions.mover, Mover::Corner(corner) if corner.side() == Side::Right)
}

fn on_side(motions: &Motions<'_>, gain: MoveGain) -> MoveGain {
    let direction = if is_right(motions) {
        mirrored(&gain.direction)
    } else {
        gain.direction
    };
    MoveGain { direction, ..gain }
}

/// What moving the other solid and moving the part's upper mount gain, as the solver sees it.
fn gains(scene: &Scene<'_, '_>, pair: &Pair, lowest: &Lowest) -> (Option<MoveGain>, Option<MoveGain>) {
    let closest = &lowest.look.closest;
    if lowest.look.met() {
        return (None, None);
    }
    // Away from the part the gap grows by as much as the other solid is moved.
    let other = MoveGain {
        direction: -closest.direction,
        gain: 1.0,
    };
    let body = &scene.solids[pair.solids[0]].body;
    let Some(Form::AlongDamper { mounts, stretch }) =
        body.pieces.get(lowest.pieces[0]).map(|piece| &piece.form)
    else {
        return (Some(other), None);
    };
    // Only places are asked for here: the rate of the rack does not matter.
    let origin = &scene.motions.mover.linkage().origin;
    let instant = Instant::new(origin, &lowest.solved, &Twist::zero(), 0.0);
    let [upper, lower] = mounts.each_ref().map(|mount| value(&mount.at(&instant)));
    let span = lower - upper;
    let length = span.norm();
    let Core::Segment(segment) = body.pieces[lowest.pieces[0]].place(&instant).core else {
        return (Some(other), None);
    };
    let share = segment.share_at(&closest.on_first);
    // A point at distance p from the upper mount goes with it, less p/length of what is square to the damper; one
    // that is counted from the lower mount goes the other way by q/length of that.
    let square = |direction: Vector3<f64>| direction - span * (span.dot(&direction) / (length * length));
    let from_upper = |p: f64| closest.direction - square(closest.direction) * (p / length);
    let from_lower = |q: f64| square(closest.direction) * (q / length);
    let ends = match *stretch {
        Stretch::Between {
            from_upper: p,
            from_lower: q,
        } => [from_upper(p), from_lower(q)],
        Stretch::HangsOnUpper {
            from_upper: p,
            length,
        } => [from_upper(p), from_upper(p + length)],
        Stretch::StandsOnLower {
            from_lower: q,
            length,
        } => [from_lower(q + length), from_lower(q)],
    };
    let gradient = ends[0] * (1.0 - share) + ends[1] * share;
    let gain = gradient.norm();
    let mount = (gain > 1e-9).then(|| MoveGain {
        direction: gradient / gain,
        gain,
    });
    (Some(other), mount)
}
