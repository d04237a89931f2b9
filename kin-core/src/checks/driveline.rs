//! Pinion angle, joint angles and slip of the propeller shaft of a live axle.
//!
//! A shaft with a single universal joint at each end turns evenly when both joints stand at the same angle. What is left
//! when they do not is told by the equivalent angle: the angle of one joint alone that would shake as much. With the yokes
//! in phase and g the angle between the planes of the two joints, its square is `|b1^2 - b2^2 e^(2ig)|` (from memory; each
//! joint's unevenness grows with the square of its angle and comes twice a turn).

use super::motion_range::{MotionRange, Motions, WheelPlace};
use super::moving_parts::{Anchor, Mover, Standing, Turning};
use super::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::pickups::{Measured, Pinion, Point, Quantity, coordinates, incomplete, within};
use crate::pose::PoseError;
use crate::suspension::Axle;
use crate::{Dimension, Error};
use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

const CHECK: &str = "driveline";
const QUESTION: &str = "the driveline check";

/// How much the angles of both joints may differ at ride height (deg), where none is stated (common practice, no source).
const USUAL_DIFFERENCE_DEG: f64 = 1.0;
/// Largest angle of a joint at ride height for running at speed (deg), where none is stated (common practice, no source).
const USUAL_RUNNING_DEG: f64 = 3.0;
/// Margin of an angle below which a check says "tight" (deg): what a protractor on a flange reads to.
const MARGIN_DEG: f64 = 0.25;
/// Slip left at the ends of travel below which a check says "tight" (mm) (common practice, no source).
const USUAL_SLIP_MARGIN_MM: f64 = 6.0;

/// A propeller shaft and its joints.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Driveline {
    /// Centre of the joint at the gearbox (mm), fixed to the body.
    pub gearbox_joint: Point,
    /// Slope of the gearbox's output shaft (deg), positive when it falls towards the rear. With the pinion nose up by as
    /// much both shafts are parallel.
    pub output_falls: f64,
    /// Whether the joint at the gearbox is a double one, which turns evenly by itself: the pinion then points at it.
    #[serde(default)]
    pub double_joint_at_gearbox: bool,
    /// Largest angle at which a joint still turns without binding (deg), over all travel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joint_limit: Option<f64>,
    /// Largest angle of a joint at ride height (deg); 3 when absent. For the pinion's joint behind a double joint, this is
    /// `largest_difference`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub running_limit: Option<f64>,
    /// Largest difference of the angles of both joints at ride height (deg); 1 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub largest_difference: Option<f64>,
    /// How far the slip joint can still go together from ride height (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slip_in: Option<f64>,
    /// How far the slip joint can come apart from ride height and still hold (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slip_out: Option<f64>,
    /// How far the wheels move.
    #[serde(default)]
    pub range: MotionRange,
}

impl Measured for Driveline {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.gearbox_joint.visit(visitor);
        visitor(&mut self.output_falls, Quantity::Angle);
        for angle in [
            &mut self.joint_limit,
            &mut self.running_limit,
            &mut self.largest_difference,
        ]
        .into_iter()
        .flatten()
        {
            visitor(angle, Quantity::Angle);
        }
        for length in [&mut self.slip_in, &mut self.slip_out].into_iter().flatten() {
            visitor(length, Quantity::Length);
        }
        self.range.visit(visitor);
    }
}

/// The driveline at one place of the axle (rad, mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrivelineAngles {
    /// Pinion angle, nose up positive, seen from the side.
    pub pinion: f64,
    /// Slope of the propeller shaft, seen from the side: positive when it falls towards the rear.
    pub shaft_falls: f64,
    /// Angle of the joint at the gearbox.
    pub gearbox_joint: f64,
    /// Angle of the joint at the pinion.
    pub pinion_joint: f64,
    /// The angle of a single joint that would shake as much as both do together.
    pub equivalent: f64,
    /// Distance between the centres of both joints.
    pub shaft_length: f64,
}

