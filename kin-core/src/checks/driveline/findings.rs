//! What the driveline check says.

use super::shafts::{DrivelineAngles, Shafts};
use super::{CHECK, Checked, DrivelineTravel};
use crate::Dimension;
use crate::checks::motion_range::WheelPlace;
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use nalgebra::Vector3;

/// How much the angles of both joints may differ at ride height (deg), where none is stated (common practice, no source).
const USUAL_DIFFERENCE_DEG: f64 = 1.0;
/// Largest angle of a joint at ride height for running at speed (deg), where none is stated (common practice, no source).
const USUAL_RUNNING_DEG: f64 = 3.0;
/// Margin of an angle below which a check says "tight" (deg): what a protractor on a flange reads to.
const MARGIN_DEG: f64 = 0.25;
/// Slip left at the ends of travel below which a check says "tight" (mm) (common practice, no source).
const USUAL_SLIP_MARGIN_MM: f64 = 6.0;

impl Checked<'_> {
    pub(super) fn findings(&self, result: &DrivelineTravel) -> Vec<Finding> {
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
                .at_least(result.plunge_in.0 + result.plunge_out.0, f64::INFINITY)
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
            .at_least(change.abs(), window.1 - window.0)
            .words(" or more, and at most ")
            .at_most(window.0.abs().max(window.1.abs()), window.1 - window.0)
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
