//! How far a long study is, shown on a terminal.

use super::Session;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use kin_core::study::Progress;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// What is done sooner than this needs no bar.
const PATIENCE: Duration = Duration::from_secs(1);
/// Times a second that the bar is drawn.
const REFRESH: u8 = 4;
/// Name, bar, variants done and to do, and the time left.
const STYLE: &str = "{msg} [{bar:30}] {human_pos} of {human_len}, {eta} left";

/// The studies of a session. The program's interrupt ends the running study and not the script; a second one, or one
/// while no study runs, is for the program.
#[derive(Debug, Default)]
pub struct Studies {
    running: AtomicUsize,
    interrupts: AtomicUsize,
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

/// Watches a study for a session: draws a bar where somebody sees it, and stops the study when the session is
/// stopped or the user asks for it.
///
/// The bar goes to the terminal's error output, and only there: into a file or a pipe, and with `--quiet`, nothing is
/// written. It vanishes when the study ends, so that what is printed is the same with and without it.
pub struct StudyProgress {
    session: Session,
    bar: ProgressBar,
    start: Instant,
}

impl StudyProgress {
    /// * `name`: what is being done
    /// * `variants`: how many there are in all
    #[must_use]
    pub fn new(session: &Session, name: &str, variants: usize) -> Self {
        let bar = ProgressBar::with_draw_target(Some(variants as u64), ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template(STYLE) {
            bar.set_style(style.progress_chars("=> "));
        }
        bar.set_message(name.to_owned());
        session.studies().running.fetch_add(1, Ordering::SeqCst);
        Self {
            session: session.clone(),
            bar,
            start: Instant::now(),
        }
    }
}

impl Progress for StudyProgress {
    fn advance(&self, variants: usize) {
        if self.bar.is_hidden() && self.session.is_watched() && self.start.elapsed() > PATIENCE {
            self.bar
                .set_draw_target(ProgressDrawTarget::stderr_with_hz(REFRESH));
        }
        self.bar.inc(variants as u64);
    }

    fn should_stop(&self) -> bool {
        self.session.studies().is_interrupted() || self.session.should_stop()
    }
}

impl Drop for StudyProgress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
        let studies = self.session.studies();
        if studies.running.fetch_sub(1, Ordering::SeqCst) == 1 {
            studies.interrupts.store(0, Ordering::SeqCst);
        }
    }
}
