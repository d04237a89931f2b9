//! A coil spring seen from the side.

use crate::sheet::boxes::{Spot, distance};

/// Least distance of two coils (pixels).
const LEAST_PITCH: f64 = 6.0;

/// Half-turns of a spring in pixels: those in front of its axis and those behind it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Coils {
    pub(super) front: Vec<(Spot, Spot)>,
    pub(super) back: Vec<(Spot, Spot)>,
}

/// A spring between two places, with `coils` turns of the given outer diameter (all pixels). Its ends lie flat.
/// Seen nearly end on, fewer coils are drawn, so that they stay apart.
pub(super) fn coils(from: Spot, to: Spot, diameter: f64, coils: u32) -> Coils {
    let length = distance(from, to);
    let mut found = Coils {
        front: Vec::new(),
        back: Vec::new(),
    };
    if length <= f64::EPSILON {
        return found;
    }
    let along = ((to.0 - from.0) / length, (to.1 - from.1) / length);
    let radius = diameter / 2.0;
    let at = |share: f64, side: f64| {
        (
            from.0 + along.0 * length * share - along.1 * radius * side,
            from.1 + along.1 * length * share + along.0 * radius * side,
        )
    };
    found.front.push((at(0.0, -1.0), at(0.0, 1.0)));
    let halves = 2 * coils.min((length / LEAST_PITCH) as u32).max(1);
    for half in 0..halves {
        let (start, end) = (
            f64::from(half) / f64::from(halves),
            f64::from(half + 1) / f64::from(halves),
        );
        if half % 2 == 0 {
            found.back.push((at(start, 1.0), at(end, -1.0)));
        } else {
            found.front.push((at(start, -1.0), at(end, 1.0)));
        }
    }
    found.front.push((at(1.0, 1.0), at(1.0, -1.0)));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spring_has_its_coils_and_its_diameter() {
        let found = coils((0.0, 0.0), (0.0, 100.0), 40.0, 6);
        assert_eq!((found.back.len(), found.front.len()), (6, 8));
        for (a, b) in found.back.iter().chain(&found.front) {
            assert!((a.0.abs() - 20.0).abs() < 1e-9 && (b.0.abs() - 20.0).abs() < 1e-9);
        }
        assert_eq!(coils((0.0, 0.0), (0.0, 13.0), 40.0, 6).back.len(), 2);
        assert!(coils((1.0, 1.0), (1.0, 1.0), 40.0, 6).front.is_empty());
    }
}
