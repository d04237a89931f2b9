//! What is answered of a damper.

use crate::checks::{DamperLengths, Finding, Stopper, TravelBudget, Verdict, worst};

/// Lengths to cut a mock-up bar to, between the turning points of the mounts (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MockUp {
    /// At ride height.
    pub at_ride: f64,
    /// Where the bump stop is touched.
    pub at_stop_contact: f64,
    /// At full droop: where the first of all stops acts.
    pub at_full_droop: f64,
}

/// The stroke check of one damper.
#[derive(Debug, Clone, PartialEq)]
pub struct DamperStroke {
    /// Which damper.
    pub damper: String,
    /// Travel at ride height, from the pickups as measured (mm).
    pub ride_travel: f64,
    /// Its lengths between the turning points of its mounts.
    pub lengths: DamperLengths,
    /// How much these differ from the catalogue's lengths because of stud mounts (mm).
    pub stud_allowance: f64,
    /// Wheel bump asked for, from ride height (mm); none when nobody said how much is wanted.
    pub asked_bump: Option<f64>,
    /// Wheel droop asked for, from ride height (mm); none when nobody said how much is wanted.
    pub asked_droop: Option<f64>,
    /// Where it sits, and the travel left.
    pub budget: TravelBudget,
    /// What stops the wheel first in bump, and after how much bump from ride height (mm).
    pub first_in_bump: (Stopper, Option<f64>),
    /// What stops the wheel first in droop, and after how much droop from ride height (mm).
    pub first_in_droop: (Stopper, Option<f64>),
    /// Lengths for a mock-up bar.
    pub mock_up: MockUp,
    /// The answers.
    pub findings: Vec<Finding>,
}

impl DamperStroke {
    /// The worst of the findings; "not asked" where no travel was asked for and nothing fails, since nothing is then
    /// said of fit.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match worst(&self.findings) {
            Verdict::Fails => Verdict::Fails,
            _ if self.asked_bump.is_none() && self.asked_droop.is_none() => Verdict::NotAsked,
            verdict => verdict,
        }
    }
}
