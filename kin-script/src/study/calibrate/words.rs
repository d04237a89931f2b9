//! What a calibration came to, in sentences.

use super::Calibrated;
use super::answer::{Verdict, agrees, share_that_holds};
use super::asked::is_as_described;
use super::moved::{Moved, moved};
use crate::table::fixed;
use crate::units::{Measure, Units};

/// Beyond this many of its standard deviations a residual is named. Source: common practice of survey adjustment, no source.
const NAMED_RESIDUAL: f64 = 3.0;
/// A candidate that is this probable is called found.
const SURE: f64 = 0.95;

pub(super) fn candidate_words(calibrated: &Calibrated) -> Option<String> {
    let chosen = calibrated.asked.candidates.get(calibrated.chosen)?;
    let share = calibrated.ends.get(calibrated.chosen)?.share;
    let described = calibrated.asked.candidates.iter().position(is_as_described)?;
    let written = calibrated.asked.candidates.get(described)?;
    Some(if !agrees(calibrated) {
        format!(
            "None of the candidates agrees with the readings; `{}` comes nearest.",
            chosen.name
        )
    } else if described == calibrated.chosen && share >= SURE {
        format!(
            "Agrees: the readings speak for `{}`, as described, with {}.",
            chosen.name,
            percent(share)
        )
    } else if share >= SURE {
        let fit = calibrated
            .ends
            .get(described)
            .and_then(|end| end.calibration.as_ref().ok());
        let fit = fit.map_or_else(String::new, |fit| {
            format!(
                ", which errors of the stated size explain in {} of cases",
                percent(fit.chance)
            )
        });
        format!(
            "Counted wrong: the readings speak for `{}` with {}, not for `{}` as described{fit}.",
            chosen.name,
            percent(share),
            written.name
        )
    } else {
        format!(
            "The readings do not decide between the candidates: `{}` has {}. Read more, further apart, or better.",
            chosen.name,
            percent(share)
        )
    })
}

pub(super) fn agreement_words(calibrated: &Calibrated) -> String {
    let found = &calibrated.found;
    let chance = percent(found.chance);
    let chi = fixed(found.chi_square, 1);
    if agrees(calibrated) {
        format!(
            "The readings agree with the survey: chi-square {chi} of {} readings; errors of the stated size make it as large in {chance} of cases.",
            found.degrees
        )
    } else {
        format!(
            "The readings and the survey do not agree: chi-square {chi} of {} readings; errors of the stated size make it as large in only {chance} of \
             cases. A reading, a pickup or a stated error is wrong.",
            found.degrees
        )
    }
}

/// The reading that fits worst, where one does not fit.
pub(super) fn worst_words(calibrated: &Calibrated, units: &Units) -> Option<String> {
    let ends = calibrated.found.readings.iter().enumerate();
    let sized = ends.filter_map(|(place, end)| Some((place, end, end.normalised?.abs())));
    let (place, end, size) = sized.max_by(|(_, _, one), (_, _, other)| one.total_cmp(other))?;
    if size < NAMED_RESIDUAL {
        return None;
    }
    let reading = calibrated.asked.question.readings.get(place)?;
    let words = calibrated.asked.readings.get(place)?;
    Some(format!(
        "Read `{}` again: it is {} from what everything else says, {} times what its error allows.",
        reading.name,
        show(end.residual, words.measure, units),
        fixed(size, 1)
    ))
}

pub(super) fn moved_words(calibrated: &Calibrated, units: &Units) -> Option<String> {
    let all = moved(calibrated, units);
    let first = all.first()?;
    let decimals = units.decimals(kin_core::Dimension::FineLength);
    let one = |moved: &Moved| {
        format!(
            "{} by {} {} ({} of its standard deviations)",
            moved.name,
            fixed(moved.change, decimals),
            moved.symbol,
            fixed(moved.share.abs(), 1)
        )
    };
    let second = all
        .get(1)
        .map_or_else(String::new, |moved| format!(", then {}", one(moved)));
    Some(format!("Moved most: {}{second}.", one(first)))
}

pub(super) fn zero_words(calibrated: &Calibrated, units: &Units) -> Vec<String> {
    let gauges = calibrated
        .asked
        .question
        .gauges
        .iter()
        .zip(&calibrated.found.zeros)
        .enumerate();
    let told = gauges.filter_map(|(place, (gauge, (zero, deviation)))| {
        let reading = calibrated
            .asked
            .question
            .readings
            .iter()
            .position(|one| one.gauge == Some(place))?;
        let measure = calibrated.asked.readings.get(reading)?.measure;
        Some(format!(
            "The zero of `{}` is off by {} (standard deviation {}).",
            gauge.name,
            show(*zero, measure, units),
            show(*deviation, measure, units)
        ))
    });
    told.collect()
}

pub(super) fn verdict_words(verdict: &Verdict<'_>, units: &Units) -> Option<String> {
    let asked = verdict.asked;
    let told = |(value, deviation): (f64, f64)| {
        let mut words = format!(
            "{} +- {}",
            show(value, asked.measure, units),
            show(2.0 * deviation, asked.measure, units)
        );
        if let Some(share) = share_that_holds(asked, (value, deviation)) {
            words = format!("{words}, holds in {}", percent(share));
        }
        words
    };
    Some(format!(
        "{}, at 95 %: before the readings {}; now {}.",
        asked.name,
        told(verdict.before?),
        told(verdict.after?)
    ))
}

fn show(value: f64, measure: Measure, units: &Units) -> String {
    let number = fixed(units.from_core(value, measure), units.decimals_of(measure) + 1);
    format!("{number} {}", units.symbol(measure))
        .trim_end()
        .to_owned()
}

fn percent(share: f64) -> String {
    let percent = 100.0 * share;
    // Nobody is wholly sure: the last tenth of a percent is not told.
    match percent {
        percent if percent > 99.9 => "more than 99.9 %".to_owned(),
        percent if percent < 0.1 => "less than 0.1 %".to_owned(),
        percent if (1.0..99.0).contains(&percent) => format!("{} %", fixed(percent, 0)),
        percent => format!("{} %", fixed(percent, 1)),
    }
}
