//! Findings as maps that a script can read.

use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::checks::{Finding, Remedy};
use rhai::{Array, Dynamic, Map};

/// Findings in the script's unit.
pub(super) fn finding_list<'a>(findings: impl IntoIterator<Item = &'a Finding>, units: &Units) -> Dynamic {
    findings
        .into_iter()
        .map(|finding| Dynamic::from_map(finding_map(finding, units)))
        .collect::<Array>()
        .into()
}

const fn measure(dimension: Dimension) -> Measure {
    Measure {
        dimension,
        per_travel: false,
    }
}

fn number(value: f64, dimension: Dimension, units: &Units) -> Dynamic {
    units.from_core(value, measure(dimension)).into()
}

fn finding_map(finding: &Finding, units: &Units) -> Map {
    let number = |value| number(value, finding.dimension, units);
    let remedies: Array = finding
        .remedies
        .iter()
        .map(|remedy| Dynamic::from_map(remedy_map(remedy, units)))
        .collect();
    let at = finding.at_travel.map_or(Dynamic::UNIT, |travel| {
        units.from_core(travel, Measure::LENGTH).into()
    });
    [
        ("check", finding.check.into()),
        ("subject", finding.subject.clone().into()),
        ("verdict", finding.verdict.word().into()),
        ("value", number(finding.value)),
        ("limit", number(finding.limit)),
        ("margin", number(finding.margin)),
        ("unit", units.symbol(measure(finding.dimension)).into()),
        ("at", at),
        ("statement", finding.statement.render(units.shown()).into()),
        ("remedies", remedies.into()),
    ]
    .into_iter()
    .map(|(key, value): (&str, Dynamic)| (key.into(), value))
    .collect()
}

fn remedy_map(remedy: &Remedy, units: &Units) -> Map {
    let dimension = remedy.kind.dimension();
    let number = |value| number(value, dimension, units);
    [
        ("kind", remedy.kind.word().into()),
        ("change", number(remedy.change)),
        ("window_from", number(remedy.window.0)),
        ("window_to", number(remedy.window.1)),
        ("text", remedy.sentence.render(units.shown()).into()),
    ]
    .into_iter()
    .map(|(key, value): (&str, Dynamic)| (key.into(), value))
    .collect()
}
