//! Zones: tint and hatching.

use super::canvas::{Canvas, Stroke};
use super::model::BandKind;
use crate::sheet::PictureError;
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::colour::{Colour, GREEN, RUST, SLATE};

/// Which way hatching leans.
#[derive(Debug, Clone, Copy)]
enum Lean {
    Rising,
    Falling,
}

/// Draws a zone's ground.
pub(super) fn draw(canvas: &mut Canvas<'_>, area: &Rect, kind: BandKind) -> Result<(), PictureError> {
    match kind {
        BandKind::Wanted => canvas.fill_rect(area, GREEN.tint(0.13), 1.0),
        BandKind::Care => {
            canvas.fill_rect(area, RUST.tint(0.10), 1.0)?;
            hatch(canvas, area, 13.0, Lean::Rising, RUST.tint(0.45))
        }
        BandKind::Barred => {
            canvas.fill_rect(area, SLATE.tint(0.16), 1.0)?;
            hatch(canvas, area, 10.0, Lean::Rising, SLATE.tint(0.55))?;
            hatch(canvas, area, 10.0, Lean::Falling, SLATE.tint(0.55))
        }
    }
}

fn hatch(
    canvas: &mut Canvas<'_>,
    area: &Rect,
    spacing: f64,
    lean: Lean,
    colour: Colour,
) -> Result<(), PictureError> {
    for (from, to) in hatch_lines(area, spacing, lean) {
        canvas.line(&[from, to], Stroke::solid(colour, 0.8))?;
    }
    Ok(())
}

/// Lines at 45 degrees, `spacing` apart along the horizontal, in step with those of neighbouring zones.
fn hatch_lines(area: &Rect, spacing: f64, lean: Lean) -> Vec<(Spot, Spot)> {
    let rise = area.height();
    let first = ((area.left - rise + sum(area, lean)) / spacing).ceil() as i64;
    let last = ((area.right + sum(area, lean)) / spacing).floor() as i64;
    (first..=last)
        .filter_map(|index| {
            let left = index as f64 * spacing - sum(area, lean);
            let (start, end) = match lean {
                Lean::Rising => (area.bottom, area.top),
                Lean::Falling => (area.top, area.bottom),
            };
            area.clip((left, start), (left + rise, end))
        })
        .collect()
}

/// Shift that keeps hatching of equal lean in step: lines of one lean share x plus or minus y.
fn sum(area: &Rect, lean: Lean) -> f64 {
    match lean {
        Lean::Rising => area.bottom,
        Lean::Falling => -area.top,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatching_fills_a_zone_and_stays_inside() {
        let area = Rect::new(13.0, 7.0, 113.0, 57.0);
        for lean in [Lean::Rising, Lean::Falling] {
            let lines = hatch_lines(&area, 10.0, lean);
            // Starting points every 10 along 100 of width and 50 of height.
            assert!((14..=16).contains(&lines.len()), "{}", lines.len());
            for (from, to) in lines {
                assert!(area.grown(1e-9).holds_spot(from) && area.grown(1e-9).holds_spot(to));
                assert!(((to.0 - from.0).abs() - (to.1 - from.1).abs()).abs() < 1e-9);
            }
        }
    }
}
