//! Upright rectangles on the picture, and straight pieces cut by them. Pixels, y downwards.

/// A place on the picture (CSS pixels, x to the right, y downwards).
pub(crate) type Spot = (f64, f64);

/// An upright rectangle on the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rect {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Rect {
    pub(crate) const fn new(left: f64, top: f64, right: f64, bottom: f64) -> Self {
        Self {
            left,
            top,
            right,
            bottom,
        }
    }

    pub(crate) fn around(centre: Spot, width: f64, height: f64) -> Self {
        let (x, y) = centre;
        Self::new(
            x - width / 2.0,
            y - height / 2.0,
            x + width / 2.0,
            y + height / 2.0,
        )
    }

    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub(crate) fn centre(&self) -> Spot {
        ((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0)
    }

    pub(crate) fn grown(&self, by: f64) -> Self {
        Self::new(self.left - by, self.top - by, self.right + by, self.bottom + by)
    }

    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub(crate) fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }

    pub(crate) fn holds_spot(&self, (x, y): Spot) -> bool {
        self.left <= x && x <= self.right && self.top <= y && y <= self.bottom
    }

    /// The part of a straight piece inside the rectangle, none if it passes by (the parametric clipping of Liang and Barsky, 1984).
    pub(crate) fn clip(&self, from: Spot, to: Spot) -> Option<(Spot, Spot)> {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let edges = [
            (-dx, from.0 - self.left),
            (dx, self.right - from.0),
            (-dy, from.1 - self.top),
            (dy, self.bottom - from.1),
        ];
        for (towards, room) in edges {
            if towards == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if towards < 0.0 {
                enter = enter.max(room / towards);
            } else {
                leave = leave.min(room / towards);
            }
        }
        if enter > leave {
            return None;
        }
        // The ends are returned as given where they lie inside, so that joined pieces stay joined.
        let at = |share: f64| (from.0 + dx * share, from.1 + dy * share);
        Some((
            if enter > 0.0 { at(enter) } else { from },
            if leave < 1.0 { at(leave) } else { to },
        ))
    }

    /// Length of a straight piece inside the rectangle.
    pub(crate) fn length_inside(&self, from: Spot, to: Spot) -> f64 {
        self.clip(from, to).map_or(0.0, |(a, b)| distance(a, b))
    }
}

pub(crate) fn distance(a: Spot, b: Spot) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// Twice the area of a triangle, positive where its corners follow each other clockwise on the picture.
fn turn(a: Spot, b: Spot, c: Spot) -> f64 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

/// Whether two straight pieces cross, and do not merely touch or lie along each other.
pub(crate) fn crosses(one: (Spot, Spot), other: (Spot, Spot)) -> bool {
    turn(one.0, one.1, other.0) * turn(one.0, one.1, other.1) < 0.0
        && turn(other.0, other.1, one.0) * turn(other.0, other.1, one.1) < 0.0
}

/// Distance of a place from the endless line through a straight piece; from its end where it is a mere point.
pub(crate) fn off_line(spot: Spot, (from, to): (Spot, Spot)) -> f64 {
    let length = distance(from, to);
    if length <= f64::EPSILON {
        return distance(spot, from);
    }
    turn(from, to, spot).abs() / length
}

#[cfg(test)]
mod tests {
    use super::*;

    const UNIT: Rect = Rect::new(0.0, 0.0, 10.0, 10.0);

    #[test]
    fn clipping_keeps_the_inner_part() {
        assert_eq!(
            UNIT.clip((-5.0, 5.0), (15.0, 5.0)),
            Some(((0.0, 5.0), (10.0, 5.0)))
        );
        assert_eq!(UNIT.clip((2.0, 3.0), (4.0, 5.0)), Some(((2.0, 3.0), (4.0, 5.0))));
        assert_eq!(UNIT.clip((-1.0, -5.0), (-1.0, 15.0)), None);
        assert_eq!(UNIT.clip((-6.0, 5.0), (5.0, 16.0)), None);
        assert!((UNIT.length_inside((-5.0, -5.0), (15.0, 15.0)) - 200.0_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn pieces_cross_or_do_not() {
        let level = ((0.0, 0.0), (10.0, 0.0));
        assert!(crosses(level, ((5.0, -1.0), (5.0, 1.0))));
        assert!(!crosses(level, ((5.0, 0.0), (5.0, 1.0))) && !crosses(level, ((11.0, -1.0), (11.0, 1.0))));
        assert_eq!(off_line((3.0, 4.0), level), 4.0);
        assert_eq!(off_line((3.0, 4.0), ((0.0, 0.0), (0.0, 0.0))), 5.0);
    }

    #[test]
    fn touching_edges_do_not_overlap() {
        assert!(!UNIT.overlaps(&Rect::new(10.0, 0.0, 20.0, 10.0)));
        assert!(UNIT.overlaps(&Rect::new(9.0, 9.0, 20.0, 20.0)));
        assert!(UNIT.holds(&UNIT) && !UNIT.holds(&UNIT.grown(1.0)));
    }
}
