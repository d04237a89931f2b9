//! Does the damper's stroke hold one wheel at a time, and wheels crossed?

use super::allowed::Demand;
use super::finding::{CHECK, settled};
use crate::checks::{DamperLengths, Finding, Sentence, Verdict};
use crate::numeric::real::value;
use crate::pose::PoseError;
use crate::suspension::{Axle, AxleTravel, Mounted};
use crate::{Dimension, Error};
use nalgebra::Vector3;

/// One damper of an axle, with one wheel at the wanted bump and the other at the wanted droop, or at ride height.
pub(super) struct CrossedWheels<'a> {
    pub(super) axle: &'a Axle,
    pub(super) mount: &'a Mounted,
    pub(super) name: String,
    pub(super) lengths: DamperLengths,
    /// Travel at ride height, from the pickups as measured (mm).
    pub(super) ride: f64,
    /// Wanted travel from ride height (mm, positive in its own direction).
    pub(super) bump: f64,
    pub(super) droop: f64,
}

/// Where the damper's ends are, from the upper to the lower (mm), or the error that says why the wheels cannot be there.
type Placed = (AxleTravel, Result<Vector3<f64>, PoseError>);

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
        for (wheels, span) in self.spans(self.mount) {
            let length = match span {
                Ok(span) => span.norm(),
                Err(
                    PoseError::OutOfReach {
                        asked,
                        asked_mm,
                        limit_mm: reached_mm,
                    }
                    | PoseError::NotConverged {
                        asked,
                        asked_mm,
                        good_mm: reached_mm,
                    },
                ) => {
                    return Ok(Some(self.out_of_reach(
                        &wheels,
                        asked,
                        asked_mm.abs(),
                        reached_mm.abs(),
                    )));
                }
                Err(error) => return Err(error.into()),
            };
            for (margin, limit) in [
                (length - self.lengths.stop_contact, self.lengths.stop_contact),
                (self.lengths.extended - length, self.lengths.extended),
            ] {
                if tightest.as_ref().is_none_or(|least| margin < least.margin) {
                    tightest = Some(Tightest {
                        margin: settled(margin),
                        length,
                        limit,
                        wheels,
                    });
                }
            }
        }
        Ok(tightest.map(|tightest| self.at_tightest(&tightest)))
    }

    /// The damper at each place of the wheels that is looked at.
    fn spans(&self, mount: &Mounted) -> impl Iterator<Item = Placed> {
        let (bump, droop) = (self.bump, self.droop);
        let places = [
            (bump, -droop),
            (-droop, bump),
            (bump, 0.0),
            (0.0, bump),
            (-droop, 0.0),
            (0.0, -droop),
        ];
        places.into_iter().map(move |(left, right)| {
            let travel = AxleTravel {
                left: self.ride + left,
                right: self.ride + right,
            };
            let position = self.axle.at(travel);
            let span = position.map(|position| value(&mount.lower(&position.in_heave())) - mount.upper());
            (AxleTravel { left, right }, span)
        })
    }

    /// What the damper's length must keep to, wherever the linkage lets the wheels be.
    pub(super) fn demands(&self) -> Result<Vec<Demand>, Error> {
        let mut demands = Vec::new();
        for (_, span) in self.spans(self.mount) {
            let span = match span {
                Ok(span) => span,
                // Said by the finding; no damper mends it.
                Err(PoseError::OutOfReach { .. } | PoseError::NotConverged { .. }) => continue,
                Err(error) => return Err(error.into()),
            };
            demands.push(Demand {
                span,
                length: self.lengths.stop_contact,
                at_least: true,
                otherwise: "it touches its bump stop with one wheel up, or wheels crossed",
            });
            demands.push(Demand {
                span,
                length: self.lengths.extended,
                at_least: false,
                otherwise: "it tops out with one wheel down, or wheels crossed",
            });
        }
        Ok(demands)
    }

    /// Whether another mount and other lengths hold, wherever the linkage lets the wheels be.
    pub(super) fn holds_with(&self, mount: &Mounted, lengths: &DamperLengths) -> Result<bool, Error> {
        for (_, span) in self.spans(mount) {
            let length = match span {
                Ok(span) => span.norm(),
                Err(PoseError::OutOfReach { .. } | PoseError::NotConverged { .. }) => continue,
                Err(error) => return Err(error.into()),
            };
            if settled(length - lengths.stop_contact) < 0.0 || settled(lengths.extended - length) < 0.0 {
                return Ok(false);
            }
        }
        Ok(true)
    }

    fn subject(&self) -> String {
        format!("{}: one wheel at a time, and wheels crossed", self.name)
    }

    fn at_tightest(&self, tightest: &Tightest) -> Finding {
        let name = &self.name;
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
        let start = Sentence::new(format!(
            "One wheel at a time, and wheels crossed: closest to {which} with "
        ));
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

    /// * `what`, `asked`, `reached`: travel of both wheels, or half their difference (mm)
    fn out_of_reach(&self, wheels: &AxleTravel, what: &str, asked: f64, reached: f64) -> Finding {
        Finding {
            check: CHECK,
            subject: self.subject(),
            verdict: Verdict::Fails,
            dimension: Dimension::Length,
            value: reached,
            limit: asked,
            margin: reached - asked,
            at_travel: None,
            statement: placed(Sentence::new("Wanted is "), wheels)
                .words(format!(
                    ", but the linkage itself ends before that: {what} is then "
                ))
                .length(asked)
                .words(", and it reaches ")
                .at_most(reached, f64::INFINITY)
                .words(". No damper gives more: check the pickups of the links, or want less."),
            remedies: Vec::new(),
        }
    }
}

/// Where both wheels are, counted from ride height.
fn placed(sentence: Sentence, wheels: &AxleTravel) -> Sentence {
    let at = |sentence: Sentence, travel: f64| {
        if travel == 0.0 {
            return sentence.words("at ride height");
        }
        let way = if travel > 0.0 { " of bump" } else { " of droop" };
        sentence.words("at ").length(travel.abs()).words(way)
    };
    let left = at(sentence.words("the left wheel "), wheels.left);
    at(left.words(" and the right wheel "), wheels.right)
}
