//! A solved pose that carries derivatives with respect to the geometry: exact sensitivities to every pickup.
//!
//! The constraints hold whatever the pickups are, so their derivatives vanish as well. Newton's steps at a solved pose, in
//! numbers that carry derivatives but with the factors of the pose itself, make one more order of them exact with each
//! step. The rate along a drive is one of these derivatives: the command is given with its rate.

use super::solve::balance_jacobian;
use super::{CarrierMotion, Solved};
use crate::linkage::{LEVER_MM, Linkage, RodNumbers, STATIONARY, stationarity};
use crate::numeric::lu::Lu;
use crate::numeric::real::{Moving, Over, Real};
use nalgebra::{Matrix3, Vector3};

/// A carrier on its rods, in numbers that carry derivatives.
#[derive(Debug, Clone)]
pub(crate) struct CarrierNumbers<F> {
    pub(crate) origin: Vector3<F>,
    pub(crate) rods: Vec<RodNumbers<F>>,
    /// Left wheel centre of an axle seen from the origin.
    pub(crate) half_axle: Option<Vector3<F>>,
}

/// The command with its rates: heave, half difference, rack.
type MovingCommand<F> = [Moving<F>; 3];

/// The unknowns: displacement, Rodrigues parameters, and the drive forces of a carrier that is held too much.
struct Unknowns<T> {
    displacement: Vector3<T>,
    parameters: Vector3<T>,
    forces: [T; 2],
}

/// The carrier at a solved pose, with all derivatives that `F` carries and its rates along the command's own.
///
/// None where the constraints are singular: at the very limit of reach.
pub(crate) fn varied<F: Over<F>>(
    linkage: &Linkage,
    numbers: &CarrierNumbers<F>,
    solved: &Solved,
    command: &MovingCommand<F>,
) -> Option<CarrierMotion<F, F>>
where
    Moving<F>: Over<F>,
{
    let lift = |value: f64| Moving::<F>::from(value);
    let mut unknowns = Unknowns {
        displacement: solved.pose.displacement.map(lift),
        parameters: solved.pose.parameters.map(lift),
        forces: solved.forces.map(lift),
    };
    // One step for each order of derivatives, and one that polishes the value.
    let steps = <Moving<F> as Real>::ORDER + 1;
    if linkage.held_too_much {
        let factors = Lu::new(balance_jacobian(linkage, &solved.pose, solved.forces))?;
        for _ in 0..steps {
            let residual = balance(numbers, &unknowns, command);
            let step = backward(&factors, &residual);
            unknowns.take(solved, &step, 1.0 / LEVER_MM);
            unknowns.forces[0] += step[6];
            unknowns.forces[1] += step[7];
        }
    } else {
        let factors = Lu::new(linkage.constraints(&solved.pose, &solved.command).jacobian)?;
        for _ in 0..steps {
            let step = backward(&factors, &misses(numbers, &unknowns, command));
            unknowns.take(solved, &step, 1.0);
        }
    }
    Some(unknowns.motion(numbers.origin))
}

impl<T: Real> Unknowns<T> {
    /// Adds a step: linear, and angular over a lever.
    fn take<const N: usize>(&mut self, solved: &Solved, step: &[T; N], lever: f64) {
        let part = |first: usize, scale: f64| {
            Vector3::new(
                step[first] * scale,
                step[first + 1] * scale,
                step[first + 2] * scale,
            )
        };
        self.displacement += part(0, 1.0);
        let angular = part(3, lever);
        // As `Pose::parameter_rates`, with the parameters of the pose that was factored.
        let g: Vector3<T> = solved.pose.parameters.map(T::from);
        let change = angular + angular.cross(&g) + g * angular.dot(&g);
        self.parameters += change * T::from(0.5);
    }

    /// Rotation minus identity, as `Pose::new`.
    fn turn(&self) -> Matrix3<T> {
        let g = &self.parameters;
        let cross = Matrix3::new(
            T::from(0.0),
            -g.z,
            g.y,
            g.z,
            T::from(0.0),
            -g.x,
            -g.y,
            g.x,
            T::from(0.0),
        );
        let scale = T::from(2.0) / (g.dot(g) + 1.0);
        (cross + cross * cross) * scale
    }
}

impl<F: Real> Unknowns<Moving<F>> {
    /// Where the carrier is and how it moves: `w = 2 / (1 + g^2) (g' + g cross g')`.
    fn motion(&self, origin: Vector3<F>) -> CarrierMotion<F, F> {
        let g = self.parameters.map(|entry| entry.re);
        let rate = self.parameters.map(|entry| entry.eps);
        let scale = F::from(2.0) / (g.dot(&g) + 1.0);
        CarrierMotion {
            origin,
            displacement: self.displacement.map(|entry| entry.re),
            turn: self.turn().map(|entry| entry.re),
            linear: self.displacement.map(|entry| entry.eps),
            angular: (rate + g.cross(&rate)) * scale,
        }
    }
}

/// Solves with the factors of plain numbers, and changes the sign.
fn backward<T: Real, const N: usize>(factors: &Lu<N>, residual: &[T; N]) -> [T; N] {
    factors.solve_in(residual).map(|entry| -entry)
}

/// What drives and rods miss, in the order of `Linkage::constraints`.
fn misses<F: Over<F>>(
    numbers: &CarrierNumbers<F>,
    unknowns: &Unknowns<Moving<F>>,
    command: &MovingCommand<F>,
) -> [Moving<F>; 6]
where
    Moving<F>: Over<F>,
{
    let turn = unknowns.turn();
    let turned = |arm: &Vector3<F>| turn * arm.map(Moving::<F>::of);
    let mut rows = [Moving::<F>::from(0.0); 6];
    rows[0] = unknowns.displacement.z - command[0];
    let mut next = 1;
    if let Some(half_axle) = &numbers.half_axle {
        rows[1] = turned(half_axle).z - command[1];
        next = 2;
    }
    for (row, rod) in rows.iter_mut().skip(next).zip(&numbers.rods) {
        let mut shift = unknowns.displacement + turned(&(rod.carrier - numbers.origin));
        shift.y -= command[2] * rod.rack;
        let span = (rod.carrier - rod.body).map(Moving::<F>::of);
        // As `Rod::place`: half of what the squared length exceeds the rigid one by.
        *row = shift.dot(&(span + span + shift)) * 0.5;
    }
    rows
}

/// The balance of a carrier that is held too much.
fn balance<F: Over<F>>(
    numbers: &CarrierNumbers<F>,
    unknowns: &Unknowns<Moving<F>>,
    command: &MovingCommand<F>,
) -> [Moving<F>; STATIONARY]
where
    Moving<F>: Over<F>,
{
    let mut rotation = unknowns.turn();
    for axis in 0..3 {
        rotation[(axis, axis)] += Moving::<F>::from(1.0);
    }
    stationarity(
        numbers.rods.iter().map(|rod| rod.stretched(&numbers.origin)),
        numbers.half_axle.as_ref(),
        &unknowns.displacement,
        &rotation,
        unknowns.forces,
        [command[0], command[1]],
    )
}
