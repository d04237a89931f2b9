//! What a person can ask of a position by name: every curve, and its exact rate.

use crate::explain::suggest;
use crate::host::ScriptError;
use crate::units::Measure;
use kin_core::Dimension;
use kin_core::curves::{AxleCurve, CornerCurve, CurveInfo};
use kin_core::{Along, AxleAlong, AxlePosition, CornerPosition};

/// A curve of a corner or of an axle, or its rate along one motion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// Of a corner.
    Corner(CornerCurve, Option<Along>),
    /// Of an axle.
    Axle(AxleCurve, Option<AxleAlong>),
}

/// Rates that have a name of their own in the trade: always per wheel travel.
const NAMED_RATES: [(&str, &str, &str); 6] = [
    ("camber_gain", "camber", "Camber gain"),
    ("bump_steer", "toe", "Bump steer (toe change per travel)"),
    ("caster_gain", "caster", "Caster gain"),
    ("motion_ratio_slope", "motion_ratio", "Slope of the motion ratio"),
    (
        "roll_centre_movement",
        "roll_centre_height",
        "Movement of the roll centre per travel",
    ),
    ("pinion_angle_rate", "pinion_angle", "Pinion angle rate"),
];

impl Reading {
    /// The reading of a corner by name: a curve, a named rate such as `camber_gain`, or a curve with `_rate`.
    ///
    /// * `along`: the motion of the sweep, for names that end in `_rate`
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn of_corner(name: &str, along: Along) -> Result<Self, ScriptError> {
        if let Some(curve) = CornerCurve::from_key(name) {
            return Ok(Self::Corner(curve, None));
        }
        let named = named_rate(name)
            .and_then(CornerCurve::from_key)
            .map(|curve| (curve, Along::Travel));
        let plain = name
            .strip_suffix("_rate")
            .and_then(CornerCurve::from_key)
            .map(|curve| (curve, along));
        match named.or(plain) {
            Some((CornerCurve::WheelRate, _)) | None => Err(unknown(name, "corner", &Self::corner_names())),
            Some((curve, along)) => Ok(Self::Corner(curve, Some(along))),
        }
    }

    /// The reading of an axle by name.
    ///
    /// * `along`: the motion of the sweep, for names that end in `_rate`
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn of_axle(name: &str, along: AxleAlong) -> Result<Self, ScriptError> {
        if let Some(curve) = AxleCurve::from_key(name) {
            return Ok(Self::Axle(curve, None));
        }
        let named = named_rate(name)
            .and_then(AxleCurve::from_key)
            .map(|curve| (curve, AxleAlong::Heave));
        let plain = name
            .strip_suffix("_rate")
            .and_then(AxleCurve::from_key)
            .map(|curve| (curve, along));
        match named
            .or(plain)
            .filter(|(curve, _)| curve.info().dimension != Dimension::Rate)
        {
            Some((curve, along)) => Ok(Self::Axle(curve, Some(along))),
            None => Err(unknown(name, "live axle", &Self::axle_names())),
        }
    }

    /// Every name of a corner's readings, curves first.
    #[must_use]
    pub fn corner_names() -> Vec<String> {
        names(CornerCurve::ALL.iter().map(|curve| curve.info()))
    }

    /// Every name of an axle's readings, curves first.
    #[must_use]
    pub fn axle_names() -> Vec<String> {
        names(AxleCurve::ALL.iter().map(|curve| curve.info()))
    }

    fn info(self) -> CurveInfo {
        match self {
            Self::Corner(curve, _) => curve.info(),
            Self::Axle(curve, _) => curve.info(),
        }
    }

    /// Whether it is a rate.
    #[must_use]
    pub fn is_rate(self) -> bool {
        matches!(self, Self::Corner(_, Some(_)) | Self::Axle(_, Some(_)))
    }

    /// Name of the curve itself, for a rate as well.
    #[must_use]
    pub fn curve_name(self) -> &'static str {
        self.info().key
    }

    /// Name in columns, without the unit.
    #[must_use]
    pub fn name(self) -> String {
        let key = self.info().key;
        let along_travel = matches!(
            self,
            Self::Corner(_, Some(Along::Travel)) | Self::Axle(_, Some(AxleAlong::Heave))
        );
        match (
            self.is_rate(),
            NAMED_RATES.iter().find(|(_, curve, _)| *curve == key),
        ) {
            (false, _) => key.to_owned(),
            (true, Some((name, ..))) if along_travel => (*name).to_owned(),
            (true, _) => format!("{key}_rate"),
        }
    }

    /// Name on axes.
    #[must_use]
    pub fn title(self) -> String {
        let name = self.name();
        match NAMED_RATES.iter().find(|(known, ..)| *known == name) {
            Some((_, _, title)) => (*title).to_owned(),
            None if self.is_rate() => format!("{}, rate", self.info().title),
            None => self.info().title.to_owned(),
        }
    }

    /// What its low and high values mean, in a few words; empty where the number speaks for itself.
    #[must_use]
    pub fn sign_words(self) -> (&'static str, &'static str) {
        if self.is_rate() {
            ("", "")
        } else {
            (self.info().low, self.info().high)
        }
    }

    /// What its numbers are.
    #[must_use]
    pub fn measure(self) -> Measure {
        Measure {
            dimension: self.info().dimension,
            per_travel: self.is_rate(),
        }
    }

    /// Its value at a corner's position, in core units; none where it does not exist.
    #[must_use]
    pub fn at_corner(self, position: &CornerPosition<'_>) -> Option<f64> {
        match self {
            Self::Corner(curve, None) => curve.value(position),
            Self::Corner(curve, Some(along)) => curve.rate(position, along),
            Self::Axle(..) => None,
        }
    }

    /// Its value at an axle's position, in core units; none where it does not exist.
    #[must_use]
    pub fn at_axle(self, position: &AxlePosition<'_>) -> Option<f64> {
        match self {
            Self::Axle(curve, None) => curve.value(position),
            Self::Axle(curve, Some(along)) => curve.rate(position, along),
            Self::Corner(..) => None,
        }
    }
}

/// The curve whose rate has this name.
fn named_rate(name: &str) -> Option<&'static str> {
    NAMED_RATES
        .iter()
        .find(|(known, ..)| *known == name)
        .map(|(_, curve, _)| *curve)
}

fn names(curves: impl Iterator<Item = CurveInfo> + Clone) -> Vec<String> {
    let rates = curves
        .clone()
        .filter(|info| info.dimension != Dimension::Rate)
        .map(|info| {
            NAMED_RATES
                .iter()
                .find(|(_, curve, _)| *curve == info.key)
                .map_or_else(|| format!("{}_rate", info.key), |(name, ..)| (*name).to_owned())
        });
    curves
        .clone()
        .map(|info| info.key.to_owned())
        .chain(rates)
        .collect()
}

fn unknown(name: &str, layout: &str, known: &[String]) -> ScriptError {
    let error = ScriptError::new(format!("a {layout} has no curve `{name}`")).with_key(name);
    match suggest(name, known.iter().map(String::as_str)) {
        Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
        None => error.with_help(format!("the curves are: {}", known.join(", "))),
    }
}
