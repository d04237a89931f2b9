//! The alignment card: camber, caster and toe at ride height against what is wanted, and what to set to get there.

mod adjuster;
pub(crate) mod assembly;
mod bump_steer;
mod fit;
pub(crate) mod rebased;
mod settled;

pub use adjuster::Adjuster;
pub use bump_steer::{BumpSteer, BumpSteerQuestion, ShimRow, ShimmedEnd, TieRodShim, check_bump_steer};

use super::moving_parts::Mover;
use super::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::pickups::{Measured, Quantity, angle_within, positive_of};
use crate::suspension::Corner;
use crate::{Dimension, Error};
use adjuster::Setting;
use fit::{Fit, Goal, fit, in_whole_shims, worst_miss};
use serde::{Deserialize, Serialize};
use settled::{Angles, Bench, angles_of};

const CHECK: &str = "alignment";

/// Tolerances where none is stated (deg), of camber, caster and toe per wheel (common practice, no source).
const USUAL_TOLERANCE_DEG: [f64; 3] = [0.25, 0.5, 0.05];
const NAMES: [&str; 3] = ["camber", "caster", "toe"];
/// How far the angles of the settled pickups and those of the full solver may differ (rad): round-off of both.
const SAME_RAD: f64 = 1e-10;

/// An angle that is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WantedAngle {
    /// The angle (deg).
    pub angle: f64,
    /// How far it may be off either way (deg); camber 0.25, caster 0.5, toe 0.05 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
}

/// What is wanted at ride height, and what can be set.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AlignmentQuestion {
    /// Camber, positive with the top leaning outboard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub camber: Option<WantedAngle>,
    /// Caster, positive with the top of the steering axis leaning rearward.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub caster: Option<WantedAngle>,
    /// Toe of this wheel, positive toe-in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub toe: Option<WantedAngle>,
    /// What can be set.
    #[serde(default)]
    pub adjusters: Vec<Adjuster>,
}

impl Measured for WantedAngle {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.angle, Quantity::Angle);
        if let Some(tolerance) = &mut self.tolerance {
            visitor(tolerance, Quantity::Angle);
        }
    }
}

impl Measured for AlignmentQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.camber.visit(visitor);
        self.caster.visit(visitor);
        self.toe.visit(visitor);
        self.adjusters.visit(visitor);
    }
}

/// Camber, caster and toe of one wheel at ride height (rad).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AlignmentAngles {
    /// Positive with the top leaning outboard.
    pub camber: f64,
    /// Positive with the top of the steering axis leaning rearward.
    pub caster: f64,
    /// Positive toe-in.
    pub toe: f64,
}

impl From<Angles> for AlignmentAngles {
    fn from([camber, caster, toe]: Angles) -> Self {
        Self { camber, caster, toe }
    }
}

/// How one adjuster is to be set.
#[derive(Debug, Clone, PartialEq)]
pub struct AdjusterSetting {
    /// Which pickup.
    pub pickup: String,
    /// How far it moves (mm), in the direction of its adjuster.
    pub amount: f64,
    /// How many shims that is; negative ones are taken out. None where no shim was given.
    pub shims: Option<i64>,
    /// How far its eccentric is turned from the middle (rad); none where no eccentric was given.
    pub eccentric_turn: Option<f64>,
    /// Change of the angles per mm of it as things are (rad/mm).
    pub per_mm: AlignmentAngles,
}

/// The alignment card of a corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Alignment {
    /// Travel at ride height, from the pickups as measured (mm).
    pub ride_travel: f64,
    /// The angles as they are.
    pub found: AlignmentAngles,
    /// What to set, in the order of the adjusters; empty without adjusters.
    pub settings: Vec<AdjusterSetting>,
    /// The angles with those settings, by a full solve of the corner so set; as found without adjusters.
    pub after: AlignmentAngles,
    /// Whether every wanted angle is then within its tolerance.
    pub reached: bool,
    /// The answers.
    pub findings: Vec<Finding>,
}

/// Compares the angles at ride height with those wanted, and finds what to set.
///
/// # Errors
/// Nothing wanted, numbers that cannot be right, or a ride height out of reach.
pub fn check_alignment(corner: &Corner, question: &AlignmentQuestion) -> Result<Alignment, Error> {
    let goal = goal(question)?;
    let mover = Mover::Corner(corner);
    let settings = question.adjusters.iter().enumerate();
    let settings = settings
        .map(|(place, adjuster)| Setting::of(&mover, adjuster, &format!("adjusters[{place}]")))
        .collect::<Result<Vec<_>, _>>()?;
    let ride_travel = corner.ride_travel()?;
    let at_ride = rebased::at_travel(corner, ride_travel)?;
    let ranges: Vec<_> = settings.iter().map(|setting| setting.range).collect();
    let shims: Vec<_> = settings.iter().map(|setting| setting.shim).collect();
    let bench = Bench::new(&at_ride, settings)?;
    let untouched = bench.settle(&vec![0.0; ranges.len()])?;
    let exact = fit(&bench, &ranges, &goal)?;
    let set = if shims.iter().any(Option::is_some) {
        in_whole_shims(&bench, &ranges, &goal, &shims, &exact)?
    } else {
        exact
    };
    // Read by the full solver from the description of the corner as it is then set.
    let after = angles_of(&bench.described(&set.settled, &set.amounts))?;
    let agrees = after
        .iter()
        .zip(set.settled.angles)
        .all(|(full, settled)| (full - settled).abs() < SAME_RAD);
    let reached = agrees && worst_miss(&after, &goal) <= 1.0;
    let chosen = settings_of(question, &set, &untouched.rates);
    let findings = findings(&untouched.angles, &after, &goal, reached, &chosen, question);
    Ok(Alignment {
        ride_travel,
        found: untouched.angles.into(),
        settings: chosen,
        after: after.into(),
        reached,
        findings,
    })
}

