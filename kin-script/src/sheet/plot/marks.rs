//! Labels inside a panel: zones, marked points, and the numbers where curves begin.

use super::beside::{Part, start_value};
use super::check::ordered;
use super::layout::PanelPlan;
use super::margin::LABEL;
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::place::{Placer, leader_end};
use crate::sheet::text::{Fitted, HALF_HEIGHT, LEADING, clean, fit};

/// A label with its place inside a panel.
#[derive(Debug, Clone)]
pub(super) struct InsideLabel {
    pub(super) words: Fitted,
    pub(super) area: Rect,
    /// A thin line from the marked point, where the label had to move away from it.
    pub(super) leader: Option<(Spot, Spot)>,
}

/// Radius of a marked point (CSS pixels).
pub(super) const DOT: f64 = 4.0;
/// Clearance of a label from its point (CSS pixels).
const CLEARANCE: f64 = 7.0;
/// With more curves the numbers at their beginnings would be taken for one another's.
const MOST_STARTS: usize = 4;
/// Points of a curve are this much apart at most for the search of room (CSS pixels).
const COARSE: f64 = 3.0;

/// Finds room for the labels inside a panel. Those without it are returned as well: they go beside.
pub(super) fn place(
    plan: &PanelPlan<'_>,
    outside: &[Part],
    lines_down: &[f64],
) -> (Vec<InsideLabel>, Vec<Part>) {
    let mut placer = obstacles(plan, lines_down);
    let (mut labels, mut left_over) = (Vec::new(), Vec::new());
    for (index, mark) in plan
        .panel
        .marks
        .iter()
        .enumerate()
        .filter(|(_, mark)| is_shown(plan, mark.at))
    {
        let spot = (plan.x.at(mark.at.0), plan.y.at(mark.at.1));
        placer.take(Rect::around(spot, 2.0 * DOT + 2.0, 2.0 * DOT + 2.0));
        if outside.contains(&Part::Mark(index)) || clean(&mark.label).is_empty() {
            continue;
        }
        let words = fit(&mark.label, LABEL, (plan.area.width() * 0.45).min(190.0), 2);
        match placer.place(spot, size(&words), CLEARANCE) {
            Some(area) => {
                let leader = leader_end(spot, &area, 2.2 * CLEARANCE).map(|end| (spot, end));
                labels.push(InsideLabel { words, area, leader });
            }
            None => left_over.push(Part::Mark(index)),
        }
    }
    for (index, band) in plan.panel.bands.iter().enumerate() {
        if outside.contains(&Part::Band(index)) || clean(&band.label).is_empty() {
            continue;
        }
        match zone_label(plan, &placer, index) {
            Some(label) => {
                placer.take(label.area);
                labels.push(label);
            }
            None => left_over.push(Part::Band(index)),
        }
    }
    let starts: Vec<(Spot, String)> = (0..plan.panel.series.len())
        .filter_map(|index| start_value(plan, index))
        .collect();
    if starts.len() > MOST_STARTS {
        return (labels, left_over);
    }
    starts.iter().for_each(|(spot, _)| placer.name_point(*spot));
    // A number in a zone that its curve has not reached would say that it has.
    let zones = (0..plan.panel.bands.len()).filter_map(|index| zone_area(plan, index));
    for zone in zones.filter(|zone| !starts.iter().any(|(spot, _)| zone.holds_spot(*spot))) {
        placer.take(zone);
    }
    // The axis carries the numbers as well: without room for each right at its own curve, all are left out.
    let placed: Option<Vec<InsideLabel>> = starts
        .into_iter()
        .map(|(spot, text)| {
            let words = fit(&text, LABEL, plan.area.width(), 1);
            let area = placer.place_beside(spot, size(&words), 4.0)?;
            Some(InsideLabel {
                words,
                area,
                leader: None,
            })
        })
        .collect();
    labels.extend(placed.into_iter().flatten());
    (labels, left_over)
}

/// Whether a marked point lies within the ranges shown.
pub(super) fn is_shown(plan: &PanelPlan<'_>, at: (f64, f64)) -> bool {
    plan.x.holds(at.0) && plan.y.holds(at.1)
}

/// The visible part of a zone of the panel's axis.
pub(super) fn zone_area(plan: &PanelPlan<'_>, index: usize) -> Option<Rect> {
    let (from, to) = ordered(plan.panel.bands.get(index)?);
    let edge = |value: f64| plan.y.at(value).clamp(plan.area.top, plan.area.bottom);
    let area = Rect::new(plan.area.left, edge(to), plan.area.right, edge(from));
    (area.height() > 0.5).then_some(area)
}

fn size(words: &Fitted) -> (f64, f64) {
    let width = words
        .lines
        .iter()
        .map(|line| LABEL.width(line))
        .fold(0.0, f64::max);
    let steps = words.lines.len().saturating_sub(1) as f64 * LEADING;
    (width, LABEL.size * (steps + 2.0 * HALF_HEIGHT))
}

fn obstacles(plan: &PanelPlan<'_>, lines_down: &[f64]) -> Placer {
    let area = plan.area;
    let mut placer = Placer::new(area.grown(-3.0));
    for piece in plan.curves.iter().flatten() {
        let mut from = piece.first().copied();
        for point in piece {
            if let Some(start) = from.filter(|start| crate::sheet::boxes::distance(*start, *point) >= COARSE)
            {
                placer.avoid(start, *point, 1.0);
                from = Some(*point);
            }
        }
        if let (Some(start), Some(end)) = (from, piece.last()) {
            placer.avoid(start, *end, 1.0);
        }
    }
    for limit in plan.panel.limits.iter().filter(|limit| plan.y.holds(limit.at)) {
        let y = plan.y.at(limit.at);
        placer.avoid((area.left, y), (area.right, y), 0.8);
    }
    for x in lines_down {
        placer.avoid((*x, area.top), (*x, area.bottom), 0.8);
    }
    placer
}

/// Room in a zone that no curve or line crosses, from the left, or none.
fn zone_label(plan: &PanelPlan<'_>, placer: &Placer, index: usize) -> Option<InsideLabel> {
    let zone = zone_area(plan, index)?;
    let words = fit(&plan.panel.bands.get(index)?.label, LABEL, zone.width() - 20.0, 1);
    let (width, height) = size(&words);
    if words.whole.is_some() || zone.height() < height + 3.0 {
        return None;
    }
    let (x_room, y_room) = (zone.width() - width - 16.0, zone.height() - height - 8.0);
    let heights: &[f64] = if y_room > 2.0 * height {
        &[0.5, 0.0, 1.0, 0.25, 0.75]
    } else {
        &[0.5]
    };
    for down in heights {
        for across in [0.0, 1.0, 0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875] {
            let middle = (
                zone.left + 8.0 + across * x_room + width / 2.0,
                zone.top + 4.0 + down * y_room.max(0.0) + height / 2.0 + y_room.min(0.0) / 2.0,
            );
            let area = Rect::around(middle, width, height);
            if placer.is_free(&area) && placer.crossing(&area.grown(3.0)) == 0.0 {
                return Some(InsideLabel {
                    words,
                    area,
                    leader: None,
                });
            }
        }
    }
    None
}
