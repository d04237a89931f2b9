//! Studies: numbers by name, sensitivities, and what is made of them.

mod sensitivities;
mod tolerance;
mod tolerance_variants;
