//! Surveys in files: the notebook read, the adjusted points shown, and the sheet to measure with.

mod blank;
mod compared;
mod notebook;
mod number;
mod row;
mod sheet;
mod tables;

pub use blank::{blank_notebook, blank_sheet, plan_sheet};
pub use compared::{partner, symmetry_sheet};
pub use notebook::Notebook;
pub use sheet::adjustment_sheet;
pub use tables::{point_table, reading_table};
