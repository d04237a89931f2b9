//! How far a long study is, shown on a terminal.

use super::Session;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use kin_core::study::Progress;
use std::time::{Duration, Instant};

/// What is done sooner than this needs no bar.
const PATIENCE: Duration = Duration::from_secs(1);
/// Times a second that the bar is drawn.
const REFRESH: u8 = 4;
/// Name, bar, variants done and to do, and the time left.
const STYLE: &str = "{msg} [{bar:30}] {human_pos} of {human_len}, {eta} left";

/// Watches a study for a session: draws a bar where somebody sees it, and stops the study when the session is stopped.
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
        self.session.should_stop()
    }
}

impl Drop for StudyProgress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
