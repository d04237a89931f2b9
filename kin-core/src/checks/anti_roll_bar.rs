//! What an anti-roll bar does at the wheel, and whether its links preload it.
//!
//! The bar is a torsion spring between two arms that turn about one axis. Each arm follows the suspension through its
//! link, so that the turn of an arm, and its exact rate along the wheel's travel, follow from where the link's far joint
//! is. With K the torque per twist of bar and arms, the energy is `K twist^2 / 2`; its derivatives by the travels of both
//! wheels are the forces at the wheels.

mod arm_turn;
mod description;
mod geometry;
mod section;

pub use description::{AntiRollBar, BarSide};
pub use section::{ArmBending, BarSection};

use super::motion_range::{Motions, WheelPlace, Worst};
use super::moving_parts::Mover;
use super::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::curves::{AxleCurve, CornerCurve};
use crate::suspension::{Axle, AxleTravel, Corner};
use crate::{Dimension, Error};
use geometry::{Links, Turns};

const CHECK: &str = "anti_roll_bar";
const QUESTION: &str = "the anti-roll bar check";

/// Force at a wheel that counts as no preload (N), where the user states none: what corner scales read to (common
/// practice, no source).
const USUAL_PRELOAD_N: f64 = 20.0;
/// Angle between link and arm that keeps clear of going over centre (deg) (common practice, no source).
const LEAST_ANGLE_DEG: f64 = 15.0;

/// An anti-roll bar at the wheels.
#[derive(Debug, Clone, PartialEq)]
pub struct BarAtWheel {
    /// Torque per twist of the bar alone (N mm/rad).
    pub torsional_rate: f64,
    /// Force at the end of either arm per travel of one end against the other (N/mm), arm bending in series.
    pub rate_at_arm_ends: f64,
    /// What the bending of the arms takes off the rate of the bar, as a share of it.
    pub lost_to_arm_bending: f64,
    /// Travel of the arm's end per travel of its own wheel at ride height, left and right.
    pub motion_ratio: [f64; 2],
    /// What the bar adds to the rate of each wheel in roll (N/mm), left and right.
    pub wheel_rate_in_roll: [f64; 2],
    /// What the bar adds to the rate of one wheel alone (N/mm), left and right.
    pub wheel_rate_alone: [f64; 2],
    /// Roll stiffness of the bar (N mm/rad).
    pub roll_stiffness: f64,
    /// Roll stiffness of the springs of this axle (N mm/rad); none without springs.
    pub spring_roll_stiffness: Option<f64>,
    /// Share of the bar in the roll stiffness of this axle; none without springs.
    pub share_of_axle: Option<f64>,
    /// Share of this axle, bar and springs, in the roll stiffness of the car; none unless the other axle's is given.
    pub share_of_car: Option<f64>,
    /// Twist of the bar at ride height (rad), positive with the left arm turned up against the right one.
    pub preload_twist: f64,
    /// Force at the left wheel from that twist (N) with the body held level, positive when it loads the left wheel; the
    /// right wheel loses about as much.
    pub preload_at_left_wheel: f64,
    /// The same with the body free to roll on both axles (N): what corner scales see. None unless the roll stiffness of
    /// springs and of the other axle is known.
    pub preload_on_scales: Option<f64>,
    /// Lengths of the links as they are set, left and right (mm).
    pub link_lengths: [f64; 2],
    /// Length of the left link with which nothing is preloaded at ride height (mm).
    pub left_link_without_preload: f64,
    /// The least angle between a link and its arm over all motion (rad); 0 where a link does not reach.
    pub least_link_angle: f64,
    /// Where that is.
    pub least_link_angle_at: WheelPlace,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Checks the anti-roll bar of a pair of corners that are each other's mirror.
///
/// # Errors
/// Sizes or points that cannot be right, links that do not reach, or a travel out of reach.
pub fn check_corner_anti_roll_bar(corner: &Corner, bar: &AntiRollBar) -> Result<BarAtWheel, Error> {
    let position = corner.at(corner.ride_travel()?, 0.0)?;
    let track = 2.0 * position.contact_point().y.abs();
    let springs = CornerCurve::WheelRate
        .value(&position)
        .map(|rate| 0.5 * rate * track * track);
    Fitted::new(Mover::Corner(corner), bar, track, springs)?.answer()
}

/// Checks the anti-roll bar of a live axle.
///
/// # Errors
/// Sizes or points that cannot be right, links that do not reach, or a travel out of reach.
pub fn check_axle_anti_roll_bar(axle: &Axle, bar: &AntiRollBar) -> Result<BarAtWheel, Error> {
    let position = axle.at(AxleTravel::both(axle.ride_travel()?))?;
    let (left, right) = position.contact_points();
    let track = left.y - right.y;
    let rate = |curve: AxleCurve| curve.value(&position);
    let springs = rate(AxleCurve::WheelRateRollLeft)
        .zip(rate(AxleCurve::WheelRateRollRight))
        .map(|(left, right)| (left + right) * 0.25 * track * track);
    Fitted::new(Mover::Axle(axle), bar, track, springs)?.answer()
}

/// A bar fitted to its suspension.
struct Fitted<'a> {
    motions: Motions<'a>,
    bar: &'a AntiRollBar,
    links: Links,
    track: f64,
    springs: Option<f64>,
}

