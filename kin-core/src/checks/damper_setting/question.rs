//! What is known of a damper's adjuster and of its forces.

use crate::pickups::{Measured, PickupError, Quantity, finite, incomplete, positive, positive_of, within};
use crate::{Dimension, Rounding, Sentence};
use serde::{Deserialize, Serialize};

/// Speed of the wheel at which damping is compared, where none is stated (mm/s): body motion, common practice, no source.
const USUAL_WHEEL_SPEED: f64 = 100.0;
/// More clicks than this are taken for a slip of the pen.
const MOST_CLICKS: u32 = 500;

/// The end of an adjuster that clicks are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CountedFrom {
    /// Turned in to the end where the damper is stiffest: clicks back it off.
    #[default]
    FullStiff,
    /// Turned out to the end where the damper is softest: clicks turn it in.
    FullSoft,
}

/// A force that a damper dyno showed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DynoPoint {
    /// Speed of the damper (mm/s), positive in bump and in rebound.
    pub speed: f64,
    /// Force without the gas force (N), positive in bump and in rebound.
    pub force: f64,
}

/// Forces at one click.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClickCurve {
    /// The click, counted from the adjuster's end.
    pub click: u32,
    /// Forces at rising speeds; no force at rest goes without saying. Between two points the force runs straight.
    pub points: Vec<DynoPoint>,
}

/// An adjuster and the damping it sets, in bump or in rebound.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DampingDirection {
    /// All clicks from one end to the other.
    pub clicks: u32,
    /// The end they are counted from.
    #[serde(default)]
    pub counted_from: CountedFrom,
    /// Dyno points, for as many clicks as were measured.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dyno: Vec<ClickCurve>,
    /// Damping ratio wanted at the wheel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_ratio: Option<f64>,
}

/// What is asked about the setting of a damper. Where one knob sets bump and rebound together, give it in both.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DamperSettingQuestion {
    /// Speed of the wheel at which damping is compared (mm/s).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheel_speed: Option<f64>,
    /// In bump.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bump: Option<DampingDirection>,
    /// In rebound.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rebound: Option<DampingDirection>,
}

impl DamperSettingQuestion {
    pub(super) fn wheel_speed(&self) -> f64 {
        self.wheel_speed.unwrap_or(USUAL_WHEEL_SPEED)
    }

    pub(super) fn validate(&self) -> Result<(), PickupError> {
        positive_of(
            self.wheel_speed(),
            Dimension::Speed,
            "wheel_speed",
            "give the speed of the wheel relative to the body",
        )?;
        for (direction, field) in [(&self.bump, "bump"), (&self.rebound, "rebound")] {
            if let Some(direction) = direction {
                direction.validate(field)?;
            }
        }
        Ok(())
    }
}

impl DampingDirection {
    fn validate(&self, field: &str) -> Result<(), PickupError> {
        within(
            f64::from(self.clicks),
            &format!("{field}.clicks"),
            (1.0, f64::from(MOST_CLICKS)),
            "count the clicks from one end of the adjuster to the other",
        )?;
        if let Some(wanted) = self.wanted_ratio {
            positive(
                wanted,
                &format!("{field}.wanted_ratio"),
                "give the share of critical damping: 1 is critical",
            )?;
        }
        for (place, curve) in self.dyno.iter().enumerate() {
            let name = format!("{field}.dyno[{place}]");
            if curve.click > self.clicks {
                return Err(PickupError::OutOfRange {
                    field: format!("{name}.click"),
                    value: f64::from(curve.click),
                    requirement: format!("at most the {} clicks of the adjuster", self.clicks),
                    advice: "count from the same end as `counted_from` says",
                });
            }
            if self
                .dyno
                .iter()
                .take(place)
                .any(|other| other.click == curve.click)
            {
                let problem = format!("click {} is given twice", curve.click);
                return Err(incomplete(&name, &problem));
            }
            curve.validate(&name)?;
        }
        Ok(())
    }
}

impl ClickCurve {
    fn validate(&self, name: &str) -> Result<(), PickupError> {
        if self.points.is_empty() {
            return Err(incomplete(name, "give at least one speed with its force"));
        }
        let mut before = DynoPoint {
            speed: 0.0,
            force: 0.0,
        };
        for (place, point) in self.points.iter().enumerate() {
            finite(point.speed, &format!("{name}.points[{place}].speed"))?;
            finite(point.force, &format!("{name}.points[{place}].force"))?;
            if point.speed <= before.speed || point.force < 0.0 {
                let speed = |sentence: Sentence, speed: f64| {
                    sentence.rounded(speed, Dimension::Speed, Rounding::AsGiven)
                };
                let field = format!("{name}.points[{place}]");
                let problem = speed(Sentence::new(format!("`{field}` (")), point.speed)
                    .words(", ")
                    .rounded(point.force, Dimension::Force, Rounding::AsGiven)
                    .words(") does not follow ");
                return Err(PickupError::Misplaced {
                    problem: speed(problem, before.speed),
                    field,
                    advice: "give speeds above 0 in rising order, and forces as positive numbers in bump and rebound",
                });
            }
            before = *point;
        }
        Ok(())
    }

    /// Force at a speed of the damper (N); none above the speeds that were measured.
    pub(super) fn force_at(&self, speed: f64) -> Option<f64> {
        let mut before = DynoPoint {
            speed: 0.0,
            force: 0.0,
        };
        for point in &self.points {
            if speed <= point.speed {
                let share = (speed - before.speed) / (point.speed - before.speed);
                return Some(before.force + share * (point.force - before.force));
            }
            before = *point;
        }
        None
    }

    /// The highest speed that was measured (mm/s).
    pub(super) fn fastest(&self) -> f64 {
        self.points.last().map_or(0.0, |point| point.speed)
    }
}

impl Measured for DynoPoint {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.speed, Quantity::Speed);
        visitor(&mut self.force, Quantity::Force);
    }
}

impl Measured for ClickCurve {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.points.visit(visitor);
    }
}

impl Measured for DampingDirection {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.dyno.visit(visitor);
    }
}

impl Measured for DamperSettingQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        if let Some(speed) = &mut self.wheel_speed {
            visitor(speed, Quantity::Speed);
        }
        self.bump.visit(visitor);
        self.rebound.visit(visitor);
    }
}
