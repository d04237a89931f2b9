//! Straight lines of motion: where the suspension is along them.

use super::anchor::Instant;
use crate::linkage::{Command, Linkage};
use crate::pose::{Along, PoseError, Solved, Track};

/// Distance between the first looks along a line (mm).
const LOOK_MM: f64 = 4.0;

/// A straight line of commands from a known pose, `from` to `to` (mm along `direction`), with zero at the pose.
#[derive(Debug, Clone)]
pub(super) struct Line<'a> {
    pub(super) linkage: &'a Linkage,
    pub(super) start: Solved,
    pub(super) direction: Command,
    pub(super) from: f64,
    pub(super) to: f64,
    /// What is moved, for messages.
    pub(super) moved: &'static str,
}

/// The suspension at one place of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stop {
    /// Along the line (mm).
    pub(super) place: f64,
    pub(super) solved: Solved,
}

impl Line<'_> {
    /// Evenly spaced stops from end to end; zero is one of them if it lies between.
    pub(super) fn stops(&self) -> Result<Vec<Stop>, PoseError> {
        let mut stops = Vec::new();
        if self.from < 0.0 {
            self.walk(self.to.min(0.0), self.from, &mut stops)?;
            stops.reverse();
            if self.to > 0.0 {
                stops.pop();
            }
        }
        if self.to > 0.0 || stops.is_empty() {
            self.walk(self.from.max(0.0), self.to, &mut stops)?;
        }
        Ok(stops)
    }

    /// Stops from the end nearer to zero outward.
    fn walk(&self, near: f64, far: f64, stops: &mut Vec<Stop>) -> Result<(), PoseError> {
        let mut solved = self.start;
        if !self.linkage.held_too_much {
            // A corner's pose knows its twist along one drive only, which may be another one.
            solved = solved.along(self.linkage, self.direction.drive(), self.moved)?;
        }
        let mut track = Track::new(self.linkage, &solved, self.direction, self.moved);
        let count = ((far - near).abs() / LOOK_MM).ceil().clamp(1.0, 4_000.0) as usize;
        let last = if near == far { 0 } else { count };
        for step in 0..=last {
            let place = if step == last && last > 0 {
                far
            } else {
                near + (far - near) * (step as f64 / count as f64)
            };
            track.advance_to(place, &mut solved)?;
            stops.push(Stop { place, solved });
        }
        Ok(())
    }

    /// The stop at a place, reached from another one near it.
    pub(super) fn stop_at(&self, place: f64, near: &Stop) -> Result<Stop, PoseError> {
        let mut solved = near.solved;
        Track::new(self.linkage, &near.solved, self.direction, self.moved)
            .advance_to(place - near.place, &mut solved)?;
        Ok(Stop { place, solved })
    }

    /// The command at a place of the line.
    pub(super) fn command_at(&self, place: f64) -> Command {
        std::array::from_fn(|part| self.start.command[part] + place * self.direction[part])
    }

    pub(super) fn instant(&self, stop: &Stop) -> Instant {
        Instant::new(
            &self.linkage.origin,
            &stop.solved,
            &self.direction.twist(&stop.solved),
            self.direction[2],
        )
    }
}
