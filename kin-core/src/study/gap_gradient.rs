//! How the least gap changes with the description.

use super::gradient::Change;
use crate::Error;
use crate::checks::{ClearanceQuestion, VariedPoints, axle_witness, corner_witness};
use crate::linkage::{Command, Drive};
use crate::numeric::real::Moving;
use crate::pose::varied;
use crate::suspension::{AxleNumbers, CornerNumbers};
use num_dual::Dual64;

/// The derivatives of the least gap of a question, over all its pairs and motions.
pub(super) fn derivatives(changes: &[Change<'_>], question: &ClearanceQuestion) -> Result<Vec<f64>, Error> {
    let witness = match changes.first() {
        None => return Ok(Vec::new()),
        Some(Change::Corner(corner, _)) => corner_witness(corner, question)?,
        Some(Change::Axle(axle, _)) => axle_witness(axle, question)?,
    };
    let witness = witness.ok_or(NONE)?;
    super::gradient::each(changes, |change| {
        let command = command(&witness.solved.command, super::gradient::ride_derivative(change)?);
        let points = match change {
            Change::Corner(corner, direction) => {
                let pickups = &corner.pickups;
                let numbers = CornerNumbers::of(pickups).zip(&CornerNumbers::of(direction), Dual64::new);
                let carrier = varied(&corner.linkage, &numbers.carrier(), &witness.solved, &command);
                let rack = witness.solved.command[Drive::Rack as usize];
                carrier.map(|carrier| VariedPoints::of_corner(&numbers, (pickups, direction), carrier, rack))
            }
            Change::Axle(axle, direction) => {
                let pickups = &axle.pickups;
                let numbers = AxleNumbers::of(pickups).zip(&AxleNumbers::of(direction), Dual64::new);
                let carrier = varied(&axle.linkage, &numbers.carrier(), &witness.solved, &command);
                carrier.map(|carrier| VariedPoints::of_axle(&numbers, (pickups, direction), carrier))
            }
        };
        let derivative = points.and_then(|points| witness.derivative(&points));
        derivative.filter(|derivative| derivative.is_finite()).ok_or(NONE)
    })
}

const NONE: Error = Error::NoValue { what: "gap" };

/// The command of the least gap: it moves with ride height.
fn command(command: &Command, ride: f64) -> [Moving<Dual64>; 3] {
    let mut moving = command.map(Moving::<Dual64>::from);
    moving[Drive::Heave as usize].re.eps = ride;
    moving
}
