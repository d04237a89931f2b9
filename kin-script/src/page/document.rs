//! A finished file.

/// What a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DocumentKind {
    /// A page for a browser.
    Page,
    /// A picture.
    Picture,
}

/// A finished file and what it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// What it is.
    pub kind: DocumentKind,
    /// Its whole text.
    pub text: String,
}

impl DocumentKind {
    /// What it is called in messages.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Page => "a page",
            Self::Picture => "an animated picture",
        }
    }

    /// The ending of its file.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Page => "html",
            Self::Picture => "svg",
        }
    }
}
