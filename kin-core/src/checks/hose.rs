//! Are hoses, brake lines and straps long enough over all travel and steer?

use super::motion_range::{MotionRange, Motions, WheelPlace};
use super::moving_parts::{Anchor, Mover, Standing};
use super::{Finding, Remedy, RemedyKind, Sentence, Verdict};
use crate::pickups::{Measured, Point, Quantity, Strap, coordinates, incomplete, length_within, positive_of};
use crate::suspension::{Axle, Corner};
use crate::{Dimension, Error};
use serde::{Deserialize, Serialize};

const CHECK: &str = "hoses";
const QUESTION: &str = "the hose check";

/// Slack that a hose keeps at its tautest (mm), where none is stated (common practice, no source).
const USUAL_SLACK_MM: f64 = 15.0;

/// A hose, brake line or cable between two parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hose {
    /// What it is called in findings.
    pub name: String,
    /// Its end on the body (mm).
    pub upper_mount: Point,
    /// Its end on the moving part (mm).
    pub lower_mount: Point,
    /// The part that carries the lower end: `lower_arm`, `upper_arm`, `upright`, `axle`, or a link's name.
    pub rides_on: String,
    /// Distance between its ends when it is taut (mm).
    pub length: f64,
    /// Slack it must keep (mm); 15 mm when absent, 0 for a strap.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slack: Option<f64>,
}

/// The hoses to be checked, and how far the wheels and the rack move.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HosesQuestion {
    /// The hoses; those in the description's `stops.straps` when empty.
    #[serde(default)]
    pub hoses: Vec<Hose>,
    /// How far the wheels and the rack move.
    #[serde(default)]
    pub range: MotionRange,
}

impl Measured for Hose {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.upper_mount.visit(visitor);
        self.lower_mount.visit(visitor);
        visitor(&mut self.length, Quantity::Length);
        if let Some(slack) = &mut self.slack {
            visitor(slack, Quantity::Length);
        }
    }
}

impl Measured for HosesQuestion {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.hoses.visit(visitor);
        self.range.visit(visitor);
    }
}

/// How far the ends of one hose are apart.
#[derive(Debug, Clone, PartialEq)]
pub struct HoseReach {
    /// Which hose.
    pub hose: String,
    /// Distance between its ends when it is taut (mm).
    pub length: f64,
    /// Distance between its ends at ride height (mm).
    pub at_ride: f64,
    /// The largest distance over all motion (mm).
    pub longest: f64,
    /// Where that is.
    pub longest_at: WheelPlace,
    /// The least distance over all motion (mm): there it hangs slackest.
    pub shortest: f64,
    /// Where that is.
    pub shortest_at: WheelPlace,
    /// Where it first comes taut on the way to its longest; none if it never does.
    pub taut_at: Option<WheelPlace>,
    /// The answer.
    pub findings: Vec<Finding>,
}

/// Checks the hoses of a corner, over travel and steer.
///
/// # Errors
/// Without hoses, with points that cannot be right, or a travel out of reach.
pub fn check_corner_hoses(corner: &Corner, question: &HosesQuestion) -> Result<Vec<HoseReach>, Error> {
    check(Mover::Corner(corner), question, &corner.pickups().stops.straps)
}

/// Checks the hoses of a live axle, each wheel taken through its whole travel.
///
/// # Errors
/// Without hoses, with points that cannot be right, or a travel out of reach.
pub fn check_axle_hoses(axle: &Axle, question: &HosesQuestion) -> Result<Vec<HoseReach>, Error> {
    check(Mover::Axle(axle), question, &axle.pickups().stops.straps)
}

fn check(mover: Mover<'_>, question: &HosesQuestion, straps: &[Strap]) -> Result<Vec<HoseReach>, Error> {
    let hoses: Vec<Hose> = if question.hoses.is_empty() {
        straps.iter().map(|strap| of_strap(&mover, strap)).collect()
    } else {
        question.hoses.clone()
    };
    if hoses.is_empty() {
        return Err(Error::Missing {
            question: QUESTION,
            field: "hoses",
            advice: "give at least one hose with both ends, what it rides on and its length",
        });
    }
    let motions = Motions::new(mover, &question.range, QUESTION)?;
    let hoses = hoses.iter().enumerate();
    hoses
        .map(|(place, hose)| Stretched::new(&motions, hose, &format!("hoses[{place}]"))?.answer())
        .collect()
}

fn of_strap(mover: &Mover<'_>, strap: &Strap) -> Hose {
    Hose {
        name: strap.name.clone(),
        upper_mount: mover.on_side(&strap.upper_mount),
        lower_mount: mover.on_side(&strap.lower_mount),
        rides_on: strap.rides_on.clone(),
        length: strap.length,
        slack: Some(0.0),
    }
}

/// A hose with both its ends.
struct Stretched<'a> {
    motions: &'a Motions<'a>,
    hose: &'a Hose,
    ends: [Anchor; 2],
    slack: f64,
}