/// Rates of the bar without its suspension.
struct Stiffness {
    /// Of the bar alone (N mm/rad).
    bar: f64,
    /// With the bending of both arms in series (N mm/rad).
    with_arms: f64,
}

impl<'a> Fitted<'a> {
    fn new(mover: Mover<'a>, bar: &'a AntiRollBar, track: f64, springs: Option<f64>) -> Result<Self, Error> {
        bar.validate()?;
        let links = Links::new(&mover, bar)?;
        let motions = Motions::new(mover, &bar.range, QUESTION)?;
        Ok(Self {
            motions,
            bar,
            links,
            track,
            springs,
        })
    }

    fn stiffness(&self) -> Stiffness {
        let section = &self.bar.section;
        let bar = section.torsional_rate(self.bar.length.unwrap_or(self.links.between_roots));
        let mut compliance = 1.0 / bar;
        for (lever, length) in self.links.levers.iter().zip(self.links.arm_lengths) {
            if let Some(rate) = section.arm_rate(&self.bar.arm, length) {
                compliance += 1.0 / (rate * lever * lever);
            }
        }
        Stiffness {
            bar,
            with_arms: 1.0 / compliance,
        }
    }

    fn answer(&self) -> Result<BarAtWheel, Error> {
        let Stiffness { bar, with_arms } = self.stiffness();
        let turns = self.links.turns_at_ride(&self.motions)?;
        // Each wheel alone: twist per travel of the left and of the right wheel.
        let alone = turns.twist_per_wheel();
        let in_roll = alone[0] - alone[1];
        // Half the track is the travel of each wheel per roll.
        let roll_stiffness = with_arms * (in_roll * 0.5 * self.track).powi(2);
        let of_axle = self.springs.map(|springs| springs + roll_stiffness);
        let other = self
            .bar
            .other_axle_roll_stiffness
            .map(|rate| rate / 1.0_f64.to_radians());
        let share_of_car = of_axle.zip(other).map(|(own, other)| own / (own + other));
        let twist = turns.twist();
        let preload_at_left_wheel = with_arms * twist * alone[0];
        let levers = self.links.levers;
        let mean_lever_squared = levers[0] * levers[1];
        let worst = self.least_angle()?;
        let mut result = BarAtWheel {
            torsional_rate: bar,
            rate_at_arm_ends: with_arms / mean_lever_squared,
            lost_to_arm_bending: 1.0 - with_arms / bar,
            motion_ratio: turns.arm_per_wheel(levers),
            wheel_rate_in_roll: [with_arms * in_roll * alone[0], -with_arms * in_roll * alone[1]],
            wheel_rate_alone: alone.map(|rate| with_arms * rate * rate),
            roll_stiffness,
            spring_roll_stiffness: self.springs,
            share_of_axle: of_axle.map(|own| roll_stiffness / own),
            share_of_car,
            preload_twist: twist,
            preload_at_left_wheel,
            // Free to roll, the body gives way until both axles balance the preload.
            preload_on_scales: share_of_car.map(|own| preload_at_left_wheel * (1.0 - own)),
            link_lengths: self.links.lengths,
            left_link_without_preload: turns.left_link_without_preload,
            least_link_angle: worst.value,
            least_link_angle_at: worst.place,
            findings: Vec::new(),
        };
        result.findings = vec![self.preload_finding(&result)?, angle_finding(&result)];
        Ok(result)
    }

