//! The reference of all curves, made from the curves themselves.

use crate::readings::Reading;
use crate::units::{LengthUnit, Measure, Units};
use kin_core::{Along, AxleAlong};

/// A curve, or a rate of one, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CurveEntry {
    /// Its name in `table`, `plot`, `column` and on positions.
    pub name: String,
    /// The layout that has it.
    pub layout: &'static str,
    /// Its unit beside millimetres, and beside inches where that is another; empty for a plain ratio.
    pub unit: String,
    /// What it is, and what its low and high values mean.
    pub meaning: String,
}

/// Every curve of a corner, then every curve of an axle, each before its rates.
#[must_use]
pub fn curve_entries() -> Vec<CurveEntry> {
    let corner = Reading::corner_names()
        .into_iter()
        .filter_map(|name| Some((Reading::of_corner(&name, Along::Travel).ok()?, "corner")));
    let axle = Reading::axle_names()
        .into_iter()
        .filter_map(|name| Some((Reading::of_axle(&name, AxleAlong::Heave).ok()?, "live axle")));
    corner
        .chain(axle)
        .map(|(reading, layout)| entry(reading, layout))
        .collect()
}

fn entry(reading: Reading, layout: &'static str) -> CurveEntry {
    let mut meaning = format!("{}.", reading.title());
    let (low, high) = reading.sign_words();
    if !low.is_empty() {
        meaning.push_str(&format!(" Lower: {low}. Higher: {high}."));
    }
    if reading.is_rate() {
        meaning.push_str(&format!(
            " How fast `{}` changes with wheel travel.",
            reading.curve_name()
        ));
    }
    CurveEntry {
        name: reading.name(),
        layout,
        unit: unit(reading.measure()),
        meaning,
    }
}

fn unit(measure: Measure) -> String {
    let symbol = |length| Units::new(length, None).symbol(measure);
    let (metric, inch) = (symbol(LengthUnit::Millimetre), symbol(LengthUnit::Inch));
    if metric == inch {
        metric
    } else {
        format!("{metric} or {inch}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_curve_is_told_with_its_unit_and_its_signs() {
        let entries = curve_entries();
        assert_eq!(
            entries.len(),
            Reading::corner_names().len() + Reading::axle_names().len()
        );
        let found = |name: &str| entries.iter().find(|entry| entry.name == name).expect("a curve");
        assert_eq!(found("camber").unit, "deg");
        assert_eq!(
            found("camber").meaning,
            "Camber. Lower: top leans in. Higher: top leans out."
        );
        assert_eq!(found("camber_gain").unit, "deg/mm or deg/in");
        assert!(found("camber_gain").meaning.contains("`camber`"));
        assert_eq!(found("wheel_rate").unit, "N/mm or lb/in");
        assert_eq!(found("motion_ratio").unit, "");
    }
}
