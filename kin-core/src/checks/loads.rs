//! Static loads: what the ground does to a wheel, followed through rods, arms and joints to the body.
//!
//! The forces on the carrier balance: each rod pulls along itself, the coilover pushes along itself, and the columns of
//! that balance are the rows of the constraint Jacobian. An arm that carries a coilover, or anything else, adds its own
//! moment balance about its pivots. Parts have no mass unless one is given as a force; joints have no friction.

mod arm;
mod axle;
mod axle_check;
mod axle_question;
mod balance;
mod corner;
mod corner_check;
mod corner_question;
mod limits;
mod link;
mod part_force;
mod words;

pub use arm::ArmForces;
pub use axle::{AxleForces, AxleLoad, LinkForces, axle_forces};
pub use axle_check::{AxleLoadResult, AxleLoads, check_axle_loads};
pub use axle_question::{AxleLoadCase, AxleLoadQuestion, WheelFactors};
pub use balance::{STANDARD_GRAVITY, SupportForces};
pub use corner::{CornerForces, CornerLoad, corner_forces};
pub use corner_check::{CornerLoadResult, CornerLoads, check_corner_loads};
pub use corner_question::{CornerLoadCase, CornerLoadQuestion};
pub use limits::WorstForce;
pub use part_force::PartForce;