fn goal(question: &AlignmentQuestion) -> Result<Goal, Error> {
    let wanted = [question.camber, question.caster, question.toe];
    if wanted.iter().all(Option::is_none) {
        return Err(Error::Missing {
            question: "the alignment check",
            field: "camber",
            advice: "say which angles are wanted: `camber`, `caster` or `toe`",
        });
    }
    let mut goal = [None; 3];
    for (place, wanted) in wanted.into_iter().enumerate() {
        let Some(wanted) = wanted else { continue };
        let name = NAMES[place];
        let field = format!("{name}.angle");
        angle_within(wanted.angle, &field, (-30.0, 30.0), "give degrees for one wheel")?;
        let tolerance = wanted.tolerance.unwrap_or(USUAL_TOLERANCE_DEG[place]);
        let field = format!("{name}.tolerance");
        positive_of(
            tolerance.to_radians(),
            Dimension::Angle,
            &field,
            "give degrees either way",
        )?;
        goal[place] = Some((wanted.angle.to_radians(), tolerance.to_radians()));
    }
    Ok(goal)
}

fn settings_of(question: &AlignmentQuestion, set: &Fit, rates: &[Angles]) -> Vec<AdjusterSetting> {
    let adjusters = question.adjusters.iter().zip(&set.amounts).zip(rates);
    adjusters
        .map(|((adjuster, &amount), rates)| AdjusterSetting {
            pickup: adjuster.pickup.clone(),
            amount,
            shims: adjuster.shim.map(|thickness| (amount / thickness).round() as i64),
            eccentric_turn: adjuster
                .eccentric
                .map(|eccentric| (amount / eccentric).clamp(-1.0, 1.0).asin()),
            per_mm: (*rates).into(),
        })
        .collect()
}

fn findings(
    found: &Angles,
    after: &Angles,
    goal: &Goal,
    reached: bool,
    chosen: &[AdjusterSetting],
    question: &AlignmentQuestion,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (place, name) in NAMES.into_iter().enumerate() {
        let Some((wanted, tolerance)) = goal[place] else {
            continue;
        };
        let miss = (found[place] - wanted).abs();
        let margin = tolerance - miss;
        let verdict = Verdict::from_margin(margin, 0.0);
        let mut statement = Sentence::new(format!("At ride height {name} is "))
            .fine_angle(found[place])
            .words("; wanted is ")
            .fine_angle(wanted)
            .words(", within ")
            .fine_angle(tolerance)
            .words(if verdict == Verdict::Holds {
                "."
            } else {
                ": set it."
            });
        if verdict == Verdict::Fails && !reached && !chosen.is_empty() {
            statement = statement
                .words(" It is not reached by what can be set here, which brings it to ")
                .fine_angle(after[place])
                .words(if (after[place] - wanted).abs() <= tolerance {
                    ", but not all angles together."
                } else {
                    " at best."
                });
        }
        let remedies = (verdict == Verdict::Fails && reached).then(|| remedy(after, chosen, question));
        findings.push(Finding {
            check: CHECK,
            subject: format!("{name} at ride height"),
            verdict,
            dimension: Dimension::FineAngle,
            value: found[place],
            limit: wanted,
            margin,
            at_travel: Some(0.0),
            statement,
            remedies: remedies.into_iter().collect(),
        });
    }
    findings
}

/// All settings together, with the angles that the full solve gives.
fn remedy(after: &Angles, chosen: &[AdjusterSetting], question: &AlignmentQuestion) -> Remedy {
    let mut sentence = Sentence::new("Set ");
    let moved: Vec<_> = chosen
        .iter()
        .zip(&question.adjusters)
        .filter(|(setting, _)| setting.amount.abs() > 1e-6)
        .collect();
    for (place, (setting, adjuster)) in moved.iter().enumerate() {
        if place > 0 {
            sentence = sentence.words(", ");
        }
        sentence = told(sentence, setting, adjuster);
    }
    let sentence = sentence
        .words(": then camber is ")
        .fine_angle(after[0])
        .words(", caster ")
        .fine_angle(after[1])
        .words(" and toe ")
        .fine_angle(after[2])
        .words(".");
    let change = chosen
        .iter()
        .fold(0.0_f64, |most, setting| most.max(setting.amount.abs()));
    Remedy {
        kind: RemedyKind::MovePickups,
        change,
        window: (change, change),
        sentence,
    }
}

fn told(sentence: Sentence, setting: &AdjusterSetting, adjuster: &Adjuster) -> Sentence {
    let amount = setting.amount;
    if adjuster.pickup == "tie_rod" {
        let way = if amount > 0.0 { " longer" } else { " shorter" };
        return sentence
            .words("the tie rod ")
            .fine_length(amount.abs())
            .words(way);
    }
    let way = match (&adjuster.direction, amount > 0.0) {
        (None, true) => " inboard".to_owned(),
        (None, false) => " outboard".to_owned(),
        (Some(way), forwards) => {
            let way = if forwards { *way } else { -way };
            format!(" along [{}, {}, {}]", way.x, way.y, way.z)
        }
    };
    let sentence = sentence
        .words(format!("`{}` ", adjuster.pickup))
        .fine_length(amount.abs())
        .words(way);
    match (setting.shims, setting.eccentric_turn) {
        (Some(shims), _) => {
            let plural = if shims.abs() == 1 { "" } else { "s" };
            sentence.words(format!(" ({} shim{plural})", shims.abs()))
        }
        (None, Some(turn)) => sentence
            .words(" (its eccentric ")
            .angle(turn.abs())
            .words(" from the middle)"),
        (None, None) => sentence,
    }
}