    /// The least angle between link and arm over all motion.
    fn least_angle(&self) -> Result<Worst, Error> {
        let mut worst = self
            .motions
            .greatest(|standing| -self.links.least_angle(standing))?;
        worst.value = -worst.value;
        Ok(worst)
    }

    fn preload_finding(&self, result: &BarAtWheel) -> Result<Finding, Error> {
        let force = result.preload_on_scales.unwrap_or(result.preload_at_left_wheel);
        let limit = self.bar.largest_preload.unwrap_or(USUAL_PRELOAD_N);
        let verdict = Verdict::from_margin(limit - force.abs(), 0.0);
        let [left, right] = self.links.lengths;
        let loaded = if force > 0.0 { "left" } else { "right" };
        let held = if result.preload_on_scales.is_some() {
            "on the scales"
        } else {
            "with the body held level"
        };
        let statement = Sentence::new("With its links at ")
            .fine_length(left)
            .words(" left and ")
            .fine_length(right)
            .words(" right, the bar stands twisted by ")
            .fine_angle(result.preload_twist.abs())
            .words(" at ride height and shifts ")
            .quantity(force.abs(), Dimension::Force)
            .words(format!(" to the {loaded} wheel {held}; up to "))
            .quantity(limit, Dimension::Force)
            .words(" counts as none.");
        let mut remedies = Vec::new();
        if verdict == Verdict::Fails {
            remedies.extend(self.link_remedy(result, limit)?);
        }
        Ok(Finding {
            check: CHECK,
            subject: "preload of the bar at ride height".into(),
            verdict,
            dimension: Dimension::Force,
            value: force.abs(),
            limit,
            margin: limit - force.abs(),
            at_travel: Some(0.0),
            statement,
            remedies,
        })
    }

    /// The left link set so that nothing is preloaded, and the check run again with it.
    fn link_remedy(&self, result: &BarAtWheel, limit: f64) -> Result<Option<Remedy>, Error> {
        let length = result.left_link_without_preload;
        let mut set = self.bar.clone();
        set.left.link_length = Some(length);
        let turns: Turns = Links::new(&self.motions.mover, &set)?.turns_at_ride(&self.motions)?;
        let force = self.stiffness().with_arms * turns.twist() * turns.twist_per_wheel()[0];
        if force.abs() > limit {
            return Ok(None);
        }
        let change = length - self.links.lengths[0];
        let sentence = Sentence::new("Set the left link to ")
            .fine_length(length)
            .words(if change > 0.0 {
                ", longer by "
            } else {
                ", shorter by "
            })
            .fine_length(change.abs())
            .words(", or the right one the other way, with the car at ride height.");
        Ok(Some(Remedy {
            kind: RemedyKind::BarLinkLength,
            change,
            window: (change, change),
            sentence,
        }))
    }
}

fn angle_finding(result: &BarAtWheel) -> Finding {
    let least = result.least_link_angle;
    let wanted = LEAST_ANGLE_DEG.to_radians();
    let verdict = Verdict::from_margin(least, wanted);
    let statement = if least <= 0.0 {
        result
            .least_link_angle_at
            .tell(Sentence::new("A link of the bar no longer reaches "))
            .words(": the arm goes over centre and locks or breaks its link.")
    } else {
        result
            .least_link_angle_at
            .tell(
                Sentence::new("Link and arm of the bar stand at ")
                    .angle(least)
                    .words(" to each other "),
            )
            .words("; at 0 they are in line and the arm goes over centre, and ")
            .angle(wanted)
            .words(" keeps clear of that.")
    };
    Finding {
        check: CHECK,
        subject: "links of the bar over centre".into(),
        verdict: if least <= 0.0 { Verdict::Fails } else { verdict },
        dimension: Dimension::Angle,
        value: least,
        limit: 0.0,
        margin: least,
        at_travel: result.least_link_angle_at.travel(),
        statement,
        remedies: Vec::new(),
    }
}
