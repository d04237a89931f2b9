//! A check's answer: the report for people and scripts, and the core's own result for the assembly card.

use super::Report;
use kin_core::checks::{BoltCheck, DamperSetting, SpringRide};

/// A check's answer.
#[derive(Debug, Clone)]
pub struct Answer {
    /// What is printed and read by name.
    pub report: Report,
    /// What the assembly card is made from.
    pub typed: Typed,
}

/// The core's results that the assembly card needs.
#[derive(Debug, Clone)]
pub enum Typed {
    /// Seats.
    RideHeight(Vec<SpringRide>),
    /// Clicks to start from.
    DamperSetting(Vec<DamperSetting>),
    /// Torques, by the mount's name.
    Bolts(Vec<(String, BoltCheck)>),
    /// Nothing for the card.
    None,
}
