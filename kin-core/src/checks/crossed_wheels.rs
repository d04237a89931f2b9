//! Does the damper's stroke hold one wheel at a time, and wheels crossed?

use super::budget::DamperLengths;
use super::damper_stroke::CHECK;
use super::{Finding, Remedy, Sentence, Verdict};
use crate::pose::PoseError;
use crate::suspension::{Axle, AxleTravel, LengthCurve, Mounted};
use crate::{Dimension, Error};
use nalgebra::Vector3;

/// One damper of an axle, with one wheel at the wanted bump and the other at the wanted droop, or at ride height.
pub(super) struct CrossedWheels<'a> {
    pub(super) axle: &'a Axle,
    pub(super) mount: &'a Mounted,
    pub(super) name: &'a str,
    pub(super) lengths: DamperLengths,
    /// Travel at ride height, from the pickups as measured (mm).
    pub(super) ride: f64,
    /// Wanted travel from ride height (mm, positive in its own direction).
    pub(super) bump: f64,
    pub(super) droop: f64,
}

/// The tightest place found so far (mm): what is left, the damper's length and the limit, where the wheels are.
struct Tightest {
    margin: f64,
    length: f64,
    limit: f64,
    wheels: AxleTravel,
}

impl CrossedWheels<'_> {
    /// The finding; none when no travel is wanted.
    pub(super) fn finding(&self) -> Result<Option<Finding>, Error> {
        let (bump, droop) = (self.bump, self.droop);
        if bump == 0.0 && droop == 0.0 {
            return Ok(None);
        }
        let mut tightest: Option<Tightest> = None;
        for (left, right) in [
            (bump, -droop),
            (-droop, bump),
            (bump, 0.0),
            (0.0, bump),
            (-droop, 0.0),
            (0.0, -droop),
        ] {
            let wheels = AxleTravel { left, right };
            let travel = AxleTravel {
                left: self.ride + left,
                right: self.ride + right,
            };
            let position = match self.axle.at(travel) {
                Ok(position) => position,
                Err(
                    PoseError::OutOfReach {
                        asked_mm,
                        limit_mm: reached_mm,
                        ..
                    }
                    | PoseError::NotConverged {
                        asked_mm,
                        good_mm: reached_mm,
                        ..
                    },
                ) => return Ok(Some(self.out_of_reach(&wheels, asked_mm.abs(), reached_mm.abs()))),
                Err(error) => return Err(error.into()),
            };
            let length = self.mount.length(&position.in_heave()).re;
            for (margin, limit) in [
                (length - self.lengths.stop_contact, self.lengths.stop_contact),
                (self.lengths.extended - length, self.lengths.extended),
            ] {
                if tightest.as_ref().is_none_or(|least| margin < least.margin) {
                    tightest = Some(Tightest {
                        margin,
                        length,
                        limit,
                        wheels,
                    });
                }
            }
        }
        Ok(tightest.map(|tightest| self.at_tightest(&tightest)))
    }

    fn subject(&self) -> String {
        format!("{}: one wheel at a time, and wheels crossed", self.name)
    }

    fn at_tightest(&self, tightest: &Tightest) -> Finding {
        let name = self.name;
        let &Tightest {
            margin,
            length,
            limit,
            ..
        } = tightest;
        let which = if limit == self.lengths.extended {
            "topping out"
        } else {
            "its bump stop"
        };
        let start = Sentence::new(format!("Closest to {which} with "));
        Finding {
            check: CHECK,
            subject: self.subject(),
            // The margin asked for is wheel travel; on one wheel the damper moves less, so it is on the safe side.
            verdict: if margin < 0.0 {
                Verdict::Fails
            } else {
                Verdict::Holds
            },
            dimension: Dimension::Length,
            value: length,
            limit,
            margin,
            at_travel: None,
            statement: placed(start, &tightest.wheels)
                .words(format!(": the {name} is then "))
                .length(length)
                .words(" between mounts, ")
                .length(margin.abs())
                .words(if margin < 0.0 {
                    " past that limit."
                } else {
                    " from that limit."
                }),
            remedies: Vec::new(),
        }
    }

    /// Whether the check, run again with a change applied, no longer fails.
    pub(super) fn mended_by(
        &self,
        remedy: &Remedy,
        curve: &LengthCurve<'_>,
        inboard: &Vector3<f64>,
    ) -> Result<bool, Error> {
        let Some((mount, lengths)) = remedy.applied(curve, &self.lengths, self.ride, inboard)? else {
            return Ok(false);
        };
        let changed = CrossedWheels {
            mount: &mount,
            lengths,
            ..*self
        };
        Ok(changed
            .finding()?
            .is_none_or(|finding| finding.verdict != Verdict::Fails))
    }

    /// * `asked`, `reached`: travel of both wheels, or half their difference (mm)
    fn out_of_reach(&self, wheels: &AxleTravel, asked: f64, reached: f64) -> Finding {
        Finding {
            check: CHECK,
            subject: self.subject(),
            verdict: Verdict::Fails,
            dimension: Dimension::Length,
            value: reached,
            limit: asked,
            margin: reached - asked,
            at_travel: None,
            statement: placed(Sentence::new("Wanted is "), wheels).words(
                ", but the linkage itself ends before that: check the pickups of the links, or want less.",
            ),
            remedies: Vec::new(),
        }
    }
}

/// Where both wheels are, counted from ride height.
fn placed(sentence: Sentence, wheels: &AxleTravel) -> Sentence {
    let way = |travel: f64| match travel {
        travel if travel > 0.0 => " in bump",
        travel if travel < 0.0 => " in droop",
        _ => " (ride height)",
    };
    sentence
        .words("the left wheel at ")
        .length(wheels.left.abs())
        .words(way(wheels.left))
        .words(" and the right wheel at ")
        .length(wheels.right.abs())
        .words(way(wheels.right))
}
