//! Points of an axle that no car has where they are said to be.
//!
//! Only what is surely wrong is refused: links may be long, short, splayed or on torque arms far ahead of the axle.

use super::PickupError;
use crate::Sentence;
use crate::pickups::{LiveAxle, Point};

/// Brackets reach this far from an axle (mm) at most where nothing else is known: farther out, the end of a link that is
/// nearer to the axle is the one on it.
const LONG_BRACKET_MM: f64 = 250.0;
/// How much nearer the other end must be (mm) to be surely the one on the axle: the drop link of a torque arm has both its
/// ends far ahead of the axle, as near as they are to each other.
const NEARER_MM: f64 = 150.0;
/// Farther than this from the line through the wheel centres (mm) no axle has its nearest link.
const FARTHEST_LINK_MM: f64 = 600.0;

impl LiveAxle {
    /// Checks each point against the others; distances are seen from the side.
    pub(super) fn places(&self, right: &Point) -> Result<(), PickupError> {
        let left = &self.wheels.left;
        let across = left - right;
        if across.x.hypot(across.z) > across.y.abs() {
            return Err(PickupError::Misplaced {
                field: "wheels.left".into(),
                problem: Sentence::new("`wheels.left` and `wheels.right` are ")
                    .length(across.x.hypot(across.z))
                    .words(" apart fore-and-aft and in height, and only ")
                    .length(across.y.abs())
                    .words(" across the car"),
                advice: "points are [forward, left, up]: check their numbers one by one",
            });
        }
        let axle_line = |y: f64| right + across * ((y - right.y) / across.y);
        let from_axle = |point: &Point| {
            let away = point - axle_line(point.y);
            away.x.hypot(away.z)
        };
        let mut nearest: Option<(f64, &str)> = None;
        for (name, link) in &self.links {
            let (axle, body) = (from_axle(&link.axle), from_axle(&link.body));
            if nearest.is_none_or(|(least, _)| axle < least) {
                nearest = Some((axle, name));
            }
            if axle > LONG_BRACKET_MM && axle - body > NEARER_MM {
                return Err(PickupError::Misplaced {
                    field: format!("links.{name}.axle"),
                    problem: Sentence::new(format!("`links.{name}.axle` is "))
                        .length(axle)
                        .words(format!(
                            " from the line through the wheel centres, and `links.{name}.body` only "
                        ))
                        .length(body),
                    advice: "are the two ends swapped? `body` is the end on the car, `axle` the end on the axle",
                });
            }
            self.above_road(&link.axle, &axle_line(link.axle.y), name)?;
        }
        match nearest {
            Some((distance, name)) if distance > FARTHEST_LINK_MM => Err(PickupError::Misplaced {
                field: "wheels.left".into(),
                problem: Sentence::new(format!("the link nearest to the axle, `links.{name}.axle`, is "))
                    .length(distance)
                    .words(" from the line through the wheel centres, and on no axle it is farther than ")
                    .given_length(FARTHEST_LINK_MM),
                advice: "check the wheel centres and the links: measured from one origin, and in one unit?",
            }),
            _ => Ok(()),
        }
    }

    fn above_road(&self, joint: &Point, on_axle: &Point, name: &str) -> Result<(), PickupError> {
        let road = on_axle.z - self.wheels.tyre_radius;
        if joint.z >= road {
            return Ok(());
        }
        Err(PickupError::Misplaced {
            field: format!("links.{name}.axle"),
            problem: Sentence::new(format!("`links.{name}.axle` (z = "))
                .given_length(joint.z)
                .words(") is below the road, which the wheel centres and `wheels.tyre_radius` put at z = ")
                .given_length(road),
            advice: "check its height, the heights of the wheel centres, and that the tyre radius is no smaller than measured",
        })
    }
}
