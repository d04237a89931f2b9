//! One bolt through a mount: shear, bending, bearing, and the clamp that its torque gives.
//!
//! Nominal stresses of one load case on one bolt. The grip of the clamped joint, notches, fatigue and the quality of the
//! parts are not in them: estimates, which show what rules and by how much.

mod check;
mod effects;
mod question;
mod remedies;
mod torque;

pub use check::{BoltCheck, check_bolt};
pub use effects::{BoltEffect, Effect};
pub use question::{BoltQuestion, BoltTab, Shear};
pub(crate) use question::{force_and_factor, usual_load_factor};
pub use torque::{Clamp, ThreadCondition, clamp_from_torque, torque_for_clamp, usual_clamp};
