//! All solids of a question, and the pairs to be measured.

use super::build::Body;
use super::description::{ClearanceQuestion, Solid};
use super::field::Field;
use super::measure::{Fitted, Measured, measure};
use super::motions::Motions;
use super::names::Mover;
use crate::pickups::{PickupError, Side};
use crate::pose::PoseError;

/// The gap wanted where none is given (mm): a quarter inch. Common practice, no source.
const USUAL_GAP_MM: f64 = 6.35;
/// Room beyond the wanted gap that is called tight where none is given (mm): what a tape measure is good for.
const USUAL_MARGIN_MM: f64 = 2.0;

/// Solids and motions of one question.
pub(super) struct Scene<'b, 'a> {
    pub(super) motions: &'b Motions<'a>,
    pub(super) solids: Vec<Fitted>,
    pub(super) margin: f64,
    usual_gap: f64,
    except: Vec<(String, String)>,
}

/// Two solids that were measured.
#[derive(Debug, Clone)]
pub(super) struct Pair {
    /// Places in the list of solids; the part comes first.
    pub(super) solids: [usize; 2],
    pub(super) measured: Measured,
}

impl<'b, 'a> Scene<'b, 'a> {
    pub(super) fn new(motions: &'b Motions<'a>, question: &ClearanceQuestion) -> Result<Self, PickupError> {
        let lists = [
            (&question.parts, true, "clearance.parts"),
            (&question.obstacles, false, "clearance.obstacles"),
        ];
        let mut solids = Vec::with_capacity(question.parts.len() + question.obstacles.len());
        for (list, is_part, name) in lists {
            for (place, solid) in list.iter().enumerate() {
                let field = Field {
                    list: name,
                    place,
                    form: "",
                };
                for solid in as_solved(motions.mover, solid) {
                    solids.push(Fitted::new(
                        motions,
                        Body::new(motions.mover, &solid, is_part, field)?,
                    ));
                }
            }
        }
        Ok(Self {
            motions,
            solids,
            margin: question.margin.unwrap_or(USUAL_MARGIN_MM),
            usual_gap: question.gap.unwrap_or(USUAL_GAP_MM),
            except: question.except.clone(),
        })
    }

    /// The gap wanted between two solids (mm).
    pub(super) fn wanted(&self, solids: [usize; 2]) -> f64 {
        let own = solids
            .iter()
            .filter_map(|solid| self.solids.get(*solid)?.body.gap);
        own.reduce(f64::max).unwrap_or(self.usual_gap)
    }

    /// The places of all pairs to be compared, part first.
    fn pairs(&self) -> Vec<[usize; 2]> {
        let mut pairs = Vec::new();
        for (place, first) in self
            .solids
            .iter()
            .enumerate()
            .filter(|(_, solid)| solid.body.is_part)
        {
            for (other, second) in self.solids.iter().enumerate().skip(place + 1) {
                let (first, second) = (&first.body, &second.body);
                let one_piece = second.is_part && first.carrier.is_some() && first.carrier == second.carrier;
                let named = |one: &str, two: &str| {
                    self.except
                        .iter()
                        .any(|(a, b)| (base(one), base(two)) == (a.as_str(), b.as_str()))
                };
                let excepted = named(&first.name, &second.name) || named(&second.name, &first.name);
                if !one_piece && !excepted {
                    // A part on a damper comes first, since its mount can be moved.
                    let turned = second.is_part && second.on_damper.is_some() && first.on_damper.is_none();
                    pairs.push(if turned { [other, place] } else { [place, other] });
                }
            }
        }
        pairs
    }

    /// Measures every pair.
    pub(super) fn measure_all(&self) -> Result<Vec<Pair>, PoseError> {
        let one = |&solids: &[usize; 2]| {
            let measured = self.measure(solids, &self.solids)?;
            Ok(measured.map(|measured| Pair { solids, measured }))
        };
        let pairs = self.pairs();
        // A line alone takes microseconds a pair: less than it takes to wake another thread.
        let measured: Vec<Result<_, PoseError>> = if self.motions.region.is_some() {
            crate::parallel::map(&pairs, one)
        } else {
            pairs.iter().map(one).collect()
        };
        measured.into_iter().filter_map(Result::transpose).collect()
    }

    /// Measures one pair among other solids in the same order.
    pub(super) fn measure(&self, pair: [usize; 2], solids: &[Fitted]) -> Result<Option<Measured>, PoseError> {
        let [Some(first), Some(second)] = pair.map(|place| solids.get(place)) else {
            return Ok(None);
        };
        measure(self.motions, [first, second])
    }
}

/// What the name of a mirrored solid ends in.
const OTHER_SIDE: &str = " (other side)";

fn base(name: &str) -> &str {
    name.strip_suffix(OTHER_SIDE).unwrap_or(name)
}

/// A solid as the solver sees it (a right corner is solved mirrored), with its mirror image where one is asked for.
fn as_solved(mover: Mover<'_>, solid: &Solid) -> Vec<Solid> {
    let turned = matches!(mover, Mover::Corner(corner) if corner.side() == Side::Right);
    let here = |solid: &Solid| {
        if turned {
            on_other_side(solid)
        } else {
            solid.clone()
        }
    };
    let mut solids = vec![here(solid)];
    if solid.mirror {
        let mut other = here(&solid.mirrored());
        other.name.push_str(OTHER_SIDE);
        solids.push(other);
    }
    solids
}

/// A solid of a right corner: coordinates mirrored, but its damper and wheel are the corner's only ones.
fn on_other_side(solid: &Solid) -> Solid {
    use super::description::Shape;
    match &solid.shape {
        Shape::AlongDamper(_) | Shape::Tyre(_) => solid.clone(),
        _ => solid.mirrored(),
    }
}
