//! A study's answer as a sheet for the terminal.

use super::StudyAnswer;
use crate::fit::{item_lines, paragraph};
use std::fmt::Write;

/// Studies are arithmetic on a description; nothing of them was measured on the car.
const CAUTION: &str = "Arithmetic on the numbers described, not approval: check what you choose on the car, on stands rated for it, \
    before drilling or welding. Springs store energy, a suspension bracket is a safety part, and local rules, the part maker's \
    instructions and a licensed mechanic's or engineer's judgement come first.";

/// A sheet is 100 columns wide, and tables are indented.
const TABLE_COLUMNS: u16 = 96;
/// Rows of a table that a sheet shows: nobody reads a thousand.
const MOST_ROWS: usize = 60;

/// The sheet.
#[must_use]
pub fn study_text(answer: &StudyAnswer) -> String {
    let mut text = String::new();
    let _ = writeln!(text, "{}", answer.title);
    if let Some(stopped) = &answer.stopped {
        paragraph(&mut text, "  STOPPED: ", stopped);
    }
    for statement in &answer.statements {
        paragraph(&mut text, "  ", statement);
    }
    for item in &answer.items {
        item_lines(&mut text, item, &answer.units);
    }
    for named in &answer.tables {
        text.push('\n');
        paragraph(&mut text, "  ", &named.caption);
        let rows = named.table.rows();
        let shown = named.table.first_rows(MOST_ROWS);
        for line in shown.text_within(TABLE_COLUMNS).lines() {
            let _ = writeln!(text, "    {line}");
        }
        if rows > MOST_ROWS {
            let _ = writeln!(
                text,
                "    and {} more rows: save the table to see them all",
                rows - MOST_ROWS
            );
        }
    }
    text.push('\n');
    paragraph(&mut text, "", CAUTION);
    text.trim_end().to_owned()
}
