//! The least gap of two solids over a whole region of motions, such as every travel with every steering.
//!
//! The region is covered by lines, on each of which the least gap is known. Between two lines it can be less by no
//! more than what the parts move sideways; where that does not rule the strip out it gets a line in its middle, down to
//! strips of [`NARROW_MM`]. From the lowest place found the search goes on along both directions in turn.

use super::line::{Line, Stop};
use super::measure::{Fitted, Found, Lowest, OnLine, courses};
use super::motions::{Motions, Region, Walked};
use crate::pose::{Motion, PoseError};

/// Strips narrower than this (mm) are not divided again: over so little the gap is straight to within thousandths of a
/// millimetre, and the search along both directions finds the rest where it is next to the lowest place.
const NARROW_MM: f64 = 1.0;
/// Speeds between two lines may be above those on them by this share.
const SPEED_ALLOWANCE: f64 = 1.05;
/// Most lines in one region for one pair.
const MOST_LINES: usize = 400;
/// The search along both directions stops when a turn gains less than this (mm).
const GAIN_MM: f64 = 1e-9;
const MOST_TURNS: usize = 60;
/// How far to either side a turn looks (mm).
const SIDE_MM: f64 = 2.0;

/// What is known on one line of the region.
struct Strip {
    across: f64,
    gap: f64,
    speed: f64,
}

/// The least gap in the region if it lies below `below` (mm).
pub(super) fn least<'a>(
    motions: &Motions<'a>,
    solids: [&Fitted; 2],
    below: f64,
) -> Result<Option<Lowest>, PoseError> {
    let Some((region, lines)) = &motions.region else {
        return Ok(None);
    };
    let mut search = Search {
        motions,
        region,
        solids,
        below,
        found: None,
        lines: 0,
    };
    let mut strips = Vec::with_capacity(lines.len());
    for (place, (across, walked)) in lines.iter().enumerate() {
        let on_line = OnLine {
            walked,
            bodies: solids.map(|solid| &solid.body),
            courses: solids.map(|solid| solid.region.get(place).map_or(&[][..], Vec::as_slice)),
        };
        let Some(strip) = search.on(*across, &on_line)? else {
            return Ok(None);
        };
        strips.push(strip);
    }
    for pair in strips.windows(2) {
        search.between(&pair[0], &pair[1])?;
    }
    search.settle()?;
    Ok(search.found)
}

struct Search<'b, 'a> {
    motions: &'b Motions<'a>,
    region: &'b Region<'a>,
    solids: [&'b Fitted; 2],
    below: f64,
    found: Option<Lowest>,
    lines: usize,
}

impl<'a> Search<'_, 'a> {
    fn offer(&mut self, found: Found) {
        let Found { look, stop, pieces } = found;
        if look.gap < self.below {
            self.below = look.gap;
            self.found = Some(Lowest {
                kind: self.region.kind,
                wheels: self.motions.wheels_at(&stop.solved.command),
                look,
                solved: stop.solved,
                pieces,
            });
        }
    }

    fn on(&mut self, across: f64, on_line: &OnLine<'_, 'a>) -> Result<Option<Strip>, PoseError> {
        self.lines += 1;
        let Some(found) = on_line.least(None, None)? else {
            return Ok(None);
        };
        let gap = found.look.gap;
        self.offer(found);
        let speed = self.sideways_speed(on_line.walked);
        Ok(Some(Strip { across, gap, speed }))
    }

    /// The greatest sum of both solids' speeds from line to line.
    fn sideways_speed(&self, walked: &Walked<'a>) -> f64 {
        let sideways = self.region.sideways();
        let at = |stop: &Stop| {
            // At the very limit of reach rates are infinite.
            let Some(motion) = Motion::new(walked.line.linkage, &stop.solved) else {
                return f64::INFINITY;
            };
            let twist = motion.twist(&sideways);
            let instant =
                super::anchor::Instant::new(&walked.line.linkage.origin, &stop.solved, &twist, sideways[2]);
            let speeds = self.solids.map(|solid| {
                let pieces = solid.body.pieces.iter().filter(|piece| !piece.stands());
                pieces
                    .map(|piece| piece.place(&instant).speed())
                    .fold(0.0, f64::max)
            });
            speeds[0] + speeds[1]
        };
        walked.stops.iter().map(at).fold(0.0, f64::max)
    }

    fn between(&mut self, left: &Strip, right: &Strip) -> Result<(), PoseError> {
        let width = right.across - left.across;
        let moved = SPEED_ALLOWANCE * left.speed.max(right.speed) * width;
        let met = self.found.as_ref().is_some_and(|found| found.look.met());
        let clear = 0.5 * (left.gap + right.gap - moved) >= self.below;
        if clear || met || width <= NARROW_MM || self.lines >= MOST_LINES {
            return Ok(());
        }
        let across = 0.5 * (left.across + right.across);
        let walked = Walked::new(self.region.line_at(across)?)?;
        let courses = self.solids.map(|solid| courses(&solid.body, &walked));
        let on_line = OnLine {
            walked: &walked,
            bodies: self.solids.map(|solid| &solid.body),
            courses: [&courses[0], &courses[1]],
        };
        let Some(middle) = self.on(across, &on_line)? else {
            return Ok(());
        };
        self.between(left, &middle)?;
        self.between(&middle, right)
    }

    /// Goes on from the lowest place along both directions in turn.
    fn settle(&mut self) -> Result<(), PoseError> {
        let mut before_both = f64::INFINITY;
        for turn in 0..MOST_TURNS {
            let Some(found) = &self.found else {
                return Ok(());
            };
            let before = found.look.gap;
            if found.look.met() || (turn % 2 == 0 && before_both - before < GAIN_MM) {
                return Ok(());
            }
            if turn % 2 == 0 {
                before_both = before;
            }
            let line = self.turned(found, turn % 2 == 0);
            let walked = Walked::new(line)?;
            let courses = self.solids.map(|solid| courses(&solid.body, &walked));
            let on_line = OnLine {
                walked: &walked,
                bodies: self.solids.map(|solid| &solid.body),
                courses: [&courses[0], &courses[1]],
            };
            if let Some(lower) = on_line.least(Some(before), None)? {
                self.offer(lower);
            }
        }
        Ok(())
    }

    /// A short line through the lowest place, sideways or along, within the region.
    fn turned(&self, found: &Lowest, sideways: bool) -> Line<'a> {
        let linkage = self.motions.mover.linkage();
        let start = found.solved;
        let (place, range) = self.region.range(&start.command, sideways);
        let direction = if sideways {
            self.region.sideways()
        } else {
            self.region.along()
        };
        Line {
            linkage,
            start,
            direction,
            from: (range.0 - place).clamp(-SIDE_MM, 0.0),
            to: (range.1 - place).clamp(0.0, SIDE_MM),
            moved: "movement of the wheels",
        }
    }
}
