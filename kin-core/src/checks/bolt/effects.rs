//! Stresses of a bolt, each against its limit.

use super::question::{BoltQuestion, BoltTab, Shear};
use crate::Error;
use crate::checks::bolt_data::BoltSize;
use std::f64::consts::PI;

/// What a force across a bolt does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoltEffect {
    /// It shears the bolt at the faces of the tabs.
    Shear,
    /// It bends a bolt that is held on one side.
    Bending,
    /// It presses the bolt into the tab.
    Bearing,
}

impl BoltEffect {
    /// The word for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Shear => "shear of the bolt",
            Self::Bending => "bending of the bolt",
            Self::Bearing => "bearing on the tab",
        }
    }
}

/// One effect in numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// What happens.
    pub effect: BoltEffect,
    /// Nominal stress (MPa).
    pub stress: f64,
    /// The limit (MPa); none where it was not given and does not follow.
    pub limit: Option<f64>,
}

impl Effect {
    /// Stress over limit; above 1 the limit does not hold.
    #[must_use]
    pub fn share(&self) -> Option<f64> {
        self.limit.map(|limit| self.stress / limit)
    }
}

/// The effects of the force on the bolt, in a fixed order.
///
/// Shear `F / (planes A)`; bending of a peg `F lever / (pi d^3 / 32)`; bearing `F / (tabs t d)`.
pub(super) fn effects(question: &BoltQuestion, size: &BoltSize) -> Result<Vec<Effect>, Error> {
    let force = (question.force * question.load_factor).abs();
    let strength = question.grade.strength(size)?;
    let area = if question.threads_in_shear_plane {
        size.stress_area()
    } else {
        size.shank_area()
    };
    let shear_limit = match question.shear_limit {
        Some(limit) => limit,
        None => question
            .grade
            .shear_limit(size, question.threads_in_shear_plane)?,
    };
    let mut effects = vec![Effect {
        effect: BoltEffect::Shear,
        stress: force / (question.shear.planes() * area),
        limit: Some(shear_limit),
    }];
    if let (Shear::Single, Some(lever)) = (question.shear, question.lever) {
        // The bar that has the area which carries.
        let diameter = (4.0 * area / PI).sqrt();
        effects.push(Effect {
            effect: BoltEffect::Bending,
            stress: force * lever / (PI * diameter.powi(3) / 32.0),
            limit: Some(question.bending_limit.unwrap_or(strength.yielding)),
        });
    }
    if let Some(tab) = &question.tab {
        effects.push(Effect {
            effect: BoltEffect::Bearing,
            stress: force / (question.shear.planes() * tab.thickness * size.diameter),
            limit: bearing_limit(tab, strength.tensile),
        });
    }
    Ok(effects)
}

/// Bearing stress that a tab may see (MPa): as given, or `2.5 alpha f_u / 1.25` with alpha the least of
/// `e / (3 d0)`, `f_ub / f_u` and 1.
///
/// EN 1993-1-8, table 3.4, from memory.
fn bearing_limit(tab: &BoltTab, bolt_tensile: f64) -> Option<f64> {
    tab.bearing_limit.or_else(|| {
        let (tensile, hole, edge) = (tab.tensile?, tab.hole?, tab.edge_distance?);
        let alpha = (edge / (3.0 * hole)).min(bolt_tensile / tensile).min(1.0);
        Some(2.5 * alpha * tensile / 1.25)
    })
}
