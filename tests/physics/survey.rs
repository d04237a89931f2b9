//! Surveys held against independent reference cases, published networks and laws.

mod gaps;
mod laws;
mod plan;
mod published;
mod reference;
mod refused;
mod repeats;
mod symmetry;
mod wagon_front;
