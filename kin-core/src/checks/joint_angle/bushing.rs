//! How far rubber bushings are twisted through the travel, and what that costs.

use super::unit;
use crate::checks::motion_range::{MotionRange, Motions, WheelPlace};
use crate::checks::moving_parts::{Anchor, Mover, Standing};
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::numeric::real::{WithRate, length};
use crate::pickups::{
    Measured, Point, Quantity, angle_within, incomplete, known_part, length_within, within,
};
use crate::pose::PoseError;
use crate::suspension::{Axle, Corner};
use crate::{Dimension, Error};
use num_dual::DualNum;
use serde::{Deserialize, Serialize};

const CHECK: &str = "bushings";

const QUESTION: &str = "the bushing check";

/// Twist left below which a check says "tight" (deg), where the user states none (common practice, no source).
const USUAL_MARGIN_DEG: f64 = 2.0;

/// Rubber bushings that are twisted when their arm or link swings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bushing {
    /// Which: `upper_arm` or `lower_arm` for both pivots of an arm, or a link's end, `links.upper_left.body`.
    pub at: String,
    /// Direction of the bolt of a link's end as measured; an arm turns about its own pivots.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axis: Option<Point>,
    /// Torque per twist of all bushings named here together (N mm per degree).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub torsional_rate: Option<f64>,
    /// Twist either way that the bushing bears (deg).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub twist_limit: Option<f64>,
    /// Travel from ride height at which its bolts are tightened (mm, bump positive); 0 is right, and taken when absent.
    #[serde(default)]
    pub tightened_at: f64,
}

/// The bushings to be checked, and how far the wheel moves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BushingsQuestion {
    /// The bushings.
    pub bushings: Vec<Bushing>,
    /// How far the wheels move; the rack does not count.
    #[serde(default)]
    pub range: MotionRange,
}

impl Measured for Bushing {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        if let Some(rate) = &mut self.torsional_rate {
            visitor(rate, Quantity::TorsionalRate);
        }
        if let Some(limit) = &mut self.twist_limit {
            visitor(limit, Quantity::Angle);
        }
        visitor(&mut self.tightened_at, Quantity::Length);
    }
}

impl Measured for BushingsQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.bushings.visit(visitor);
        self.range.visit(visitor);
    }
}

/// How far one bushing is twisted, from where its bolts were tightened.
#[derive(Debug, Clone, PartialEq)]
pub struct BushingTwist {
    /// Which bushing.
    pub bushing: String,
    /// Twist at ride height (rad), positive the way it turns in bump: 0 when it was tightened there.
    pub at_ride: f64,
    /// Twist at full bump (rad).
    pub at_full_bump: f64,
    /// Twist at full droop (rad).
    pub at_full_droop: f64,
    /// The largest twist either way over all motion (rad, positive).
    pub worst: f64,
    /// Where that is.
    pub worst_at: WheelPlace,
    /// Torque of the bushings at the largest twist (N mm); none without a rate.
    pub worst_torque: Option<f64>,
    /// What they add to the wheel rate at ride height (N/mm, of one wheel, or both together of an axle).
    pub wheel_rate: Option<f64>,
    /// Force at the wheel at ride height (N, positive when it pushes the wheel down); none without a rate.
    pub wheel_force_at_ride: Option<f64>,
    /// The answers; the twist is not judged without a limit.
    pub findings: Vec<Finding>,
}

/// Checks bushings of a corner.
///
/// # Errors
/// A bushing that is not there, numbers that cannot be right, or a travel out of reach.
pub fn check_corner_bushings(
    corner: &Corner,
    question: &BushingsQuestion,
) -> Result<Vec<BushingTwist>, Error> {
    check(Mover::Corner(corner), question)
}

/// Checks bushings of a live axle.
///
/// # Errors
/// A bushing that is not there, numbers that cannot be right, or a travel out of reach.
pub fn check_axle_bushings(axle: &Axle, question: &BushingsQuestion) -> Result<Vec<BushingTwist>, Error> {
    check(Mover::Axle(axle), question)
}

fn check(mover: Mover<'_>, question: &BushingsQuestion) -> Result<Vec<BushingTwist>, Error> {
    if question.bushings.is_empty() {
        return Err(Error::Missing {
            question: QUESTION,
            field: "bushings",
            advice: "name at least one, such as `lower_arm`",
        });
    }
    let motions = Motions::new(mover, &question.range, QUESTION)?;
    let bushings = question.bushings.iter().enumerate();
    bushings
        .map(|(place, bushing)| Twisted::new(&motions, bushing, &format!("bushings[{place}]"))?.answer())
        .collect()
}

/// Something that turns about an axis fixed to the body or to the axle.
struct Twisted<'a> {
    motions: &'a Motions<'a>,
    bushing: &'a Bushing,
    places: Places,
    /// Turn at which the bolts are tightened (rad).
    tightened: f64,
}

