//! How sure a result is, given how well the pickups were measured.

mod answer;
mod asked;
mod bands;
mod checks;
mod measurements;
mod outcomes;

pub use answer::tolerance;
