//! Where springs and weight are in balance, and the spring forces that a travel asks for.

use super::LoadPoint;
use super::spring::SpringStack;
use super::sprung_wheel::{Rates, SprungWheel, WheelMotion, sweep};
use crate::Error;
use crate::numeric::bracketed_root;
use crate::suspension::AxleTravel;
use nalgebra::{Matrix2, Vector2};

/// Travel between looks at the balance (mm): forces of springs bend over tens of millimetres.
const LOOK_MM: f64 = 2.0;
/// Travel is found to this (mm).
const TRAVEL_TOLERANCE_MM: f64 = 1e-10;
/// A balance is one when the force left over is this part of the weight.
const BALANCED: f64 = 1e-9;
/// Longest step in travel while an axle with unlike sides settles (mm).
const LONGEST_STEP_MM: f64 = 20.0;

/// One wheel with the springs on it and the weight it carries.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Carrying<'a> {
    pub(crate) wheel: SprungWheel<'a>,
    pub(crate) stack: SpringStack,
    /// What lies between the mounts besides the springs: both seats and the top spacer (mm).
    pub(crate) between: f64,
    /// Sprung weight (N).
    pub(crate) weight: f64,
}

impl Carrying<'_> {
    /// Length of the springs at a position (mm).
    pub(crate) fn installed(&self, motion: &WheelMotion) -> f64 {
        motion.spring.value - self.between
    }

    /// Spring force (N).
    pub(crate) fn force(&self, motion: &WheelMotion) -> f64 {
        self.stack.force(self.installed(motion))
    }

    /// Spring rate (N/mm).
    pub(crate) fn rate(&self, motion: &WheelMotion) -> f64 {
        self.stack.rate(self.installed(motion))
    }
}

/// The height whose rise the weight resists.
pub(crate) fn lifted(motion: &WheelMotion, at: LoadPoint) -> &Rates {
    match at {
        LoadPoint::WheelCentre => &motion.centre,
        LoadPoint::ContactPoint => &motion.contact,
    }
}

/// A corner, or both wheels of an axle, under weight.
#[derive(Debug, Clone)]
pub(crate) struct Balance<'a> {
    pub(crate) wheels: Vec<Carrying<'a>>,
    pub(crate) load_point: LoadPoint,
}

/// Spring force less weight in heave and in roll, and how it changes with both.
struct Excess {
    force: Vector2<f64>,
    stiffness: Matrix2<f64>,
}

