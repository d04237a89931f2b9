//! Speed of the damper, damping ratio at the wheel for every click, and the click to start from.

mod question;

pub use question::{ClickCurve, CountedFrom, DamperSettingQuestion, DampingDirection, DynoPoint};

use super::ride_height::{Case, CaseWheel, RideHeightQuestion};
use super::sprung_wheel::{Mover, SprungWheel};
use super::{Finding, Sentence, Verdict, critical_damping};
use crate::curves::wheel_rate;
use crate::pickups::{AxleSides, PickupError};
use crate::suspension::{Axle, AxleTravel, Corner};
use crate::{Dimension, Error, Rounding};
use std::fmt;

const CHECK: &str = "damper_setting";
const QUESTION: &str = "the damper setting";

/// Speed of a damper for a speed of its wheel (mm/s).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DamperSpeed {
    /// Speed of the wheel.
    pub wheel: f64,
    /// Speed of the damper with both wheels moving together (or of a corner).
    pub damper: f64,
    /// Speed of the damper in roll, on an axle.
    pub in_roll: Option<f64>,
}

/// Damping at one click.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClickDamping {
    /// The click, counted from the adjuster's end.
    pub click: u32,
    /// Force at the damper's speed (N).
    pub force: f64,
    /// Damping at the wheel (N s/mm): force over speed, times the square of the motion ratio.
    pub at_wheel: f64,
    /// Damping ratio: that over critical damping.
    pub ratio: f64,
}

/// A setting of an adjuster, which prints itself as an instruction.
///
/// ```
/// use kin_core::checks::{ClickSetting, CountedFrom};
/// let middle = ClickSetting { click: 10, clicks: 20, counted_from: CountedFrom::FullStiff };
/// assert_eq!(middle.to_string(), "from full stiff, back off 10 of 20 clicks");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClickSetting {
    /// Clicks from the end.
    pub click: u32,
    /// All clicks there are.
    pub clicks: u32,
    /// The end they are counted from.
    pub counted_from: CountedFrom,
}

impl fmt::Display for ClickSetting {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let how = match self.counted_from {
            CountedFrom::FullStiff => "from full stiff, back off",
            CountedFrom::FullSoft => "from full soft, turn in",
        };
        write!(formatter, "{how} {} of {} clicks", self.click, self.clicks)
    }
}

/// What is found for bump or rebound.
#[derive(Debug, Clone, PartialEq)]
pub struct DirectionSetting {
    /// Damping at every click that was measured.
    pub clicks: Vec<ClickDamping>,
    /// The click to start from: nearest to the ratio asked for, or else the middle of the range (common practice, no
    /// source).
    pub start: ClickSetting,
    /// Damping ratio there; none where it was not measured.
    pub start_ratio: Option<f64>,
}

/// The setting of one damper.
#[derive(Debug, Clone, PartialEq)]
pub struct DamperSetting {
    /// Which damper.
    pub damper: String,
    /// Motion ratio of the damper at ride height.
    pub motion_ratio: f64,
    /// Wheel rate of the spring at ride height (N/mm).
    pub wheel_rate: f64,
    /// Critical damping at the wheel (N s/mm).
    pub critical_damping: f64,
    /// Speeds.
    pub speed: DamperSpeed,
    /// In bump.
    pub bump: Option<DirectionSetting>,
    /// In rebound.
    pub rebound: Option<DirectionSetting>,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Finds the setting of a corner's damper at ride height.
///
/// # Errors
/// Without spring or damper, with dyno points that cannot be right or do not reach the damper's speed.
pub fn corner_damper_setting(
    corner: &Corner,
    ride_height: &RideHeightQuestion,
    question: &DamperSettingQuestion,
) -> Result<DamperSetting, Error> {
    let wheel = SprungWheel::of_corner(corner, QUESTION)?;
    let case = Case::new(vec![(wheel, ride_height.clone(), "damper".to_owned())])?;
    let wheel = case.wheels.first().ok_or(Error::Missing {
        question: QUESTION,
        field: "coilover",
        advice: "give its mounts and lengths",
    })?;
    setting(wheel, case.ride, question)
}

/// Finds the settings of an axle's dampers at ride height, for both wheels moving together; left first.
///
/// # Errors
/// As for [`corner_damper_setting`].
pub fn axle_damper_setting(
    axle: &Axle,
    ride_height: &AxleSides<RideHeightQuestion>,
    question: &DamperSettingQuestion,
) -> Result<Vec<DamperSetting>, Error> {
    let [left, right] = SprungWheel::of_axle(axle, QUESTION)?;
    let other = ride_height.right.as_ref().unwrap_or(&ride_height.left);
    let case = Case::new(vec![
        (left, ride_height.left.clone(), "left damper".to_owned()),
        (right, other.clone(), "right damper".to_owned()),
    ])?;
    case.wheels
        .iter()
        .map(|wheel| setting(wheel, case.ride, question))
        .collect()
}

fn setting(
    wheel: &CaseWheel<'_>,
    ride: f64,
    question: &DamperSettingQuestion,
) -> Result<DamperSetting, Error> {
    question.validate()?;
    let motion = wheel.part.at(AxleTravel::both(ride))?;
    let (spring, damper) = (&motion.spring, &motion.damper);
    let force = wheel.needed.force;
    let rate = wheel.stack.rate(wheel.needed.installed_length);
    let rate = wheel_rate(rate, -spring.heave, -spring.heave_heave, Some(force)).total();
    let Some(critical) = critical_damping(rate, wheel.mass) else {
        return Err(Error::NotForThisLayout {
            question: QUESTION.into(),
            reason: Sentence::new("the wheel rate at ride height is ")
                .quantity(rate, Dimension::Rate)
                .words(": without a positive one there is no damping ratio"),
        });
    };
    let motion_ratio = -damper.heave;
    let wheel_speed = question.wheel_speed();
    let speed = DamperSpeed {
        wheel: wheel_speed,
        damper: motion_ratio.abs() * wheel_speed,
        in_roll: match wheel.part.mover {
            Mover::Corner(_) => None,
            Mover::Axle(_) => Some(damper.roll.abs() * wheel_speed),
        },
    };
    let at_wheel = AtWheel {
        motion_ratio,
        critical,
        speed: speed.damper,
        wheel_speed,
    };
    let mut findings = Vec::new();
    let mut of = |direction: &Option<DampingDirection>, word: &'static str| -> Result<_, Error> {
        let Some(direction) = direction else {
            return Ok(None);
        };
        let found = at_wheel.direction(direction, word)?;
        let ratio = direction.wanted_ratio.filter(|_| !found.clicks.is_empty());
        findings.extend(ratio.map(|wanted| ratio_finding(&wheel.name, word, &found, wanted)));
        Ok(Some(found))
    };
    let bump = of(&question.bump, "bump")?;
    let rebound = of(&question.rebound, "rebound")?;
    Ok(DamperSetting {
        damper: wheel.name.clone(),
        motion_ratio,
        wheel_rate: rate,
        critical_damping: critical,
        speed,
        bump,
        rebound,
        findings,
    })
}

