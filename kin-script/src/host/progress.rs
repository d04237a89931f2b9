//! Running studies: how far they are, and whether to stop.

use std::sync::atomic::{AtomicUsize, Ordering};

use kin_core::study::Progress;

use super::Session;

/// The studies of a session. The program's interrupt ends the running study and not the script; a second one, or one
/// while no study runs, is for the program.
#[derive(Debug, Default)]
pub struct Studies {
    running: AtomicUsize,
    interrupts: AtomicUsize,
}

/// A running study, from its beginning until it is dropped.
pub struct StudyProgress {
    session: Session,
}

impl Studies {
    /// Asks the running study to stop; false when none runs or it was asked already, so that the program should end.
    pub fn interrupt(&self) -> bool {
        self.running.load(Ordering::SeqCst) > 0 && self.interrupts.fetch_add(1, Ordering::SeqCst) == 0
    }

    fn is_interrupted(&self) -> bool {
        self.interrupts.load(Ordering::SeqCst) > 0
    }
}

impl StudyProgress {
    /// A study of a session begins.
    pub fn begin(session: &Session) -> Self {
        session.studies().running.fetch_add(1, Ordering::SeqCst);
        Self {
            session: session.clone(),
        }
    }

    /// Whether the user has asked this study to stop.
    pub fn is_interrupted(&self) -> bool {
        self.session.studies().is_interrupted()
    }
}

impl Progress for StudyProgress {
    fn advance(&self, _variants: usize) {}

    fn should_stop(&self) -> bool {
        self.is_interrupted() || self.session.should_stop()
    }
}

impl Drop for StudyProgress {
    fn drop(&mut self) {
        let studies = self.session.studies();
        if studies.running.fetch_sub(1, Ordering::SeqCst) == 1 {
            studies.interrupts.store(0, Ordering::SeqCst);
        }
    }
}
