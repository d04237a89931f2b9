//! The spring as the wheel feels it at one position: what the lever picture is drawn from.

use crate::sheet::drawing::{LeverEnd, LeverPicture};
use crate::table::fixed;
use crate::units::{Measure, Units};
use kin_core::curves::{AxleCurve, CornerCurve, WheelRate};
use kin_core::{AxlePosition, CornerPosition, Dimension};

/// A spring behind a lever (N/mm and a ratio).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SpringLever {
    /// Spring travel over wheel travel.
    pub(crate) ratio: f64,
    pub(crate) spring_rate: f64,
    pub(crate) wheel_rate: WheelRate,
}

impl SpringLever {
    /// Of a corner; none without a spring.
    pub(crate) fn of_corner(position: &CornerPosition<'_>) -> Option<Self> {
        Some(Self {
            ratio: CornerCurve::SpringMotionRatio.value(position)?,
            spring_rate: position.corner().pickups().spring.as_ref()?.rate,
            wheel_rate: CornerCurve::WheelRate.wheel_rate_at(position)?,
        })
    }

    /// Of an axle's left side, both wheels moving alike; none without springs.
    pub(crate) fn of_axle(position: &AxlePosition<'_>) -> Option<Self> {
        let wheel_rate = AxleCurve::WheelRateLeft.wheel_rate_at(position)?;
        let spring_rate = position.axle().pickups().springs.as_ref()?.left.rate;
        // The spring's part of the wheel rate is its rate times the square of its ratio; springs are compressed in bump.
        let ratio = (wheel_rate.from_spring / spring_rate).sqrt();
        Some(Self {
            ratio,
            spring_rate,
            wheel_rate,
        })
    }
}

impl SpringLever {
    /// The picture with the numbers of this position, told for one unit of wheel travel.
    ///
    /// * `of`, `place`: what it is, and where in its travel
    pub(crate) fn picture(&self, of: &str, place: &str, units: &Units) -> LeverPicture {
        let length = units.length.symbol();
        let force_unit = symbol(units, Dimension::Force);
        let rate_unit = symbol(units, Dimension::Rate);
        let rate = |core: f64| {
            let shown = units.from_core(core, plain(Dimension::Rate));
            format!("{} {rate_unit}", significant(shown))
        };
        // Forces after one of the reader's units of wheel travel.
        let pushed = units.length.millimetres();
        let shown_force = |core: f64| units.from_core(core, plain(Dimension::Force));
        let spring_force = shown_force(self.spring_rate * self.ratio * pushed);
        let wheel_force = spring_force * self.ratio;
        let ratio = significant(self.ratio);
        let end = |travel: &str, force: f64, work: f64| LeverEnd {
            travel: format!("{travel} {length}"),
            force: format!("{} {force_unit}", significant(force)),
            work: format!(
                "{travel} {length} x {} {force_unit} / 2 = {} {force_unit} {length}",
                significant(force),
                significant(work)
            ),
        };
        let work = wheel_force / 2.0;
        LeverPicture {
            title: "Why the wheel rate goes with the square of the motion ratio".to_owned(),
            subtitle: format!("{of}, {place}: motion ratio of the spring {ratio} (spring over wheel)"),
            ratio: self.ratio,
            spring: end(&ratio, spring_force, work),
            wheel: end("1", wheel_force, work),
            balance: format!(
                "Balance about the pivot: {} {force_unit} x {ratio} = {} {force_unit} x 1. The ratio counts for the travel, \
                 and once more for the force.",
                significant(spring_force),
                significant(wheel_force)
            ),
            result: self.result(&ratio, rate),
        }
    }

    fn result(&self, ratio: &str, rate: impl Fn(f64) -> String) -> Vec<String> {
        let mut lines = vec![format!(
            "Stiffness at the wheel = force over travel: {} x {ratio} x {ratio} = {}",
            rate(self.spring_rate),
            rate(self.wheel_rate.from_spring)
        )];
        match self.wheel_rate.geometric {
            Some(geometric) => lines.push(format!(
                "The ratio changes over the travel, and with the spring's force here that adds {}: {} in all.",
                rate(geometric),
                rate(self.wheel_rate.total())
            )),
            None => lines.push(
                "What the change of the ratio adds is left out: without the spring's free length its force is not known."
                    .to_owned(),
            ),
        }
        lines
    }
}

fn plain(dimension: Dimension) -> Measure {
    Measure {
        dimension,
        per_travel: false,
    }
}

fn symbol(units: &Units, dimension: Dimension) -> String {
    units.symbol(plain(dimension))
}

/// A number with about four digits that mean something.
fn significant(value: f64) -> String {
    let whole_digits = if value == 0.0 {
        1.0
    } else {
        value.abs().log10().floor() + 1.0
    };
    fixed(value, (4.0 - whole_digits).clamp(0.0, 6.0) as usize)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::LengthUnit;

    #[test]
    fn numbers_show_four_digits() {
        for (value, text) in [
            (0.60482, "0.6048"),
            (0.061234, "0.06123"),
            (35.7518, "35.75"),
            (1234.5, "1234"),
            (0.0, "0.000"),
        ] {
            assert_eq!(significant(value), text);
        }
    }

    #[test]
    fn an_inch_of_travel_is_told_in_pounds() {
        // 550 lb/in behind a ratio of one half: 275 lb after half an inch, 137.5 lb at the wheel; k m^2 by hand.
        let units = Units::new(LengthUnit::Inch, None);
        let lever = SpringLever {
            ratio: 0.5,
            spring_rate: units.core_units(Dimension::Rate) * 550.0,
            wheel_rate: WheelRate {
                from_spring: units.core_units(Dimension::Rate) * 137.5,
                geometric: None,
            },
        };
        let picture = lever.picture("Corner", "at ride height", &units);
        assert_eq!(picture.spring.force, "275.0 lb");
        assert_eq!(picture.wheel.force, "137.5 lb");
        assert_eq!(picture.wheel.work, "1 in x 137.5 lb / 2 = 68.75 lb in");
        assert_eq!(picture.spring.work, "0.5000 in x 275.0 lb / 2 = 68.75 lb in");
        assert!(picture.result[0].ends_with("550.0 lb/in x 0.5000 x 0.5000 = 137.5 lb/in"));
    }
}
