//! Where a mount may be moved along a line so that the damper's length keeps its limits.

use nalgebra::Vector3;

/// A demand on the damper's length at one place in the travel.
#[derive(Debug, Clone, Copy)]
pub(super) struct Demand {
    /// From the upper mount to the lower one there (mm).
    pub(super) span: Vector3<f64>,
    /// The length it is compared with (mm).
    pub(super) length: f64,
    /// Whether the damper must be at least that long (else at most).
    pub(super) at_least: bool,
    /// What happens otherwise, as the end of a sentence.
    pub(super) otherwise: &'static str,
}

impl Demand {
    /// How far the length is on the safe side with the upper mount moved (mm).
    pub(super) fn left_after(&self, moved: &Vector3<f64>) -> f64 {
        let more = (self.span - moved).norm() - self.length;
        if self.at_least { more } else { -more }
    }
}

/// A closed range of moves (mm).
pub(super) type Range = (f64, f64);

/// The moves of the upper mount along a unit direction, within `farthest`, that satisfy every demand.
///
/// Moved by s, the length is `|span - s e|`: it is least at `s = span . e` and equals the demanded length at two
/// moves on either side of that, or never.
pub(super) fn moves(demands: &[Demand], direction: &Vector3<f64>, farthest: f64) -> Vec<Range> {
    let mut allowed = vec![(-farthest, farthest)];
    for demand in demands {
        let middle = demand.span.dot(direction);
        let discriminant = middle * middle - demand.span.norm_squared() + demand.length * demand.length;
        let half = if discriminant > 0.0 {
            discriminant.sqrt()
        } else {
            0.0
        };
        let kept: &[Range] = match (demand.at_least, discriminant > 0.0) {
            (true, false) => continue,
            (true, true) => &[(f64::NEG_INFINITY, middle - half), (middle + half, f64::INFINITY)],
            (false, true) => &[(middle - half, middle + half)],
            (false, false) => &[],
        };
        allowed = allowed
            .iter()
            .flat_map(|range| kept.iter().map(|other| overlap(range, other)))
            .flatten()
            .collect();
    }
    allowed
}

fn overlap(first: &Range, second: &Range) -> Option<Range> {
    let (low, high) = (first.0.max(second.0), first.1.min(second.1));
    (low <= high).then_some((low, high))
}

/// The range that asks for the smallest move, with that move.
pub(super) fn smallest(ranges: &[Range]) -> Option<(f64, Range)> {
    let move_into = |range: &Range| 0.0_f64.clamp(range.0, range.1);
    ranges
        .iter()
        .map(|range| (move_into(range), *range))
        .min_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_upright_damper_moves_by_the_difference_of_lengths() {
        let span = Vector3::new(0.0, 0.0, -300.0);
        let demands = [
            Demand {
                span,
                length: 310.0,
                at_least: true,
                otherwise: "it touches",
            },
            Demand {
                span,
                length: 325.0,
                at_least: false,
                otherwise: "it tops out",
            },
        ];
        let ranges = moves(&demands, &Vector3::z(), 200.0);
        assert_eq!(smallest(&ranges), Some((10.0, (10.0, 25.0))));
    }

    #[test]
    fn sideways_moves_have_two_sides() {
        let span = Vector3::new(0.0, 0.0, -300.0);
        let longer = [Demand {
            span,
            length: 500.0,
            at_least: true,
            otherwise: "it touches",
        }];
        let ranges = moves(&longer, &Vector3::y(), 1_000.0);
        assert_eq!(ranges, [(-1_000.0, -400.0), (400.0, 1_000.0)]);
        let shorter = [Demand {
            span,
            length: 299.0,
            at_least: false,
            otherwise: "it tops out",
        }];
        assert!(moves(&shorter, &Vector3::y(), 1_000.0).is_empty());
    }
}
