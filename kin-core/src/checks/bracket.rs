//! A bracket of one or two tabs: its hole and edge, its tabs as plates, its weld.
//!
//! Plain plate formulas on nominal sections: estimates, which show what rules and by how much, and approve nothing.

mod check;
mod hole;
mod plate;
mod question;
mod remedies;

const CHECK: &str = "brackets";

pub use check::{BracketCheck, check_bracket};
pub use hole::{HoleAfterDrilling, hole_for_bolt};
pub use plate::{PlateEffect, PlateStress};
pub use question::{BracketForce, BracketQuestion, Weld};
