//! What is asked of a damper.

use crate::pickups::{PickupError, Wanted, wanted_travel};

/// Wheel travel left beyond a limit below which a check says "tight" (mm), where the user states none: about what
/// a tape measure and a rubber bushing are good for.
const USUAL_MARGIN_MM: f64 = 5.0;

/// What the owner asks of the damper; what is absent is taken from the description, and what is absent there too is not
/// asked: the check then states the travel it finds and promises nothing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StrokeQuestion {
    /// Wheel bump wanted before the bump stop is touched (mm, from ride height).
    pub bump: Option<f64>,
    /// Wheel droop wanted before the damper tops out (mm, from ride height).
    pub droop: Option<f64>,
    /// Wheel travel beyond the wanted one below which the check says "tight" (mm).
    pub margin: Option<f64>,
}

/// What is asked, completed from the description.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Asked {
    /// Wheel bump wanted (mm), if anybody wants any.
    pub(super) bump: Option<f64>,
    /// Wheel droop wanted (mm), if anybody wants any.
    pub(super) droop: Option<f64>,
    /// Wheel travel beyond the wanted one below which the check says "tight" (mm).
    pub(super) margin: f64,
}

impl Asked {
    /// Bump that must be there (mm).
    pub(super) fn least_bump(&self) -> f64 {
        self.bump.unwrap_or(0.0)
    }

    /// Droop that must be there (mm).
    pub(super) fn least_droop(&self) -> f64 {
        self.droop.unwrap_or(0.0)
    }
}

impl StrokeQuestion {
    pub(super) fn completed(&self, wanted: Option<Wanted>) -> Result<Asked, PickupError> {
        for (value, field) in [
            (self.bump, "bump"),
            (self.droop, "droop"),
            (self.margin, "margin"),
        ] {
            wanted_travel(value.unwrap_or(0.0), field)?;
        }
        let wanted = wanted.unwrap_or_default();
        Ok(Asked {
            bump: self.bump.or(wanted.bump),
            droop: self.droop.or(wanted.droop),
            margin: self.margin.or(wanted.margin).unwrap_or(USUAL_MARGIN_MM),
        })
    }
}
