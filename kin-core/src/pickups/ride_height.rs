//! Where the car sits, apart from where it was measured.

use super::named::{Named, Walk};
use serde::{Deserialize, Serialize};

/// Ride height, given in one of three ways.
///
/// Cars are often measured hanging: travel 0 is then full droop, and ride height is a travel above it.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RideHeight {
    /// Wheel travel from the pickups as measured to ride height (mm), bump positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub travel: Option<f64>,
    /// Distance between the damper's mounts at ride height (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub damper_length: Option<f64>,
    /// Height from hub centre to wing lip at ride height (mm); needs `hub_to_lip_as_measured`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hub_to_lip: Option<f64>,
    /// Height from hub centre to wing lip when the pickups were measured (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hub_to_lip_as_measured: Option<f64>,
}

impl Named for RideHeight {
    fn walk(&mut self, walk: &mut Walk<'_>) {
        walk.lengths([
            ("travel", &mut self.travel),
            ("damper_length", &mut self.damper_length),
            ("hub_to_lip", &mut self.hub_to_lip),
            ("hub_to_lip_as_measured", &mut self.hub_to_lip_as_measured),
        ]);
    }
}
