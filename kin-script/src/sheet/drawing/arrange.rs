//! Where the views stand, and the scale they share.

use super::dimension_rows::{ROW, Rows};
use super::model::{Drawing, View};
use super::projection::{Extent, Projection, extent, names_beyond, names_lines, signs};
use crate::sheet::boxes::Rect;

/// Free edge of the picture (CSS pixels).
pub(super) const EDGE: f64 = 14.0;
/// Height of a view's heading (CSS pixels).
pub(super) const HEAD: f64 = 50.0;
/// Room for labels round the parts: at the sides, above and below (CSS pixels).
const SIDE: f64 = 62.0;
const ABOVE: f64 = 20.0;
const BELOW: f64 = 20.0;
/// More of it where the name of a point beyond the edge, or of a line over the ground, must stand there.
const BEYOND: f64 = 56.0;
const FOR_LINES: f64 = 26.0;
/// Between two columns.
const GUTTER: f64 = 18.0;
/// Below this width views are stacked instead of standing side by side.
const NARROW: f64 = 620.0;
/// Greatest height of all parts together, over the width of the picture.
const TALLEST: f64 = 1.25;
/// Narrowest column: the heading of its view needs it (CSS pixels).
const LEAST_COLUMN: f64 = 160.0;
/// Least room for the parts of all columns together (CSS pixels): with less, the picture is wider than asked.
const LEAST_ROOM: f64 = 80.0;

/// The views in their places.
pub(super) struct Arranged {
    pub(super) width: f64,
    pub(super) bottom: f64,
    /// Pixels per millimetre.
    pub(super) scale: f64,
    pub(super) projections: Vec<Projection>,
    pub(super) rows: Vec<Rows>,
}

/// Places the views below `top`.
pub(super) fn arrange(drawing: &Drawing, top: f64) -> Arranged {
    let grid = Grid::new(drawing);
    // With every dimension in a row of its own the scale comes out smallest; how many rows suffice is settled there.
    let alone: Vec<Rows> = drawing.views.iter().map(Rows::one_each).collect();
    let first = grid.scale(drawing.width, &alone);
    let rows: Vec<Rows> = drawing
        .views
        .iter()
        .map(|view| Rows::packed(view, first))
        .collect();
    let scale = grid.scale(drawing.width, &rows);
    grid.place(drawing, rows, scale, top)
}

/// Column and row of each view, and how far each column and row reaches (mm).
struct Grid {
    cells: Vec<(usize, usize)>,
    /// Reach of each view together with those it is aligned with.
    extents: Vec<Extent>,
    widths: Vec<f64>,
    heights: Vec<f64>,
    /// Views that name a point beyond their left edge, beyond their right one, and a line.
    beyond: Vec<(bool, bool)>,
    lines: Vec<bool>,
}

impl Grid {
    fn new(drawing: &Drawing) -> Self {
        let cells = cells(drawing);
        let own: Vec<Extent> = drawing.views.iter().map(extent).collect();
        let extents: Vec<Extent> = (0..cells.len())
            .map(|index| aligned(&drawing.views, &cells, &own, index))
            .collect();
        let largest =
            |count: usize, key: fn(&(usize, usize)) -> usize, size: fn(&Extent) -> f64| -> Vec<f64> {
                (0..count)
                    .map(|line| {
                        let members = cells.iter().zip(&extents).filter(|(cell, _)| key(cell) == line);
                        members.map(|(_, extent)| size(extent)).fold(0.0, f64::max)
                    })
                    .collect()
            };
        let columns = cells.iter().map(|cell| cell.0 + 1).max().unwrap_or(0);
        let rows = cells.iter().map(|cell| cell.1 + 1).max().unwrap_or(0);
        let widths = largest(columns, |cell| cell.0, Extent::width);
        let heights = largest(rows, |cell| cell.1, Extent::height);
        Self {
            cells,
            extents,
            widths,
            heights,
            beyond: drawing
                .views
                .iter()
                .zip(&own)
                .map(|(view, own)| names_beyond(view, own))
                .collect(),
            lines: drawing.views.iter().map(names_lines).collect(),
        }
    }

    /// Pixels beside the parts of a column: left, right.
    fn beside(&self, column: usize, width: f64, rows: &[Rows]) -> (f64, f64) {
        let members = || self.cells.iter().zip(rows).filter(|(cell, _)| cell.0 == column);
        let side = SIDE.min(width * 0.08);
        let left = members()
            .map(|(_, rows)| rows.left as f64 * ROW)
            .fold(0.0, f64::max);
        let right = members()
            .map(|(_, rows)| rows.right as f64 * ROW)
            .fold(0.0, f64::max);
        let named = self
            .cells
            .iter()
            .zip(&self.beyond)
            .filter(|(cell, _)| cell.0 == column);
        let beyond = named.fold((false, false), |sides, (_, own)| {
            (sides.0 || own.0, sides.1 || own.1)
        });
        let more = |is_named: bool| if is_named { BEYOND.min(width * 0.08) } else { 0.0 };
        (side + left + more(beyond.0), side + right + more(beyond.1))
    }

    fn below(&self, row: usize, rows: &[Rows]) -> f64 {
        let members = self.cells.iter().zip(rows).filter(|(cell, _)| cell.1 == row);
        let mut named = self
            .cells
            .iter()
            .zip(&self.lines)
            .filter(|(cell, _)| cell.1 == row);
        let lines = if named.any(|(_, lines)| *lines) {
            FOR_LINES
        } else {
            0.0
        };
        BELOW
            + lines
            + members
                .map(|(_, rows)| rows.below as f64 * ROW)
                .fold(0.0, f64::max)
    }

