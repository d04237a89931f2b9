//! Counts what a run uses and stops it when a bound is reached.

use std::sync::Mutex;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, AtomicU64, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use super::{Limits, memory};

/// Steps counted by one engine before it adds them to the shared count and looks at the clock.
pub(super) const PORTION: u64 = 64;

/// Why a run was stopped, with the bound that was reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stop {
    /// Too many steps.
    Operations(u64),
    /// Too long on the clock.
    Time(Duration),
    /// Too much memory, in bytes.
    Memory(usize),
    /// Too much printed, in bytes.
    Printed(usize),
}

/// Shared by all engines of one session. Once stopped it stays stopped, so that a script that catches the error
/// is stopped again at its next step.
#[derive(Debug)]
pub(super) struct Meter {
    operations: AtomicU64,
    printed: AtomicUsize,
    memory_at_start: AtomicUsize,
    deadline: OnceLock<Option<Instant>>,
    stopped: AtomicBool,
    reason: Mutex<Option<Stop>>,
    limits: Limits,
}

impl Meter {
    pub(super) fn new(limits: Limits) -> Self {
        Self {
            operations: AtomicU64::new(0),
            printed: AtomicUsize::new(0),
            memory_at_start: AtomicUsize::new(memory::bytes_in_use()),
            deadline: OnceLock::new(),
            stopped: AtomicBool::new(false),
            reason: Mutex::new(None),
            limits,
        }
    }

    /// Starts the clock; a second call changes nothing.
    pub(super) fn start(&self) {
        self.deadline.get_or_init(|| {
            self.memory_at_start
                .store(memory::bytes_in_use(), Ordering::Relaxed);
            Instant::now().checked_add(self.limits.wall_time)
        });
    }

    pub(super) fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }

    /// The first bound that was reached.
    pub(super) fn reason(&self) -> Option<Stop> {
        *self
            .reason
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
    }

    pub(super) fn stop(&self, reason: Stop) {
        self.reason
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
            .get_or_insert(reason);
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// Adds a portion of steps, then looks at every bound.
    pub(super) fn spend(&self, operations: u64) {
        let spent = self
            .operations
            .fetch_add(operations, Ordering::Relaxed)
            .saturating_add(operations);
        if spent > self.limits.operations {
            self.stop(Stop::Operations(self.limits.operations));
        }
        self.look();
    }

    /// Looks at the clock and the memory.
    pub(super) fn look(&self) {
        if let Some(Some(deadline)) = self.deadline.get()
            && Instant::now() >= *deadline
        {
            self.stop(Stop::Time(self.limits.wall_time));
        }
        self.weigh();
    }

    /// Looks at the memory. One step may double what a closure holds, so this is done at every step.
    pub(super) fn weigh(&self) {
        let used = memory::bytes_in_use().saturating_sub(self.memory_at_start.load(Ordering::Relaxed));
        if used > self.limits.memory_bytes {
            self.stop(Stop::Memory(self.limits.memory_bytes));
        }
    }

    /// Adds printed bytes; false when the budget is used up and nothing more may be printed.
    pub(super) fn may_print(&self, bytes: usize) -> bool {
        let printed = self
            .printed
            .fetch_add(bytes, Ordering::Relaxed)
            .saturating_add(bytes);
        if printed > self.limits.print_bytes {
            self.stop(Stop::Printed(self.limits.print_bytes));
        }
        !self.is_stopped()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_bound_reached_is_the_one_reported() {
        let meter = Meter::new(Limits {
            operations: 100,
            print_bytes: 10,
            ..Limits::default()
        });
        meter.start();
        meter.spend(64);
        assert!(!meter.is_stopped());
        meter.spend(64);
        assert!(!meter.may_print(11));
        assert_eq!(meter.reason(), Some(Stop::Operations(100)));
    }

    #[test]
    fn a_deadline_in_the_past_stops_at_the_first_look() {
        let meter = Meter::new(Limits {
            wall_time: Duration::ZERO,
            ..Limits::default()
        });
        meter.start();
        meter.look();
        assert_eq!(meter.reason(), Some(Stop::Time(Duration::ZERO)));
    }
}
