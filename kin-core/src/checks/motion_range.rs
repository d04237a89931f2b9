//! How far the wheels and the rack move in a check, and the worst place within that.

use super::extreme::{Extreme, Lattice, Place};
use super::moving_parts::{Mover, Standing};
use super::{Sentence, Stopper, StrokeQuestion, check_axle_stroke, check_corner_stroke};
use crate::Error;
use crate::pickups::{Measured, Quantity, Stops, Wanted, length_within};
use crate::pose::{PoseError, Reach};
use serde::{Deserialize, Serialize};

/// Distance between samples (mm of travel or rack): a quarter of a wheel's travel at most, since what a linkage does
/// bends over hundreds of millimetres. Between samples the worst place is searched for.
const SAMPLE_MM: f64 = 8.0;
/// How close to the limit of reach a search goes (mm): rates are infinite at the limit itself.
const SHORT_OF_LIMIT_MM: f64 = 1e-6;
/// Travels closer than this (mm) are told as one: where something is flat, the place of its greatest is no sharper.
const SAME_TRAVEL_MM: f64 = 1e-3;
/// Travel and rack beyond this (mm) are taken for a wrong unit.
const FARTHEST_MM: f64 = 500.0;

/// How far the wheels and the rack move.
///
/// What is absent is taken from the description: the first of the damper, the suspension's own stop, a strap and the
/// linkage that ends the travel, or else the travel wanted. An axle takes each of its wheels through all of it, so that
/// one wheel alone and roll are included.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MotionRange {
    /// Wheel bump from ride height (mm, positive).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bump: Option<f64>,
    /// Wheel droop from ride height (mm, positive).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub droop: Option<f64>,
    /// Rack displacement to either lock (mm, positive); straight ahead when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rack: Option<f64>,
}

impl Measured for MotionRange {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [&mut self.bump, &mut self.droop, &mut self.rack]
            .into_iter()
            .flatten()
        {
            visitor(length, Quantity::Length);
        }
    }
}

/// Where the wheels are, counted from ride height (mm, bump positive).
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum WheelPlace {
    /// A corner: travel of its wheel and displacement of the rack (+Y positive).
    Corner {
        /// Travel of the wheel.
        travel: f64,
        /// Displacement of the rack.
        rack: f64,
    },
    /// An axle: travels of both wheels.
    Axle {
        /// Travel of the left wheel.
        left: f64,
        /// Travel of the right wheel.
        right: f64,
    },
}

impl WheelPlace {
    /// Travel of the left wheel, or of a corner's wheel (mm from ride height).
    #[must_use]
    pub fn left(&self) -> f64 {
        match *self {
            Self::Corner { travel, .. } => travel,
            Self::Axle { left, .. } => left,
        }
    }

    /// Travel of the right wheel, or of a corner's wheel (mm from ride height).
    #[must_use]
    pub fn right(&self) -> f64 {
        match *self {
            Self::Corner { travel, .. } => travel,
            Self::Axle { right, .. } => right,
        }
    }

    /// Rack displacement (mm, +Y positive); an axle has none.
    #[must_use]
    pub fn rack(&self) -> f64 {
        match *self {
            Self::Corner { rack, .. } => rack,
            Self::Axle { .. } => 0.0,
        }
    }

    /// The travel where one number says it all: without rack, or with both wheels together.
    #[must_use]
    pub fn travel(&self) -> Option<f64> {
        match *self {
            Self::Corner { travel, .. } => Some(travel),
            Self::Axle { left, right } => ((left - right).abs() < SAME_TRAVEL_MM).then_some(left),
        }
    }

    /// The place in words, such as "at 40.0 mm of bump".
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        self.tell(Sentence::default())
    }

    /// The place added to a sentence.
    pub(crate) fn tell(&self, sentence: Sentence) -> Sentence {
        match *self {
            Self::Corner { travel, rack } => {
                let sentence = tell_travel(sentence.words("at "), travel);
                if rack == 0.0 {
                    sentence
                } else {
                    let side = if rack > 0.0 { "left" } else { "right" };
                    sentence
                        .words(" with the rack ")
                        .length(rack.abs())
                        .words(format!(" to the {side}"))
                }
            }
            Self::Axle { left, right } if (left - right).abs() < SAME_TRAVEL_MM => {
                tell_travel(sentence.words("with both wheels at "), left)
            }
            Self::Axle { left, right } => {
                let sentence = tell_travel(sentence.words("with the left wheel at "), left);
                tell_travel(sentence.words(" and the right wheel at "), right)
            }
        }
    }
}

