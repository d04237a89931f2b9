//! The least gap of one capsule on a double wishbone to each of twenty fixed capsules and boxes, written out for just that.
//!
//! The gap is taken at every position of the sweep and nowhere else. Segment to segment is the clamped foot of the
//! common normal; segment to box is the root of the slope of the squared distance, which is straight between the places
//! where the segment crosses a plane of a face. Obstacles are invented.

use super::closed_form::OutOfReach;
use super::closed_form::reference::WISHBONE_POSITIONS;
use super::closed_form::wishbone::{self, Position, Wishbone};
use nalgebra::{Matrix3, Rotation3, Vector3};

type Vector = Vector3<f64>;

/// Radius of the coilover (mm).
pub(crate) const RADIUS: f64 = 52.5;
/// Obstacles: as many tubes as boxes.
pub(crate) const OBSTACLES: usize = 20;

/// A fixed tube with round ends.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tube {
    pub(crate) start: Vector,
    pub(crate) end: Vector,
    pub(crate) radius: f64,
}

/// A fixed box.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Block {
    pub(crate) centre: Vector,
    pub(crate) half: Vector,
    /// Turns about Z, Y and X (rad).
    pub(crate) turns: [f64; 3],
    /// From vehicle axes to the box's.
    to_box: Matrix3<f64>,
}

/// What stands around the coilover.
#[derive(Debug, Clone)]
pub(crate) struct Surroundings {
    pub(crate) tubes: Vec<Tube>,
    pub(crate) blocks: Vec<Block>,
}

/// Twenty obstacles around the coilover of the reference corner, 10 to 150 mm off, from a fixed sequence.
pub(crate) fn surroundings() -> Surroundings {
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    // A linear congruential sequence (Knuth, MMIX), from memory: any would do.
    let mut next = |low: f64, high: f64| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((seed >> 11) as f64 / (1_u64 << 53) as f64)
    };
    let (mut tubes, mut blocks) = (Vec::new(), Vec::new());
    for place in 0..OBSTACLES {
        // Around the damper's line, which leans from (-6, 468, 571) to about (-2, 561, 203).
        let (height, around) = (next(230.0, 540.0), next(0.0, std::f64::consts::TAU));
        let middle = Vector::new(-4.0, 468.0 + (571.0 - height) * 0.25, height);
        let off = Vector::new(around.cos(), around.sin(), 0.0);
        if place % 2 == 0 {
            let radius = next(8.0, 25.0);
            let centre = middle + off * (RADIUS + radius + next(20.0, 150.0));
            let along = Vector::new(next(-1.0, 1.0) - off.x, next(-1.0, 1.0) * 0.3, next(-1.0, 1.0));
            let along = (along - off * off.dot(&along)) * next(40.0, 150.0);
            tubes.push(Tube {
                start: centre - along,
                end: centre + along,
                radius,
            });
        } else {
            let half = Vector::new(next(10.0, 60.0), next(10.0, 60.0), next(10.0, 60.0));
            let turns = [next(-0.5, 0.5), next(-0.5, 0.5), next(-0.5, 0.5)];
            let turn = Rotation3::from_euler_angles(turns[2], turns[1], turns[0]);
            blocks.push(Block {
                centre: middle + off * (RADIUS + half.norm() + next(10.0, 120.0)),
                half,
                turns,
                to_box: turn.into_inner().transpose(),
            });
        }
    }
    Surroundings { tubes, blocks }
}

/// The least gap to each tube and then to each box (mm), over all positions of the sweep.
///
/// # Errors
/// [`OutOfReach`] where the sweep is.
pub(crate) fn least_gaps(
    pickups: &Wishbone,
    surroundings: &Surroundings,
    least: &mut [f64; OBSTACLES],
) -> Result<(), OutOfReach> {
    let mut positions = [Position::default(); WISHBONE_POSITIONS];
    wishbone::sweep(pickups, &mut positions)?;
    *least = least_over(pickups, surroundings, &positions);
    Ok(())
}

/// The gaps at one of the travels of the sweep (mm).
///
/// # Errors
/// [`OutOfReach`] where the sweep is.
pub(crate) fn gaps_at(
    pickups: &Wishbone,
    surroundings: &Surroundings,
    travel: f64,
) -> Result<[f64; OBSTACLES], OutOfReach> {
    let mut positions = [Position::default(); WISHBONE_POSITIONS];
    wishbone::sweep(pickups, &mut positions)?;
    let there = positions.iter().filter(|position| position.travel == travel);
    Ok(least_over(pickups, surroundings, there))
}

#[inline(always)]
fn least_over<'a>(
    pickups: &Wishbone,
    surroundings: &Surroundings,
    positions: impl IntoIterator<Item = &'a Position>,
) -> [f64; OBSTACLES] {
    let mut squares = [f64::INFINITY; OBSTACLES];
    for position in positions {
        let (start, end) = (pickups.damper_body, position.damper_mount);
        for (tube, square) in surroundings.tubes.iter().zip(&mut squares) {
            *square = square.min(segments(&start, &end, &tube.start, &tube.end));
        }
        let blocks = surroundings
            .blocks
            .iter()
            .zip(&mut squares[surroundings.tubes.len()..]);
        for (block, square) in blocks {
            *square = square.min(segment_and_block(&start, &end, block));
        }
    }
    std::array::from_fn(|place| {
        let radius = surroundings.tubes.get(place).map_or(0.0, |tube| tube.radius);
        squares[place].sqrt() - RADIUS - radius
    })
}

/// Squared distance of two segments that are neither parallel nor without length.
#[inline(always)]
fn segments(start: &Vector, end: &Vector, other_start: &Vector, other_end: &Vector) -> f64 {
    let (u, v, w) = (end - start, other_end - other_start, start - other_start);
    let (a, b, c) = (u.dot(&u), u.dot(&v), v.dot(&v));
    let (d, e) = (u.dot(&w), v.dot(&w));
    let s = ((b * e - c * d) / (a * c - b * b)).clamp(0.0, 1.0);
    let t = ((b * s + e) / c).clamp(0.0, 1.0);
    let s = ((b * t - d) / a).clamp(0.0, 1.0);
    (w + u * s - v * t).norm_squared()
}

/// Squared distance of a segment and a box.
#[inline(always)]
fn segment_and_block(start: &Vector, end: &Vector, block: &Block) -> f64 {
    let from = block.to_box * (start - block.centre);
    let along = block.to_box * (end - start);
    let excess = |share: f64| {
        let at = from + along * share;
        at - at.zip_map(&block.half, |at, half| at.clamp(-half, half))
    };
    let slope = |share: f64| excess(share).dot(&along);
    if slope(0.0) >= 0.0 {
        return excess(0.0).norm_squared();
    }
    if slope(1.0) <= 0.0 {
        return excess(1.0).norm_squared();
    }
    let (mut low, mut high) = (0.0, 1.0);
    for axis in 0..3 {
        for face in [-block.half[axis], block.half[axis]] {
            let crossing = (face - from[axis]) / along[axis];
            if crossing > low && crossing < high {
                if slope(crossing) < 0.0 {
                    low = crossing;
                } else {
                    high = crossing;
                }
            }
        }
    }
    let (at_low, at_high) = (slope(low), slope(high));
    let share = if at_high > at_low {
        low - at_low * (high - low) / (at_high - at_low)
    } else {
        low
    };
    excess(share).norm_squared()
}