    /// Pixels across that the parts cannot have.
    fn taken(&self, width: f64, rows: &[Rows]) -> f64 {
        let beside = (0..self.widths.len()).map(|column| self.beside(column, width, rows));
        let gutters = GUTTER * self.widths.len().saturating_sub(1) as f64;
        2.0 * EDGE + gutters + beside.map(|(left, right)| left + right).sum::<f64>()
    }

    /// Pixels per millimetre that fill the width, unless the height forbids it.
    fn scale(&self, width: f64, rows: &[Rows]) -> f64 {
        let room = (width - self.taken(width, rows)).max(LEAST_ROOM);
        let across = room / self.widths.iter().sum::<f64>();
        across.min(TALLEST * width / self.heights.iter().sum::<f64>())
    }

    fn place(&self, drawing: &Drawing, rows: Vec<Rows>, scale: f64, top: f64) -> Arranged {
        let columns = self.columns(drawing.width, &rows, scale);
        let right_edge = columns.last().map_or(EDGE, |(_, right)| *right);
        let mut levels = Vec::new();
        let mut bottom = top;
        for (row, reach) in self.heights.iter().enumerate() {
            let cell_top = bottom + HEAD;
            bottom = cell_top + ABOVE + reach * scale + self.below(row, &rows);
            levels.push((cell_top, bottom));
        }
        let mut projections = Vec::new();
        for ((cell, extent), view) in self.cells.iter().zip(&self.extents).zip(&drawing.views) {
            let (left, right) = columns.get(cell.0).copied().unwrap_or_default();
            let (cell_top, cell_bottom) = levels.get(cell.1).copied().unwrap_or_default();
            let (pad_left, pad_right) = self.beside(cell.0, drawing.width, &rows);
            let (width, height) = (extent.width() * scale, extent.height() * scale);
            let x = (left + pad_left + right - pad_right - width) / 2.0;
            let y = (cell_top + ABOVE + cell_bottom - self.below(cell.1, &rows) - height) / 2.0;
            projections.push(Projection {
                scale,
                signs: signs(view),
                origin: (x - extent.left * scale, y + extent.high * scale),
                content: Rect::new(x, y, x + width, y + height),
                cell: Rect::new(left, cell_top, right, cell_bottom),
            });
        }
        let width = drawing.width.max(right_edge + EDGE).round();
        Arranged {
            width,
            bottom,
            scale,
            projections,
            rows,
        }
    }

    /// Left and right end of each column. A drawing held back by its height leaves its labels more room at the sides.
    fn columns(&self, width: f64, rows: &[Rows], scale: f64) -> Vec<(f64, f64)> {
        let spare = width - self.taken(width, rows) - scale * self.widths.iter().sum::<f64>();
        let more = spare.max(0.0) / self.widths.len().max(1) as f64;
        let mut columns = Vec::new();
        let mut edge = EDGE;
        for (column, reach) in self.widths.iter().enumerate() {
            let (left, right) = self.beside(column, width, rows);
            let end = edge + (left + reach * scale + right + more).max(LEAST_COLUMN);
            columns.push((edge, end));
            edge = end + GUTTER;
        }
        columns
    }
}

/// Column and row of each view: beside an earlier one that shares its vertical direction, below one that shares its
/// horizontal direction, else in a row of its own.
fn cells(drawing: &Drawing) -> Vec<(usize, usize)> {
    let mut cells: Vec<(usize, usize)> = Vec::new();
    for view in &drawing.views {
        let earlier = || drawing.views.iter().zip(&cells);
        let next_row = cells.iter().map(|cell| cell.1 + 1).max().unwrap_or(0);
        let beside = earlier()
            .find(|(other, _)| other.vertical == view.vertical)
            .filter(|_| drawing.width >= NARROW);
        let below = earlier().find(|(other, _)| other.horizontal == view.horizontal);
        let cell = if let Some((_, (_, row))) = beside {
            (
                cells
                    .iter()
                    .filter(|cell| cell.1 == *row)
                    .map(|cell| cell.0 + 1)
                    .max()
                    .unwrap_or(0),
                *row,
            )
        } else if let Some((_, (column, _))) = below {
            (*column, next_row)
        } else {
            (0, next_row)
        };
        cells.push(cell);
    }
    cells
}

/// Reach of a view widened to that of the views it is aligned with.
fn aligned(views: &[View], cells: &[(usize, usize)], own: &[Extent], index: usize) -> Extent {
    let (Some(view), Some(cell), Some(extent)) = (views.get(index), cells.get(index), own.get(index)) else {
        return Extent {
            left: 0.0,
            right: 1.0,
            low: 0.0,
            high: 1.0,
        };
    };
    let mut reach = *extent;
    for ((other, other_cell), other_extent) in views.iter().zip(cells).zip(own) {
        if other_cell.0 == cell.0 && other.horizontal == view.horizontal {
            reach.left = reach.left.min(other_extent.left);
            reach.right = reach.right.max(other_extent.right);
        }
        if other_cell.1 == cell.1 && other.vertical == view.vertical {
            reach.low = reach.low.min(other_extent.low);
            reach.high = reach.high.max(other_extent.high);
        }
    }
    reach
}
