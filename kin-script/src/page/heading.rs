//! The names of columns as people read them.

use crate::units::{Measure, Units};
use kin_core::Dimension;

const DIMENSIONS: [Dimension; 13] = [
    Dimension::Length,
    Dimension::FineLength,
    Dimension::Angle,
    Dimension::FineAngle,
    Dimension::Ratio,
    Dimension::Rate,
    Dimension::Force,
    Dimension::Torque,
    Dimension::Stress,
    Dimension::Frequency,
    Dimension::Mass,
    Dimension::Speed,
    Dimension::Damping,
];

/// A column's name with spaces, and its unit in brackets: `damper_length_mm` is "damper length (mm)".
pub(super) fn heading(name: &str, units: &Units) -> String {
    let spaced = |text: &str| text.replace('_', " ");
    let with_unit = |rest: &str, symbol: &str| format!("{} ({symbol})", spaced(rest));
    if let Some(rest) = name.strip_suffix("_percent").or_else(|| name.strip_suffix("_%")) {
        return with_unit(rest, "%");
    }
    let measures = DIMENSIONS.into_iter().flat_map(|dimension| {
        [false, true].map(|per_travel| Measure {
            dimension,
            per_travel,
        })
    });
    let longest = measures
        .filter(|measure| !units.symbol(*measure).is_empty())
        .filter_map(|measure| Some((name.strip_suffix(units.suffix(measure).as_str())?, measure)))
        .min_by_key(|(rest, _)| rest.len());
    match longest {
        // "per 25.4 mm" is a unit of its own, which is written in words.
        Some((rest, measure)) if !rest.ends_with("_per") && !ends_in_number(rest) => {
            with_unit(rest, &units.symbol(measure))
        }
        _ => spaced(name),
    }
}

fn ends_in_number(text: &str) -> bool {
    text.contains("_per_") && text.ends_with(|last: char| last.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::LengthUnit;

    #[test]
    fn names_have_their_unit_in_brackets() {
        let metric = Units::default();
        for (name, read) in [
            ("damper_length_mm", "damper length (mm)"),
            ("wheel_rate_n_per_mm", "wheel rate (N/mm)"),
            ("bump_steer_deg_per_mm", "bump steer (deg/mm)"),
            ("motion_ratio_slope_per_mm", "motion ratio slope (1/mm)"),
            ("motion_ratio", "motion ratio"),
            ("margin_percent", "margin (%)"),
            ("change_deg_per_25_4_mm", "change deg per 25 4 mm"),
            ("verdict", "verdict"),
        ] {
            assert_eq!(heading(name, &metric), read);
        }
        let inches = Units::new(LengthUnit::Inch, None);
        assert_eq!(heading("bump_in", &inches), "bump (in)");
        assert_eq!(heading("wheel_rate_lb_per_in", &inches), "wheel rate (lb/in)");
    }
}
