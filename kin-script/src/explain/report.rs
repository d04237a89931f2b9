//! A failure as a person reads it.

use std::fmt;
use std::sync::Arc;

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, Severity, SourceCode,
};

use crate::host::ScriptError;

/// Lines longer than this are named and not shown.
const SHOWN_LINE_BYTES: usize = 400;

/// Columns a report fills.
const WIDTH: usize = 96;

/// Whose fault a failure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// The script's, or of what it was given.
    Script,
    /// The program's own.
    Program,
}

/// A place in a script file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The file as the user knows it.
    pub file: String,
    /// From 1.
    pub line: usize,
    /// Characters from 1.
    pub column: usize,
    /// What the place is, such as `here` or `called from here`.
    pub label: String,
    pub(super) source: Arc<str>,
    pub(super) offset: usize,
    pub(super) length: usize,
}

/// What happened, where, and what to try.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// Whose fault it is.
    pub fault: Fault,
    /// What happened.
    pub what: String,
    /// What to try.
    pub help: Option<String>,
    /// Where: the innermost place first, then where that was called or imported from.
    pub places: Vec<Place>,
}

impl Report {
    /// A report on something outside any script text, such as a missing file.
    pub fn without_place(error: ScriptError) -> Self {
        Self {
            fault: Fault::Script,
            what: error.what,
            help: error.help,
            places: Vec::new(),
        }
    }

    /// A report on a defect of the program itself.
    pub fn internal(message: &str) -> Self {
        Self {
            fault: Fault::Program,
            what: format!(
                "the program itself failed, which is a defect in it and not in the script: {message}"
            ),
            help: Some("please report this message together with the script".to_owned()),
            places: Vec::new(),
        }
    }

    /// The report as text, the same on every machine; with `colour` it has the escape sequences of a terminal.
    pub fn render(&self, colour: bool) -> String {
        let theme = if colour {
            GraphicalTheme::unicode()
        } else {
            GraphicalTheme::unicode_nocolor()
        };
        let handler = GraphicalReportHandler::new_themed(theme)
            .with_width(WIDTH)
            .with_links(false)
            .without_primary_span_start()
            .without_syntax_highlighting()
            .with_context_lines(1);
        let mut text = String::new();
        for page in self.pages() {
            if handler.render_report(&mut text, &page).is_err() {
                // Writing into a string cannot fail; the plain sentence is better than nothing.
                text.push_str(&page.message);
            }
        }
        text
    }

    /// The failure with its picture, then a picture for each place it was called from.
    fn pages(&self) -> Vec<Page> {
        let mut pages: Vec<Page> = Vec::new();
        for place in &self.places {
            // Places that are near each other in one file are marked in one picture of it.
            match pages.last_mut().filter(|page| page.shows(place)) {
                Some(page) => page.marks.push(place.clone()),
                None => pages.push(Page::new(place.clone())),
            }
        }
        if pages.is_empty() {
            pages.push(Page::default());
        }
        if let Some(first) = pages.first_mut() {
            let unseen = first.marks.first().filter(|_| first.source.is_none());
            let place = unseen.map(|place| format!(" ({}:{}:{})", place.file, place.line, place.column));
            first.message = format!("{}{}", self.what, place.unwrap_or_default());
            first.help.clone_from(&self.help);
            first.severity = Severity::Error;
        }
        pages
    }
}

impl fmt::Display for Report {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.render(false))
    }
}

impl std::error::Error for Report {}

impl Place {
    fn can_be_shown(&self) -> bool {
        // The lines before and after are shown with it.
        let before = self.source[..self.offset].rsplit('\n').take(2);
        let after = self.source[self.offset..].split('\n').take(2);
        before.map(str::len).sum::<usize>() + after.map(str::len).sum::<usize>() <= SHOWN_LINE_BYTES
    }
}

/// One picture of a file with its marks, as miette takes it.
#[derive(Debug)]
struct Page {
    message: String,
    help: Option<String>,
    severity: Severity,
    marks: Vec<Place>,
    source: Option<NamedSource<String>>,
}

impl Default for Page {
    fn default() -> Self {
        Self {
            message: String::new(),
            help: None,
            severity: Severity::Advice,
            marks: Vec::new(),
            source: None,
        }
    }
}

impl Page {
    fn new(place: Place) -> Self {
        let title = format!("{}:{}:{}", place.file, place.line, place.column);
        let source = place
            .can_be_shown()
            .then(|| NamedSource::new(&title, place.source.to_string()));
        let message = if source.is_some() {
            place.label.clone()
        } else {
            format!("{} ({title})", place.label)
        };
        Self {
            message,
            source,
            marks: vec![place],
            ..Self::default()
        }
    }

    fn shows(&self, place: &Place) -> bool {
        let near = |mark: &Place| mark.file == place.file && mark.line.abs_diff(place.line) <= 6;
        self.source.is_some() && self.marks.iter().all(near) && place.can_be_shown()
    }
}

impl fmt::Display for Page {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.message)
    }
}

impl std::error::Error for Page {}

impl Diagnostic for Page {
    fn severity(&self) -> Option<Severity> {
        Some(self.severity)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help
            .as_ref()
            .map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.source.as_ref().map(|source| source as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        self.source.as_ref()?;
        // A single mark needs no words: the message above it says what it is.
        let label = |place: &Place| (self.marks.len() > 1).then(|| place.label.clone());
        let label = move |place: &Place| LabeledSpan::new(label(place), place.offset, place.length);
        Some(Box::new(self.marks.iter().map(label)))
    }
}
