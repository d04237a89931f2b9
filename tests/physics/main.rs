//! Physics of kin-core held against closed forms, published values, independent reference cases and laws.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "a test stops by panicking"
)]

mod alignment;
mod anti_roll_bar;
mod bad_input;
mod clearance;
mod closed_form;
mod descriptions;
mod driveline;
mod fasteners;
mod growth;
mod hoses;
mod joints;
mod laws;
mod loads;
mod published;
mod reference;
mod spring;
mod stroke;
mod study;
mod survey;
