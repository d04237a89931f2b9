//! A check's answer: the report for people and scripts, and the core's own result for the assembly card.

use super::Report;
use kin_core::checks::{
    Alignment, BarAtWheel, BearingInBracket, BoltCheck, BracketCheck, BracketFit, BumpSteer, BushingTwist,
    DamperSetting, HoseReach, SpringRide,
};

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
#[allow(clippy::large_enum_variant, reason = "a handful exist at a time")]
pub enum Typed {
    /// Seats.
    RideHeight(Vec<SpringRide>),
    /// Torques, by the mount's name.
    Bolts(Vec<(String, BoltCheck)>),
    /// Holes, by the bracket's name.
    Brackets(Vec<(String, BracketCheck)>),
    /// Bearings with their spacers.
    Bearings(Vec<(BearingInBracket, BracketFit)>),
    /// Lengths of hoses, lines and straps.
    Hoses(Vec<HoseReach>),
    /// Shims of the tie rods.
    BumpSteer(BumpSteer),
    /// Clicks to start from.
    DamperSetting(Vec<DamperSetting>),
    /// Link lengths.
    AntiRollBar(BarAtWheel),
    /// What is tightened at ride height.
    Bushings(Vec<BushingTwist>),
    /// What is set last.
    Alignment(Alignment),
    /// Nothing for the card.
    None,
}
