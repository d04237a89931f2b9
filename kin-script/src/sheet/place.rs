//! Finding room for labels.

use super::boxes::{Rect, Spot, distance};

/// What is on a picture already, and where the next label may go.
#[derive(Debug, Clone)]
pub(crate) struct Placer {
    bounds: Rect,
    taken: Vec<Rect>,
    lines: Vec<(Spot, Spot, f64)>,
    points: Vec<Spot>,
    shades: Vec<Shade>,
}

/// A filled shape: a rectangle or an ellipse, turned any way.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shade {
    pub(crate) centre: Spot,
    /// Direction of its length, of length one.
    pub(crate) along: Spot,
    /// Half its length and half its width (CSS pixels).
    pub(crate) half: (f64, f64),
    pub(crate) round: bool,
}

impl Shade {
    fn holds(&self, (x, y): Spot) -> bool {
        let (x, y) = (x - self.centre.0, y - self.centre.1);
        let lengthwise = (x * self.along.0 + y * self.along.1) / self.half.0;
        let across = (y * self.along.0 - x * self.along.1) / self.half.1;
        if self.round {
            lengthwise.hypot(across) <= 1.0
        } else {
            lengthwise.abs() <= 1.0 && across.abs() <= 1.0
        }
    }
}

/// Where a label may stand near its anchor, with how little each place is liked before anything else is known.
fn candidates(
    anchor: Spot,
    size: (f64, f64),
    clearance: f64,
    gaps: &[f64],
) -> impl Iterator<Item = (f64, Rect)> {
    gaps.iter().flat_map(move |gap| {
        DIRECTIONS.into_iter().map(move |(right, down, dislike)| {
            // On a diagonal the corner of the label is the near point: full distance either way would look loose.
            let reach = (clearance + gap) * if right != 0.0 && down != 0.0 { 0.75 } else { 1.0 };
            let centre = (
                anchor.0 + right * (size.0 / 2.0 + reach),
                anchor.1 + down * (size.1 / 2.0 + reach),
            );
            (dislike + 0.6 * gap, Rect::around(centre, size.0, size.1))
        })
    })
}

/// Gaps between the anchor's clearance and the label that are tried in turn (CSS pixels).
const GAPS: [f64; 10] = [0.0, 5.0, 11.0, 18.0, 27.0, 38.0, 52.0, 70.0, 95.0, 130.0];
/// How many of these gaps are still right beside the anchor.
const BESIDE: usize = 4;
/// Cost of a label that stands wholly on a filled shape.
const SHADED: f64 = 24.0;
/// Least distance between two labels (CSS pixels).
const APART: f64 = 2.0;
/// Cost of a label that seems to belong to another point.
const MISTAKEN: f64 = 9.0;
/// Cost of a label's direction as seen from its anchor, the reader's favourites first.
const DIRECTIONS: [(f64, f64, f64); 12] = [
    (1.0, 0.0, 0.0),
    (-1.0, 0.0, 1.0),
    (1.0, -1.0, 1.5),
    (-1.0, -1.0, 2.0),
    (1.0, 1.0, 2.0),
    (-1.0, 1.0, 2.5),
    (0.0, -1.0, 1.5),
    (0.0, 1.0, 2.0),
    (0.5, -1.0, 3.0),
    (-0.5, -1.0, 3.0),
    (0.5, 1.0, 3.0),
    (-0.5, 1.0, 3.0),
];

impl Placer {
    pub(crate) fn new(bounds: Rect) -> Self {
        Self {
            bounds,
            taken: Vec::new(),
            lines: Vec::new(),
            points: Vec::new(),
            shades: Vec::new(),
        }
    }

    /// Keeps labels off a rectangle altogether.
    pub(crate) fn take(&mut self, area: Rect) {
        self.taken.push(area);
    }

    /// Makes crossing a straight piece cost `weight` per pixel of it.
    pub(crate) fn avoid(&mut self, from: Spot, to: Spot, weight: f64) {
        self.lines.push((from, to, weight));
    }

    /// Tells of a point with a meaning of its own: labels of others should not seem to belong to it.
    pub(crate) fn name_point(&mut self, spot: Spot) {
        self.points.push(spot);
    }

    /// Makes standing on a filled shape cost something.
    pub(crate) fn shade(&mut self, shade: Shade) {
        self.shades.push(shade);
    }

    pub(crate) fn is_free(&self, area: &Rect) -> bool {
        self.bounds.holds(area) && !self.taken.iter().any(|other| other.overlaps(area))
    }

    /// Weighted length of lines under a rectangle.
    pub(crate) fn crossing(&self, area: &Rect) -> f64 {
        self.lines
            .iter()
            .map(|(from, to, weight)| weight * area.length_inside(*from, *to))
            .sum()
    }

    /// Room for a label of the given size near its anchor, taken at once; none if the picture is full. The label keeps
    /// `clearance` from the anchor.
    pub(crate) fn place(&mut self, anchor: Spot, size: (f64, f64), clearance: f64) -> Option<Rect> {
        let area = self
            .near(anchor, size, clearance)
            .or_else(|| self.anywhere(anchor, size))?;
        self.take(area.grown(APART));
        Some(area)
    }

