//! How the arms of a bar follow the suspension through their links.

use super::AntiRollBar;
use super::arm_turn::{BarArm, BarFrame};
use super::description::BarSide;
use crate::checks::motion_range::Motions;
use crate::checks::moving_parts::{Anchor, Mover, Standing};
use crate::numeric::real::{Moving, WithRate, length, value};
use crate::pickups::{PickupError, Point, incomplete, known_part, mirrored};
use crate::{Dimension, Error};
use nalgebra::Vector3;

/// A link or arm shorter than this (mm) is taken for two points that coincide.
const SHORTEST_MM: f64 = 5.0;

/// One end of the bar, fixed to the parts that carry it.
struct End {
    /// The root of this arm, another point of the axis, and a point square off the root in the arm's plane.
    frame: [Anchor; 3],
    arm: BarArm,
    far: Anchor,
}

/// Both ends of the bar, left and right.
pub(super) struct Links {
    ends: [End; 2],
    /// Lengths of the links as they are set (mm).
    pub(super) lengths: [f64; 2],
    /// Distances of the arm ends from the axis (mm).
    pub(super) levers: [f64; 2],
    /// Lengths of the arms from root to joint (mm).
    pub(super) arm_lengths: [f64; 2],
    pub(super) between_roots: f64,
}

/// How far both arms have turned at ride height, with rates.
pub(super) struct Turns {
    /// Turn of the left and of the right arm (rad), with its rate per mm of heave of an axle, or of its own wheel.
    heave: [WithRate; 2],
    /// The same with its rate per mm of roll; none for a pair of corners, where each arm follows its own wheel.
    roll: Option<[WithRate; 2]>,
    pub(super) left_link_without_preload: f64,
}

impl Turns {
    /// Twist of the bar (rad).
    pub(super) fn twist(&self) -> f64 {
        self.heave[0].re - self.heave[1].re
    }

    /// Twist per travel of the left and of the right wheel alone (rad/mm).
    pub(super) fn twist_per_wheel(&self) -> [f64; 2] {
        match &self.roll {
            None => [self.heave[0].eps, -self.heave[1].eps],
            Some(roll) => {
                let heave = self.heave[0].eps - self.heave[1].eps;
                let roll = roll[0].eps - roll[1].eps;
                [0.5 * (heave + roll), 0.5 * (heave - roll)]
            }
        }
    }

    /// Travel of each arm's end per travel of its own wheel alone.
    pub(super) fn arm_per_wheel(&self, levers: [f64; 2]) -> [f64; 2] {
        let own = match &self.roll {
            None => self.heave.map(|turn| turn.eps),
            Some(roll) => [
                0.5 * (self.heave[0].eps + roll[0].eps),
                0.5 * (self.heave[1].eps - roll[1].eps),
            ],
        };
        [own[0].abs() * levers[0], own[1].abs() * levers[1]]
    }
}

impl Links {
    pub(super) fn new(mover: &Mover<'_>, bar: &AntiRollBar) -> Result<Self, Error> {
        known_part(&bar.mounted_on, "mounted_on", &mounts(mover))?;
        let given = bar.right.clone();
        let right = given.unwrap_or_else(|| partner(&bar.left));
        let between = bar.left.root - right.root;
        let between_roots = between.norm();
        if between_roots < SHORTEST_MM {
            return Err(too_close("left.root", "right.root", between_roots).into());
        }
        // The other corner of a pair is this one's mirror image, and so is its end of the bar.
        let pair = matches!(mover, Mover::Corner(_));
        let (right, right_axis) = if pair {
            (mirror(&right), mirrored(&-between))
        } else {
            (right, between)
        };
        let (left_end, left_arm) = end(mover, bar, &bar.left, &between, "left")?;
        let (right_end, right_arm) = end(mover, bar, &right, &right_axis, "right")?;
        let link = |side: &BarSide| side.link_length.unwrap_or((side.link_end - side.arm_end).norm());
        Ok(Self {
            levers: [left_end.arm.lever, right_end.arm.lever],
            lengths: [link(&bar.left), link(&right)],
            arm_lengths: [left_arm, right_arm],
            ends: [left_end, right_end],
            between_roots,
        })
    }

    /// The turns of both arms at ride height.
    pub(super) fn turns_at_ride(&self, motions: &Motions<'_>) -> Result<Turns, Error> {
        let standing = motions.at_travel(0.0)?;
        let heave = self.turns(&standing)?;
        let roll = match motions.mover.rolling(motions.ride)? {
            Some(rolling) => Some(self.turns(&rolling)?),
            None => None,
        };
        let [left, _] = &self.ends;
        let frame = left.frame(&standing);
        let wanted = left.arm.end(&frame, heave[1]);
        let far = standing.moving(&left.far);
        Ok(Turns {
            heave,
            roll,
            left_link_without_preload: (value(&wanted) - value(&far)).norm(),
        })
    }

