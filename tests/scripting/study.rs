//! Words of studies.

mod tolerance;
