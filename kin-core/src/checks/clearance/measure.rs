//! The least gap of two solids over all motions.

use super::build::Body;
use super::line::Stop;
use super::meeting::{Course, Look, Meeting};
use super::motions::{MotionKind, Motions, Walked};
use crate::checks::motion_range::WheelPlace;
use crate::pose::{PoseError, Solved};

/// A later motion counts as the worse one only when its gap is less by more than this (mm): twice what a search may
/// leave unfound.
const LESS_MM: f64 = 1e-6;

/// A solid with its places along all lines of the question.
#[derive(Debug, Clone)]
pub(super) struct Fitted {
    pub(super) body: Body,
    /// For each line, for each piece.
    lines: Vec<Vec<Course>>,
    /// The same for the lines of the region.
    pub(super) region: Vec<Vec<Course>>,
}

impl Fitted {
    pub(super) fn new(motions: &Motions<'_>, body: Body) -> Self {
        let courses = |walked: &Walked<'_>| courses(&body, walked);
        let lines = motions.lines.iter().map(|(_, walked)| courses(walked)).collect();
        let region = motions.region.iter().flat_map(|(_, lines)| lines);
        let region = region.map(|(_, walked)| courses(walked)).collect();
        Self { body, lines, region }
    }
}

pub(super) fn courses(body: &Body, walked: &Walked<'_>) -> Vec<Course> {
    let pieces = body.pieces.iter();
    pieces
        .map(|piece| Course::of(piece, &walked.line, &walked.stops))
        .collect()
}

/// The lowest gap of two solids on some line.
#[derive(Debug, Clone)]
pub(super) struct Lowest {
    pub(super) kind: MotionKind,
    /// Where the wheels stand there.
    pub(super) wheels: WheelPlace,
    pub(super) look: Look,
    /// The suspension there.
    pub(super) solved: Solved,
    /// Which piece of either solid.
    pub(super) pieces: [usize; 2],
}

/// Two solids over all motions.
#[derive(Debug, Clone)]
pub(super) struct Measured {
    /// The lowest gap of each line; of the region only if it is lower than on every line.
    pub(super) by_motion: Vec<Lowest>,
    /// Which of these is the lowest of all.
    pub(super) lowest: usize,
    /// The gap at ride height (mm).
    pub(super) at_ride: f64,
}

impl Measured {
    pub(super) fn lowest(&self) -> Option<&Lowest> {
        self.by_motion.get(self.lowest)
    }
}

/// Measures two solids; none if they are never compared.
pub(super) fn measure(motions: &Motions<'_>, solids: [&Fitted; 2]) -> Result<Option<Measured>, PoseError> {
    let mut by_motion = Vec::with_capacity(motions.lines.len() + 1);
    let mut lowest = 0;
    let mut at_ride = f64::INFINITY;
    for (place, (kind, walked)) in motions.lines.iter().enumerate() {
        let courses = solids.map(|solid| solid.lines.get(place).map_or(&[][..], Vec::as_slice));
        let on_line = OnLine {
            walked,
            bodies: solids.map(|solid| &solid.body),
            courses,
        };
        let ride = if place == 0 { Some(&mut at_ride) } else { None };
        let Some(Found { look, stop, pieces }) = on_line.least(None, ride)? else {
            continue;
        };
        by_motion.push(Lowest {
            kind: *kind,
            wheels: motions.wheels_at(&stop.solved.command),
            look,
            solved: stop.solved,
            pieces,
        });
        lowest = lower(&by_motion, lowest);
    }
    if by_motion.is_empty() {
        return Ok(None);
    }
    let below = by_motion
        .get(lowest)
        .map_or(f64::INFINITY, |lowest| lowest.look.gap);
    if let Some(found) = super::region::least(motions, solids, below - LESS_MM)? {
        by_motion.push(found);
        lowest = by_motion.len() - 1;
    }
    Ok(Some(Measured {
        by_motion,
        lowest,
        at_ride,
    }))
}

