//! Search: move chosen numbers of a description within limits until targets are met and requirements kept.
//!
//! The numbers move along [`Move`]s: one coordinate in a box, a point along a line, a point in a plane (two moves), or several
//! numbers tied together; or among drilled holes ([`Holes`]), which are all tried. [`Goal`]s are targets on outcomes, met in
//! the sense of least squares; [`Keep`]s are requirements that must hold. Sequential quadratic programming does the work
//! from several starts; linear approximations (COBYLA) take over where an outcome has no derivative or has kinks. What the
//! libraries return is checked again here: only a variant whose requirements hold when it is built anew counts as found.

mod evaluate;
mod front;
mod price;
mod question;
mod seen;
mod solve;
mod starts;
mod steps;

pub use front::FrontPoint;
pub use price::{Binding, Bound, Side};
pub use question::{Goal, GoalPoint, Hole, Holes, Keep, Move, SearchError, SearchQuestion};

use super::{Progress, Subject};
use evaluate::Evaluator;
use solve::{Aim, Problem, better, settle};

/// Starts worked on between two looks at whether to stop.
const CHUNK: usize = 8;

/// A variant that the search came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// How far each move went (its unit), in the order of the question.
    pub moves: Vec<f64>,
    /// Which hole of each list, in the order of the question.
    pub holes: Vec<usize>,
    /// What each point of each goal ended at (core units).
    pub goals: Vec<Vec<f64>>,
    /// What each requirement's outcome ended at (core units).
    pub keeps: Vec<f64>,
    /// Weighted sum of squares of the goals' deviations.
    pub objective: f64,
    /// The greatest violation of a requirement, in its unit; zero where all hold.
    pub miss: f64,
}

impl Candidate {
    /// Whether all requirements hold, as checked on the variant itself.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.miss <= solve::FEASIBLE
    }

    /// Root mean square of what a goal's points miss their targets by (core units).
    #[must_use]
    pub fn deviation(&self, question: &SearchQuestion, goal: usize) -> f64 {
        match (question.goals.get(goal), self.goals.get(goal)) {
            (Some(goal), Some(values)) => goal.deviation(values),
            _ => f64::NAN,
        }
    }
}

/// Where one start led.
#[derive(Debug, Clone, PartialEq)]
pub struct StartEnd {
    /// Which hole of each list.
    pub holes: Vec<usize>,
    /// Where it began (unit of each move).
    pub begin: Vec<f64>,
    /// What it came to, or why it could not begin.
    pub end: Result<Candidate, String>,
}

/// What a search found.
#[derive(Debug, Clone, PartialEq)]
pub struct SearchAnswer {
    /// The description as it is; none when it has no value there.
    pub as_is: Option<Candidate>,
    /// The best variant with every move free to stop anywhere. Where [`Candidate::holds`] is false no place keeps every
    /// requirement, and this is the nearest miss.
    pub best: Option<Candidate>,
    /// The best variant in real steps, where a move has them, built and checked anew.
    pub stepped: Option<Candidate>,
    /// What stops the best variant from being better, and what it costs.
    pub binding: Vec<Binding>,
    /// The trade-off between two goals, where it was asked for.
    pub front: Vec<FrontPoint>,
    /// Every start.
    pub starts: Vec<StartEnd>,
    /// How many variants were built.
    pub variants: usize,
    /// Whether it was stopped before its end.
    pub stopped: bool,
}

/// Searches.
///
/// # Errors
/// A question that cannot be searched: nothing to move, no goal, a range that is none, a step that never falls into its range.
pub fn search(
    subject: &Subject,
    question: &SearchQuestion,
    progress: &dyn Progress,
) -> Result<SearchAnswer, SearchError> {
    question.check()?;
    let mut answer = SearchAnswer {
        as_is: as_it_is(subject, question),
        best: None,
        stepped: None,
        binding: Vec::new(),
        front: Vec::new(),
        starts: Vec::new(),
        variants: 1,
        stopped: false,
    };
    let begins = starts::begins(question);
    let mut jobs = Vec::new();
    for holes in question.hole_choices() {
        jobs.extend(begins.iter().map(|begin| (holes.clone(), begin.clone())));
    }
    for chunk in jobs.chunks(CHUNK) {
        if progress.should_stop() {
            answer.stopped = true;
            break;
        }
        let ends = crate::parallel::map(chunk, |(holes, begin)| {
            from_start(subject, question, holes, begin)
        });
        for (end, variants) in ends {
            answer.variants += variants;
            progress.advance(variants);
            answer.starts.push(end);
        }
    }
    let ends = answer.starts.iter().filter_map(|start| start.end.as_ref().ok());
    answer.best = ends.fold(None, |best, end| better(best, end.clone()));
    if answer.stopped {
        return Ok(answer);
    }
    if question.has_steps() {
        let (stepped, variants) = steps::stepped(subject, question, &answer.starts);
        answer.stepped = stepped;
        answer.variants += variants;
        progress.advance(variants);
    }
    if let Some(best) = answer.best.clone() {
        let (binding, variants) = price::binding(subject, question, &best);
        answer.binding = binding;
        answer.variants += variants;
        progress.advance(variants);
        if let Some(points) = question.front {
            let (front, variants) = front::front(subject, question, &best, points);
            answer.front = front;
            answer.variants += variants;
            progress.advance(variants);
        }
    }
    Ok(answer)
}

/// The description as it stands, in the first hole that is where it is now, or with no hole changed.
fn as_it_is(subject: &Subject, question: &SearchQuestion) -> Option<Candidate> {
    let evaluator = Evaluator::as_described(subject, question);
    evaluator
        .candidate(&vec![0.0; question.moves.len()], question, Vec::new())
        .ok()
}

fn from_start(
    subject: &Subject,
    question: &SearchQuestion,
    holes: &[usize],
    begin: &[f64],
) -> (StartEnd, usize) {
    let evaluator = Evaluator::new(subject, question, holes);
    let problem = Problem::new(&evaluator, question, Aim::Goals);
    let end = match evaluator.candidate(begin, question, holes.to_vec()) {
        Ok(candidate) => Ok(settle(&problem, candidate)),
        Err(error) => Err(error.to_string()),
    };
    let variants = evaluator.variants();
    let begin = begin.to_vec();
    let holes = holes.to_vec();
    (StartEnd { holes, begin, end }, variants)
}
