//! The script host, the plots and sheets, and the command line of the `kin` program.
//!
//! A script goes through three parts: [`host`] builds the Rhai engine, bounds what a script may use and runs it;
//! [`arguments`] reads the maps a script hands over into the types behind them; [`explain`] turns any failure
//! into a report that names the file, line and column and says what to try. [`command_line`] is the program
//! around them.

pub mod arguments;
pub mod command_line;
pub mod explain;
pub mod host;