/// Where the turn is seen.
struct Places {
    /// Two points of the axis, fixed to what the bolt is fixed to.
    axis: [Anchor; 2],
    /// A point fixed there as well, in line with the far end as measured.
    mark: Anchor,
    /// The far end, which swings about the axis.
    far: Anchor,
}

impl<'a> Twisted<'a> {
    fn new(motions: &'a Motions<'a>, bushing: &'a Bushing, field: &str) -> Result<Self, Error> {
        let named = |name: &str| format!("{field}.{name}");
        let (rate, limit) = (bushing.torsional_rate, bushing.twist_limit);
        let advice = "give a torque per degree, 0 or more";
        within(rate.unwrap_or(0.0), &named("torsional_rate"), (0.0, 1e9), advice)?;
        let advice = "give degrees either way, 0 or more";
        angle_within(limit.unwrap_or(0.0), &named("twist_limit"), (0.0, 180.0), advice)?;
        let (at, farthest) = (bushing.tightened_at, (-500.0, 500.0));
        length_within(at, &named("tightened_at"), farthest, "count it from ride height")?;
        let places = places(&motions.mover, bushing, field)?;
        let tightened = places.turn(&motions.at_travel(bushing.tightened_at)?).re;
        Ok(Self {
            motions,
            bushing,
            places,
            tightened,
        })
    }

    fn twist(&self, standing: &Standing) -> WithRate {
        self.places.turn(standing) - self.tightened
    }

    fn answer(&self) -> Result<BushingTwist, Error> {
        let worst = self.motions.greatest(|standing| self.twist(standing).re.abs())?;
        let ride = self.twist(&self.motions.at_travel(0.0)?);
        // Bump turns it one way or the other; told is the way that bump turns it.
        let sense = 1.0_f64.copysign(ride.eps);
        let at = |travel: f64| -> Result<f64, PoseError> {
            Ok(sense * self.twist(&self.motions.at_travel(travel)?).re)
        };
        let per_radian = self
            .bushing
            .torsional_rate
            .map(|rate| rate / 1.0_f64.to_radians());
        let result = BushingTwist {
            bushing: self.bushing.at.clone(),
            at_ride: sense * ride.re,
            at_full_bump: at(self.motions.bump)?,
            at_full_droop: at(-self.motions.droop)?,
            worst: worst.value,
            worst_at: worst.place,
            worst_torque: per_radian.map(|rate| rate * worst.value),
            wheel_rate: per_radian.map(|rate| rate * ride.eps * ride.eps),
            wheel_force_at_ride: per_radian.map(|rate| rate * ride.re * ride.eps),
            findings: Vec::new(),
        };
        let mut findings = Vec::new();
        findings.push(self.limit_finding(&result)?);
        findings.extend(self.tightening_finding(&result));
        Ok(BushingTwist { findings, ..result })
    }

    fn limit_finding(&self, result: &BushingTwist) -> Result<Finding, Error> {
        let start = Sentence::new(format!("The bushings at `{}` are twisted by ", result.bushing))
            .angle(result.worst)
            .words(" ");
        let mut statement = result.worst_at.tell(start);
        if let Some(torque) = result.worst_torque {
            statement = statement
                .words(" and resist with ")
                .quantity(torque, Dimension::Torque);
        }
        let subject = format!("{}: twist of the bushings", result.bushing);
        let Some(limit) = self.bushing.twist_limit.map(f64::to_radians) else {
            let statement = statement.words(
                ". How far they may be twisted was not said, so nothing is said of fit: write it as `twist_limit`, in \
                 degrees either way.",
            );
            let value = (result.worst, Dimension::Angle);
            return Ok(Finding::not_asked(
                CHECK,
                subject,
                value,
                result.worst_at.travel(),
                statement,
            ));
        };
        let margin = limit - result.worst;
        let verdict = Verdict::from_margin(margin, USUAL_MARGIN_DEG.to_radians());
        statement = statement.words("; they bear ").angle(limit);
        if verdict == Verdict::Fails {
            let twist = |standing: &Standing| self.twist(standing).re.abs();
            if let Some(place) = self.motions.first_beyond(limit, &result.worst_at, twist)? {
                statement = place.tell(statement.words(", which they pass "));
            }
            statement = statement.words(": the rubber tears from its sleeve, or the sleeve turns.");
        } else {
            statement = statement.words(", ").angle(margin).words(" to spare.");
        }
        Ok(Finding {
            check: CHECK,
            subject,
            verdict,
            dimension: Dimension::Angle,
            value: result.worst,
            limit,
            margin,
            at_travel: result.worst_at.travel(),
            statement,
            remedies: self.tightened_at_ride(result, limit)?,
        })
    }

