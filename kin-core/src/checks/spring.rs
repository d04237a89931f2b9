//! Force and length of a spring, alone or with a helper or tender spring in series.

use super::rate_in_series;
use super::spring_rate::solid_below;
use crate::pickups::{Measured, PickupError, Quantity, length_within, positive_of};
use crate::{Dimension, Sentence};
use serde::{Deserialize, Serialize};

/// A softer spring stacked on the main spring: a helper keeps the stack seated in droop, a tender also carries load
/// until its coils close.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HelperSpring {
    /// Rate (N/mm).
    pub rate: f64,
    /// Length without load (mm).
    pub free_length: f64,
    /// Length with its coils touching (mm).
    pub solid_length: f64,
    /// Thickness of the ring between both springs (mm).
    #[serde(default)]
    pub divider: f64,
}

impl HelperSpring {
    fn validate(&self) -> Result<(), PickupError> {
        positive_of(
            self.rate,
            Dimension::Rate,
            "helper.rate",
            "give the rate of the helper spring",
        )?;
        positive_of(
            self.solid_length,
            Dimension::Length,
            "helper.solid_length",
            "give its length with the coils touching",
        )?;
        solid_below(self.free_length, self.solid_length, "helper.free_length")?;
        length_within(
            self.divider,
            "helper.divider",
            (0.0, 100.0),
            "give the thickness of the ring between the springs",
        )
    }

    /// Force that closes its coils (N).
    #[must_use]
    pub fn force_at_solid(&self) -> f64 {
        self.rate * (self.free_length - self.solid_length)
    }
}

impl Measured for HelperSpring {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.rate, Quantity::Rate);
        for length in [&mut self.free_length, &mut self.solid_length, &mut self.divider] {
            visitor(length, Quantity::Length);
        }
    }
}

/// All springs between two seats as one: soft while the helper works, then as stiff as the main spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SpringStack {
    /// Length without load (mm).
    pub(crate) free: f64,
    /// Length with all coils touching (mm), if it is known.
    pub(crate) solid: Option<f64>,
    /// Rate of the main spring (N/mm).
    pub(crate) stiff: f64,
    /// Rate while the helper works (N/mm).
    soft: f64,
    /// Force at which the helper's coils close (N); 0 without a helper.
    closed_at: f64,
}

impl SpringStack {
    /// A main spring, with or without a helper.
    ///
    /// * `rate` (N/mm), `free` and `solid` (mm) of the main spring
    pub(crate) fn new(
        rate: f64,
        free: f64,
        solid: Option<f64>,
        helper: Option<&HelperSpring>,
    ) -> Result<Self, PickupError> {
        positive_of(rate, Dimension::Rate, "spring.rate", "give the spring rate")?;
        positive_of(
            free,
            Dimension::Length,
            "spring.free_length",
            "give the length of the unloaded spring",
        )?;
        if let Some(solid) = solid {
            positive_of(
                solid,
                Dimension::Length,
                "solid_length",
                "give the length of the spring with its coils touching",
            )?;
            solid_below(free, solid, "spring.free_length")?;
        }
        let Some(helper) = helper else {
            return Ok(Self {
                free,
                solid,
                stiff: rate,
                soft: rate,
                closed_at: 0.0,
            });
        };
        helper.validate()?;
        let closed_at = helper.force_at_solid();
        if let Some(main) = solid.map(|solid| rate * (free - solid))
            && main <= closed_at
        {
            return Err(PickupError::Misplaced {
                field: "helper".to_owned(),
                problem: Sentence::new("the main spring goes solid at ")
                    .quantity(main, Dimension::Force)
                    .words(", before the helper spring does at ")
                    .quantity(closed_at, Dimension::Force),
                advice: "the helper must close first: are the two springs swapped?",
            });
        }
        Ok(Self {
            free: free + helper.free_length + helper.divider,
            solid: solid.map(|solid| solid + helper.solid_length + helper.divider),
            stiff: rate,
            // Both rates were found positive, so that there is a rate in series.
            soft: rate_in_series(&[rate, helper.rate]).unwrap_or(rate),
            closed_at,
        })
    }

    /// The same springs with a main spring of the same rate that is longer without load (mm).
    pub(crate) fn longer_by(&self, change: f64) -> Self {
        Self {
            free: self.free + change,
            ..*self
        }
    }

    /// Force at an installed length (N); none when the springs are loose.
    pub(crate) fn force(&self, installed: f64) -> f64 {
        let soft = self.soft * (self.free - installed);
        if soft <= self.closed_at {
            soft.max(0.0)
        } else {
            self.closed_at + self.stiff * (self.closing_length() - installed)
        }
    }

    /// Rate at an installed length (N/mm): 0 when the springs are loose.
    pub(crate) fn rate(&self, installed: f64) -> f64 {
        if installed > self.free {
            0.0
        } else if self.soft * (self.free - installed) < self.closed_at {
            self.soft
        } else {
            self.stiff
        }
    }

    /// Installed length under a force (mm).
    pub(crate) fn length_under(&self, force: f64) -> f64 {
        if force <= self.closed_at {
            self.free - force / self.soft
        } else {
            self.closing_length() - (force - self.closed_at) / self.stiff
        }
    }

    /// Installed length at which the helper's coils close (mm).
    fn closing_length(&self) -> f64 {
        self.free - self.closed_at / self.soft
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tender() -> HelperSpring {
        HelperSpring {
            rate: 30.0,
            free_length: 80.0,
            solid_length: 30.0,
            divider: 5.0,
        }
    }

    #[test]
    fn a_tender_works_in_series_until_its_coils_close() {
        let stack = SpringStack::new(60.0, 200.0, Some(90.0), Some(&tender())).expect("a good stack");
        // 1500 N close the tender: 50 mm of its own and 25 mm of the main spring.
        assert!((stack.force(285.0 - 75.0) - 1_500.0).abs() < 1e-9);
        assert!((stack.force(285.0 - 15.0) - 300.0).abs() < 1e-9);
        assert!((stack.force(285.0 - 85.0) - 2_100.0).abs() < 1e-9);
        assert_eq!(stack.force(300.0), 0.0);
        assert_eq!(
            [stack.rate(300.0), stack.rate(250.0), stack.rate(205.0)],
            [0.0, 20.0, 60.0]
        );
        assert_eq!(stack.solid, Some(125.0));
        for force in [0.0, 700.0, 1_500.0, 4_000.0] {
            assert!((stack.force(stack.length_under(force)) - force).abs() < 1e-9);
        }
    }

    #[test]
    fn the_main_spring_must_not_close_first() {
        let swapped = SpringStack::new(10.0, 200.0, Some(90.0), Some(&tender()));
        assert!(matches!(swapped, Err(PickupError::Misplaced { .. })));
    }
}
