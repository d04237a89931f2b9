//! Finding room for labels.

use super::boxes::{Rect, Spot, crosses, distance, off_line};

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
/// Letters keep this far from lines (CSS pixels).
const OFF_LINES: f64 = 2.5;
/// A place that costs less than this is taken without looking further afield.
const GOOD: f64 = 14.0;
/// How far from its anchor a label is looked for a place where all those around the anchor are poor (CSS pixels).
const AFIELD: f64 = 170.0;
/// Cost of a leader line that runs over a label or a joint.
const LEADER_OVER: f64 = 25.0;
/// Cost of a leader line across a line that weighs one.
const LEADER_ACROSS: f64 = 7.0;
/// Nearer than this a line goes through a place (CSS pixels).
const SAME_SPOT: f64 = 1.5;
/// Steps of that search (CSS pixels), and its cost over a place in a plain direction.
const ACROSS: f64 = 9.0;
const DOWN: f64 = 6.0;
const FAR_DISLIKE: f64 = 5.0;
/// Cost of a label's second choice of anchor or shape, and as much again for each further one.
const LATER_ANCHOR: f64 = 1.5;
const LATER_SHAPE: f64 = 6.0;
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

/// A label in search of room: what it may hang on, and the shapes its words may take, the best first.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wish<'a> {
    pub(crate) anchors: &'a [Spot],
    /// Widths and heights (CSS pixels).
    pub(crate) shapes: &'a [(f64, f64)],
    /// Free distance from the anchor (CSS pixels).
    pub(crate) clearance: f64,
}

/// One of a label's anchors or shapes.
#[derive(Debug, Clone, Copy)]
struct Choice {
    index: usize,
    spot: Spot,
    size: (f64, f64),
    dislike: f64,
}

impl Wish<'_> {
    /// Each anchor with each shape.
    fn choices(&self) -> impl Iterator<Item = (Choice, Choice)> + '_ {
        let choice = |index: usize, spot, size, dislike| Choice {
            index,
            spot,
            size,
            dislike: dislike * index as f64,
        };
        self.anchors.iter().enumerate().flat_map(move |(index, spot)| {
            let anchor = choice(index, *spot, (0.0, 0.0), LATER_ANCHOR);
            let shapes = self.shapes.iter().enumerate();
            shapes.map(move |(index, size)| (anchor, choice(index, *spot, *size, LATER_SHAPE)))
        })
    }
}

/// Room found for a [`Wish`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Found {
    pub(crate) area: Rect,
    pub(crate) anchor: Spot,
    /// Which of the shapes fits there.
    pub(crate) shape: usize,
}

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
        let wish = Wish {
            anchors: &[anchor],
            shapes: &[size],
            clearance,
        };
        Some(self.place_one(&wish)?.area)
    }

    /// Room for a label near one of its anchors, taken at once; none if the picture is full.
    pub(crate) fn place_one(&mut self, wish: &Wish<'_>) -> Option<Found> {
        let found = self.near(wish).or_else(|| {
            let anchor = *wish.anchors.first()?;
            let area = |size: &(f64, f64)| self.anywhere(anchor, *size);
            let (shape, area) = wish
                .shapes
                .iter()
                .enumerate()
                .find_map(|(shape, size)| Some((shape, area(size)?)))?;
            Some(Found { area, anchor, shape })
        })?;
        self.take(found.area.grown(APART));
        Some(found)
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

    /// The cheapest free room round the anchors; where that is poor, the cheapest within reach.
    fn near(&self, wish: &Wish<'_>) -> Option<Found> {
        let mut best: Option<(f64, Found)> = None;
        for (anchor, shape) in wish.choices() {
            for (dislike, area) in candidates(anchor.spot, shape.size, wish.clearance, &GAPS) {
                self.compare(&mut best, dislike, area, anchor, shape);
            }
        }
        if best.is_some_and(|(cost, _)| cost < GOOD) {
            return best.map(|(_, found)| found);
        }
        for (anchor, shape) in wish.choices() {
            let (wide, high) = (AFIELD + shape.size.0 / 2.0, AFIELD + shape.size.1 / 2.0);
            let (columns, rows) = ((wide / ACROSS) as i64, (high / DOWN) as i64);
            for row in -rows..=rows {
                for column in -columns..=columns {
                    let centre = (
                        anchor.spot.0 + ACROSS * column as f64,
                        anchor.spot.1 + DOWN * row as f64,
                    );
                    let area = Rect::around(centre, shape.size.0, shape.size.1);
                    let away = distance(anchor.spot, nearest(anchor.spot, &area));
                    if away >= wish.clearance {
                        self.compare(
                            &mut best,
                            FAR_DISLIKE + 0.6 * (away - wish.clearance),
                            area,
                            anchor,
                            shape,
                        );
                    }
                }
            }
        }
        best.map(|(_, found)| found)
    }

    /// Keeps the cheaper of the best place so far and another one.
    fn compare(
        &self,
        best: &mut Option<(f64, Found)>,
        dislike: f64,
        area: Rect,
        anchor: Choice,
        shape: Choice,
    ) {
        let limit = best.map_or(f64::INFINITY, |(cost, _)| cost);
        let mut cost = dislike + anchor.dislike + shape.dislike;
        if cost >= limit || !self.is_free(&area) {
            return;
        }
        cost += SHADED * self.shaded(&area) + MISTAKEN * self.nearer_points(anchor.spot, &area) as f64;
        if cost < limit {
            cost += self.leader_cost(anchor.spot, &area);
        }
        if cost < limit {
            cost += 1.4 * self.crossing(&area.grown(OFF_LINES));
        }
        if cost < limit {
            let found = Found {
                area,
                anchor: anchor.spot,
                shape: shape.index,
            };
            *best = Some((cost, found));
        }
    }

    /// What a leader line from an anchor to a label would run over: labels, joints, and lines that do not end at the anchor.
    fn leader_cost(&self, anchor: Spot, area: &Rect) -> f64 {
        let end = nearest(anchor, area);
        let over = |taken: &&Rect| !taken.holds_spot(anchor) && taken.length_inside(anchor, end) > 0.5;
        let covered = self.taken.iter().filter(over).count() as f64;
        let met = self.lines.iter().filter(|(from, to, _)| {
            crosses((anchor, end), (*from, *to)) && off_line(anchor, (*from, *to)) > SAME_SPOT
        });
        let lines: f64 = met.map(|(_, _, weight)| weight).sum();
        LEADER_OVER * covered + LEADER_ACROSS * lines
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
mod tests;
