//! Solids in place: each piece is a core with a radius, and the core follows the suspension.

use super::anchor::{Anchor, Instant};
use crate::geometry::{Core, Cuboid, Disc, HalfSpace, Segment};
use crate::numeric::real::{WithRate, fixed, length, rate, value};
use nalgebra::{Matrix3, Unit, Vector3};

/// How far from its centre the points are taken that show the directions of a box or disc (mm).
pub(super) const TIP_MM: f64 = 100.0;

/// Where a round part lies on the line between two mounts (mm from them).
#[derive(Debug, Clone, Copy)]
pub(super) enum Stretch {
    /// From seat to seat.
    Between {
        /// From the upper mount to the upper end.
        from_upper: f64,
        /// From the lower mount to the lower end.
        from_lower: f64,
    },
    /// A fixed length that hangs on the upper mount.
    HangsOnUpper {
        /// From the upper mount to the upper end.
        from_upper: f64,
        /// Its length.
        length: f64,
    },
    /// A fixed length that stands on the lower mount.
    StandsOnLower {
        /// From the lower mount to the lower end.
        from_lower: f64,
        /// Its length.
        length: f64,
    },
}

/// The form of a piece, with the points that it follows.
#[derive(Debug, Clone)]
pub(super) enum Form {
    /// Between two points, short of each of them (mm).
    Rod { ends: [Anchor; 2], short_of: [f64; 2] },
    /// On the line of a damper, upper end first.
    AlongDamper { mounts: [Anchor; 2], stretch: Stretch },
    /// A box: its centre, and points along its three axes.
    Cuboid {
        centre: Anchor,
        tips: Box<[Anchor; 3]>,
        half: Vector3<f64>,
    },
    /// A disc: its centre, and a point on its axis.
    Disc {
        centre: Anchor,
        tip: Anchor,
        radius: f64,
        /// Whether the radius is that of the description's wheel.
        of_wheel: bool,
    },
    /// What lies behind a plane of the body.
    HalfSpace(HalfSpace),
}

/// A core with a radius around it (mm).
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub(super) form: Form,
    pub(super) radius: f64,
}

/// How fast a core goes, per mm along the line of motion.
#[derive(Debug, Clone, Copy)]
pub(super) enum Rates {
    Still,
    Segment([Vector3<f64>; 2]),
    Cuboid {
        centre: Vector3<f64>,
        axes: Matrix3<f64>,
    },
    Disc {
        centre: Vector3<f64>,
        axis: Vector3<f64>,
    },
}

/// A core where it is at one place of a line of motion.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed {
    pub(super) core: Core,
    pub(super) rates: Rates,
}

impl Piece {
    /// Whether nothing moves it.
    pub(super) fn stands(&self) -> bool {
        match &self.form {
            Form::Rod { ends, .. } => ends.iter().all(Anchor::stands),
            Form::AlongDamper { mounts, .. } => mounts.iter().all(Anchor::stands),
            Form::Cuboid { centre, .. } | Form::Disc { centre, .. } => centre.stands(),
            Form::HalfSpace(_) => true,
        }
    }

    /// Where it is at an instant.
    pub(super) fn place(&self, instant: &Instant) -> Placed {
        let mut placed = self.place_by(|anchor| anchor.at(instant));
        if self.stands() {
            placed.rates = Rates::Still;
        }
        placed
    }

