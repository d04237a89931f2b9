//! For teaching: one result said in several ways, the rule of thumb beside the exact number, and worksheets.

mod chance;
mod ratios;
mod spring_lever;
mod worksheet;

pub(crate) use chance::Chance;
pub(crate) use ratios::{conventions_table, lever_rule_table};
pub(crate) use spring_lever::SpringLever;
pub(crate) use worksheet::Worksheet;