/// What turns a force on the dyno into a damping ratio.
struct AtWheel {
    motion_ratio: f64,
    critical: f64,
    /// Speed of the damper (mm/s).
    speed: f64,
    wheel_speed: f64,
}

impl AtWheel {
    fn too_fast(&self, curve: &ClickCurve, word: &'static str) -> PickupError {
        let most = curve.fastest() / self.motion_ratio.abs();
        PickupError::QuantityOutOfRange {
            field: "wheel_speed".into(),
            value: self.wheel_speed,
            dimension: Dimension::Speed,
            requirement: Sentence::new("at most ")
                .rounded(most, Dimension::Speed, Rounding::Down { room: f64::INFINITY })
                .words(", where the damper reaches the ")
                .rounded(curve.fastest(), Dimension::Speed, Rounding::AsGiven)
                .words(format!(" measured for {word} at click {}", curve.click)),
            advice: "ask for a lower speed of the wheel, or give dyno points at higher speeds",
        }
    }

    fn direction(&self, direction: &DampingDirection, word: &'static str) -> Result<DirectionSetting, Error> {
        let mut clicks = Vec::with_capacity(direction.dyno.len());
        for curve in &direction.dyno {
            let force = curve
                .force_at(self.speed)
                .ok_or_else(|| self.too_fast(curve, word))?;
            // c m^2, with c the force over the speed of the damper.
            let at_wheel = force / self.speed * self.motion_ratio * self.motion_ratio;
            clicks.push(ClickDamping {
                click: curve.click,
                force,
                at_wheel,
                ratio: at_wheel / self.critical,
            });
        }
        clicks.sort_by_key(|click| click.click);
        let middle = direction.clicks / 2;
        let click = match direction.wanted_ratio {
            Some(wanted) => nearest_click(&clicks, wanted).unwrap_or(middle),
            None => middle,
        };
        Ok(DirectionSetting {
            start: ClickSetting {
                click,
                clicks: direction.clicks,
                counted_from: direction.counted_from,
            },
            start_ratio: ratio_at(&clicks, click),
            clicks,
        })
    }
}

/// Damping ratio at a click, straight between the clicks that were measured.
fn ratio_at(clicks: &[ClickDamping], click: u32) -> Option<f64> {
    if let Some(measured) = clicks.iter().find(|measured| measured.click == click) {
        return Some(measured.ratio);
    }
    clicks.windows(2).find_map(|pair| {
        let [low, high] = pair else { return None };
        (low.click < click && click < high.click).then(|| {
            let share = f64::from(click - low.click) / f64::from(high.click - low.click);
            low.ratio + share * (high.ratio - low.ratio)
        })
    })
}

/// The click whose ratio is nearest to the one asked for.
fn nearest_click(clicks: &[ClickDamping], wanted: f64) -> Option<u32> {
    let (first, last) = (clicks.first()?.click, clicks.last()?.click);
    (first..=last)
        .filter_map(|click| ratio_at(clicks, click).map(|ratio| (click, (ratio - wanted).abs())))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(click, _)| click)
}

fn ratio_finding(name: &str, word: &str, found: &DirectionSetting, wanted: f64) -> Finding {
    let ratios = || found.clicks.iter().map(|click| click.ratio);
    let (least, most) = (
        ratios().fold(f64::INFINITY, f64::min),
        ratios().fold(f64::NEG_INFINITY, f64::max),
    );
    let margin = (wanted - least).min(most - wanted);
    let limit = if wanted - least < most - wanted {
        least
    } else {
        most
    };
    let start = Sentence::new(format!(
        "In {word} the clicks that were measured give the {name} damping ratios from "
    ))
    .quantity(least, Dimension::Ratio)
    .words(" to ")
    .quantity(most, Dimension::Ratio)
    .words("; ")
    .quantity(wanted, Dimension::Ratio)
    .words(" is wanted");
    let statement = if margin < 0.0 {
        start.words(": out of its range, another valving is needed.")
    } else {
        start.words(format!(": {}.", found.start))
    };
    Finding {
        check: CHECK,
        subject: format!("{name}: damping ratio in {word}"),
        verdict: Verdict::from_margin(margin, 0.0),
        dimension: Dimension::Ratio,
        value: wanted,
        limit,
        margin,
        at_travel: Some(0.0),
        statement,
        remedies: Vec::new(),
    }
}
