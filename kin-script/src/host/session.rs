//! One run of one script: its folders, its budgets, and what came of it.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard};

use super::meter::Meter;
use super::{Limits, OutputFolder, Printer, ScriptFolder, fixed_words, maths};

/// Remarks that one run makes at most; more would not be read.
const MOST_REMARKS: usize = 5;

/// Names the host needs to know of the vocabulary on top of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Words {
    /// Names a script must not define functions under, besides those of the host itself.
    pub reserved: Vec<String>,
    /// Keys that maps of the vocabulary may have, to suggest when a property is misspelt.
    pub keys: Vec<String>,
}

/// Everything a session is made from.
pub struct Setup {
    /// Where the script reads.
    pub script_folder: ScriptFolder,
    /// Where the script writes.
    pub output_folder: OutputFolder,
    /// What it may use.
    pub limits: Limits,
    /// Where it prints.
    pub printer: Arc<dyn Printer>,
    /// The names of the vocabulary.
    pub words: Words,
}

/// What a run that ended without an error came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// What failed, a sentence for each check whose finding is that something fails, in the order they were made.
    pub failed_checks: Vec<String>,
    /// Files written, in the order they were written.
    pub files: Vec<PathBuf>,
    /// What the user should know about the results, in the order it came up.
    pub remarks: Vec<String>,
}

impl Outcome {
    /// The exit code of the program: 0 when every check holds or is tight, 1 when one fails.
    pub fn exit_code(&self) -> u8 {
        u8::from(!self.failed_checks.is_empty())
    }
}

/// One run of one script. Clones are the same session, so words registered on several engines share it.
#[derive(Clone)]
pub struct Session {
    shared: Arc<Shared>,
}

struct Shared {
    setup: Setup,
    meter: Meter,
    sources: Mutex<BTreeMap<String, Arc<str>>>,
    failed_checks: Mutex<Vec<String>>,
    remarks: Mutex<Vec<(String, String)>>,
}

impl Session {
    /// A session that has not run yet. Its clock starts with the run.
    pub fn new(mut setup: Setup) -> Self {
        let host_words = maths::names().chain(fixed_words::NAMES).map(str::to_owned);
        setup.words.reserved.extend(host_words);
        let meter = Meter::new(setup.limits.clone());
        Self {
            shared: Arc::new(Shared {
                setup,
                meter,
                sources: Mutex::new(BTreeMap::new()),
                failed_checks: Mutex::new(Vec::new()),
                remarks: Mutex::new(Vec::new()),
            }),
        }
    }

    /// Where the script reads.
    pub fn script_folder(&self) -> &ScriptFolder {
        &self.shared.setup.script_folder
    }

    /// Where the script writes.
    pub fn output_folder(&self) -> &OutputFolder {
        &self.shared.setup.output_folder
    }

    /// What the script may use.
    pub fn limits(&self) -> &Limits {
        &self.shared.setup.limits
    }

    /// The reserved names, those of the host included, and the keys of the vocabulary.
    pub fn words(&self) -> &Words {
        &self.shared.setup.words
    }

    /// Prints a text within the budget. Used by words that show a table or a finding.
    pub fn print(&self, text: &str) {
        if self.shared.meter.may_print(text.len().saturating_add(1)) {
            self.shared.setup.printer.print(text);
        }
    }

    /// Whether somebody may be watching a long study.
    pub fn is_watched(&self) -> bool {
        self.shared.setup.printer.is_watched()
    }

    /// Keeps what failed in a check; the program then says so and exits with 1.
    pub fn record_failed_check(&self, what: impl Into<String>) {
        self.failed_checks().push(what.into());
    }

    fn failed_checks(&self) -> MutexGuard<'_, Vec<String>> {
        let checks = &self.shared.failed_checks;
        checks.lock().unwrap_or_else(|poisoned| poisoned.into_inner())
    }

    /// Keeps a remark for the end of the run; of several on one subject the first.
    pub fn remark(&self, subject: &str, text: impl FnOnce() -> String) {
        let mut remarks = self
            .shared
            .remarks
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner());
        if remarks.len() < MOST_REMARKS && !remarks.iter().any(|(known, _)| known == subject) {
            remarks.push((subject.to_owned(), text()));
        }
    }

    /// True when a bound is reached. A word that works for long asks between its parts and gives up when told
    /// to; the script is then stopped at its next step.
    pub fn should_stop(&self) -> bool {
        self.shared.meter.look();
        self.shared.meter.is_stopped()
    }

    /// What the run has come to so far.
    pub fn outcome(&self) -> Outcome {
        Outcome {
            failed_checks: self.failed_checks().clone(),
            files: self.output_folder().written(),
            remarks: self.remarks(),
        }
    }

    fn remarks(&self) -> Vec<String> {
        let remarks = self
            .shared
            .remarks
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner());
        remarks.iter().map(|(_, text)| text.clone()).collect()
    }

    pub(super) fn meter(&self) -> &Meter {
        &self.shared.meter
    }

    /// The bound that ended the run.
    pub(crate) fn stop_reason(&self) -> Option<super::Stop> {
        self.shared.meter.reason()
    }

    /// Keeps a source so that reports can show its lines.
    pub(super) fn keep_source(&self, name: &str, text: &str) {
        let mut sources = self
            .shared
            .sources
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner());
        sources.insert(name.to_owned(), Arc::from(text));
    }

    /// The text of a file of this run.
    pub(crate) fn source(&self, name: &str) -> Option<Arc<str>> {
        self.shared
            .sources
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
            .get(name)
            .cloned()
    }

    /// The texts of all files of this run, ordered by name.
    pub(crate) fn sources(&self) -> Vec<Arc<str>> {
        self.shared
            .sources
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
            .values()
            .cloned()
            .collect()
    }
}
