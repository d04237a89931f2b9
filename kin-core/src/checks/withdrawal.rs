//! Does a mount's bolt come out: is its straight path clear of damper, spring and what stands around?

mod check;
mod question;

pub use check::{Withdrawal, WithdrawalPath, WorkPlace, check_axle_withdrawal, check_corner_withdrawal};
pub use question::{DamperEnd, RoundObstacle, RoundPart, WithdrawalQuestion};
