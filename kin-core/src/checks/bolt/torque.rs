//! Torque and clamp.

use crate::Error;
use crate::checks::bolt_data::{BoltSize, Grade};
use serde::{Deserialize, Serialize};

/// What is on the threads: it decides how much of a torque becomes clamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ThreadCondition {
    /// Not plated, black finish, dry: K = 0.30.
    Plain,
    /// Zinc plated, dry: K = 0.20, also the usual assumption where nothing is known.
    #[default]
    ZincPlated,
    /// Oiled: K = 0.18.
    Lubricated,
    /// Cadmium plated: K = 0.16.
    CadmiumPlated,
    /// With anti-seize paste: K = 0.12.
    AntiSeize,
}

impl ThreadCondition {
    /// K in torque = K d F.
    ///
    /// Budynas and Nisbett, Shigley's Mechanical Engineering Design, table 8-15.
    #[must_use]
    pub const fn torque_coefficient(self) -> f64 {
        match self {
            Self::Plain => 0.30,
            Self::ZincPlated => 0.20,
            Self::Lubricated => 0.18,
            Self::CadmiumPlated => 0.16,
            Self::AntiSeize => 0.12,
        }
    }

    /// The words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Plain => "plain, dry threads",
            Self::ZincPlated => "zinc-plated, dry threads",
            Self::Lubricated => "oiled threads",
            Self::CadmiumPlated => "cadmium-plated threads",
            Self::AntiSeize => "threads with anti-seize paste",
        }
    }
}

/// A torque and the clamp it gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clamp {
    /// Torque (N mm).
    pub torque: f64,
    /// Clamp force (N).
    pub force: f64,
    /// Stress in the thread (MPa): force over stress area.
    pub stress: f64,
    /// Share of the proof stress.
    pub share_of_proof: f64,
}

/// Share of the proof load to which a bolt that will be taken out again is usually tightened.
///
/// Budynas and Nisbett, Shigley's Mechanical Engineering Design, equation 8-31.
const USUAL_SHARE_OF_PROOF: f64 = 0.75;

/// Torque (N mm) that gives a clamp: `T = K d F`. It scatters by a quarter or more from bolt to bolt.
///
/// * `clamp`: force (N)
#[must_use]
pub fn torque_for_clamp(size: &BoltSize, condition: ThreadCondition, clamp: f64) -> f64 {
    condition.torque_coefficient() * size.diameter * clamp
}

/// Clamp force (N) that a torque gives: `F = T / (K d)`.
///
/// * `torque`: N mm
#[must_use]
pub fn clamp_from_torque(size: &BoltSize, condition: ThreadCondition, torque: f64) -> f64 {
    torque / (condition.torque_coefficient() * size.diameter)
}

/// The trade's usual torque for a bolt that will be taken out again, and its clamp: three quarters of the proof load.
///
/// # Errors
/// A grade that is not made in this size.
pub fn usual_clamp(size: &BoltSize, grade: Grade, condition: ThreadCondition) -> Result<Clamp, Error> {
    let proof = grade.strength(size)?.proof;
    let force = USUAL_SHARE_OF_PROOF * proof * size.stress_area();
    Ok(clamp(
        size,
        proof,
        torque_for_clamp(size, condition, force),
        force,
    ))
}

pub(super) fn clamp(size: &BoltSize, proof: f64, torque: f64, force: f64) -> Clamp {
    let stress = force / size.stress_area();
    Clamp {
        torque,
        force,
        stress,
        share_of_proof: stress / proof,
    }
}
