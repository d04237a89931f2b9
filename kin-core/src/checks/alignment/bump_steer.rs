//! Bump steer about ride height, and the whole shims under a tie-rod end that make it least.

use super::rebased;
use crate::checks::extreme::golden;
use crate::checks::joint_angle::unit;
use crate::checks::motion_range::{MotionRange, Motions, WheelPlace};
use crate::checks::moving_parts::{Mover, Standing};
use crate::checks::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::curves::toe;
use crate::numeric::real::WithRate;
use crate::pickups::{DoubleWishbone, Measured, Point, Quantity, length_within, positive_of, within};
use crate::suspension::Corner;
use crate::{Dimension, Error};
use nalgebra::Vector3;
use serde::{Deserialize, Serialize};

const CHECK: &str = "bump_steer";

const QUESTION: &str = "the bump-steer check";
const SUBJECT: &str = "toe change over the travel";

/// Bump and droop over which toe is watched (mm), where none is stated.
const USUAL_RANGE_MM: f64 = 50.0;
/// Most shims that are tried either way, where none is stated.
const USUAL_MOST: u32 = 8;

/// Which end of the tie rod is shimmed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ShimmedEnd {
    /// The outer joint, at the steering arm.
    #[default]
    Outer,
    /// The inner joint, at the rack or centre link.
    Inner,
}

/// Shims under an end of the tie rod.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TieRodShim {
    /// Which end.
    #[serde(default)]
    pub end: ShimmedEnd,
    /// Thickness of one shim (mm).
    pub thickness: f64,
    /// The way one shim moves the joint, [forward, left, up] of any length; straight down when absent. A negative number
    /// of shims moves it the other way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub direction: Option<Point>,
    /// Most shims that are tried either way; 8 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<u32>,
}

/// Over what range toe is watched, and what can be shimmed.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BumpSteerQuestion {
    /// Bump and droop from ride height over which toe is watched (mm); 50 mm when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range: Option<f64>,
    /// The largest change of toe over that range (deg).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub largest_change: Option<f64>,
    /// What can be shimmed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shim: Option<TieRodShim>,
}

impl Measured for BumpSteerQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        if let Some(range) = &mut self.range {
            visitor(range, Quantity::Length);
        }
        if let Some(change) = &mut self.largest_change {
            visitor(change, Quantity::Angle);
        }
        if let Some(shim) = &mut self.shim {
            visitor(&mut shim.thickness, Quantity::Length);
        }
    }
}

/// Bump steer with a number of shims, toe at ride height set back to what it was with the length of the tie rod.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShimRow {
    /// How many shims; negative ones the other way.
    pub shims: i32,
    /// How far the joint has moved (mm).
    pub moved: f64,
    /// Largest toe less least toe over the range (rad).
    pub toe_change: f64,
    /// Change of toe per mm of travel at ride height (rad/mm), positive when bump toes in.
    pub slope: f64,
}

/// Bump steer about ride height.
#[derive(Debug, Clone, PartialEq)]
pub struct BumpSteer {
    /// Toe at ride height (rad).
    pub at_ride: f64,
    /// Change of toe per mm of travel at ride height (rad/mm), positive when bump toes in.
    pub slope: f64,
    /// Largest toe less least toe over the range, between all steps too (rad).
    pub toe_change: f64,
    /// The largest toe (rad), and the travel from ride height there (mm).
    pub most_toe_in: (f64, f64),
    /// The least toe (rad), and the travel from ride height there (mm).
    pub most_toe_out: (f64, f64),
    /// One row for each number of shims; empty when nothing can be shimmed.
    pub rows: Vec<ShimRow>,
    /// The row with the least change of toe.
    pub best: Option<ShimRow>,
    /// How far the joint would have to move for the least change of all (mm), and that change (rad).
    pub best_offset: Option<(f64, f64)>,
    /// The answer; nothing is judged when no largest change is given.
    pub findings: Vec<Finding>,
}

