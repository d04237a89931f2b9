//! Cases solved by an independent program with 60 digits: see `tests/reference/README.md`.

mod axle;
pub(crate) mod case;
mod corner;
mod ride_height;
mod tolerance;
