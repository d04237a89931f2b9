//! Millimetres of a view to pixels of the sheet.

use super::model::{Marker, Shape, View, Wheel};
use crate::sheet::boxes::{Rect, Spot};

/// How far a view reaches (mm, right and up positive on the sheet).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Extent {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) low: f64,
    pub(super) high: f64,
}

/// A marker may widen a view by this share of its size, on one side.
const MARKER_SHARE: f64 = 0.45;
/// A view is at least this large (mm).
const LEAST_SIZE: f64 = 1.0;

impl Extent {
    fn nothing() -> Self {
        let (most, least) = (f64::INFINITY, f64::NEG_INFINITY);
        Self {
            left: most,
            right: least,
            low: most,
            high: least,
        }
    }

    fn meet(&mut self, (right, up): (f64, f64), around: (f64, f64)) {
        self.left = self.left.min(right - around.0);
        self.right = self.right.max(right + around.0);
        self.low = self.low.min(up - around.1);
        self.high = self.high.max(up + around.1);
    }

    pub(super) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(super) fn height(&self) -> f64 {
        self.high - self.low
    }
}

/// Whether a view names a point beyond its left and its right edge.
pub(super) fn names_beyond(view: &View, extent: &Extent) -> (bool, bool) {
    let signs = signs(view);
    let markers = view.layers.iter().flat_map(|layer| &layer.shapes);
    let places = markers.filter_map(|shape| match shape {
        Shape::Marker(marker) => Some(marker.at.0 * signs.0),
        _ => None,
    });
    places.fold((false, false), |(left, right), at| {
        (left || at < extent.left, right || at > extent.right)
    })
}

/// Whether a view names a line that is no part.
pub(super) fn names_lines(view: &View) -> bool {
    let mut shapes = view.layers.iter().flat_map(|layer| &layer.shapes);
    shapes.any(|shape| matches!(shape, Shape::Construction(line) if line.label.is_some()))
}

/// Signs that turn a view's numbers into right and up on the sheet.
pub(super) fn signs(view: &View) -> (f64, f64) {
    let sign = |reversed: bool| if reversed { -1.0 } else { 1.0 };
    (sign(view.horizontal.reversed), sign(view.vertical.reversed))
}

/// Reach of a view: its parts, its measured places, the ground, places asked for, and markers that are not too far off.
pub(super) fn extent(view: &View) -> Extent {
    let signs = signs(view);
    let turned = |place: (f64, f64)| (place.0 * signs.0, place.1 * signs.1);
    let mut extent = Extent::nothing();
    let shapes = || view.layers.iter().flat_map(|layer| &layer.shapes);
    for shape in shapes() {
        match shape {
            Shape::Bar(bar) => [bar.from, bar.to]
                .map(turned)
                .into_iter()
                .for_each(|at| extent.meet(at, (0.0, 0.0))),
            Shape::Joint(joint) => extent.meet(turned(joint.at), (0.0, 0.0)),
            Shape::Wheel(wheel) => extent.meet(turned(wheel.centre()), wheel.half_size()),
            Shape::Dimension(dimension) => {
                [dimension.from, dimension.to]
                    .map(turned)
                    .into_iter()
                    .for_each(|at| extent.meet(at, (0.0, 0.0)));
            }
            Shape::Outline(outline) => {
                let places = outline.places.iter().copied().map(turned);
                places.for_each(|at| extent.meet(at, (0.0, 0.0)));
            }
            Shape::Ground(_) | Shape::Construction(_) | Shape::Marker(_) => {}
        }
    }
    for place in &view.reaches {
        extent.meet(turned(*place), (0.0, 0.0));
    }
    for shape in shapes() {
        if let Shape::Ground(height) = shape {
            extent.low = extent.low.min(height * signs.1);
            extent.high = extent.high.max(height * signs.1);
        }
    }
    let core = extent;
    for shape in shapes() {
        if let Shape::Marker(Marker { at, .. }) = shape {
            let (right, up) = turned(*at);
            let (aside, above) = (core.width() * MARKER_SHARE, core.height() * MARKER_SHARE);
            let near = right > core.left - aside
                && right < core.right + aside
                && up > core.low - above
                && up < core.high + above;
            if near {
                extent.meet((right, up), (0.0, 0.0));
            }
        }
    }
    let (aside, above) = (
        (LEAST_SIZE - extent.width()).max(0.0) / 2.0,
        (LEAST_SIZE - extent.height()).max(0.0) / 2.0,
    );
    Extent {
        left: extent.left - aside,
        right: extent.right + aside,
        low: extent.low - above,
        high: extent.high + above,
    }
}

impl Wheel {
    pub(super) fn centre(&self) -> (f64, f64) {
        match self {
            Self::Edge { centre, .. } | Self::Round { centre, .. } => *centre,
        }
    }

    /// Half the width and height of the upright box round the outline (mm).
    pub(super) fn half_size(&self) -> (f64, f64) {
        match self {
            Self::Round { radius, .. } => (*radius, *radius),
            Self::Edge {
                radius, width, plane, ..
            } => {
                let length = plane.0.hypot(plane.1);
                let (across, along) = ((plane.0 / length).abs(), (plane.1 / length).abs());
                (
                    across * radius + along * width / 2.0,
                    along * radius + across * width / 2.0,
                )
            }
        }
    }
}

/// A view placed on the sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Projection {
    /// Pixels per millimetre.
    pub(super) scale: f64,
    pub(super) signs: (f64, f64),
    /// Pixel of the view's zero.
    pub(super) origin: Spot,
    /// Pixels the view's parts take.
    pub(super) content: Rect,
    /// Pixels its labels may take as well.
    pub(super) cell: Rect,
}

impl Projection {
    pub(super) fn at(&self, place: (f64, f64)) -> Spot {
        (
            self.origin.0 + place.0 * self.signs.0 * self.scale,
            self.origin.1 - place.1 * self.signs.1 * self.scale,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::super::model::{Direction, Joint, Layer, Pose};
    use super::*;

    #[test]
    fn a_reversed_direction_runs_to_the_left() {
        let joint = |at| Shape::Joint(Joint { at, label: None });
        let mut view = View::new("Side view", Direction::reversed("forward"), Direction::new("up"));
        let shapes = vec![joint((-100.0, 0.0)), joint((300.0, 200.0))];
        view.layers = vec![Layer {
            pose: Pose::Main,
            name: String::new(),
            shapes,
        }];
        let found = extent(&view);
        assert_eq!(
            (found.left, found.right, found.low, found.high),
            (-300.0, 100.0, 0.0, 200.0)
        );
    }

    #[test]
    fn a_leaning_wheel_reaches_further_out() {
        let lean = 0.1_f64;
        let wheel = Wheel::Edge {
            centre: (0.0, 0.0),
            radius: 300.0,
            width: 200.0,
            plane: (lean.sin(), lean.cos()),
        };
        let (aside, above) = wheel.half_size();
        assert!((aside - (300.0 * lean.sin() + 100.0 * lean.cos())).abs() < 1e-9);
        assert!((above - (300.0 * lean.cos() + 100.0 * lean.sin())).abs() < 1e-9);
    }
}