fn tell_travel(sentence: Sentence, travel: f64) -> Sentence {
    match travel {
        travel if travel.abs() < 1e-6 => sentence.words("ride height"),
        travel if travel > 0.0 => sentence.length(travel).words(" of bump"),
        travel => sentence.length(-travel).words(" of droop"),
    }
}

/// All places that the wheels and the rack come to, with the parts at each sample.
pub(crate) struct Motions<'a> {
    pub(crate) mover: Mover<'a>,
    /// Travel at ride height, from the pickups as measured (mm).
    pub(crate) ride: f64,
    /// Bump and droop from ride height (mm, both positive).
    pub(crate) bump: f64,
    pub(crate) droop: f64,
    /// The same, every end written out.
    pub(crate) range: MotionRange,
    lattice: Lattice,
    samples: Vec<Standing>,
}

/// The worst of something, and where.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Worst {
    pub(crate) value: f64,
    pub(crate) place: WheelPlace,
    pub(crate) standing: Standing,
}

impl<'a> Motions<'a> {
    pub(crate) fn new(mover: Mover<'a>, range: &MotionRange, question: &'static str) -> Result<Self, Error> {
        for (value, field) in [(range.bump, "bump"), (range.droop, "droop"), (range.rack, "rack")] {
            let advice = "count it from ride height or straight ahead, positive";
            length_within(value.unwrap_or(0.0), field, (0.0, FARTHEST_MM), advice)?;
        }
        let (ride, bump, droop) = travels(&mover, range, question)?;
        let (low, high) = match mover {
            Mover::Corner(_) => {
                let rack = range.rack.unwrap_or(0.0);
                ([-droop, -rack], [bump, rack])
            }
            Mover::Axle(_) if range.rack.is_some_and(|rack| rack != 0.0) => {
                return Err(Error::NotForThisLayout {
                    question: format!("{question}: `rack`"),
                    reason: "a live axle has no rack".into(),
                });
            }
            Mover::Axle(_) => ([-droop, -droop], [bump, bump]),
        };
        let lattice = Lattice::new(low, high, SAMPLE_MM);
        let places = lattice.places();
        let stand = |place: &Place| at(&mover, ride, *place);
        let samples = places.iter().map(stand).collect::<Result<Vec<_>, _>>()?;
        Ok(Self {
            mover,
            ride,
            bump,
            droop,
            range: MotionRange {
                bump: Some(bump),
                droop: Some(droop),
                rack: range.rack,
            },
            lattice,
            samples,
        })
    }

    /// The parts at every sample.
    pub(crate) fn samples(&self) -> &[Standing] {
        &self.samples
    }

    /// The parts with the rack straight ahead, or both wheels together, at a travel from ride height (mm).
    pub(crate) fn at_travel(&self, travel: f64) -> Result<Standing, PoseError> {
        self.mover.at_travel(self.ride + travel)
    }

    /// The greatest value of something over all motion, between the samples too.
    pub(crate) fn greatest(&self, of: impl Fn(&Standing) -> f64) -> Result<Worst, PoseError> {
        let values: Vec<f64> = self.samples.iter().map(&of).collect();
        let extreme = self.lattice.greatest(&values, |place| {
            Ok::<_, PoseError>(of(&at(&self.mover, self.ride, place)?))
        })?;
        let Extreme { value, place } = match extreme {
            Some(extreme) => extreme,
            None => Extreme {
                value: of(&self.at_travel(0.0)?),
                place: [0.0; 2],
            },
        };
        Ok(Worst {
            value,
            place: self.named(place),
            standing: at(&self.mover, self.ride, place)?,
        })
    }

    fn named(&self, place: Place) -> WheelPlace {
        let [first, second] = place;
        match self.mover {
            Mover::Corner(_) => WheelPlace::Corner {
                travel: first,
                rack: second,
            },
            Mover::Axle(_) => WheelPlace::Axle {
                left: first,
                right: second,
            },
        }
    }

    /// On the straight way from ride height to a place: where something first exceeds a limit; none if it never does.
    pub(crate) fn first_beyond(
        &self,
        limit: f64,
        towards: &WheelPlace,
        of: impl Fn(&Standing) -> f64,
    ) -> Result<Option<WheelPlace>, PoseError> {
        let target = match *towards {
            WheelPlace::Corner { travel, rack } => [travel, rack],
            WheelPlace::Axle { left, right } => [left, right],
        };
        let place = |share: f64| target.map(|coordinate| coordinate * share);
        let excess = |share: f64| Ok::<_, PoseError>(of(&at(&self.mover, self.ride, place(share))?) - limit);
        let steps = (target[0].abs().max(target[1].abs()) / SAMPLE_MM).ceil().max(1.0);
        let (mut low, mut high) = (0.0, None);
        for step in 0..=steps as usize {
            let share = step as f64 / steps;
            if excess(share)? > 0.0 {
                high = Some(share);
                break;
            }
            low = share;
        }
        let Some(mut high) = high else { return Ok(None) };
        while high - low > 1e-9 {
            let middle = 0.5 * (low + high);
            if excess(middle)? > 0.0 {
                high = middle;
            } else {
                low = middle;
            }
        }
        Ok(Some(self.named(place(high))))
    }
}

