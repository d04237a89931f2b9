//! Does anything touch? The least gap between what moves and what stands, over every motion of the wheels.
//!
//! Each pair is looked at over its kinds of motion (a corner in bump and droop, at lock, and both at once; an axle with
//! both wheels, with one wheel, in roll to either side, and with each wheel anywhere). On a line of motion the least
//! gap is right to 1e-6 mm, found between the looks as well: see `search`.

mod anchor;
mod bound;
mod build;
mod cubic;
mod description;
mod field;
mod line;
mod measure;
mod meeting;
mod motions;
mod names;
mod overlap;
mod piece;
mod region;
mod remedy;
mod report;
mod rounded_hull;
mod scene;
mod search;
mod turn;
mod validate;
mod witness;
mod words;

pub use description::{
    AlongDamper, Ball, Block, ClearanceQuestion, Place, Plane, Rod, Shape, Solid, Tube, Tyre,
};
pub use motions::MotionKind;
pub use report::{Clearance, LeastGap, MoveGain, Overlap, PairClearance};
pub use rounded_hull::RoundedHull;
pub(crate) use witness::{VariedPoints, axle_witness, corner_witness};

use crate::Error;
use crate::suspension::{Axle, Corner};
use motions::{Extent, Motions};
use names::Mover;
use scene::Scene;

/// Checks the clearances of a corner.
///
/// Solids given for a right corner lie on the right, and so do the points that come back.
///
/// # Errors
/// A question that cannot be right ([`PickupError`](crate::pickups::PickupError)), a bump or droop that is not given
/// anywhere, or a travel that the linkage does not reach.
pub fn check_corner_clearance(corner: &Corner, question: &ClearanceQuestion) -> Result<Clearance, Error> {
    let wanted = corner.pickups.wanted.unwrap_or_default();
    let extent = extent(question, corner.ride_travel()?, wanted.bump, wanted.droop)?;
    check(Mover::Corner(corner), extent, question)
}

/// Checks the clearances of an axle.
///
/// # Errors
/// As [`check_corner_clearance`]; a steering lock asked of an axle is one as well.
pub fn check_axle_clearance(axle: &Axle, question: &ClearanceQuestion) -> Result<Clearance, Error> {
    refuse_steering(question)?;
    let wanted = axle.pickups.wanted.unwrap_or_default();
    let extent = extent(question, axle.ride_travel()?, wanted.bump, wanted.droop)?;
    check(Mover::Axle(axle), extent, question)
}

fn refuse_steering(question: &ClearanceQuestion) -> Result<(), Error> {
    if question.lock.is_some_and(|lock| lock > 0.0) {
        return Err(Error::NotForThisLayout {
            question: "clearance with steering".to_owned(),
            reason: "a live axle does not steer; leave `lock` out".into(),
        });
    }
    Ok(())
}

fn extent(
    question: &ClearanceQuestion,
    ride: f64,
    wanted_bump: Option<f64>,
    wanted_droop: Option<f64>,
) -> Result<Extent, Error> {
    question.validate()?;
    let missing = |field| Error::Missing {
        question: "the clearance check",
        field,
        advice: "say how far the wheel goes from ride height, in the question or as wanted travel",
    };
    Ok(Extent {
        ride,
        bump: question.bump.or(wanted_bump).ok_or_else(|| missing("bump"))?,
        droop: question.droop.or(wanted_droop).ok_or_else(|| missing("droop"))?,
        lock: question.lock.unwrap_or(0.0),
    })
}

fn check(mover: Mover<'_>, extent: Extent, question: &ClearanceQuestion) -> Result<Clearance, Error> {
    let motions = Motions::new(mover, extent)?;
    let scene = Scene::new(&motions, question)?;
    let pairs = scene.measure_all()?;
    Ok(report::report(&scene, &pairs)?)
}