/// Toe over a range of travel about ride height, and what shims make of it.
///
/// # Errors
/// Numbers that cannot be right, or a travel out of reach.
pub fn check_bump_steer(corner: &Corner, question: &BumpSteerQuestion) -> Result<BumpSteer, Error> {
    let range = question.range.unwrap_or(USUAL_RANGE_MM);
    length_within(
        range,
        "range",
        (1.0, 300.0),
        "give the bump and droop from ride height",
    )?;
    if let Some(change) = question.largest_change {
        let change = change.to_radians();
        let advice = "give degrees of toe of one wheel";
        positive_of(change, Dimension::FineAngle, "largest_change", advice)?;
    }
    let shim = question
        .shim
        .map(|shim| Shim::of(&Mover::Corner(corner), &shim))
        .transpose()?;
    let at_ride = rebased::at_travel(corner, corner.ride_travel()?)?;
    let watched = Watched::of(&at_ride, range)?;
    let mut rows = Vec::new();
    let mut best_offset = None;
    if let Some(shim) = &shim {
        for count in -shim.most..=shim.most {
            rows.push(shim.row(&at_ride, range, count)?);
        }
        let farthest = f64::from(shim.most) * shim.thickness;
        let change =
            |offset: f64| Ok::<_, Error>(Watched::of(&shim.moved(&at_ride, offset), range)?.toe_change());
        let offset = golden(-farthest, farthest, &mut |offset| {
            change(offset).map(|change| -change)
        })?;
        best_offset = Some((offset, change(offset)?));
    }
    // Of equal rows the one with fewer shims.
    let best = rows.iter().copied().min_by(|a: &ShimRow, b: &ShimRow| {
        a.toe_change
            .total_cmp(&b.toe_change)
            .then(a.shims.abs().cmp(&b.shims.abs()))
    });
    let mut result = BumpSteer {
        at_ride: watched.at_ride.re,
        slope: watched.at_ride.eps,
        toe_change: watched.toe_change(),
        most_toe_in: watched.most_toe_in,
        most_toe_out: watched.most_toe_out,
        rows,
        best,
        best_offset,
        findings: Vec::new(),
    };
    let limit = question.largest_change.map(f64::to_radians);
    result.findings = vec![match limit {
        Some(limit) => finding(&result, range, limit, shim.as_ref()),
        None => Finding::not_asked(
            CHECK,
            SUBJECT.into(),
            (result.toe_change, Dimension::FineAngle),
            None,
            changes(&result, range).words(
                ". How much it may change was not said, so nothing is said of fit: write it as `largest_change`, in \
                 degrees.",
            ),
        ),
    }];
    Ok(result)
}

/// Toe over the range.
struct Watched {
    at_ride: WithRate,
    most_toe_in: (f64, f64),
    most_toe_out: (f64, f64),
}

impl Watched {
    /// * `at_ride`: pickups as measured at ride height
    fn of(at_ride: &DoubleWishbone, range: f64) -> Result<Self, Error> {
        let corner = Corner::new(at_ride)?;
        let range = MotionRange {
            bump: Some(range),
            droop: Some(range),
            rack: None,
        };
        let motions = Motions::new(Mover::Corner(&corner), &range, QUESTION)?;
        let toe = |standing: &Standing| toe(&standing.carrier.direction(&corner.geometry.spin_axis));
        let place = |place: &WheelPlace| place.travel().unwrap_or(0.0);
        let most = motions.greatest(|standing| toe(standing).re)?;
        let least = motions.greatest(|standing| -toe(standing).re)?;
        Ok(Self {
            at_ride: toe(&motions.at_travel(0.0)?),
            most_toe_in: (most.value, place(&most.place)),
            most_toe_out: (-least.value, place(&least.place)),
        })
    }

    fn toe_change(&self) -> f64 {
        self.most_toe_in.0 - self.most_toe_out.0
    }
}

/// Shims that were understood.
struct Shim {
    end: ShimmedEnd,
    thickness: f64,
    way: Vector3<f64>,
    most: i32,
}

