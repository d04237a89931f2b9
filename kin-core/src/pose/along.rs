//! What a walk moves.

use super::{Solved, Twist};
use crate::linkage::{Command, Drive};

/// One drive, or a direction of the command.
pub(crate) trait Along: Copy {
    /// The drive that a corner's twist is asked for; an axle answers to both of its drives.
    fn drive(self) -> Drive;
    /// The change of the command per mm.
    fn direction(self) -> Command;
    /// How far a command lies along this, from the pickups as measured (mm).
    fn place_of(self, command: &Command) -> f64;
    /// The twist per mm.
    fn twist(self, solved: &Solved) -> Twist;
}

impl Along for Drive {
    #[inline(always)]
    fn drive(self) -> Drive {
        self
    }

    #[inline(always)]
    fn direction(self) -> Command {
        Drive::direction(self)
    }

    fn place_of(self, command: &Command) -> f64 {
        command[self as usize]
    }

    #[inline(always)]
    fn twist(self, solved: &Solved) -> Twist {
        *solved.twist(self)
    }
}

/// Both drives of an axle in fixed shares, or one drive of a corner alone.
impl Along for Command {
    fn drive(self) -> Drive {
        if self[2] == 0.0 { Drive::Heave } else { Drive::Rack }
    }

    fn direction(self) -> Command {
        self
    }

    fn place_of(self, command: &Command) -> f64 {
        let along: f64 = self.iter().zip(command).map(|(share, part)| share * part).sum();
        along / self.iter().map(|share| share * share).sum::<f64>()
    }

    fn twist(self, solved: &Solved) -> Twist {
        let [first, second] = &solved.twists;
        let of_first = self[0] + self[2];
        Twist {
            linear: first.linear * of_first + second.linear * self[1],
            angular: first.angular * of_first + second.angular * self[1],
        }
    }
}
