//! A failure as a person reads it.

use std::fmt;
use std::sync::Arc;

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};

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
        match handler.render_report(&mut text, &self.page()) {
            Ok(()) => text,
            // Writing into a string cannot fail; the plain sentences are better than nothing.
            Err(fmt::Error) => format!("{}\n{}\n", self.what, self.help.as_deref().unwrap_or_default()),
        }
    }

    fn page(&self) -> Page {
        let mut pages = Vec::new();
        for place in &self.places {
            // Places that are near each other in one file are marked in one picture of it.
            let same = pages.last_mut().filter(|page: &&mut Page| page.shows(place));
            match same {
                Some(page) => page.marks.push(place.clone()),
                None => pages.push(Page::new(place.clone())),
            }
        }
        let mut pages = pages.into_iter();
        let mut first = pages.next().unwrap_or_default();
        first.message = self.what.clone();
        if let Some(place) = first.marks.first().filter(|place| !place.can_be_shown()) {
            first
                .message
                .push_str(&format!(" (at {}:{}:{})", place.file, place.line, place.column));
        }
        first.help = self.help.clone();
        first.related = pages.collect();
        first
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

/// One file with its marks, as miette takes it.
#[derive(Debug, Default)]
struct Page {
    message: String,
    help: Option<String>,
    marks: Vec<Place>,
    source: Option<NamedSource<String>>,
    related: Vec<Page>,
}

impl Page {
    fn new(place: Place) -> Self {
        let title = format!("{}:{}:{}", place.file, place.line, place.column);
        let source = place
            .can_be_shown()
            .then(|| NamedSource::new(title.clone(), place.source.to_string()));
        let message = format!("{} ({title})", place.label);
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
        let label = |place: &Place| LabeledSpan::new(Some(place.label.clone()), place.offset, place.length);
        Some(Box::new(self.marks.iter().map(label)))
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        if self.related.is_empty() {
            return None;
        }
        Some(Box::new(self.related.iter().map(|page| page as &dyn Diagnostic)))
    }
}
