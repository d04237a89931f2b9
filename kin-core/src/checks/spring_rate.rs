//! A coil spring from its wire: rate, index, stress and solid length of springs that carry no marking.

use super::{Finding, Sentence, Verdict};
use crate::Dimension;
use crate::pickups::{Measured, PickupError, Quantity, incomplete, lengths, positive_of, within, within_of};
use serde::{Deserialize, Serialize};

/// Shear modulus of spring steel where none is given (MPa): chrome-silicon wire, from memory after Budynas &
/// Nisbett, Shigley's Mechanical Engineering Design, table 10-5.
const USUAL_SHEAR_MODULUS_MPA: f64 = 77_200.0;
/// Spring indices that can be coiled and do not tangle or buckle easily: Shigley, section 10-3 (4 to 12).
const USUAL_INDEX: (f64, f64) = (4.0, 12.0);
const CHECK: &str = "wire_spring";

/// How the ends of a coil spring are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpringEnds {
    /// Cut off, as coiled.
    Plain,
    /// Cut off, then ground flat.
    PlainGround,
    /// The last coil is bent to touch its neighbour.
    Closed,
    /// Closed, then ground flat: the usual coilover spring.
    #[default]
    ClosedGround,
}

impl SpringEnds {
    /// Coils that carry no deflection.
    ///
    /// Source: Shigley, table 10-1.
    #[must_use]
    pub const fn dead_coils(self) -> f64 {
        match self {
            Self::Plain => 0.0,
            Self::PlainGround => 1.0,
            Self::Closed | Self::ClosedGround => 2.0,
        }
    }

    /// Wire diameters in the solid stack beyond the number of coils: an end that is not ground adds one.
    ///
    /// Source: Shigley, table 10-1.
    const fn added_to_stack(self) -> f64 {
        match self {
            Self::Plain | Self::Closed => 1.0,
            Self::PlainGround | Self::ClosedGround => 0.0,
        }
    }
}

/// A coil spring as a calliper sees it. Give exactly one of the three diameters.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WireSpring {
    /// Diameter of the wire (mm).
    pub wire_diameter: f64,
    /// Diameter of the coil over the middle of the wire (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mean_diameter: Option<f64>,
    /// Diameter of the coil over the outside (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Option<f64>,
    /// Diameter inside the coil (mm).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inside_diameter: Option<f64>,
    /// All coils from end to end, dead ones included.
    pub total_coils: f64,
    /// How the ends are made.
    #[serde(default)]
    pub ends: SpringEnds,
    /// Length without load (mm), for the load that closes the coils.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_length: Option<f64>,
    /// Shear modulus of the wire (MPa); spring steel when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shear_modulus: Option<f64>,
    /// Shear stress the wire may see with its coils closed (MPa), for a finding on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allowed_stress: Option<f64>,
}

impl Measured for WireSpring {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.wire_diameter, Quantity::Length);
        let diameters = [
            &mut self.mean_diameter,
            &mut self.outside_diameter,
            &mut self.inside_diameter,
        ];
        lengths(diameters, visitor);
        lengths([&mut self.free_length], visitor);
        for stress in [&mut self.shear_modulus, &mut self.allowed_stress]
            .into_iter()
            .flatten()
        {
            visitor(stress, Quantity::Stress);
        }
    }
}