    /// Tightened at ride height instead, where that is enough.
    fn tightened_at_ride(&self, result: &BushingTwist, limit: f64) -> Result<Vec<Remedy>, Error> {
        if result.worst <= limit || self.bushing.tightened_at == 0.0 {
            return Ok(Vec::new());
        }
        let bushing = Bushing {
            tightened_at: 0.0,
            ..self.bushing.clone()
        };
        let again = Twisted::new(self.motions, &bushing, "bushing")?;
        let worst = self
            .motions
            .greatest(|standing| again.twist(standing).re.abs())?
            .value;
        if worst > limit {
            return Ok(Vec::new());
        }
        let sentence = Sentence::new("Loosen the bolts and tighten them at ride height: the twist is then ")
            .angle(worst)
            .words(" at most.");
        let change = -self.bushing.tightened_at;
        Ok(vec![Remedy {
            kind: RemedyKind::TightenAtRideHeight,
            change,
            window: (change, change),
            sentence,
        }])
    }

    /// Bolts tightened away from ride height leave the rubber twisted where the car stands.
    fn tightening_finding(&self, result: &BushingTwist) -> Option<Finding> {
        let at = self.bushing.tightened_at;
        if at == 0.0 {
            return None;
        }
        let way = if at > 0.0 { "bump" } else { "droop" };
        let mut statement = Sentence::new("Tightened at ")
            .length(at.abs())
            .words(format!(
                " of {way}, the bushings at `{}` stand twisted by ",
                result.bushing
            ))
            .angle(result.at_ride.abs())
            .words(" at ride height");
        if let Some(force) = result.wheel_force_at_ride {
            statement = statement
                .words(", which ")
                .words(if force > 0.0 {
                    "lifts the car by "
                } else {
                    "pulls the car down by "
                })
                .quantity(force.abs(), Dimension::Force)
                .words(" at the wheel");
        }
        Some(Finding {
            check: CHECK,
            subject: format!("{}: where the bolts are tightened", result.bushing),
            verdict: Verdict::Tight,
            dimension: Dimension::Angle,
            value: result.at_ride.abs(),
            limit: 0.0,
            margin: -result.at_ride.abs(),
            at_travel: Some(0.0),
            statement: statement.words(": tighten rubber bushings with the car at ride height."),
            remedies: Vec::new(),
        })
    }
}

impl Places {
    /// How far it has turned since the pickups were measured (rad), with its rate per mm of travel.
    fn turn(&self, standing: &Standing) -> WithRate {
        let origin = standing.moving(&self.axis[0]);
        let axis = standing.moving(&self.axis[1]) - origin;
        let along = axis / length(&axis);
        let mark = standing.moving(&self.mark) - origin;
        let far = standing.moving(&self.far) - origin;
        let first = mark - along * along.dot(&mark);
        let second = along.cross(&first);
        second.dot(&far).atan2(first.dot(&far))
    }
}

fn places(mover: &Mover<'_>, bushing: &Bushing, field: &str) -> Result<Places, Error> {
    let named = |name: &str| format!("{field}.{name}");
    let (origin, far, holder, carried_by, along) = match mover {
        Mover::Corner(corner) => {
            known_part(&bushing.at, &named("at"), &["upper_arm", "lower_arm"])?;
            if bushing.axis.is_some() {
                let problem = "an arm turns about its own pivots: leave the axis out";
                return Err(incomplete(&named("axis"), problem).into());
            }
            let pickups = corner.pickups();
            let arm = if bushing.at == "upper_arm" {
                pickups.upper_arm
            } else {
                pickups.lower_arm
            };
            let along = (arm.front_pivot - arm.rear_pivot).normalize();
            (arm.rear_pivot, arm.ball_joint, "body", "upright", along)
        }
        Mover::Axle(axle) => {
            let links = &axle.pickups().links;
            let ends = links
                .keys()
                .flat_map(|name| ["body", "axle"].map(|end| format!("links.{name}.{end}")));
            let ends: Vec<String> = ends.collect();
            let ends: Vec<&str> = ends.iter().map(String::as_str).collect();
            known_part(&bushing.at, &named("at"), &ends)?;
            let problem = "say how the bolt points, [forward, left, up], such as [0, 1, 0]";
            let axis = bushing.axis.ok_or_else(|| incomplete(&named("axis"), problem))?;
            let along = unit(mover, &axis, &named("axis"))?;
            let name = bushing
                .at
                .strip_prefix("links.")
                .and_then(|rest| rest.rsplit_once('.'));
            let found = name.and_then(|(name, end)| links.get(name).map(|link| (link, end == "body")));
            match found {
                Some((link, true)) => (link.body, link.axle, "body", "axle", along),
                Some((link, false)) => (link.axle, link.body, "axle", "body", along),
                None => return Err(incomplete(&named("at"), "there is no such link").into()),
            }
        }
    };
    let span = far - origin;
    let lever = span - along * along.dot(&span);
    if lever.norm() < 1.0 {
        let problem = "its far end lies on the axis of the bolt, so it cannot turn about it";
        return Err(incomplete(&named("axis"), problem).into());
    }
    let anchor = |point: &Point, part: &str| mover.anchor(point, part, &named("at"));
    Ok(Places {
        axis: [
            anchor(&origin, holder)?,
            anchor(&(origin + along * span.norm()), holder)?,
        ],
        mark: anchor(&(origin + lever), holder)?,
        far: anchor(&far, carried_by)?,
    })
}