impl Shim {
    fn of(mover: &Mover<'_>, shim: &TieRodShim) -> Result<Self, Error> {
        let advice = "give the thickness of one shim";
        positive_of(shim.thickness, Dimension::Length, "shim.thickness", advice)?;
        length_within(shim.thickness, "shim.thickness", (0.01, 25.0), advice)?;
        let most = shim.most.unwrap_or(USUAL_MOST);
        let advice = "give the most shims that fit";
        within(f64::from(most), "shim.most", (1.0, 50.0), advice)?;
        let way = match &shim.direction {
            Some(direction) => unit(mover, direction, "shim.direction")?,
            None => -Vector3::z(),
        };
        Ok(Self {
            end: shim.end,
            thickness: shim.thickness,
            way,
            most: i32::try_from(most).unwrap_or(50),
        })
    }

    /// The pickups at ride height with the joint moved. Toe there stays, since the tie rod is set to it anew.
    fn moved(&self, at_ride: &DoubleWishbone, offset: f64) -> DoubleWishbone {
        let mut pickups = at_ride.clone();
        match self.end {
            ShimmedEnd::Outer => pickups.tie_rod.outer += self.way * offset,
            ShimmedEnd::Inner => pickups.tie_rod.inner += self.way * offset,
        }
        pickups
    }

    fn row(&self, at_ride: &DoubleWishbone, range: f64, shims: i32) -> Result<ShimRow, Error> {
        let moved = f64::from(shims) * self.thickness;
        let watched = Watched::of(&self.moved(at_ride, moved), range)?;
        Ok(ShimRow {
            shims,
            moved,
            toe_change: watched.toe_change(),
            slope: watched.at_ride.eps,
        })
    }
}

/// How much toe changes, as the start of a sentence.
fn changes(result: &BumpSteer, range: f64) -> Sentence {
    let way = if result.slope > 0.0 { "in" } else { "out" };
    Sentence::new("Toe changes by ")
        .fine_angle(result.toe_change)
        .words(" within ")
        .length(range)
        .words(format!(" of bump and droop, {way} in bump at ride height"))
}

fn finding(result: &BumpSteer, range: f64, limit: f64, shim: Option<&Shim>) -> Finding {
    let margin = limit - result.toe_change;
    let verdict = Verdict::from_margin(margin, 0.0);
    let mut statement = changes(result, range)
        .words("; at most ")
        .fine_angle(limit)
        .words(" is wanted");
    statement = statement.words(if verdict == Verdict::Fails {
        ": the car steers by itself on bumps."
    } else {
        "."
    });
    let mut remedies = Vec::new();
    if let (Verdict::Fails, Some(shim), Some(best)) = (verdict, shim, result.best) {
        if best.toe_change <= limit && best.shims != 0 {
            remedies.push(shim_remedy(result, shim, &best, limit));
        } else {
            statement = statement
                .words(" Shims do not bring it there: at best ")
                .fine_angle(best.toe_change)
                .words(format!(" with {}.", best.shims));
        }
    }
    Finding {
        check: CHECK,
        subject: SUBJECT.into(),
        verdict,
        dimension: Dimension::FineAngle,
        value: result.toe_change,
        limit,
        margin,
        at_travel: None,
        statement,
        remedies,
    }
}

fn shim_remedy(result: &BumpSteer, shim: &Shim, best: &ShimRow, limit: f64) -> Remedy {
    let end = match shim.end {
        ShimmedEnd::Outer => "outer",
        ShimmedEnd::Inner => "inner",
    };
    let count = best.shims.abs();
    let plural = if count == 1 { "" } else { "s" };
    let rise = shim.way.z * best.moved;
    let moves = if rise.abs() > 0.9 * best.moved.abs() {
        if rise > 0.0 { "raises" } else { "lowers" }
    } else {
        "moves"
    };
    let sentence = Sentence::new(format!("Put {count} shim{plural} of "))
        .fine_length(shim.thickness)
        .words(format!(" at the {end} tie-rod end, which {moves} it by "))
        .fine_length(best.moved.abs())
        .words(", and set toe anew: it then changes by ")
        .fine_angle(best.toe_change)
        .words(".");
    let serving = || result.rows.iter().filter(|row| row.toe_change <= limit);
    let least = serving().map(|row| row.shims).min().unwrap_or(best.shims);
    let most = serving().map(|row| row.shims).max().unwrap_or(best.shims);
    Remedy {
        kind: RemedyKind::TieRodShims,
        change: f64::from(best.shims),
        window: (f64::from(least), f64::from(most)),
        sentence,
    }
}