    /// Room right beside an anchor that crosses nothing and cannot be taken for another point's, taken at once; none if
    /// there is none.
    pub(crate) fn place_beside(&mut self, anchor: Spot, size: (f64, f64), clearance: f64) -> Option<Rect> {
        let found = candidates(anchor, size, clearance, &GAPS[..BESIDE])
            .filter(|(_, area)| {
                self.is_free(area)
                    && self.crossing(&area.grown(1.0)) <= f64::EPSILON
                    && self.nearer_points(anchor, area) == 0
            })
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, area)| area)?;
        self.take(found.grown(APART));
        Some(found)
    }

    fn near(&self, anchor: Spot, size: (f64, f64), clearance: f64) -> Option<Rect> {
        let cost = |(dislike, area): (f64, Rect)| {
            let strangers = MISTAKEN * self.nearer_points(anchor, &area) as f64;
            let crossed = 1.4 * self.crossing(&area.grown(1.0));
            (dislike + crossed + strangers + SHADED * self.shaded(&area), area)
        };
        candidates(anchor, size, clearance, &GAPS)
            .filter(|(_, area)| self.is_free(area))
            .map(cost)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, area)| area)
    }

    /// Share of a rectangle that lies over filled shapes.
    fn shaded(&self, area: &Rect) -> f64 {
        let (x, y) = area.centre();
        let (wide, high) = (area.width() / 2.0, area.height() / 2.0);
        let spots = [-1.0, -0.5, 0.0, 0.5, 1.0]
            .into_iter()
            .flat_map(|across| [-1.0, 1.0].map(|down| (x + across * wide, y + down * high)));
        let over = spots.filter(|spot| self.shades.iter().any(|shade| shade.holds(*spot)));
        over.count() as f64 / 10.0
    }

    /// Points other than the anchor that a label at `area` is at least as close to.
    fn nearer_points(&self, anchor: Spot, area: &Rect) -> usize {
        let own = distance(anchor, nearest(anchor, area));
        let others = self.points.iter().filter(|spot| distance(**spot, anchor) > 1.0);
        others
            .filter(|spot| distance(**spot, nearest(**spot, area)) <= own + 1.0)
            .count()
    }

    /// The nearest free room on a grid over the whole picture.
    fn anywhere(&self, anchor: Spot, size: (f64, f64)) -> Option<Rect> {
        let columns = ((self.bounds.width() - size.0) / 12.0).max(-1.0).floor() as i64;
        let rows = ((self.bounds.height() - size.1) / 8.0).max(-1.0).floor() as i64;
        let mut best: Option<(f64, Rect)> = None;
        for row in 0..=rows {
            for column in 0..=columns {
                let left = self.bounds.left + 12.0 * column as f64;
                let top = self.bounds.top + 8.0 * row as f64;
                let area = Rect::new(left, top, left + size.0, top + size.1);
                let cost = distance(anchor, area.centre());
                if best.is_none_or(|(least, _)| cost < least) && self.is_free(&area) {
                    best = Some((cost, area));
                }
            }
        }
        best.map(|(_, area)| area)
    }
}

fn nearest((x, y): Spot, area: &Rect) -> Spot {
    (x.clamp(area.left, area.right), y.clamp(area.top, area.bottom))
}

/// The point of a label's box nearest to its anchor, for a leader line; none if the label sits close enough.
pub(crate) fn leader_end(anchor: Spot, area: &Rect, close: f64) -> Option<Spot> {
    let end = nearest(anchor, area);
    (distance(anchor, end) > close).then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_at_one_point_never_overlap() {
        let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
        let mut placed: Vec<Rect> = Vec::new();
        while let Some(area) = placer.place((150.0, 100.0), (60.0, 14.0), 7.0) {
            assert!(placed.iter().all(|other| !other.overlaps(&area)));
            placed.push(area);
        }
        assert!(placed.len() >= 20, "only {} labels found room", placed.len());
    }

    #[test]
    fn a_filled_shape_pushes_the_label_off() {
        let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
        placer.shade(Shade {
            centre: (220.0, 100.0),
            along: (0.0, 1.0),
            half: (100.0, 70.0),
            round: false,
        });
        let area = placer.place((150.0, 100.0), (60.0, 14.0), 7.0).unwrap();
        assert!(area.right <= 150.0, "{area:?}");
    }

    #[test]
    fn a_label_right_beside_its_point_crosses_nothing_or_is_left_out() {
        let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
        placer.name_point((150.0, 100.0));
        assert!(placer.place_beside((150.0, 100.0), (60.0, 14.0), 4.0).is_some());
        // Lines everywhere: whichever way it stood, it would be crossed.
        for height in 0..20 {
            let height = f64::from(height) * 10.0;
            placer.avoid((0.0, height), (300.0, height), 1.0);
        }
        assert_eq!(placer.place_beside((150.0, 100.0), (60.0, 14.0), 4.0), None);
    }

    #[test]
    fn a_line_pushes_the_label_to_its_other_side() {
        let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
        placer.avoid((150.0, 100.0), (300.0, 100.0), 1.0);
        let area = placer.place((150.0, 100.0), (60.0, 14.0), 7.0).unwrap();
        assert_eq!(placer.crossing(&area), 0.0);
    }

    #[test]
    fn no_room_is_said() {
        let mut placer = Placer::new(Rect::new(0.0, 0.0, 50.0, 10.0));
        assert_eq!(placer.place((25.0, 5.0), (60.0, 14.0), 7.0), None);
    }
}
