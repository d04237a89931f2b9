//! Studies: variants of a description.

mod tolerance;