impl DrivelineAngles {
    /// Angle of the joint at the pinion less that at the gearbox (rad).
    #[must_use]
    pub fn difference(&self) -> f64 {
        self.pinion_joint - self.gearbox_joint
    }
}

/// The driveline of a live axle through its travel.
#[derive(Debug, Clone, PartialEq)]
pub struct DrivelineTravel {
    /// Both wheels at full droop.
    pub at_full_droop: DrivelineAngles,
    /// At ride height.
    pub at_ride: DrivelineAngles,
    /// Both wheels at full bump.
    pub at_full_bump: DrivelineAngles,
    /// The largest angle of the joint at the gearbox (rad), and where.
    pub largest_gearbox_joint: (f64, WheelPlace),
    /// The largest angle of the joint at the pinion (rad), and where.
    pub largest_pinion_joint: (f64, WheelPlace),
    /// How far the slip joint goes together from ride height (mm), and where it is shortest.
    pub plunge_in: (f64, WheelPlace),
    /// How far the slip joint comes apart from ride height (mm), and where it is longest.
    pub plunge_out: (f64, WheelPlace),
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Checks the driveline of an axle, each wheel taken through its whole travel.
///
/// # Errors
/// Without a pinion, with numbers that cannot be right, or a travel out of reach.
pub fn check_driveline(axle: &Axle, driveline: &Driveline) -> Result<DrivelineTravel, Error> {
    let Some(pinion) = axle.pickups().pinion else {
        return Err(Error::Missing {
            question: QUESTION,
            field: "pinion",
            advice: "give the centre of the joint at the pinion and the angle of its shaft, nose up positive",
        });
    };
    validate(driveline)?;
    if (pinion.point - driveline.gearbox_joint).norm() < 30.0 {
        let problem = "it lies on the joint at the pinion: the shaft between them has no length";
        return Err(incomplete("gearbox_joint", problem).into());
    }
    if pinion.point.x >= driveline.gearbox_joint.x {
        let problem = "it is not ahead of the pinion; X points forward";
        return Err(incomplete("gearbox_joint", problem).into());
    }
    let mover = Mover::Axle(axle);
    let fall = driveline.output_falls.to_radians();
    let shafts = Shafts {
        joint: mover.anchor(&pinion.point, "axle", "pinion.point")?,
        axle: mover.turning(&pinion.point, "axle", "pinion.point")?,
        pinion: forward(&pinion),
        gearbox: driveline.gearbox_joint,
        output: Vector3::new(fall.cos(), 0.0, fall.sin()),
    };
    Checked {
        motions: Motions::new(mover, &driveline.range, QUESTION)?,
        driveline,
        shafts,
    }
    .answer()
}

fn forward(pinion: &Pinion) -> Vector3<f64> {
    let up = pinion.nose_up.to_radians();
    Vector3::new(up.cos(), 0.0, up.sin())
}

fn validate(driveline: &Driveline) -> Result<(), Error> {
    coordinates(&driveline.gearbox_joint, "gearbox_joint")?;
    let advice = "give degrees, positive when the output shaft falls towards the rear";
    within(driveline.output_falls, "output_falls", (-45.0, 45.0), advice)?;
    for (value, field) in [
        (driveline.joint_limit, "joint_limit"),
        (driveline.running_limit, "running_limit"),
        (driveline.largest_difference, "largest_difference"),
    ] {
        within(
            value.unwrap_or(0.0),
            field,
            (0.0, 90.0),
            "give degrees, 0 or more",
        )?;
    }
    for (value, field) in [(driveline.slip_in, "slip_in"), (driveline.slip_out, "slip_out")] {
        let advice = "measure the slip left at ride height, positive";
        within(value.unwrap_or(0.0), field, (0.0, 1_000.0), advice)?;
    }
    Ok(())
}

/// Both shafts and the two joints between them.
struct Shafts {
    joint: Anchor,
    axle: Turning,
    /// Forward along the pinion shaft, as measured.
    pinion: Vector3<f64>,
    gearbox: Point,
    /// Forward along the output shaft.
    output: Vector3<f64>,
}

impl Shafts {
    fn at(&self, standing: &Standing) -> DrivelineAngles {
        let pinion = standing.turn(&self.axle) * self.pinion;
        let span = self.gearbox - standing.place(&self.joint);
        let shaft_length = span.norm();
        let shaft = span / shaft_length;
        let angle =
            |first: &Vector3<f64>, second: &Vector3<f64>| first.cross(second).norm().atan2(first.dot(second));
        DrivelineAngles {
            pinion: pinion.z.atan2(pinion.x),
            shaft_falls: shaft.z.atan2(shaft.x),
            gearbox_joint: angle(&self.output, &shaft),
            pinion_joint: angle(&shaft, &pinion),
            equivalent: self.equivalent(&shaft, &pinion),
            shaft_length,
        }
    }

