//! Which spring of a list lands the car at ride height with its seat on the thread, seated in droop and clear of bind?

use super::ride_height::{Case, RideHeightQuestion, SeatPosition, SpringRide};
use super::spring::{HelperSpring, SpringStack};
use super::sprung_wheel::SprungWheel;
use super::{Finding, Sentence, Verdict, worst};
use crate::pickups::{AxleSides, Measured, PickupError, Quantity, Spring, incomplete, lengths};
use crate::suspension::{Axle, Corner};
use crate::{Dimension, Error};
use serde::{Deserialize, Serialize};

const CHECK: &str = "springs";
const QUESTION: &str = "the choice of a spring";

/// A spring of the user's list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ListedSpring {
    /// What it is called in the answer.
    pub name: String,
    /// Rate (N/mm).
    pub rate: f64,
    /// Length without load (mm).
    pub free_length: f64,
    /// Length with its coils touching (mm); without it coil bind is not judged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solid_length: Option<f64>,
    /// A helper or tender spring that goes with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub helper: Option<HelperSpring>,
}

impl Measured for ListedSpring {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        visitor(&mut self.rate, Quantity::Rate);
        visitor(&mut self.free_length, Quantity::Length);
        lengths([&mut self.solid_length], visitor);
        self.helper.visit(visitor);
    }
}

/// One spring of the list, judged with its seat where ride height wants it.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringCandidate {
    /// Its name in the list.
    pub name: String,
    /// Its place in the list, from 0.
    pub place: usize,
    /// Whether it fits: the worst of its findings.
    pub verdict: Verdict,
    /// Why it does not fit; empty when it does.
    pub reasons: Vec<Sentence>,
    /// The ride height check with it, one for each side of an axle with unlike sides; empty when it cannot be fitted.
    pub rides: Vec<SpringRide>,
}

impl SpringCandidate {
    /// Ride frequency with it (Hz), of the first wheel.
    #[must_use]
    pub fn frequency(&self) -> Option<f64> {
        self.rides.first()?.standing?.frequency
    }
}

/// The list of springs, the best first.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringChoice {
    /// All springs: those that fit first, ranked by the frequency asked for, or else by the thread left at the seat.
    pub candidates: Vec<SpringCandidate>,
    /// Whether any fits.
    pub findings: Vec<Finding>,
}

impl SpringChoice {
    /// The springs that fit, the best first.
    pub fn fitting(&self) -> impl Iterator<Item = &SpringCandidate> {
        self.candidates
            .iter()
            .filter(|candidate| candidate.verdict != Verdict::Fails)
    }
}

/// Tries every spring of a list on a corner.
///
/// Rate, free length, solid length and helper come from the list, everything else from the question; the seat is put
/// where the wanted ride height needs it.
///
/// # Errors
/// As for [`check_corner_ride_height`](super::check_corner_ride_height); a spring that cannot be right is named.
pub fn choose_corner_spring(
    corner: &Corner,
    springs: &[ListedSpring],
    question: &RideHeightQuestion,
) -> Result<SpringChoice, Error> {
    let wheel = SprungWheel::of_corner(corner, QUESTION)?;
    choose(springs, &[(wheel, question, "spring")])
}

/// Tries every spring of a list on both sides of an axle.
///
/// # Errors
/// As for [`choose_corner_spring`].
pub fn choose_axle_spring(
    axle: &Axle,
    springs: &[ListedSpring],
    questions: &AxleSides<RideHeightQuestion>,
) -> Result<SpringChoice, Error> {
    let [left, right] = SprungWheel::of_axle(axle, QUESTION)?;
    let other = questions.right.as_ref().unwrap_or(&questions.left);
    choose(
        springs,
        &[
            (left, &questions.left, "left spring"),
            (right, other, "right spring"),
        ],
    )
}

type Asked<'a> = (SprungWheel<'a>, &'a RideHeightQuestion, &'static str);

