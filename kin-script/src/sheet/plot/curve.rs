//! Curves as pieces that can be drawn: broken where numbers are missing, cut at the edges of the panel.

use crate::sheet::boxes::{Rect, Spot};

/// Breaks points at those that are not finite and cuts the pieces at the edges of `area` (pixels).
pub(super) fn visible_pieces(points: impl Iterator<Item = Spot>, area: &Rect) -> Vec<Vec<Spot>> {
    let mut pieces: Vec<Vec<Spot>> = Vec::new();
    let mut last: Option<Spot> = None;
    let mut alone: Option<Spot> = None;
    for point in points {
        if !(point.0.is_finite() && point.1.is_finite()) {
            pieces.extend(alone.take().map(|point| vec![point]));
            last = None;
            continue;
        }
        if let Some(before) = last {
            alone = None;
            if let Some((from, to)) = area.clip(before, point) {
                match pieces.last_mut() {
                    Some(piece) if piece.last() == Some(&from) && before == from => piece.push(to),
                    _ => pieces.push(vec![from, to]),
                }
            }
        } else if area.holds_spot(point) {
            alone = Some(point);
        }
        last = Some(point);
    }
    pieces.extend(alone.map(|point| vec![point]));
    pieces
}

/// The end of a curve nearest to the right-hand edge, of those that can be seen.
pub(super) fn right_end(pieces: &[Vec<Spot>]) -> Option<Spot> {
    ends(pieces).max_by(|a, b| a.0.total_cmp(&b.0))
}

/// The end of a curve nearest to the left-hand edge, of those that can be seen.
pub(super) fn left_end(pieces: &[Vec<Spot>]) -> Option<Spot> {
    ends(pieces).min_by(|a, b| a.0.total_cmp(&b.0))
}

fn ends(pieces: &[Vec<Spot>]) -> impl Iterator<Item = Spot> {
    pieces
        .iter()
        .flat_map(|piece| [piece.first(), piece.last()])
        .flatten()
        .copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    const AREA: Rect = Rect::new(0.0, 0.0, 10.0, 10.0);

    #[test]
    fn a_curve_breaks_where_a_number_is_missing() {
        let points = [
            (0.0, 1.0),
            (1.0, 1.0),
            (2.0, f64::NAN),
            (3.0, 1.0),
            (4.0, 1.0),
            (5.0, 1.0),
        ];
        let pieces = visible_pieces(points.into_iter(), &AREA);
        assert_eq!(
            pieces,
            [
                vec![(0.0, 1.0), (1.0, 1.0)],
                vec![(3.0, 1.0), (4.0, 1.0), (5.0, 1.0)]
            ]
        );
        assert_eq!(
            (left_end(&pieces), right_end(&pieces)),
            (Some((0.0, 1.0)), Some((5.0, 1.0)))
        );
    }

    #[test]
    fn a_point_between_gaps_is_kept() {
        let points = [(f64::NAN, 0.0), (3.0, 3.0), (f64::NAN, 0.0), (5.0, 5.0)];
        assert_eq!(
            visible_pieces(points.into_iter(), &AREA),
            [[(3.0, 3.0)], [(5.0, 5.0)]]
        );
    }

    #[test]
    fn a_curve_leaving_the_panel_is_cut_and_taken_up_again() {
        let points = [(1.0, 5.0), (3.0, 15.0), (5.0, 5.0)];
        let pieces = visible_pieces(points.into_iter(), &AREA);
        assert_eq!(pieces, [[(1.0, 5.0), (2.0, 10.0)], [(4.0, 10.0), (5.0, 5.0)]]);
        assert!(visible_pieces([(-3.0, 0.0), (-1.0, 9.0)].into_iter(), &AREA).is_empty());
    }
}
