//! One variant of a model with everything that was asked of it.

use super::{AskedOutcome, Source};
use crate::fit::{Asked, FitSheet};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::units::{Measure, Units};
use crate::vocabulary::{core_error, stroke_of, stroke_question};
use kin_core::Dimension;
use kin_core::checks::{Finding, Verdict};
use kin_core::study::Built;
use rhai::Map;

/// What is asked of every variant of a study.
#[derive(Debug, Clone, Default)]
pub struct Questions {
    /// Wheel travel wanted of the stroke check, in the user's unit.
    pub wanted: Map,
    /// Questions of the other checks, as for `check_fit`.
    pub checks: Map,
    /// Numbers.
    pub outcomes: Vec<AskedOutcome>,
}

/// One limit and how a variant meets it.
#[derive(Debug, Clone, PartialEq)]
pub struct Met {
    /// Which limit: the check's subject or the outcome's name.
    pub subject: String,
    /// Whether it holds.
    pub verdict: Verdict,
    /// What value and limit are.
    pub measure: Measure,
    /// The number found (core units).
    pub value: f64,
    /// The limit it is compared with (core units).
    pub limit: f64,
    /// What is left beyond the limit, as a share of what was wanted; negative when it fails.
    pub share: f64,
    /// The check's sentence; none for an outcome's own limit.
    pub statement: Option<String>,
}

/// A variant with its answers.
#[derive(Debug, Clone, Default)]
pub struct Judged {
    /// Every limit that was asked for.
    pub limits: Vec<Met>,
    /// The outcomes asked for (core units), each with the reason where it has no value.
    pub values: Vec<Result<f64, String>>,
}

/// Shares of a length are taken of this much at most (mm): the length of a damper or of a rod is no measure of the room
/// there is.
const MOST_LENGTH_MM: f64 = 50.0;

/// Limits nearer to zero than this count as this much: a share of nothing says nothing.
fn least_measure(dimension: Dimension) -> f64 {
    match dimension {
        Dimension::Length => 5.0,
        Dimension::FineLength => 0.5,
        Dimension::Angle | Dimension::FineAngle => 0.5_f64.to_radians(),
        Dimension::Ratio | Dimension::Frequency => 0.05,
        Dimension::Force => 100.0,
        Dimension::Torque => 1_000.0,
        _ => 1.0,
    }
}

/// What margins of different kinds are compared by, for people.
#[must_use]
pub fn how_compared(units: &Units) -> String {
    let length = |millimetres| units.length.text(millimetres);
    format!(
        "Margins of different kinds are compared as a share of the limit asked for; of a length it is a share of {} at most, and \
         a limit near zero counts as {} or 0.5 deg.",
        length(MOST_LENGTH_MM),
        length(least_measure(Dimension::Length)),
    )
}

/// A margin as a share of the limit it keeps (core units).
#[must_use]
pub fn share(margin: f64, limit: f64, measure: Measure) -> f64 {
    let least = least_measure(measure.dimension);
    // A rate per millimetre of travel is judged over 50 mm of it.
    let least = if measure.per_travel { least / 50.0 } else { least };
    let mut whole = limit.abs().max(least);
    if measure.dimension == Dimension::Length && !measure.per_travel {
        whole = whole.min(MOST_LENGTH_MM);
    }
    margin / whole
}

impl Met {
    fn of_finding(finding: &Finding, units: &Units) -> Option<Self> {
        if finding.verdict == Verdict::NotAsked {
            return None;
        }
        let measure = Measure {
            dimension: finding.dimension,
            per_travel: false,
        };
        Some(Self {
            subject: finding.subject.clone(),
            verdict: finding.verdict,
            measure,
            value: finding.value,
            limit: finding.limit,
            share: share(finding.margin, finding.limit, measure),
            statement: Some(finding.statement.render(units.shown())),
        })
    }

    fn of_outcome(asked: &AskedOutcome, value: f64) -> Option<Self> {
        let margin = asked.margin(value)?;
        let limit = match (asked.at_least, asked.at_most) {
            (Some(low), _) if value - low == margin => low,
            (_, Some(high)) => high,
            (Some(low), None) => low,
            (None, None) => return None,
        };
        Some(Self {
            subject: asked.name.clone(),
            verdict: Verdict::from_margin(margin, 0.0),
            measure: asked.measure,
            value,
            limit,
            share: share(margin, limit, asked.measure),
            statement: None,
        })
    }

    /// What was found and what was wanted, in a few words.
    #[must_use]
    pub fn words(&self, units: &Units) -> String {
        let number = |value: f64| {
            let number = crate::table::fixed(
                units.from_core(value, self.measure),
                units.decimals_of(self.measure),
            );
            let symbol = units.symbol(self.measure);
            if symbol.is_empty() {
                number
            } else {
                format!("{number} {symbol}")
            }
        };
        format!(
            "{}: {}, limit {}",
            self.subject,
            number(self.value),
            number(self.limit)
        )
    }
}

impl Judged {
    /// Asks everything of a variant.
    ///
    /// * `call`: calls a function of the script with this variant
    ///
    /// # Errors
    /// What a check refuses.
    pub fn new(
        title: &str,
        suspension: &Suspension,
        units: Units,
        questions: &Questions,
        call: impl Fn(&rhai::FnPtr) -> Result<f64, String>,
    ) -> Result<Self, ScriptError> {
        let mut judged = Self::default();
        let has_damper = match suspension {
            Suspension::Corner(corner) => corner.pickups().any_damper().is_some(),
            Suspension::Axle(axle) => axle.pickups().any_dampers().is_some(),
        };
        let strokes = if has_damper || !questions.wanted.is_empty() {
            {
                let question = stroke_question(questions.wanted.clone(), &units)?;
                stroke_of(suspension, &question).map_err(|error| core_error(&error, &units))?
            }
        } else {
            Vec::new()
        };
        let asked = Asked::new(suspension, units);
        let sheet = FitSheet::new(title, &asked, strokes, questions.checks.clone())?;
        judged.limits = sheet
            .findings()
            .filter_map(|finding| Met::of_finding(finding, &units))
            .collect();
        let built = match suspension {
            Suspension::Corner(corner) => Built::Corner(corner.clone()),
            Suspension::Axle(axle) => Built::Axle(axle.clone()),
        };
        for asked in &questions.outcomes {
            let value = match &asked.source {
                Source::Script(function) => call(function),
                Source::Core(outcome) => outcome
                    .value(&built)
                    .map_err(|error| error.sentence().render(units.shown())),
            };
            match &value {
                Ok(value) => judged.limits.extend(Met::of_outcome(asked, *value)),
                // A limit on a number that does not exist is not kept.
                Err(reason) if asked.has_limit() => {
                    return Err(ScriptError::new(format!("{}: {reason}", asked.name)));
                }
                Err(_) => {}
            }
            judged.values.push(value);
        }
        Ok(judged)
    }

    /// The limit that is kept worst.
    #[must_use]
    pub fn worst(&self) -> Option<&Met> {
        let fails = |met: &Met| met.verdict == Verdict::Fails;
        self.limits
            .iter()
            .min_by(|a, b| fails(b).cmp(&fails(a)).then(a.share.total_cmp(&b.share)))
    }

    /// The worst verdict.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let verdicts = self.limits.iter().map(|met| met.verdict);
        verdicts.max().unwrap_or(Verdict::NotAsked)
    }
}