fn choose(springs: &[ListedSpring], asked: &[Asked<'_>]) -> Result<SpringChoice, Error> {
    if springs.is_empty() {
        return Err(incomplete("springs", "the list is empty: give at least one spring").into());
    }
    for (_, question, _) in asked {
        question.check_numbers()?;
    }
    for (place, listed) in springs.iter().enumerate() {
        if let Some(first) = springs
            .iter()
            .take(place)
            .position(|other| other.name == listed.name)
        {
            let field = format!("springs[{place}].name");
            let advice = format!(
                "springs[{first}] is called {} as well: give each spring a name of its own, or the answer cannot say which",
                listed.name
            );
            return Err(incomplete(&field, &advice).into());
        }
    }
    let candidates: Result<Vec<_>, Error> = springs
        .iter()
        .enumerate()
        .map(|(place, listed)| candidate(place, listed, asked))
        .collect();
    let mut candidates = candidates?;
    let wanted = asked
        .first()
        .and_then(|(_, question, _)| question.wanted_frequency);
    candidates.sort_by(|a, b| {
        a.verdict
            .cmp(&b.verdict)
            .then(a.reasons.len().cmp(&b.reasons.len()))
            .then(shortfall(a, wanted, asked).total_cmp(&shortfall(b, wanted, asked)))
    });
    let findings = vec![summary(&candidates, springs)];
    Ok(SpringChoice { candidates, findings })
}

fn candidate(place: usize, listed: &ListedSpring, asked: &[Asked<'_>]) -> Result<SpringCandidate, Error> {
    let stack = SpringStack::new(
        listed.rate,
        listed.free_length,
        listed.solid_length,
        listed.helper.as_ref(),
    );
    if let Err(error) = stack {
        let field = format!("springs[{place}] ({})", listed.name);
        return Err(incomplete(&field, &error.to_string()).into());
    }
    let fitted: Vec<Spring> = asked
        .iter()
        .map(|(wheel, ..)| Spring {
            rate: listed.rate,
            free_length: Some(listed.free_length),
            ..wheel.spring.clone()
        })
        .collect();
    let fit = |name_of_both: Option<&str>| {
        let tried = asked
            .iter()
            .zip(&fitted)
            .map(|((wheel, question, name), spring)| {
                let question = RideHeightQuestion {
                    seat: SeatPosition::ForRideHeight,
                    solid_length: listed.solid_length,
                    helper: listed.helper,
                    ..(*question).clone()
                };
                let name = name_of_both.unwrap_or(name).to_owned();
                (wheel.with_spring(spring), question, name)
            });
        Case::new(tried.collect()).and_then(|case| case.run())
    };
    let mut rides = match fit(None) {
        Ok(rides) => rides,
        // All other numbers were found good, so that this spring has no room on this damper.
        Err(Error::Pickups(PickupError::Misplaced { field, problem, .. }))
            if ["spring", "helper"].contains(&field.as_str()) =>
        {
            return Ok(SpringCandidate {
                name: listed.name.clone(),
                place,
                verdict: Verdict::Fails,
                reasons: vec![problem],
                rides: Vec::new(),
            });
        }
        Err(error) => return Err(error),
    };
    if let [first, second] = rides.as_slice()
        && first.is_like(second)
    {
        rides = fit(Some("spring on either side"))?;
        rides.truncate(1);
    }
    let findings = || rides.iter().flat_map(|ride| &ride.findings);
    let mut reasons: Vec<Sentence> = Vec::new();
    for finding in findings().filter(|finding| finding.verdict == Verdict::Fails) {
        reasons.push(finding.statement.clone());
    }
    Ok(SpringCandidate {
        name: listed.name.clone(),
        place,
        verdict: worst(findings()),
        reasons,
        rides,
    })
}

/// How far a spring is from the best one: less is better.
fn shortfall(candidate: &SpringCandidate, wanted: Option<f64>, asked: &[Asked<'_>]) -> f64 {
    if let Some(wanted) = wanted {
        return candidate
            .frequency()
            .map_or(f64::INFINITY, |found| (found - wanted).abs());
    }
    let left = candidate
        .rides
        .iter()
        .zip(asked)
        .filter_map(|(ride, (_, question, _))| {
            question.seat_thread.map(|thread| thread.left(ride.needed.seat).0)
        });
    -left.fold(f64::INFINITY, f64::min).min(1e9)
}

fn summary(candidates: &[SpringCandidate], springs: &[ListedSpring]) -> Finding {
    let fitting: Vec<&SpringCandidate> = candidates
        .iter()
        .filter(|candidate| candidate.verdict != Verdict::Fails)
        .collect();
    let (verdict, statement) = match fitting.first() {
        Some(best) => {
            let unjudged: Vec<&str> = fitting
                .iter()
                .filter(|candidate| {
                    springs
                        .get(candidate.place)
                        .is_some_and(|listed| listed.solid_length.is_none())
                })
                .map(|candidate| candidate.name.as_str())
                .collect();
            let mut words = format!(
                "{} of {} listed springs hold the car at ride height and keep every {}; the first choice is {}.",
                fitting.len(),
                candidates.len(),
                if unjudged.is_empty() {
                    "limit"
                } else {
                    "limit that could be judged"
                },
                best.name
            );
            if !unjudged.is_empty() {
                words.push_str(&format!(
                    " Coil bind is not judged without the solid length: {}.",
                    unjudged.join(", ")
                ));
            }
            (best.verdict, Sentence::new(words))
        }
        None => {
            let words = format!(
                "None of the {} listed springs keeps every limit; each is listed with its reason.",
                candidates.len()
            );
            (Verdict::Fails, Sentence::new(words))
        }
    };
    let count = fitting.len() as f64;
    Finding {
        check: CHECK,
        subject: "springs of the list that fit".into(),
        verdict,
        dimension: Dimension::Ratio,
        value: count,
        limit: 1.0,
        margin: count - 1.0,
        at_travel: None,
        statement,
        remedies: Vec::new(),
    }
}
