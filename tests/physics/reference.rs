//! Cases solved by an independent program with 60 digits: see `tests/reference/README.md`.

pub(crate) mod axle;
pub(crate) mod case;
pub(crate) mod corner;
mod ride_height;
mod tolerance;

pub(crate) use corner::pickups as corner_pickups;