    fn turns(&self, standing: &Standing) -> Result<[WithRate; 2], Error> {
        let mut turns = [WithRate::from(0.0); 2];
        for (place, (end, link)) in self.ends.iter().zip(self.lengths).enumerate() {
            let frame = end.frame(standing);
            let far = standing.moving(&end.far);
            let name = if place == 0 { "left" } else { "right" };
            turns[place] = end
                .arm
                .turn(&frame, &far, link)
                .ok_or_else(|| out_of_reach(name, link))?;
        }
        Ok(turns)
    }

    /// The lesser of the angles between link and arm (rad); 0 where a link does not reach.
    pub(super) fn least_angle(&self, standing: &Standing) -> f64 {
        let angles = self.ends.iter().zip(self.lengths).map(|(end, link)| {
            let frame = end.frame(standing);
            let plain = BarFrame {
                root: value(&frame.root),
                axis: value(&frame.axis),
                first: value(&frame.first),
                second: value(&frame.second),
            };
            let far = standing.place(&end.far);
            end.arm.leverage(&plain, &far, link).map_or(0.0, f64::asin)
        });
        angles.fold(f64::INFINITY, f64::min)
    }
}

impl End {
    fn frame(&self, standing: &Standing) -> BarFrame<Moving<f64>> {
        let [root, other, square] =
            [&self.frame[0], &self.frame[1], &self.frame[2]].map(|anchor| standing.moving(anchor));
        let axis = root - other;
        let axis = axis / length(&axis);
        let first = square - root;
        let first = first / length(&first);
        BarFrame {
            root,
            axis,
            first,
            second: axis.cross(&first),
        }
    }
}

fn end(
    mover: &Mover<'_>,
    bar: &AntiRollBar,
    side: &BarSide,
    axis: &Vector3<f64>,
    name: &str,
) -> Result<(End, f64), Error> {
    let along = axis.normalize();
    let arm = side.arm_end - side.root;
    let foot = along.dot(&arm);
    let square = arm - along * foot;
    let lever = square.norm();
    if lever < SHORTEST_MM {
        return Err(too_close(&format!("{name}.arm_end"), "the axis of the bar", lever).into());
    }
    let link = (side.link_end - side.arm_end).norm();
    if link < SHORTEST_MM {
        return Err(too_close(&format!("{name}.arm_end"), &format!("{name}.link_end"), link).into());
    }
    let first = square / lever;
    let frame: BarFrame<f64> = BarFrame {
        root: side.root,
        axis: along,
        first,
        second: along.cross(&first),
    };
    let seen = side.link_end - side.root;
    // As measured the turn is zero: it is the greater of the two where the far joint lies below it.
    let offset = frame.second.dot(&seen);
    let arm_as_fixed = BarArm {
        lever,
        along: foot,
        greater: offset < 0.0,
    };
    let leverage = arm_as_fixed.leverage(&frame, &side.link_end, link);
    if leverage.is_none_or(|leverage| leverage < 1e-3) {
        let field = format!("{name}.link_end");
        let problem = "link and arm are in line as measured, so the link cannot turn the bar";
        return Err(incomplete(&field, problem).into());
    }
    let on_bar = |point: &Point| mover.anchor(point, &bar.mounted_on, "mounted_on");
    let rides_on = format!("{name}.rides_on");
    let end = End {
        frame: [
            on_bar(&side.root)?,
            on_bar(&(side.root - along * lever))?,
            on_bar(&(side.root + square))?,
        ],
        arm: arm_as_fixed,
        far: mover.anchor(&side.link_end, &side.rides_on, &rides_on)?,
    };
    if side.rides_on == bar.mounted_on {
        let problem = format!(
            "the link goes to `{}`, which carries the bar itself: nothing would turn it",
            side.rides_on
        );
        return Err(incomplete(&rides_on, &problem).into());
    }
    Ok((end, arm.norm()))
}

fn mounts(mover: &Mover<'_>) -> Vec<&'static str> {
    match mover {
        Mover::Corner(_) => vec!["body"],
        Mover::Axle(_) => vec!["body", "axle"],
    }
}

/// The right end when only the left one is given.
fn partner(left: &BarSide) -> BarSide {
    let rides_on = match left.rides_on.strip_suffix("_left") {
        Some(stem) => format!("{stem}_right"),
        None => left.rides_on.clone(),
    };
    BarSide {
        rides_on,
        link_length: None,
        ..mirror(left)
    }
}

fn mirror(side: &BarSide) -> BarSide {
    BarSide {
        root: mirrored(&side.root),
        arm_end: mirrored(&side.arm_end),
        link_end: mirrored(&side.link_end),
        ..side.clone()
    }
}

fn too_close(first: &str, second: &str, distance_mm: f64) -> PickupError {
    PickupError::TooClose {
        first: first.to_owned(),
        second: second.to_owned(),
        distance_mm,
        advice: "give two points that lie apart",
    }
}

fn out_of_reach(name: &str, link: f64) -> PickupError {
    PickupError::QuantityOutOfRange {
        field: format!("{name}.link_length"),
        value: link,
        dimension: Dimension::Length,
        requirement: "such that the link reaches the arm at ride height".into(),
        advice: "measure it between the centres of its joints, and check the points of the bar",
    }
}
