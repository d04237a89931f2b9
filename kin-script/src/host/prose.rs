//! Sentences that a script prints, broken to the width of a terminal.

/// Lines are this wide at most.
const COLUMNS: usize = 100;

/// A text with its long sentences broken between words. Lines that are no sentences stay as they are: tables, and data for
/// other programs.
pub(super) fn within_columns(text: &str) -> String {
    let lines: Vec<String> = text
        .split('\n')
        .map(|line| {
            if line.chars().count() > COLUMNS && is_prose(line) {
                broken(line)
            } else {
                line.to_owned()
            }
        })
        .collect();
    lines.join("\n")
}

/// Whether a line reads as sentences: words with single spaces between them, and nothing that data is written with.
fn is_prose(line: &str) -> bool {
    let words = line.trim();
    let data = words.starts_with(['{', '[', '"', '<', '|']) || words.contains('\t') || words.contains("\":");
    let columns = words.contains("  ");
    // Between cells no space follows the comma or the semicolon; between the digits of a number it may.
    let letters: Vec<char> = words.chars().collect();
    let joins_cells = |near: &[char]| match near {
        [before, ',' | ';', after] => {
            let is_number = before.is_ascii_digit() && after.is_ascii_digit();
            !after.is_whitespace() && !is_number
        }
        _ => false,
    };
    let cells = letters.windows(3).any(joins_cells);
    !(data || columns || cells)
}

/// The line in several, with its indent; behind a list's mark under its text.
fn broken(line: &str) -> String {
    let words = line.trim_start_matches(' ');
    let indent = line.len() - words.len();
    let mark = if words.starts_with("- ") { 2 } else { 0 };
    let (first, others) = (" ".repeat(indent), " ".repeat(indent + mark));
    let options = textwrap::Options::new(COLUMNS)
        .initial_indent(&first)
        .subsequent_indent(&others)
        .break_words(false);
    textwrap::fill(words, options)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SENTENCE: &str = "The line from the contact point to the instant centre settles it, as a ruler on the drawing shows: \
        the flatter it is, the lower the roll centre lies.";

    #[test]
    fn sentences_are_broken_between_words() {
        for line in [
            SENTENCE.to_owned(),
            format!("    {SENTENCE}"),
            format!("  - {SENTENCE}"),
        ] {
            let text = within_columns(&line);
            assert!(
                text.lines().count() == 2 && text.lines().all(|line| line.chars().count() <= COLUMNS),
                "{text}"
            );
            let joined = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert_eq!(joined(&text), joined(&line));
        }
        assert!(within_columns(&format!("  - {SENTENCE}")).contains("\n    "));
        assert_eq!(within_columns("short\n\nand short"), "short\n\nand short");
    }

    #[test]
    fn data_and_tables_stay_as_they_are() {
        let long = |piece: &str| piece.repeat(30);
        for line in [
            long("{\"camber\": 1.5} "),
            long("\"camber\": 1.5, "),
            long("-12.5,front left,3.25,"),
            long("a cell;1,5;"),
            long("  1.234   "),
            long("--------"),
        ] {
            let line = line.trim_end();
            assert_eq!(within_columns(line), line);
        }
    }
}