impl<'a> Stretched<'a> {
    fn new(motions: &'a Motions<'a>, hose: &'a Hose, field: &str) -> Result<Self, Error> {
        let named = |name: &str| format!("{field}.{name}");
        coordinates(&hose.upper_mount, &named("upper_mount"))?;
        coordinates(&hose.lower_mount, &named("lower_mount"))?;
        positive_of(
            hose.length,
            Dimension::Length,
            &named("length"),
            "give the distance between its ends when it is taut",
        )?;
        let slack = hose.slack.unwrap_or(USUAL_SLACK_MM);
        length_within(
            slack,
            &named("slack"),
            (0.0, 1_000.0),
            "give the slack it must keep, 0 or more",
        )?;
        if hose.rides_on == "body" {
            let problem = "both ends would be on the body: say which moving part carries the lower one";
            return Err(incomplete(&named("rides_on"), problem).into());
        }
        let mover = &motions.mover;
        Ok(Self {
            motions,
            hose,
            ends: [
                Anchor::Body(mover.on_side(&hose.upper_mount)),
                mover.anchor(
                    &mover.on_side(&hose.lower_mount),
                    &hose.rides_on,
                    &named("rides_on"),
                )?,
            ],
            slack,
        })
    }

    fn distance(&self, standing: &Standing) -> f64 {
        (standing.place(&self.ends[1]) - standing.place(&self.ends[0])).norm()
    }

    fn answer(&self) -> Result<HoseReach, Error> {
        let longest = self.motions.greatest(|standing| self.distance(standing))?;
        let shortest = self.motions.greatest(|standing| -self.distance(standing))?;
        let length = self.hose.length;
        let taut_at = if longest.value > length {
            self.motions
                .first_beyond(length, &longest.place, |standing| self.distance(standing))?
        } else {
            None
        };
        let mut result = HoseReach {
            hose: self.hose.name.clone(),
            length,
            at_ride: self.distance(&self.motions.at_travel(0.0)?),
            longest: longest.value,
            longest_at: longest.place,
            shortest: -shortest.value,
            shortest_at: shortest.place,
            taut_at,
            findings: Vec::new(),
        };
        result.findings = vec![self.finding(&result)?];
        Ok(result)
    }

    fn finding(&self, result: &HoseReach) -> Result<Finding, Error> {
        let (name, length) = (&self.hose.name, self.hose.length);
        let margin = length - result.longest;
        let verdict = Verdict::from_margin(margin, self.slack);
        let start = Sentence::new(format!("The ends of `{name}` are "))
            .length(result.longest)
            .words(" apart ");
        let mut statement = result
            .longest_at
            .tell(start)
            .words("; it is ")
            .length(length)
            .words(" long taut");
        statement = match (verdict, &result.taut_at) {
            (Verdict::Fails, Some(place)) => place
                .tell(statement.words(": it comes taut "))
                .words(" and is torn, or stops the wheel."),
            (Verdict::Fails, None) => statement.words(": it is torn, or stops the wheel."),
            _ => statement.words(", ").length(margin).words(" of slack left."),
        };
        let mut remedies = Vec::new();
        if verdict == Verdict::Fails {
            remedies.push(self.longer(-margin + self.slack));
            if let Some(place) = &result.taut_at {
                remedies.extend(self.less_travel(place)?);
            }
        }
        Ok(Finding {
            check: CHECK,
            subject: format!("{name}: length over the travel"),
            verdict,
            dimension: Dimension::Length,
            value: result.longest,
            limit: length,
            margin,
            at_travel: result.longest_at.travel(),
            statement,
            remedies,
        })
    }

    /// The length it needs follows from the longest distance alone, so that this needs no second run.
    fn longer(&self, change: f64) -> Remedy {
        let sentence = Sentence::new("Fit one that is ")
            .at_least(self.hose.length + change, f64::INFINITY)
            .words(" or longer, which keeps ")
            .length(self.slack)
            .words(" of slack.");
        Remedy {
            kind: RemedyKind::LongerLine,
            change,
            window: (change, f64::INFINITY),
            sentence,
        }
    }

    /// The wheel stopped before the hose is taut, checked over all motion that is then left.
    fn less_travel(&self, taut_at: &WheelPlace) -> Result<Option<Remedy>, Error> {
        let taut = match *taut_at {
            WheelPlace::Corner { travel, .. } => travel,
            WheelPlace::Axle { left, right } if left.abs() > right.abs() => left,
            WheelPlace::Axle { right, .. } => right,
        };
        if taut.abs() < 1e-6 {
            return Ok(None);
        }
        let bump = taut > 0.0;
        let mut range = self.motions.range;
        let (end, now) = if bump {
            (&mut range.bump, self.motions.bump)
        } else {
            (&mut range.droop, self.motions.droop)
        };
        *end = Some(taut.abs());
        let left = Motions::new(self.motions.mover, &range, QUESTION)?;
        // Stopped exactly where it is taut, it is as long as it is, but for the last digits.
        if left.greatest(|standing| self.distance(standing))?.value > self.hose.length + 1e-6 {
            return Ok(None);
        }
        let way = if bump { "bump" } else { "droop" };
        let sentence = Sentence::new("Or stop the wheel at ")
            .at_most(taut.abs(), f64::INFINITY)
            .words(format!(" of {way} or less, by a strap or a stop."));
        let change = now - taut.abs();
        Ok(Some(Remedy {
            kind: RemedyKind::LessTravel,
            change,
            window: (change, f64::INFINITY),
            sentence,
        }))
    }
}
