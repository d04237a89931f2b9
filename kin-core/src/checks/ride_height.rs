//! Where does the car sit on its springs, where must the seat be, and do the springs stay seated and clear of bind?

mod answer;
mod case;
mod finding;
mod question;
mod remedies;
mod room;

pub use answer::{
    AtContactPoint, NeededSeat, RateForFrequency, RollMotion, SeatCorrection, SpringRide, SpringState,
    Standing,
};
pub(super) use case::{Case, Wheel as CaseWheel};
pub use question::{AddedLoad, RideHeightQuestion, SeatEnd, SeatPosition, SeatThread};

use super::sprung_wheel::SprungWheel;
use crate::Error;
use crate::pickups::AxleSides;
use crate::suspension::{Axle, Corner};

const CHECK: &str = "ride_height";
const QUESTION: &str = "the ride height check";

/// Checks the spring of a corner: where the car sits on it, and where its seat must be for the wanted ride height.
///
/// # Errors
/// Without spring, free length or damper, with inputs that cannot be right, or where the spring cannot carry weight.
pub fn check_corner_ride_height(corner: &Corner, question: &RideHeightQuestion) -> Result<SpringRide, Error> {
    let wheel = SprungWheel::of_corner(corner, QUESTION)?;
    let case = Case::new(vec![(wheel, question.clone(), "spring".to_owned())])?;
    case.run()?.pop().ok_or_else(nothing)
}

/// Checks the springs of an axle, with the weight on each of its wheels. Where the right question is absent, the right
/// wheel carries what the left one does.
///
/// One answer speaks for both springs where they are alike; otherwise the left one comes first.
///
/// # Errors
/// As for [`check_corner_ride_height`].
pub fn check_axle_ride_height(
    axle: &Axle,
    questions: &AxleSides<RideHeightQuestion>,
) -> Result<Vec<SpringRide>, Error> {
    let [left, right] = SprungWheel::of_axle(axle, QUESTION)?;
    let both = [
        &questions.left,
        questions.right.as_ref().unwrap_or(&questions.left),
    ];
    let case = Case::new(vec![
        (left, both[0].clone(), "left spring".to_owned()),
        (right, both[1].clone(), "right spring".to_owned()),
    ])?;
    let mut rides = case.run()?;
    if let [first, second] = rides.as_slice()
        && first.is_like(second)
    {
        rides.truncate(1);
        let named = Case::new(vec![
            (left, both[0].clone(), "spring on either side".to_owned()),
            (right, both[1].clone(), "spring on either side".to_owned()),
        ])?;
        rides = named.run()?;
        rides.truncate(1);
    }
    Ok(rides)
}

fn nothing() -> Error {
    Error::Missing {
        question: QUESTION,
        field: "spring",
        advice: "give its rate, free length and seats",
    }
}
