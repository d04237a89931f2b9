//! Studies: numbers by name, sensitivities, and what is made of them.

mod sensitivities;
mod swap;
mod tolerance;
mod tolerance_variants;