/// The newest of the list if it is clearly lower than the lowest so far.
fn lower(list: &[Lowest], lowest: usize) -> usize {
    let gap = |place: usize| list.get(place).map_or(f64::INFINITY, |entry| entry.look.gap);
    let newest = list.len() - 1;
    if gap(newest) < gap(lowest) - LESS_MM {
        newest
    } else {
        lowest
    }
}

/// The least gap on one line.
pub(super) struct Found {
    pub(super) look: Look,
    pub(super) stop: Stop,
    pub(super) pieces: [usize; 2],
}

/// Two solids on one line.
pub(super) struct OnLine<'b, 'a> {
    pub(super) walked: &'b Walked<'a>,
    pub(super) bodies: [&'b Body; 2],
    pub(super) courses: [&'b [Course]; 2],
}

impl OnLine<'_, '_> {
    fn meetings(&self) -> impl Iterator<Item = ([usize; 2], Meeting<'_>)> {
        let [first, second] = [0, 1].map(|which| self.bodies[which].pieces.iter().zip(self.courses[which]));
        first.enumerate().flat_map(move |(place, (piece, course))| {
            second
                .clone()
                .enumerate()
                .map(move |(other, (its_piece, its_course))| {
                    let meeting = Meeting {
                        line: &self.walked.line,
                        stops: &self.walked.stops,
                        pieces: [piece, its_piece],
                        courses: [course, its_course],
                    };
                    ([place, other], meeting)
                })
        })
    }

    /// The least gap below `best` (mm), with the pieces that have it.
    ///
    /// * `at_ride`: lowered to the gap at the start of the line, where it is looked at
    pub(super) fn least(
        &self,
        best: Option<f64>,
        mut at_ride: Option<&mut f64>,
    ) -> Result<Option<Found>, PoseError> {
        let mut least: Option<Found> = None;
        for (pieces, meeting) in self.meetings() {
            if let Some(at_ride) = &mut at_ride {
                let start = self.walked.stops.iter().position(|stop| stop.place == 0.0);
                let look = start.and_then(|start| meeting.look_at(start));
                **at_ride = at_ride.min(look.map_or(f64::INFINITY, |look| look.gap));
            }
            let best = least.as_ref().map_or(best, |found| Some(found.look.gap));
            if let Some((look, stop)) = meeting.least(best)? {
                least = Some(Found { look, stop, pieces });
            }
        }
        Ok(least)
    }

    /// Every stretch of the line on which the solids overlap (mm along the line).
    fn overlaps(&self) -> Result<Vec<Stretch>, PoseError> {
        let mut stretches = Vec::new();
        for (_, meeting) in self.meetings() {
            stretches.extend(meeting.overlaps()?);
        }
        stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut joined: Vec<Stretch> = Vec::with_capacity(stretches.len());
        for stretch in stretches {
            match joined.last_mut() {
                Some(last) if stretch.0 <= last.1 => last.1 = last.1.max(stretch.1),
                _ => joined.push(stretch),
            }
        }
        Ok(joined)
    }
}

/// From where to where on a line (mm along it).
pub(super) type Stretch = (f64, f64);

/// Every stretch of every line on which two solids overlap, with the place of the line in the list.
pub(super) fn overlaps(
    motions: &Motions<'_>,
    solids: [&Fitted; 2],
) -> Result<Vec<(usize, Stretch)>, PoseError> {
    let mut found = Vec::new();
    for (place, (_, walked)) in motions.lines.iter().enumerate() {
        let on_line = OnLine {
            walked,
            bodies: solids.map(|solid| &solid.body),
            courses: solids.map(|solid| solid.lines.get(place).map_or(&[][..], Vec::as_slice)),
        };
        found.extend(on_line.overlaps()?.into_iter().map(|stretch| (place, stretch)));
    }
    Ok(found)
}
