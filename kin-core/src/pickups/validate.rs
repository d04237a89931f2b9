//! Descriptions checked before anything is solved, in sentences that name the pickup.

mod axle;
mod axle_places;
mod corner;
mod corner_places;
mod damper;
mod distance;
mod error;
mod numbers;
mod part;
mod surroundings;

pub use error::PickupError;
pub(crate) use numbers::{
    angle_within, coordinates, finite, incomplete, length_within, positive, positive_of, stress, within,
    within_of,
};
pub(crate) use part::known_part;
pub(crate) use surroundings::wanted_travel;

/// Wheel radii outside this range (mm) are taken for a wrong unit.
const TYRE_RADIUS_MM: (f64, f64) = (50.0, 800.0);

const UNIT_ADVICE: &str = "is the unit right (inches given as millimetres, or the other way round)?";
