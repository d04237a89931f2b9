//! Pictures from finished numbers: curves ([`plot`]) and linkages drawn to scale ([`drawing`]), both as SVG text.
//!
//! Nothing here computes kinematics. Text stays text in a generic font, so no font is needed to build or run;
//! room for text is estimated with the widths of a wide sans-serif face. Meaning never hangs on colour alone:
//! curves differ in dash, zones in hatching, poses in dash and label. Equal input gives equal bytes.

pub mod bars;
mod boxes;
mod colour;
pub mod drawing;
mod error;
mod place;
pub mod plot;
mod text;
#[cfg(test)]
mod text_walker;

pub use error::PictureError;
