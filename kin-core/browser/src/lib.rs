//! `kin-core` for web pages.
//!
//! A page writes a corner or an axle into a shared list of numbers ([`layout`]), asks for it to be described, and then for positions of
//! its wheels; each answer stands in the same list. Everything is millimetres, newtons and radians; angles of a description
//! are degrees, as in descriptions elsewhere. A number that does not exist, such as the force of a spring without a free
//! length, is NaN: a list of numbers has no other word for it.

pub mod axle_answer;
mod axle_description;
mod corner_answer;
mod corner_description;
mod exports;
pub mod layout;
mod reader;
mod solver;
mod spoken;
mod written;

pub use exports::{describe_axle, describe_corner, numbers, solve, speak, text, text_length, words};
