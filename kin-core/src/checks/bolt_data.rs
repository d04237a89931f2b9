//! Bolts by size and grade: threads, stress areas, strengths and clearance holes.

mod grade;
mod hole;
mod size;

pub use grade::{Grade, Strength};
pub use hole::HoleClass;
pub use size::{BoltSize, ThreadSeries};
