//! The motions that a clearance is looked at over: lines of commands, and a region that holds them all.

use super::line::{Line, Stop};
use super::names::Mover;
use crate::checks::motion_range::WheelPlace;
use crate::linkage::{Command, Drive, Linkage};
use crate::pickups::Side;
use crate::pose::{PoseError, Solved, Track};

/// Distance between the lines that a region is first looked at on (mm).
const LINES_MM: f64 = 10.0;

/// A kind of motion of the wheels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum MotionKind {
    /// A corner from full droop to full bump, steering straight ahead.
    BumpAndDroop,
    /// A corner at ride height, from lock to lock.
    Steer,
    /// A corner at any travel with any steering.
    BumpAndSteer,
    /// An axle with both wheels moving together.
    BothWheels,
    /// An axle with only the left wheel moving.
    LeftWheel,
    /// An axle with only the right wheel moving.
    RightWheel,
    /// An axle in roll: the left wheel goes up while the right one goes down, each to its end.
    LeftUpRightDown,
    /// An axle in roll: the left wheel goes down while the right one goes up, each to its end.
    LeftDownRightUp,
    /// An axle with each wheel at any travel.
    AnyWheels,
}

impl MotionKind {
    /// The motion in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::BumpAndDroop => "bump and droop",
            Self::Steer => "steering at ride height",
            Self::BumpAndSteer => "bump and droop with steering",
            Self::BothWheels => "both wheels together",
            Self::LeftWheel => "the left wheel alone",
            Self::RightWheel => "the right wheel alone",
            Self::LeftUpRightDown => "roll, left wheel up",
            Self::LeftDownRightUp => "roll, right wheel up",
            Self::AnyWheels => "each wheel by itself",
        }
    }
}

/// How far the wheels go, from ride height (mm, all positive but ride).
#[derive(Debug, Clone, Copy)]
pub(super) struct Extent {
    /// Travel at ride height, from the pickups as measured.
    pub(super) ride: f64,
    pub(super) bump: f64,
    pub(super) droop: f64,
    pub(super) lock: f64,
}

/// A line of motion with its first looks.
#[derive(Debug, Clone)]
pub(super) struct Walked<'a> {
    pub(super) line: Line<'a>,
    pub(super) stops: Vec<Stop>,
}

impl<'a> Walked<'a> {
    pub(super) fn new(line: Line<'a>) -> Result<Self, PoseError> {
        let stops = line.stops()?;
        Ok(Self { line, stops })
    }
}

/// A region of commands: lines along one direction, side by side along another.
#[derive(Debug, Clone)]
pub(super) struct Region<'a> {
    pub(super) kind: MotionKind,
    mover: Mover<'a>,
    extent: Extent,
    /// Ends of the range of lines (mm).
    pub(super) across: (f64, f64),
}

/// All motions of one question.
#[derive(Debug, Clone)]
pub(super) struct Motions<'a> {
    pub(super) mover: Mover<'a>,
    pub(super) extent: Extent,
    pub(super) lines: Vec<(MotionKind, Walked<'a>)>,
    pub(super) region: Option<(Region<'a>, Vec<(f64, Walked<'a>)>)>,
}

impl<'a> Motions<'a> {
    pub(super) fn new(mover: Mover<'a>, extent: Extent) -> Result<Self, PoseError> {
        let linkage = mover.linkage();
        let ride = stand(linkage, &[extent.ride, 0.0, 0.0])?;
        let line = |direction: Command, from: f64, to: f64, moved: &'static str| {
            Walked::new(Line {
                linkage,
                start: ride,
                direction,
                from,
                to,
                moved,
            })
        };
        let (bump, droop) = (extent.bump, extent.droop);
        let mut lines = Vec::new();
        let region = match mover {
            Mover::Corner(_) => {
                let travel = line([1.0, 0.0, 0.0], -droop, bump, "wheel travel")?;
                lines.push((MotionKind::BumpAndDroop, travel));
                let lock = extent.lock;
                if lock > 0.0 {
                    let steer = line([0.0, 0.0, 1.0], -lock, lock, "rack displacement")?;
                    lines.push((MotionKind::Steer, steer));
                }
                (lock > 0.0).then_some((MotionKind::BumpAndSteer, (-lock, lock)))
            }
            Mover::Axle(_) => {
                let half = 0.5 * (bump + droop);
                let lean = if half > 0.0 {
                    0.5 * (bump - droop) / half
                } else {
                    0.0
                };
                use MotionKind as K;
                lines.push((
                    K::BothWheels,
                    line([1.0, 0.0, 0.0], -droop, bump, "travel of both wheels")?,
                ));
                lines.push((
                    K::LeftWheel,
                    line([0.5, 0.5, 0.0], -droop, bump, "travel of the left wheel")?,
                ));
                lines.push((
                    K::RightWheel,
                    line([0.5, -0.5, 0.0], -droop, bump, "travel of the right wheel")?,
                ));
                lines.push((
                    K::LeftUpRightDown,
                    line([lean, 1.0, 0.0], 0.0, half, "roll of the axle")?,
                ));
                lines.push((
                    K::LeftDownRightUp,
                    line([lean, -1.0, 0.0], 0.0, half, "roll of the axle")?,
                ));
                (half > 0.0).then_some((K::AnyWheels, (-droop, bump)))
            }
        };
        let region = region
            .map(|(kind, across)| Region {
                kind,
                mover,
                extent,
                across,
            })
            .map(|region| region.first_lines().map(|lines| (region, lines)))
            .transpose()?;
        Ok(Self {
            mover,
            extent,
            lines,
            region,
        })
    }

    /// Where the wheels stand at a command, as people count it.
    pub(super) fn wheels_at(&self, command: &Command) -> WheelPlace {
        let [heave, half, rack] = *command;
        let heave = heave - self.extent.ride;
        // Adding zero turns a negative zero into a plain one.
        match self.mover {
            Mover::Corner(corner) => WheelPlace::Corner {
                travel: heave + 0.0,
                rack: if corner.side() == Side::Right { -rack } else { rack } + 0.0,
            },
            Mover::Axle(_) => WheelPlace::Axle {
                left: heave + half + 0.0,
                right: heave - half + 0.0,
            },
        }
    }
}

