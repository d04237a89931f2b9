//! `kin-core` for web pages.
//!
//! A page writes a corner into a shared list of numbers ([`layout`]), asks for it to be described, and then for positions of the
//! wheel; each answer stands in the same list. Everything is millimetres, newtons and radians; camber and toe of the description
//! are degrees, as in descriptions elsewhere. A number that does not exist, such as the force of a spring without a free
//! length, is NaN: a list of numbers has no other word for it.

mod answer;
mod description;
mod exports;
pub mod layout;
mod solver;

pub use exports::{buffer, capacity, describe, reach, solve, text, text_length};
