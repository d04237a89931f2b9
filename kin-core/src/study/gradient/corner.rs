//! A curve of a corner with its derivatives.

use super::{Varied, standing};
use crate::curves::CornerCurve;
use crate::linkage::Drive;
use crate::numeric::real::Moving;
use crate::pickups::{DoubleWishbone, Side};
use crate::pose::varied;
use crate::suspension::{Along, CornerGeometry, CornerNumbers, CornerPosition, CornerState};
use num_dual::{Dual, Dual64};

/// The curve at a position, with its derivatives in a direction of the description; none where it has no value.
///
/// * `ride`: how much ride height, as a travel, changes in that direction
/// * `along`: the motion of the outer derivative
pub(super) fn evaluate(
    curve: CornerCurve,
    position: &CornerPosition<'_>,
    direction: &DoubleWishbone,
    ride: f64,
    along: Along,
) -> Option<Varied> {
    let (pickups, linkage) = (&position.corner().pickups, &position.corner().linkage);
    let numbers = CornerNumbers::of(pickups).zip(&CornerNumbers::of(direction), Dual64::new);
    let numbers = numbers.zip(&numbers, |number, _| standing(number));
    let command = position.solved.command;
    let (travelling, steering) = match (along, position.corner().side()) {
        (Along::Travel, _) => (1.0, 0.0),
        (Along::Rack, Side::Left) => (0.0, 1.0),
        (Along::Rack, Side::Right) => (0.0, -1.0),
    };
    let heave = Dual::new(
        Dual64::new(command[Drive::Heave as usize], ride),
        Dual64::from(travelling),
    );
    let rack = Dual::new(
        Dual64::from(command[Drive::Rack as usize]),
        Dual64::from(steering),
    );
    let moving = [
        Moving::new(heave, Varied::from(1.0)),
        Moving::from(0.0),
        Moving::from_re(rack),
    ];
    let geometry = CornerGeometry::new(&numbers, pickups.spring.is_some());
    let state = CornerState {
        carrier: varied(linkage, &numbers.carrier(), &position.solved, &moving)?,
        geometry: &geometry,
    };
    if curve != CornerCurve::WheelRate {
        return curve.evaluate(&state);
    }
    let spring = pickups.spring.as_ref()?;
    let ratio = CornerCurve::SpringMotionRatio.evaluate(&state)?;
    let length = CornerCurve::SpringLength.evaluate(&state)?;
    super::ride::wheel_rate((spring, direction.spring.as_ref()?), ratio, length).map(standing)
}