/// What the wire says about a spring.
#[derive(Debug, Clone, PartialEq)]
pub struct WireSpringRate {
    /// Diameter of the coil over the middle of the wire (mm).
    pub mean_diameter: f64,
    /// Spring index: mean diameter over wire diameter.
    pub index: f64,
    /// Coils that deflect.
    pub active_coils: f64,
    /// Rate (N/mm).
    pub rate: f64,
    /// Length with all coils touching (mm).
    pub solid_length: f64,
    /// Stress factor of Wahl, for curvature and direct shear.
    pub wahl_factor: f64,
    /// Stress factor of Bergstrasser, for the same.
    pub bergstrasser_factor: f64,
    /// Force that closes the coils (N), when the free length is given.
    pub force_at_solid: Option<f64>,
    /// Shear stress on the inside of the coil there, after Wahl (MPa).
    pub stress_at_solid: Option<f64>,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Rate of a coil spring of round wire (N/mm): `G d^4 / (8 D^3 n)`.
///
/// * `wire` d, `mean_diameter` D (mm), `active_coils` n, `shear_modulus` G (MPa)
///
/// Source: Shigley, section 10-4.
/// ```
/// let rate = kin_core::checks::spring_rate(2.5, 28.5, 13.0, 81_000.0);
/// assert!((rate - 1.314).abs() < 5e-4); // Shigley, problem 10-3
/// ```
#[must_use]
pub fn spring_rate(wire: f64, mean_diameter: f64, active_coils: f64, shear_modulus: f64) -> f64 {
    // G d^4 / (8 D^3 n)
    shear_modulus * wire.powi(4) / (8.0 * mean_diameter.powi(3) * active_coils)
}

/// Stress factor of Wahl for a spring index C: `(4C - 1)/(4C - 4) + 0.615/C`.
///
/// Source: A. M. Wahl, Mechanical Springs; in Shigley, section 10-2.
#[must_use]
pub fn wahl_factor(index: f64) -> f64 {
    (4.0 * index - 1.0) / (4.0 * index - 4.0) + 0.615 / index
}

/// Stress factor of Bergstrasser for a spring index C: `(4C + 2)/(4C - 3)`.
///
/// Source: Shigley, section 10-2.
#[must_use]
pub fn bergstrasser_factor(index: f64) -> f64 {
    (4.0 * index + 2.0) / (4.0 * index - 3.0)
}

/// Shear stress in the wire (MPa): `K 8 F D / (pi d^3)`.
///
/// * `factor` K, see [`wahl_factor`]; `force` F (N), `mean_diameter` D and `wire` d (mm)
///
/// Source: Shigley, section 10-2.
#[must_use]
pub fn spring_stress(factor: f64, force: f64, mean_diameter: f64, wire: f64) -> f64 {
    factor * 8.0 * force * mean_diameter / (std::f64::consts::PI * wire.powi(3))
}

/// Rate of springs stacked on each other (N/mm), while none of them is solid; none without springs.
///
/// ```
/// assert_eq!(kin_core::checks::rate_in_series(&[60.0, 30.0]), Some(20.0));
/// ```
#[must_use]
pub fn rate_in_series(rates: &[f64]) -> Option<f64> {
    let softness: f64 = rates.iter().map(|rate| 1.0 / rate).sum();
    (softness > 0.0)
        .then(|| 1.0 / softness)
        .filter(|rate| *rate > 0.0)
}

/// Rate, stress and solid length of a spring from its wire, with findings on its index and its closed coils.
///
/// # Errors
/// Sizes that make no spring.
pub fn check_wire_spring(spring: &WireSpring) -> Result<WireSpringRate, PickupError> {
    let wire = spring.wire_diameter;
    positive_of(
        wire,
        Dimension::Length,
        "wire_diameter",
        "measure the wire with a calliper",
    )?;
    let mean_diameter = spring.mean_of_the_given()?;
    if mean_diameter <= wire {
        return Err(PickupError::Misplaced {
            field: "wire_diameter".to_owned(),
            problem: Sentence::new("a coil with a mean diameter of ")
                .given_length(mean_diameter)
                .words(" has no room inside for wire of ")
                .given_length(wire),
            advice: "are wire and coil diameter swapped, or is the diameter another one than said?",
        });
    }
    within(
        spring.total_coils,
        "total_coils",
        (1.0, 100.0),
        "count from the tip of the wire at one end to the tip at the other",
    )?;
    let active_coils = spring.total_coils - spring.ends.dead_coils();
    if active_coils <= 0.0 {
        return Err(PickupError::OutOfRange {
            field: "total_coils".into(),
            value: spring.total_coils,
            requirement: format!(
                "more than the {} dead coils of such ends",
                spring.ends.dead_coils()
            ),
            advice: "count the dead coils too, or say how the ends are made",
        });
    }
    let modulus = spring.shear_modulus.unwrap_or(USUAL_SHEAR_MODULUS_MPA);
    within_of(
        modulus,
        Dimension::Stress,
        "shear_modulus",
        (1_000.0, 200_000.0),
        "steel is near 78000 MPa, or 11300 ksi",
    )?;
    if let Some(allowed) = spring.allowed_stress {
        positive_of(
            allowed,
            Dimension::Stress,
            "allowed_stress",
            "give the shear stress the wire may see",
        )?;
    }
    let rate = spring_rate(wire, mean_diameter, active_coils, modulus);
    let solid_length = wire * (spring.total_coils + spring.ends.added_to_stack());
    let force_at_solid = match spring.free_length {
        Some(free) => Some(rate * (free - solid_below(free, solid_length, "free_length")?)),
        None => None,
    };
    let index = mean_diameter / wire;
    let wahl = wahl_factor(index);
    let stress_at_solid = force_at_solid.map(|force| spring_stress(wahl, force, mean_diameter, wire));
    let mut findings = vec![index_finding(index)];
    findings.extend(
        stress_at_solid
            .zip(spring.allowed_stress)
            .map(|(found, allowed)| stress_finding(found, allowed)),
    );
    Ok(WireSpringRate {
        mean_diameter,
        index,
        active_coils,
        rate,
        solid_length,
        wahl_factor: wahl,
        bergstrasser_factor: bergstrasser_factor(index),
        force_at_solid,
        stress_at_solid,
        findings,
    })
}

impl WireSpring {
    fn mean_of_the_given(&self) -> Result<f64, PickupError> {
        let given = [
            (self.mean_diameter, "mean_diameter", 0.0),
            (self.outside_diameter, "outside_diameter", -self.wire_diameter),
            (self.inside_diameter, "inside_diameter", self.wire_diameter),
        ];
        let mut stated = given
            .into_iter()
            .filter_map(|(size, field, to_mean)| size.map(|size| (size, field, to_mean)));
        match (stated.next(), stated.next()) {
            (Some((size, field, to_mean)), None) => {
                positive_of(size, Dimension::Length, field, "measure the coil with a calliper")?;
                Ok(size + to_mean)
            }
            _ => Err(incomplete(
                "mean_diameter",
                "give exactly one of `mean_diameter`, `outside_diameter` or `inside_diameter`",
            )),
        }
    }
}

/// The solid length, if it is below the free length.
pub(super) fn solid_below(free: f64, solid: f64, field: &str) -> Result<f64, PickupError> {
    positive_of(
        free,
        Dimension::Length,
        field,
        "give the length of the spring lying on the bench, without load",
    )?;
    if solid >= free {
        return Err(PickupError::Misplaced {
            field: field.to_owned(),
            problem: Sentence::new("the solid length (")
                .given_length(solid)
                .words(format!(") is not below `{field}` ("))
                .given_length(free)
                .words(")"),
            advice: "a spring is shorter with its coils touching than without load: are the two swapped?",
        });
    }
    Ok(solid)
}

fn index_finding(index: f64) -> Finding {
    let (low, high) = USUAL_INDEX;
    let margin = (index - low).min(high - index);
    let limit = if index - low < high - index { low } else { high };
    let statement = Sentence::new("The coil is ")
        .quantity(index, Dimension::Ratio)
        .words(" times as wide as its wire; ")
        .quantity(low, Dimension::Ratio)
        .words(" to ")
        .quantity(high, Dimension::Ratio)
        .words(if margin < 0.0 {
            " is usual: check the diameters that were measured."
        } else {
            " is usual."
        });
    Finding {
        check: CHECK,
        subject: "spring index".into(),
        verdict: Verdict::from_margin(margin, 0.0),
        dimension: Dimension::Ratio,
        value: index,
        limit,
        margin,
        at_travel: None,
        statement,
        remedies: Vec::new(),
    }
}

fn stress_finding(stress: f64, allowed: f64) -> Finding {
    let margin = allowed - stress;
    let statement = Sentence::new("With its coils closed the wire sees ")
        .quantity(stress, Dimension::Stress)
        .words(" of shear; ")
        .quantity(allowed, Dimension::Stress)
        .words(if margin < 0.0 {
            " are allowed: the spring would take a set if it were ever closed."
        } else {
            " are allowed."
        });
    Finding {
        check: CHECK,
        subject: "stress with closed coils".into(),
        verdict: Verdict::from_margin(margin, 0.0),
        dimension: Dimension::Stress,
        value: stress,
        limit: allowed,
        margin,
        at_travel: None,
        statement,
        remedies: Vec::new(),
    }
}
