//! A curve of an axle with its derivatives.

use super::{Varied, standing};
use crate::curves::{AxleCurve, mounted_length};
use crate::linkage::Drive;
use crate::numeric::real::Moving;
use crate::pickups::LiveAxle;
use crate::pose::varied;
use crate::suspension::{AxleAlong, AxleGeometry, AxleNumbers, AxlePosition, AxleState};
use num_dual::{Dual, Dual64, DualNum};

/// The curve at a position, with its derivatives in a direction of the description; none where it has no value.
///
/// * `(ride, roll)`: how much ride height, as a travel, changes in that direction; the roll asked for (rad)
/// * `along`: the motion of the outer derivative
pub(super) fn evaluate(
    curve: AxleCurve,
    position: &AxlePosition<'_>,
    direction: &LiveAxle,
    (ride, roll): (f64, f64),
    along: AxleAlong,
) -> Option<Varied> {
    let (pickups, linkage) = (&position.axle().pickups, &position.axle().linkage);
    let numbers = AxleNumbers::of(pickups).zip(&AxleNumbers::of(direction), Dual64::new);
    let numbers = numbers.zip(&numbers, |number, _| standing(number));
    let carrier = numbers.carrier();
    // A wheel rate in roll is taken along roll.
    let spring = curve.spring_side();
    let along = spring.map_or(along, |(_, along)| along);
    let (heaving, rolling) = match along {
        AxleAlong::Heave => (1.0, 0.0),
        AxleAlong::Roll => (0.0, 1.0),
    };
    let command = position.solved.command;
    let heave = Dual::new(
        Dual64::new(command[Drive::Heave as usize], ride),
        Dual64::from(heaving),
    );
    // As `Axle::half_difference_for_roll`: a roll asked for is kept when the wheels move apart.
    let arm = carrier.half_axle?;
    let half_track = arm.dot(&arm).sqrt();
    let kept = half_track * ((arm.z / half_track).asin() + roll).sin() - arm.z;
    let half = Dual::new(
        Dual64::new(command[Drive::HalfDifference as usize], kept.re.eps),
        Dual64::from(rolling),
    );
    let motion = |in_heave: f64, in_roll: f64| {
        let moving = [
            Moving::new(heave, Varied::from(in_heave)),
            Moving::new(half, Varied::from(in_roll)),
            Moving::from(0.0),
        ];
        varied(linkage, &carrier, &position.solved, &moving)
    };
    let geometry = AxleGeometry::new(&numbers, pickups.springs.is_some());
    let state = AxleState {
        geometry: &geometry,
        heave: motion(1.0, 0.0)?,
        roll: motion(0.0, 1.0)?,
    };
    let Some((side, along)) = spring else {
        return curve.evaluate(&state);
    };
    let of_side = |axle: &LiveAxle| {
        let springs = axle.springs.as_ref()?;
        if side > 0.0 {
            Some(springs.left.clone())
        } else {
            springs.right.clone()
        }
    };
    let in_motion = if along == AxleAlong::Heave {
        &state.heave
    } else {
        &state.roll
    };
    let length = mounted_length(&geometry.springs, side, in_motion)?;
    let ratio = -length.eps;
    // In roll the right wheel's own bump is against the motion: the ratio changes sign, its slope does not. The rate has
    // the ratio squared, so only the slope's sign counts.
    super::ride::wheel_rate((&of_side(pickups)?, &of_side(direction)?), ratio, length.re).map(standing)
}
