//! Studies: numbers by name, sensitivities, and what is made of them.

mod calibration;
mod search;
mod sensitivities;
mod swap;
mod tolerance;
mod tolerance_variants;
