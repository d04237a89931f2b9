//! Pages that people look at: the fit sheet as one HTML file, the moving page, and the animated picture.
//!
//! Each is one file that stands alone: no network, no fonts, nothing beside it. A policy in its head forbids the browser to fetch
//! anything. The same input gives the same bytes: the date is left to the reader.

mod document;
mod found;
mod heading;
mod inline_svg;
mod inputs;
mod key_numbers;
mod moving;
mod numbers;
mod picture;
mod sheet;
mod studied;
mod template;
mod words;

pub use document::{Document, DocumentKind};
pub use inputs::Inputs;
pub use moving::moving_page;
pub use sheet::{SheetParts, sheet_page};
pub use studied::Studied;