impl<'a> Region<'a> {
    fn first_lines(&self) -> Result<Vec<(f64, Walked<'a>)>, PoseError> {
        let (from, to) = self.across;
        let count = ((to - from) / LINES_MM).ceil().max(1.0) as usize;
        let place = |step: usize| from + (to - from) * (step as f64 / count as f64);
        let places: Vec<f64> = (0..=count).map(place).collect();
        let lines = crate::parallel::map(&places, |&place| Walked::new(self.line_at(place)?));
        places
            .iter()
            .copied()
            .zip(lines)
            .map(|(place, line)| Ok((place, line?)))
            .collect()
    }

    /// The whole line at a place across the region.
    pub(super) fn line_at(&self, across: f64) -> Result<Line<'a>, PoseError> {
        let linkage = self.mover.linkage();
        let (bump, droop, ride) = (self.extent.bump, self.extent.droop, self.extent.ride);
        let (start, moved) = match self.mover {
            Mover::Corner(_) => ([ride, 0.0, across], "wheel travel"),
            Mover::Axle(_) => {
                let start = [ride + 0.5 * across, -0.5 * across, 0.0];
                (start, "travel of the left wheel")
            }
        };
        Ok(Line {
            linkage,
            start: stand(linkage, &start)?,
            direction: self.along(),
            from: -droop,
            to: bump,
            moved,
        })
    }

    /// The direction of the lines.
    pub(super) fn along(&self) -> Command {
        match self.mover {
            Mover::Corner(_) => [1.0, 0.0, 0.0],
            Mover::Axle(_) => [0.5, 0.5, 0.0],
        }
    }

    /// Where a command lies sideways or along, and how far the region goes that way (mm).
    pub(super) fn range(&self, command: &Command, sideways: bool) -> (f64, (f64, f64)) {
        let [heave, half, rack] = *command;
        let heave = heave - self.extent.ride;
        let whole = (-self.extent.droop, self.extent.bump);
        match (self.mover, sideways) {
            (Mover::Corner(_), true) => (rack, self.across),
            (Mover::Corner(_), false) => (heave, whole),
            (Mover::Axle(_), true) => (heave - half, self.across),
            (Mover::Axle(_), false) => (heave + half, whole),
        }
    }

    /// The direction from line to line.
    pub(super) fn sideways(&self) -> Command {
        match self.mover {
            Mover::Corner(_) => [0.0, 0.0, 1.0],
            Mover::Axle(_) => [0.5, -0.5, 0.0],
        }
    }
}

/// The pose at a command: rack first, then travel, then roll.
fn stand(linkage: &Linkage, command: &Command) -> Result<Solved, PoseError> {
    let mut solved = linkage.as_measured;
    let legs = [
        (Drive::Rack, "rack displacement"),
        (Drive::Heave, "wheel travel"),
        (Drive::HalfDifference, "half the difference of the wheel travels"),
    ];
    for (drive, moved) in legs {
        let place = command[drive as usize];
        if place != 0.0 {
            if !linkage.held_too_much {
                solved = solved.along(linkage, drive, moved)?;
            }
            let start = solved;
            Track::new(linkage, &start, drive, moved).advance_to(place, &mut solved)?;
        }
    }
    Ok(solved)
}