impl Balance<'_> {
    fn parts(&self) -> Vec<SprungWheel<'_>> {
        self.wheels.iter().map(|carrying| carrying.wheel).collect()
    }

    fn weight(&self) -> f64 {
        self.wheels.iter().map(|carrying| carrying.weight).sum()
    }

    /// By virtual work: every spring pushes with `F dc/dz`, every weight resists with `W dh/dz`.
    fn excess(&self, motions: &[WheelMotion]) -> Excess {
        let mut force = Vector2::zeros();
        let mut stiffness = Matrix2::zeros();
        for (carrying, motion) in self.wheels.iter().zip(motions) {
            let (spring, weight) = (&motion.spring, carrying.weight);
            let lift = lifted(motion, self.load_point);
            let (pushing, rate) = (carrying.force(motion), carrying.rate(motion));
            // Compression is the negative of the length between the mounts.
            let ratio = Vector2::new(-spring.heave, -spring.roll);
            let bend = Matrix2::new(
                -spring.heave_heave,
                -spring.heave_roll,
                -spring.heave_roll,
                -spring.roll_roll,
            );
            let rise = Matrix2::new(lift.heave_heave, lift.heave_roll, lift.heave_roll, lift.roll_roll);
            force += ratio * pushing - Vector2::new(lift.heave, lift.roll) * weight;
            stiffness += ratio * ratio.transpose() * rate + bend * pushing - rise * weight;
        }
        Excess { force, stiffness }
    }

    fn at(&self, travel: AxleTravel) -> Result<Excess, Error> {
        let motions: Result<Vec<_>, Error> = self
            .wheels
            .iter()
            .map(|carrying| carrying.wheel.at(travel))
            .collect();
        Ok(self.excess(&motions?))
    }

    /// The travel of each wheel at which springs and weight are in balance, nearest to `near` where there are several;
    /// none when there is none within the reach of the linkage.
    pub(crate) fn rest(&self, near: f64) -> Result<Option<AxleTravel>, Error> {
        let Some(heave) = self.rest_in_heave(near)? else {
            return Ok(None);
        };
        if self.wheels.len() < 2 {
            return Ok(Some(AxleTravel::both(heave)));
        }
        self.settle(heave)
    }

    /// Both wheels held at one travel: where their sum is in balance, on the way up from too little force to too much.
    fn rest_in_heave(&self, near: f64) -> Result<Option<f64>, Error> {
        let Some(first) = self.wheels.first() else {
            return Ok(None);
        };
        let (lowest, highest) = first.wheel.spring_curve().searchable();
        let count = ((highest - lowest) / LOOK_MM).ceil().max(1.0);
        let travels: Vec<f64> = (0..=count as usize)
            .map(|place| lowest + (highest - lowest) * (place as f64 / count))
            .collect();
        let motions = sweep(&self.parts(), &travels)?;
        let looks: Vec<(f64, f64)> = travels
            .iter()
            .zip(&motions)
            .map(|(travel, motions)| (*travel, self.excess(motions).force.x))
            .collect();
        let mut nearest: Option<f64> = None;
        for pair in looks.windows(2) {
            let [low, high] = *pair else { continue };
            if !(low.1 < 0.0 && high.1 >= 0.0) {
                continue;
            }
            let balance = |travel: f64| {
                self.at(AxleTravel::both(travel))
                    .map(|excess| (excess.force.x, excess.stiffness.m11))
            };
            let found = bracketed_root::find(balance, low, high, TRAVEL_TOLERANCE_MM)?;
            if nearest.is_none_or(|best| (found - near).abs() < (best - near).abs()) {
                nearest = Some(found);
            }
        }
        Ok(nearest)
    }

    /// From the balance of the sum to that of each wheel: Newton on both motions, with steps cut while they gain nothing.
    fn settle(&self, heave: f64) -> Result<Option<AxleTravel>, Error> {
        let enough = BALANCED * self.weight();
        let mut place = Vector2::new(heave, 0.0);
        let mut now = self.at(AxleTravel::both(heave))?;
        for _ in 0..60 {
            let Some(inverse) = now.stiffness.try_inverse() else {
                return Ok(None);
            };
            let mut step = -(inverse * now.force);
            let size = step.norm();
            if now.force.norm() <= enough && size <= TRAVEL_TOLERANCE_MM.max(1e-14 * place.norm()) {
                // Only a balance that springs back is one.
                let stands = now.stiffness.m11 > 0.0 && now.stiffness.determinant() > 0.0;
                return Ok(stands.then(|| AxleTravel::from_heave(place.x, place.y)));
            }
            if size > LONGEST_STEP_MM {
                step *= LONGEST_STEP_MM / size;
            }
            let mut better = None;
            for _ in 0..30 {
                let next = place + step;
                // A step out of reach is a step too long.
                if let Ok(there) = self.at(AxleTravel::from_heave(next.x, next.y))
                    && (there.force.norm() < now.force.norm() || there.force.norm() <= enough)
                {
                    better = Some((next, there));
                    break;
                }
                step *= 0.5;
            }
            match better {
                Some((next, there)) => (place, now) = (next, there),
                None => return Ok(None),
            }
        }
        Ok(None)
    }

    /// The spring force that each wheel needs with both wheels at one travel (N).
    ///
    /// None where the springs cannot carry the weight whatever their force: a motion ratio of zero or less.
    pub(crate) fn forces_for(&self, travel: f64) -> Result<Option<Vec<f64>>, Error> {
        let travel = AxleTravel::both(travel);
        let motions: Result<Vec<_>, Error> = self
            .wheels
            .iter()
            .map(|carrying| carrying.wheel.at(travel))
            .collect();
        let motions = motions?;
        let mut load = Vector2::zeros();
        for (carrying, motion) in self.wheels.iter().zip(&motions) {
            let lift = lifted(motion, self.load_point);
            load += Vector2::new(lift.heave, lift.roll) * carrying.weight;
        }
        let forces = match motions.as_slice() {
            [only] => vec![load.x / -only.spring.heave],
            [left, right] => {
                let ratios = -Matrix2::new(
                    left.spring.heave,
                    right.spring.heave,
                    left.spring.roll,
                    right.spring.roll,
                );
                match ratios.try_inverse() {
                    Some(inverse) => (inverse * load).iter().copied().collect(),
                    None => return Ok(None),
                }
            }
            _ => return Ok(None),
        };
        Ok(forces
            .iter()
            .all(|force| force.is_finite() && *force > 0.0)
            .then_some(forces))
    }
}
