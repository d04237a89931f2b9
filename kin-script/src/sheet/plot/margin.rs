//! Labels beside a panel: the names of curves, lines across and zones, each as near to its own height as the others let it.

use super::canvas::{Canvas, Hold, Lettering, Stroke};
use super::model::BandKind;
use super::zone;
use crate::sheet::PictureError;
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::colour::{AXIS, Colour, INK};
use crate::sheet::text::{Fitted, LEADING, Type};

/// Letters of all labels beside and inside a panel.
pub(super) const LABEL: Type = Type::plain(12.0);
/// From the edge of the panel to the sample, and from its end to the words (CSS pixels).
const TIE: f64 = 16.0;
const SAMPLE: f64 = 26.0;
const GAP: f64 = 6.0;
/// Room of a label without its words.
pub(super) const BESIDE: f64 = TIE + SAMPLE + GAP;
/// Least room between two labels.
const APART: f64 = 3.0;

/// What the sample before a label shows.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sample {
    Line(Stroke),
    Tint(Colour),
    Zone(BandKind),
    Dot,
}

/// One label, before its height is settled.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    /// Height it belongs to (pixels).
    pub(super) height: f64,
    pub(super) words: Fitted,
    pub(super) sample: Sample,
    /// Where what it names ends (pixels across), so that a thin tie joins it.
    pub(super) tied: Option<f64>,
}

impl Entry {
    pub(super) fn room(&self) -> f64 {
        entry_room(&self.words)
    }
}

pub(super) fn entry_room(words: &Fitted) -> f64 {
    words.lines.len().max(1) as f64 * LABEL.size * LEADING + APART
}

/// Middles of labels that want the given heights and need the given rooms, in the same order: none overlap, all lie
/// between `top` and `bottom` if the sum of rooms does, and crowded neighbours share the shift.
pub(super) fn spread(wants: &[(f64, f64)], top: f64, bottom: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wants.len()).collect();
    order.sort_by(|a, b| wants[*a].0.total_cmp(&wants[*b].0));
    // Clusters of touching labels: members, room, and the sum of the starts their members ask for.
    let mut clusters: Vec<(Vec<usize>, f64, f64)> = Vec::new();
    let start = |room: f64, sum: f64, count: usize| (sum / count as f64).min(bottom - room).max(top);
    for index in order {
        let (want, room) = wants[index];
        let mut cluster = (vec![index], room, want - room / 2.0);
        while let Some((members, before_room, before_sum)) = clusters.last() {
            let before_start = start(*before_room, *before_sum, members.len());
            if before_start + before_room <= start(cluster.1, cluster.2, cluster.0.len()) {
                break;
            }
            // Members of the second cluster sit below all of the first: their wishes for the common start move up by it.
            let sum = before_sum + cluster.2 - cluster.0.len() as f64 * before_room;
            let joined = (
                members.iter().chain(&cluster.0).copied().collect(),
                before_room + cluster.1,
                sum,
            );
            cluster = joined;
            clusters.pop();
        }
        clusters.push(cluster);
    }
    let mut middles = vec![0.0; wants.len()];
    for (members, room, sum) in clusters {
        let mut edge = start(room, sum, members.len());
        for index in members {
            middles[index] = edge + wants[index].1 / 2.0;
            edge += wants[index].1;
        }
    }
    middles
}

/// Draws the labels beside a panel.
pub(super) fn draw(canvas: &mut Canvas<'_>, entries: &[Entry], area: &Rect) -> Result<(), PictureError> {
    let wants: Vec<(f64, f64)> = entries.iter().map(|entry| (entry.height, entry.room())).collect();
    let middles = spread(&wants, area.top - 5.0, area.bottom + 5.0);
    for (entry, middle) in entries.iter().zip(middles) {
        let begin = area.right + TIE;
        if let Some(end) = entry.tied {
            if end < area.right {
                let dotted = Stroke {
                    colour: AXIS,
                    width: 0.8,
                    dash: &[1.5, 3.0],
                };
                canvas.line(&[(end, entry.height), (area.right, entry.height)], dotted)?;
            }
            let tie = [
                (area.right, entry.height),
                (area.right + TIE - 4.0, middle),
                (begin, middle),
            ];
            canvas.line(&tie, Stroke::solid(AXIS, 0.7))?;
        }
        draw_sample(canvas, entry.sample, (begin, middle))?;
        let how = Lettering {
            face: LABEL,
            colour: INK,
            hold: Hold::Start,
            upright: false,
        };
        canvas.text(&entry.words, (begin + SAMPLE + GAP, middle), how)?;
    }
    Ok(())
}

fn draw_sample(canvas: &mut Canvas<'_>, sample: Sample, (left, middle): Spot) -> Result<(), PictureError> {
    let swatch = Rect::new(left, middle - 6.0, left + SAMPLE, middle + 6.0);
    match sample {
        Sample::Line(stroke) => canvas.line(&[(left, middle), (left + SAMPLE, middle)], stroke),
        Sample::Tint(colour) => canvas.fill_rect(&swatch, colour, 1.0),
        Sample::Zone(kind) => zone::draw(canvas, &swatch, kind),
        Sample::Dot => canvas.dot((left + SAMPLE / 2.0, middle), 4.0, INK),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_with_room_stay_where_they_belong() {
        assert_eq!(spread(&[(80.0, 16.0), (20.0, 16.0)], 0.0, 100.0), [80.0, 20.0]);
    }

    #[test]
    fn crowded_labels_share_the_shift_and_keep_their_order() {
        assert_eq!(spread(&[(50.0, 16.0), (50.0, 16.0)], 0.0, 100.0), [42.0, 58.0]);
        assert_eq!(
            spread(&[(99.0, 16.0), (98.0, 16.0), (97.0, 16.0)], 0.0, 100.0),
            [92.0, 76.0, 60.0]
        );
    }

    #[test]
    fn labels_never_overlap() {
        for seed in 0..200_u32 {
            let wants: Vec<(f64, f64)> = (0..6_u32)
                .map(|index| {
                    let scattered = (seed * 7919 + index * 104_729 + index * seed * 31) % 1000;
                    (f64::from(scattered) / 5.0, 15.0 + f64::from(index % 3) * 15.0)
                })
                .collect();
            let middles = spread(&wants, 0.0, 200.0);
            let mut spans: Vec<(f64, f64)> = middles
                .iter()
                .zip(&wants)
                .map(|(middle, (_, room))| (middle - room / 2.0, middle + room / 2.0))
                .collect();
            spans.sort_by(|a, b| a.0.total_cmp(&b.0));
            assert!(spans[0].0 >= -1e-9 && spans[5].1 <= 200.0 + 1e-9, "{spans:?}");
            assert!(
                spans.windows(2).all(|pair| pair[0].1 <= pair[1].0 + 1e-9),
                "{spans:?}"
            );
        }
    }
}
