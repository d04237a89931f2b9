//! The script host, the plots and sheets, and the command line of the `kin` program.
//!
//! A script goes through three parts: [`host`] builds the Rhai engine, bounds what a script may use and runs it;
//! [`arguments`] reads the maps a script hands over into the types behind them; [`explain`] turns any failure into a
//! report that names the file, line and column and says what to try. On top of it stands the vocabulary: a [`model`]
//! holds a description with its units, a [`sweep`] moves it, [`readings`] name what can be asked of a position, and
//! [`table`], [`picture`] and [`stroke_sheet`] show results. [`command_line`] is the program around them.

pub mod arguments;
pub mod command_line;
pub mod explain;
pub mod fit;
pub mod host;
pub mod model;
pub mod picture;
pub mod readings;
pub mod sheet;
pub mod stroke_sheet;
pub mod study;
pub mod survey;
pub mod sweep;
pub mod table;
pub mod units;
pub mod vocabulary;