    /// Where it is when its points are where `at` says, with the rates that they have there.
    #[inline]
    pub(super) fn place_by(&self, at: impl Fn(&Anchor) -> Vector3<WithRate>) -> Placed {
        match &self.form {
            Form::Rod { ends, short_of } => rod(&ends.each_ref().map(&at), short_of),
            Form::AlongDamper { mounts, stretch } => along_damper(&mounts.each_ref().map(&at), stretch),
            Form::Cuboid { centre, tips, half } => {
                let centre = at(centre);
                let axes = tips
                    .each_ref()
                    .map(|tip| (at(tip) - centre) / WithRate::from_re(TIP_MM));
                let columns = axes.each_ref().map(value);
                Placed {
                    core: Core::Cuboid(Cuboid {
                        centre: value(&centre),
                        axes: Matrix3::from_columns(&columns),
                        half: *half,
                    }),
                    rates: Rates::Cuboid {
                        centre: rate(&centre),
                        axes: Matrix3::from_columns(&axes.each_ref().map(rate)),
                    },
                }
            }
            Form::Disc {
                centre, tip, radius, ..
            } => {
                let centre = at(centre);
                let axis = (at(tip) - centre) / WithRate::from_re(TIP_MM);
                Placed {
                    core: Core::Disc(Disc {
                        centre: value(&centre),
                        axis: Unit::new_normalize(value(&axis)),
                        radius: *radius,
                    }),
                    rates: Rates::Disc {
                        centre: rate(&centre),
                        axis: rate(&axis),
                    },
                }
            }
            Form::HalfSpace(half_space) => Placed {
                core: Core::HalfSpace(*half_space),
                rates: Rates::Still,
            },
        }
    }

    /// The point that shows a direction seen from `centre`.
    pub(super) fn tip(centre: &Vector3<f64>, direction: &Vector3<f64>) -> Vector3<f64> {
        centre + direction * TIP_MM
    }
}

fn segment(ends: [Vector3<WithRate>; 2]) -> Placed {
    let [start, end] = ends.each_ref().map(value);
    Placed {
        core: Core::Segment(Segment { start, end }),
        rates: Rates::Segment(ends.each_ref().map(rate)),
    }
}

fn rod([from, to]: &[Vector3<WithRate>; 2], short_of: &[f64; 2]) -> Placed {
    if *short_of == [0.0; 2] {
        return segment([*from, *to]);
    }
    let along = direction(from, to);
    segment([
        from + along * WithRate::from_re(short_of[0]),
        to - along * WithRate::from_re(short_of[1]),
    ])
}

fn along_damper([upper, lower]: &[Vector3<WithRate>; 2], stretch: &Stretch) -> Placed {
    let down = direction(upper, lower);
    let below = |distance: f64| upper + down * WithRate::from_re(distance);
    let above = |distance: f64| lower - down * WithRate::from_re(distance);
    segment(match *stretch {
        Stretch::Between {
            from_upper,
            from_lower,
        } => [below(from_upper), above(from_lower)],
        Stretch::HangsOnUpper { from_upper, length } => [below(from_upper), below(from_upper + length)],
        Stretch::StandsOnLower { from_lower, length } => [above(from_lower + length), above(from_lower)],
    })
}

fn direction(from: &Vector3<WithRate>, to: &Vector3<WithRate>) -> Vector3<WithRate> {
    let span = to - from;
    let length = length(&span);
    if length.re > 0.0 {
        span / length
    } else {
        fixed(&Vector3::zeros())
    }
}

impl Placed {
    /// Rate of the material point that is at `point` now.
    #[inline]
    pub(super) fn rate_at(&self, point: &Vector3<f64>) -> Vector3<f64> {
        match (&self.core, &self.rates) {
            (Core::Segment(segment), Rates::Segment([start, end])) => {
                start + (end - start) * segment.share_at(point)
            }
            (Core::Cuboid(cuboid), Rates::Cuboid { centre, axes }) => {
                centre + axes * cuboid.axes.tr_mul(&(point - cuboid.centre))
            }
            (Core::Disc(disc), Rates::Disc { centre, axis }) => {
                // The turn that carries the axis along, without spin about it.
                centre + disc.axis.cross(axis).cross(&(point - disc.centre))
            }
            _ => Vector3::zeros(),
        }
    }

    /// The greatest rate of any of its points.
    pub(super) fn speed(&self) -> f64 {
        match (&self.core, &self.rates) {
            (_, Rates::Segment([start, end])) => start.norm_squared().max(end.norm_squared()).sqrt(),
            (Core::Cuboid(cuboid), Rates::Cuboid { centre, axes }) => {
                let turning = (0..3).map(|axis| axes.column(axis).norm() * cuboid.half[axis]);
                centre.norm() + turning.sum::<f64>()
            }
            (Core::Disc(disc), Rates::Disc { centre, axis }) => centre.norm() + axis.norm() * disc.radius,
            _ => 0.0,
        }
    }
}
