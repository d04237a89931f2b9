//! The script host, the plots and sheets, and the command line of the `kin` program.

pub mod sheet;
pub mod table;
pub mod units;
