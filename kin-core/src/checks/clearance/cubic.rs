//! Two pieces between two solved positions, on the cubics that have the places and rates of both.

use super::bound::strays;
use super::meeting::{Known, Meeting};
use super::piece::{Placed, Rates};
use crate::geometry::{Core, Cuboid, Disc, Segment};
use nalgebra::{Matrix3, Unit, Vector3};

/// How far to the side of a place the bend of the gap is taken, as a share of the interval.
const BESIDE_SHARE: f64 = 1e-3;

/// Cubics through two solved positions.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cubics {
    from: f64,
    width: f64,
    ends: [[Placed; 2]; 2],
}

impl Cubics {
    /// The cubics between two looks; none where they might stray from the true paths.
    pub(super) fn through(left: &Known, right: &Known) -> Option<Self> {
        let width = right.look.place - left.look.place;
        (!strays(&left.end(), &right.end(), width)).then_some(Self {
            from: left.look.place,
            width,
            ends: [left.bodies, right.bodies],
        })
    }

    fn at(&self, place: f64) -> [Placed; 2] {
        let share = (place - self.from) / self.width;
        let [left, right] = &self.ends;
        [0, 1].map(|body| between(&left[body], &right[body], self.width, share))
    }
}

impl Meeting<'_> {
    /// A look on the cubics; its stop is that of the look near it.
    pub(super) fn on_cubics(&self, cubics: &Cubics, place: f64, near: &Known) -> Option<Known> {
        let bodies = cubics.at(place);
        let look = self.look(place, [&bodies[0], &bodies[1]])?;
        Some(Known {
            stop: near.stop,
            bodies,
            look,
        })
    }

    /// How fast the rate of the gap changes along the line (1/mm); none where the gap does not curve upward.
    pub(super) fn bend(&self, cubics: &Cubics, place: f64) -> Option<f64> {
        let side = BESIDE_SHARE * cubics.width;
        let rate = |place: f64| {
            let bodies = cubics.at(place);
            self.look(place, [&bodies[0], &bodies[1]]).map(|look| look.rate)
        };
        let bend = (rate(place + side)? - rate(place - side)?) / (2.0 * side);
        (bend > 0.0).then_some(bend)
    }
}

/// A core at a share of the way between two places of it.
fn between(start: &Placed, end: &Placed, width: f64, share: f64) -> Placed {
    let path = |places: [Vector3<f64>; 2], rates: [Vector3<f64>; 2]| hermite(places, rates, width, share);
    match (&start.core, &end.core, &start.rates, &end.rates) {
        (Core::Segment(then), Core::Segment(now), Rates::Segment(rates), Rates::Segment(later)) => {
            let (start, start_rate) = path([then.start, now.start], [rates[0], later[0]]);
            let (end, end_rate) = path([then.end, now.end], [rates[1], later[1]]);
            Placed {
                core: Core::Segment(Segment { start, end }),
                rates: Rates::Segment([start_rate, end_rate]),
            }
        }
        (
            Core::Cuboid(then),
            Core::Cuboid(now),
            Rates::Cuboid { centre, axes },
            Rates::Cuboid {
                centre: later,
                axes: turning,
            },
        ) => {
            let (middle, middle_rate) = path([then.centre, now.centre], [*centre, *later]);
            let axis = |axis: usize| {
                let column = |matrix: &Matrix3<f64>| matrix.column(axis).into_owned();
                path(
                    [column(&then.axes), column(&now.axes)],
                    [column(axes), column(turning)],
                )
            };
            let found = [axis(0), axis(1), axis(2)];
            Placed {
                core: Core::Cuboid(Cuboid {
                    centre: middle,
                    axes: Matrix3::from_columns(&found.map(|(axis, _)| axis)),
                    half: then.half,
                }),
                rates: Rates::Cuboid {
                    centre: middle_rate,
                    axes: Matrix3::from_columns(&found.map(|(_, rate)| rate)),
                },
            }
        }
        (
            Core::Disc(then),
            Core::Disc(now),
            Rates::Disc { centre, axis },
            Rates::Disc {
                centre: later,
                axis: turning,
            },
        ) => {
            let (middle, middle_rate) = path([then.centre, now.centre], [*centre, *later]);
            let axes = [then.axis.into_inner(), now.axis.into_inner()];
            let (axis, axis_rate) = path(axes, [*axis, *turning]);
            Placed {
                core: Core::Disc(Disc {
                    centre: middle,
                    axis: Unit::new_normalize(axis),
                    radius: then.radius,
                }),
                rates: Rates::Disc {
                    centre: middle_rate,
                    axis: axis_rate,
                },
            }
        }
        _ => *start,
    }
}

/// Place and rate on the cubic with these ends (Hermite's form).
fn hermite(
    places: [Vector3<f64>; 2],
    rates: [Vector3<f64>; 2],
    width: f64,
    share: f64,
) -> (Vector3<f64>, Vector3<f64>) {
    let span = places[1] - places[0];
    let (s, rest) = (share, 1.0 - share);
    let place =
        places[0] + span * (s * s * (3.0 - 2.0 * s)) + (rates[0] * rest - rates[1] * s) * (width * s * rest);
    let rate = span * (6.0 * s * rest / width)
        + rates[0] * (rest * (1.0 - 3.0 * s))
        + rates[1] * (s * (3.0 * s - 2.0));
    (place, rate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_path_is_reproduced() {
        let path = |t: f64| Vector3::new(t * t * t - t, 2.0 * t * t, 5.0 - t);
        let rate = |t: f64| Vector3::new(3.0 * t * t - 1.0, 4.0 * t, -1.0);
        let (from, width) = (0.5, 2.0);
        let ends = [path(from), path(from + width)];
        let rates = [rate(from), rate(from + width)];
        for share in [0.0, 0.2, 0.7, 1.0] {
            let (place, speed) = hermite(ends, rates, width, share);
            assert!((place - path(from + share * width)).norm() < 1e-13);
            assert!((speed - rate(from + share * width)).norm() < 1e-13);
        }
    }
}
