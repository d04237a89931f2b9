//! Joints, bearings and bushings: against figures of an invented wagon, closed forms, and brute force.

mod bearings;
mod bushings;
mod questions;
mod swing;
