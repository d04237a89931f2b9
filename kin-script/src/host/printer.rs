//! Where printed text goes.

use super::prose::within_columns;
use std::io::Write;
use std::sync::{Arc, Mutex};

/// Receives each line a script prints.
pub trait Printer: Send + Sync {
    /// Takes one printed text, without a line break at its end.
    fn print(&self, text: &str);

    /// Whether somebody may be watching, so that a long study shows how far it is.
    fn is_watched(&self) -> bool {
        false
    }
}

/// Prints to the terminal.
#[derive(Clone, Copy, Debug, Default)]
pub struct Terminal;

impl Printer for Terminal {
    fn print(&self, text: &str) {
        // Control characters could move the cursor or recolour the terminal.
        let shown: String = text
            .chars()
            .map(|c| {
                if c.is_control() && c != '\n' && c != '\t' {
                    '\u{FFFD}'
                } else {
                    c
                }
            })
            .collect();
        let shown = within_columns(&shown);
        // A closed pipe is the reader's choice and no failure of the run.
        let _ = writeln!(std::io::stdout().lock(), "{shown}");
    }

    fn is_watched(&self) -> bool {
        true
    }
}

/// Prints nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Printer for Silent {
    fn print(&self, _text: &str) {}
}

/// Keeps what was printed; clones share one text.
#[derive(Clone, Debug, Default)]
pub struct Captured {
    text: Arc<Mutex<String>>,
}

impl Captured {
    /// Everything printed so far, each print on a line of its own.
    pub fn text(&self) -> String {
        self.text
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
            .clone()
    }
}

impl Printer for Captured {
    fn print(&self, text: &str) {
        let mut kept = self.text.lock().unwrap_or_else(|poisoned| poisoned.into_inner());
        kept.push_str(text);
        kept.push('\n');
    }
}