    /// Of each joint the bend seen along the shaft is a vector; squared as complex numbers, the bends subtract.
    fn equivalent(&self, shaft: &Vector3<f64>, pinion: &Vector3<f64>) -> f64 {
        let up = Vector3::z() - shaft * shaft.z;
        let up = up.normalize();
        let side = shaft.cross(&up);
        let squared = |bend: Vector3<f64>, size: f64| {
            let angle = side.dot(&bend).atan2(up.dot(&bend));
            let (sine, cosine) = (2.0 * angle).sin_cos();
            (size * size * cosine, size * size * sine)
        };
        let at_gearbox = squared(shaft - self.output, self.output.cross(shaft).norm().asin());
        let at_pinion = squared(pinion - shaft, shaft.cross(pinion).norm().asin());
        (at_gearbox.0 - at_pinion.0)
            .hypot(at_gearbox.1 - at_pinion.1)
            .sqrt()
    }
}

struct Checked<'a> {
    motions: Motions<'a>,
    driveline: &'a Driveline,
    shafts: Shafts,
}

impl Checked<'_> {
    fn answer(&self) -> Result<DrivelineTravel, Error> {
        let at = |travel: f64| -> Result<DrivelineAngles, PoseError> {
            Ok(self.shafts.at(&self.motions.at_travel(travel)?))
        };
        let at_ride = at(0.0)?;
        let largest = |of: &dyn Fn(&DrivelineAngles) -> f64| -> Result<(f64, WheelPlace), PoseError> {
            let worst = self.motions.greatest(|standing| of(&self.shafts.at(standing)))?;
            Ok((worst.value, worst.place))
        };
        let mut result = DrivelineTravel {
            at_full_droop: at(-self.motions.droop)?,
            at_ride,
            at_full_bump: at(self.motions.bump)?,
            largest_gearbox_joint: largest(&|angles| angles.gearbox_joint)?,
            largest_pinion_joint: largest(&|angles| angles.pinion_joint)?,
            plunge_in: largest(&|angles| at_ride.shaft_length - angles.shaft_length)?,
            plunge_out: largest(&|angles| angles.shaft_length - at_ride.shaft_length)?,
            findings: Vec::new(),
        };
        result.findings = self.findings(&result);
        Ok(result)
    }

    fn findings(&self, result: &DrivelineTravel) -> Vec<Finding> {
        let mut findings = vec![self.difference_finding(&result.at_ride)];
        findings.extend(self.running_finding(&result.at_ride));
        if let Some(limit) = self.driveline.joint_limit.map(f64::to_radians) {
            for (name, largest) in [
                ("joint at the gearbox", result.largest_gearbox_joint),
                ("joint at the pinion", result.largest_pinion_joint),
            ] {
                findings.push(binding_finding(name, largest, limit));
            }
        }
        for (available, needed, into) in [
            (self.driveline.slip_in, result.plunge_in, true),
            (self.driveline.slip_out, result.plunge_out, false),
        ] {
            if let Some(available) = available {
                findings.push(self.slip_finding(result, available, needed, into));
            }
        }
        findings
    }

    /// Do both joints stand at the same angle at ride height, or does the pinion point at a double joint?
    fn difference_finding(&self, at_ride: &DrivelineAngles) -> Finding {
        let double = self.driveline.double_joint_at_gearbox;
        let limit = self
            .driveline
            .largest_difference
            .unwrap_or(USUAL_DIFFERENCE_DEG)
            .to_radians();
        let value = if double {
            at_ride.pinion_joint
        } else {
            at_ride.difference().abs()
        };
        let margin = limit - value;
        let verdict = Verdict::from_margin(margin, MARGIN_DEG.to_radians());
        let start = if double {
            Sentence::new("Behind the double joint the pinion should point at it: its own joint stands at ")
                .angle(value)
                .words(" at ride height")
        } else {
            Sentence::new("At ride height the joint at the gearbox stands at ")
                .angle(at_ride.gearbox_joint)
                .words(" and the one at the pinion at ")
                .angle(at_ride.pinion_joint)
                .words(", ")
                .angle(value)
                .words(" apart")
        };
        let statement = start
            .words("; up to ")
            .angle(limit)
            .words(if verdict == Verdict::Fails {
                " turns evenly, beyond it the shaft shakes twice a turn."
            } else {
                " turns evenly."
            });
        Finding {
            check: CHECK,
            subject: "angles of both joints against each other".into(),
            verdict,
            dimension: Dimension::Angle,
            value,
            limit,
            margin,
            at_travel: Some(0.0),
            statement,
            remedies: self.nose_remedy(verdict, limit),
        }
    }

    /// The pinion's nose turned so that both joints agree, checked with the shaft as it then runs.
    fn nose_remedy(&self, verdict: Verdict, limit: f64) -> Vec<Remedy> {
        if verdict != Verdict::Fails {
            return Vec::new();
        }
        let Ok(standing) = self.motions.at_travel(0.0) else {
            return Vec::new();
        };
        let now = self.shafts.at(&standing);
        // Seen from the side: parallel shafts, or a pinion in line with its shaft behind a double joint.
        let wanted = if self.driveline.double_joint_at_gearbox {
            now.shaft_falls
        } else {
            self.driveline.output_falls.to_radians()
        };
        let change = wanted - now.pinion;
        let turned =
            standing.turn(&self.shafts.axle).transpose() * Vector3::new(wanted.cos(), 0.0, wanted.sin());
        let turned = Shafts {
            joint: self.shafts.joint.clone(),
            axle: self.shafts.axle.clone(),
            pinion: turned,
            ..self.shafts
        };
        let then = turned.at(&standing);
        let left = if self.driveline.double_joint_at_gearbox {
            then.pinion_joint
        } else {
            then.difference().abs()
        };
        if left > limit {
            return Vec::new();
        }
        let way = if change > 0.0 { "up" } else { "down" };
        let sentence = Sentence::new(format!("Turn the nose of the pinion {way} by "))
            .angle(change.abs())
            .words(", to ")
            .angle(wanted)
            .words(" at ride height: by wedges, or by the lengths of the links.");
        vec![Remedy {
            kind: RemedyKind::PinionAngle,
            change,
            window: (change, change),
            sentence,
        }]
    }

    /// Is either angle too large to run at speed?
    fn running_finding(&self, at_ride: &DrivelineAngles) -> Option<Finding> {
        if self.driveline.double_joint_at_gearbox {
            return None;
        }
        let limit = self
            .driveline
            .running_limit
            .unwrap_or(USUAL_RUNNING_DEG)
            .to_radians();
        let value = at_ride.gearbox_joint.max(at_ride.pinion_joint);
        let margin = limit - value;
        let statement = Sentence::new("The larger joint angle at ride height is ")
            .angle(value)
            .words("; up to ")
            .angle(limit)
            .words(" runs smoothly and lasts.");
        Some(Finding {
            check: CHECK,
            subject: "joint angles for running at speed".into(),
            verdict: Verdict::from_margin(margin, MARGIN_DEG.to_radians()),
            dimension: Dimension::Angle,
            value,
            limit,
            margin,
            at_travel: Some(0.0),
            statement,
            remedies: Vec::new(),
        })
    }

    /// Is there slip enough at the ends of the travel?
    fn slip_finding(
        &self,
        result: &DrivelineTravel,
        available: f64,
        (needed, place): (f64, WheelPlace),
        into: bool,
    ) -> Finding {
        let margin = available - needed;
        let verdict = Verdict::from_margin(margin, USUAL_SLIP_MARGIN_MM);
        let way = if into { "goes together" } else { "comes apart" };
        let statement = place
            .tell(
                Sentence::new(format!("The slip joint {way} by "))
                    .length(needed)
                    .words(" "),
            )
            .words(" from ride height; it has ")
            .length(available)
            .words(match (verdict, into) {
                (Verdict::Fails, true) => ": it bottoms and the shaft pushes on the gearbox.",
                (Verdict::Fails, false) => ": it comes out and the shaft drops.",
                _ => ".",
            });
        let remedies = if verdict == Verdict::Fails {
            self.shaft_remedy(result).into_iter().collect()
        } else {
            Vec::new()
        };
        Finding {
            check: CHECK,
            subject: if into {
                "slip of the shaft, together".into()
            } else {
                "slip of the shaft, apart".into()
            },
            verdict,
            dimension: Dimension::Length,
            value: needed,
            limit: available,
            margin,
            at_travel: place.travel(),
            statement,
            remedies,
        }
    }

    /// A longer shaft pushes its slip joint together: what lets it both ways, if both ends are known.
    fn shaft_remedy(&self, result: &DrivelineTravel) -> Option<Remedy> {
        let (slip_in, slip_out) = (self.driveline.slip_in?, self.driveline.slip_out?);
        let window = (result.plunge_out.0 - slip_out, slip_in - result.plunge_in.0);
        if window.0 > window.1 {
            let sentence = Sentence::new("No length of the shaft serves: its slip joint needs ")
                .length(result.plunge_in.0 + result.plunge_out.0)
                .words(" in all and has ")
                .length(slip_in + slip_out)
                .words(".");
            let more = window.0 - window.1;
            return Some(Remedy {
                kind: RemedyKind::MoreSlip,
                change: more,
                window: (more, f64::INFINITY),
                sentence,
            });
        }
        let change = 0.0_f64.clamp(window.0, window.1);
        let sentence = Sentence::new("Make the shaft ")
            .words(if change > 0.0 { "longer by " } else { "shorter by " })
            .length(change.abs())
            .words(" or more, up to ")
            .length(window.0.abs().max(window.1.abs()))
            .words(".");
        Some(Remedy {
            kind: RemedyKind::ShaftLength,
            change,
            window,
            sentence,
        })
    }
}

/// Does a joint bind anywhere in the travel?
fn binding_finding(name: &str, (value, place): (f64, WheelPlace), limit: f64) -> Finding {
    let margin = limit - value;
    let verdict = Verdict::from_margin(margin, 1.0_f64.to_radians());
    let statement = place
        .tell(
            Sentence::new(format!("The {name} stands at "))
                .angle(value)
                .words(" "),
        )
        .words("; it turns freely up to ")
        .angle(limit)
        .words(if verdict == Verdict::Fails {
            ": beyond, its yokes touch and break."
        } else {
            "."
        });
    Finding {
        check: CHECK,
        subject: format!("{name} over the travel"),
        verdict,
        dimension: Dimension::Angle,
        value,
        limit,
        margin,
        at_travel: place.travel(),
        statement,
        remedies: Vec::new(),
    }
}