fn at(mover: &Mover<'_>, ride: f64, place: Place) -> Result<Standing, PoseError> {
    match mover {
        Mover::Corner(_) => mover.at(ride + place[0], place[1]),
        Mover::Axle(_) => mover.at(ride + place[0], ride + place[1]),
    }
}

/// How far the wheel hangs down from ride height (mm), where a damper, a stop, a strap or what is wanted says so.
pub(crate) fn full_droop(mover: &Mover<'_>) -> Result<Option<f64>, Error> {
    let (ride, reach, stops, wanted) = described(mover)?;
    let end = ends_by_damper(mover)?[1].or(own_end(1, stops, &wanted));
    let limit = reach
        .lowest
        .map_or(f64::INFINITY, |limit| ride - limit - SHORT_OF_LIMIT_MM);
    Ok(end.map(|end| end.min(limit).max(0.0)))
}

/// Ride height (mm of travel), the limits of reach, the stops, and the travel wanted.
fn described<'a>(mover: &Mover<'a>) -> Result<(f64, Reach, &'a Stops, Wanted), Error> {
    Ok(match mover {
        Mover::Corner(corner) => (
            corner.ride_travel()?,
            corner.reach(),
            &corner.pickups().stops,
            corner.pickups().wanted.unwrap_or_default(),
        ),
        Mover::Axle(axle) => (
            axle.ride_travel()?,
            axle.reach(),
            &axle.pickups().stops,
            axle.pickups().wanted.unwrap_or_default(),
        ),
    })
}

/// Ride height, bump and droop: as given, or as the description ends them.
fn travels(mover: &Mover<'_>, range: &MotionRange, question: &'static str) -> Result<(f64, f64, f64), Error> {
    let (ride, reach, stops, wanted) = described(mover)?;
    if let (Some(bump), Some(droop)) = (range.bump, range.droop) {
        return Ok((ride, bump, droop));
    }
    let ends = ends_by_damper(mover)?;
    let limit = [
        reach.highest.map(|limit| limit - ride - SHORT_OF_LIMIT_MM),
        reach.lowest.map(|limit| ride - limit - SHORT_OF_LIMIT_MM),
    ];
    let mut found = [range.bump, range.droop];
    for (place, field) in ["bump", "droop"].into_iter().enumerate() {
        let from_description = ends[place].or(own_end(place, stops, &wanted));
        let ended = match (from_description, limit[place]) {
            (Some(end), Some(limit)) => Some(end.min(limit)),
            (end, _) => end,
        };
        let Some(end) = found[place].or(ended) else {
            return Err(Error::Missing {
                question,
                field,
                advice: "without a damper or a stop, say how far the wheel travels from ride height",
            });
        };
        found[place] = Some(end.max(0.0));
    }
    Ok((ride, found[0].unwrap_or(0.0), found[1].unwrap_or(0.0)))
}

/// Where a damper, a stop or a strap ends the travel in bump and in droop (mm from ride height).
fn ends_by_damper(mover: &Mover<'_>) -> Result<[Option<f64>; 2], Error> {
    let question = StrokeQuestion::default();
    let strokes = match mover {
        Mover::Corner(corner) if corner.pickups().any_damper().is_some() => {
            vec![check_corner_stroke(corner, &question)?]
        }
        Mover::Axle(axle) if axle.pickups().any_dampers().is_some() => check_axle_stroke(axle, &question)?,
        _ => return Ok([None; 2]),
    };
    let first = |ends: Vec<&(Stopper, Option<f64>)>| {
        ends.into_iter()
            .filter(|(stopper, _)| *stopper != Stopper::Nothing)
            .filter_map(|(_, travel)| *travel)
            .min_by(f64::total_cmp)
    };
    Ok([
        first(strokes.iter().map(|stroke| &stroke.first_in_bump).collect()),
        first(strokes.iter().map(|stroke| &stroke.first_in_droop).collect()),
    ])
}

/// The stop given, or the travel wanted.
fn own_end(place: usize, stops: &Stops, wanted: &Wanted) -> Option<f64> {
    match place {
        0 => stops.bump.or(wanted.bump),
        _ => stops.droop.or(wanted.droop),
    }
}
