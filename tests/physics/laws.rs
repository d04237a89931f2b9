//! Laws that hold for every geometry, tried on random ones.
//!
//! The random numbers are the same in every run; `PROPTEST_RNG_SEED` and `PROPTEST_CASES` ask for others and for more.

mod branch;
pub(crate) mod difference;
mod freedom;
mod mirrored;
mod moved;
mod path;
mod poor;
pub(crate) mod random;
mod rates;
mod readings;
mod roll_bind;
mod wheel_force;
