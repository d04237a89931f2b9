//! Words on a picture: cleaning, room needed, wrapping, shortening, and numbers.

/// Advance widths of U+0020 to U+007E in thousandths of the font size, read from the `hmtx` table of DejaVu Sans 2.37,
/// one of the widest sans-serif faces in common use: what fits with it fits with its narrower relatives.
const WIDTHS: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];
/// Bold letters of the same face are wider by this factor on average (lower-case letters: 1.13).
const BOLD: f64 = 1.14;
/// Half the height of a line's box over the font size, from the middle of the small letters: accents and descenders in.
pub(crate) const HALF_HEIGHT: f64 = 0.52;
/// Distance of two lines over the font size.
pub(crate) const LEADING: f64 = 1.25;
/// A space at which no line is broken.
const NO_BREAK: char = '\u{a0}';
/// The sign of a negative number.
pub(crate) const MINUS: char = '\u{2212}';

/// Size and weight of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Type {
    /// Font size (CSS pixels).
    pub(crate) size: f64,
    pub(crate) bold: bool,
}

impl Type {
    pub(crate) const fn plain(size: f64) -> Self {
        Self { size, bold: false }
    }

    pub(crate) const fn bold(size: f64) -> Self {
        Self { size, bold: true }
    }

    /// Estimated width of a text (CSS pixels).
    pub(crate) fn width(self, text: &str) -> f64 {
        let thousandths: f64 = text.chars().map(letter_width).sum();
        thousandths / 1000.0 * self.size * if self.bold { BOLD } else { 1.0 }
    }
}

fn letter_width(letter: char) -> f64 {
    let code = letter as usize;
    if let Some(width) = code.checked_sub(0x20).and_then(|index| WIDTHS.get(index)) {
        return f64::from(*width);
    }
    match code {
        // Combining marks sit on the letter before them.
        0x300..=0x36f => 0.0,
        // Degree, middle dot and superscripts, then other Latin and Greek letters, then Cyrillic.
        0xa0..=0xbf | 0x2070..=0x207f => 560.0,
        0xc0..=0x3ff => 800.0,
        0x2212 | 0x2190..=0x2193 => 838.0,
        0x2010..=0x2027 => 1000.0,
        0x400..=0x10ff => 1100.0,
        _ => 1200.0,
    }
}

/// One line of printable text: control characters and line breaks become single spaces, characters that XML 1.0
/// forbids become U+FFFD, and marks that turn the reading direction of their surroundings are dropped.
pub(crate) fn clean(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{feff}' => {}
            '\u{fffe}' | '\u{ffff}' => line.push('\u{fffd}'),
            _ if letter.is_control() || (letter.is_whitespace() && letter != NO_BREAK) => {
                if !line.is_empty() && !line.ends_with(' ') {
                    line.push(' ');
                }
            }
            _ => line.push(letter),
        }
    }
    line.truncate(line.trim_end().len());
    line
}

/// A text made to fit: its lines, and the whole text where something had to go.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Fitted {
    pub(crate) lines: Vec<String>,
    pub(crate) whole: Option<String>,
}

/// Cleans a text and breaks it into at most `most_lines` lines of `room` pixels; the last one ends in an ellipsis if
/// words are left over.
pub(crate) fn fit(text: &str, face: Type, room: f64, most_lines: usize) -> Fitted {
    let text = clean(text);
    let mut lines = Vec::new();
    let mut rest = text.as_str();
    while !rest.is_empty() && lines.len() < most_lines {
        let fits = fitting_prefix(rest, face, room);
        if fits == rest.len() {
            lines.push(rest.to_owned());
            rest = "";
        } else if lines.len() + 1 == most_lines {
            let cut = fitting_prefix(rest, face, room - face.width("…"));
            lines.push(format!("{}…", rest.get(..cut).unwrap_or_default().trim_end()));
            return Fitted {
                lines,
                whole: Some(text),
            };
        } else {
            let (line, tail) = rest.split_at(break_before(rest, fits));
            lines.push(line.trim_end().to_owned());
            rest = tail.trim_start();
        }
    }
    Fitted { lines, whole: None }
}

/// Length in bytes of the longest beginning that fits; at least one letter, so that wrapping always moves on.
fn fitting_prefix(text: &str, face: Type, room: f64) -> usize {
    let mut width = 0.0;
    for (index, letter) in text.char_indices() {
        width += face.width(letter.encode_utf8(&mut [0; 4]));
        if width > room && index > 0 {
            return index;
        }
    }
    text.len()
}

/// Where to break a line of which `fits` bytes have room: at the last space, but not between a number and its unit;
/// else at any space; else inside the word.
fn break_before(text: &str, fits: usize) -> usize {
    let spaces = || {
        text.char_indices()
            .filter(|(at, letter)| *letter == ' ' && *at > 0 && *at <= fits)
    };
    let after_number = |at: usize| {
        text.get(..at)
            .is_some_and(|head| head.ends_with(|c: char| c.is_ascii_digit()))
    };
    let last = spaces()
        .rfind(|(at, _)| !after_number(*at))
        .or_else(|| spaces().next_back());
    last.map_or(fits, |(at, _)| at)
}

/// A number with a fixed count of decimals, a true minus sign, and no negative zero.
pub(crate) fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.bytes().all(|byte| byte == b'0' || byte == b'.') => digits.to_owned(),
        Some(digits) => format!("{MINUS}{digits}"),
        None => text,
    }
}

/// A quantity with its unit: `Camber (deg)`, or the name alone.
pub(crate) fn quantity(name: &str, unit: &str) -> String {
    if unit.is_empty() {
        name.to_owned()
    } else {
        format!("{name} ({unit})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_carry_a_true_minus_and_no_negative_zero() {
        assert_eq!(number(-1.5, 1), "\u{2212}1.5");
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(-0.0, 0), "0");
        assert_eq!(number(12.25, 2), "12.25");
    }

    #[test]
    fn hostile_text_becomes_one_printable_line() {
        assert_eq!(
            clean("  a\u{0}\u{1b}[31m\n\tb\u{202e} c\u{ffff} "),
            "a [31m b c\u{fffd}"
        );
        assert_eq!(clean("\u{0}"), "");
    }

    #[test]
    fn wrapping_keeps_every_word_or_says_what_went() {
        let face = Type::plain(12.0);
        let text = "short lower arm with the mount moved outboard";
        let wrapped = fit(text, face, 120.0, 9);
        assert!(wrapped.lines.len() > 1);
        assert_eq!(wrapped.lines.join(" "), text);
        assert_eq!(wrapped.whole, None);
        let cut = fit(text, face, 120.0, 2);
        assert_eq!(cut.lines.len(), 2);
        assert!(cut.lines[1].ends_with('…'));
        assert_eq!(cut.whole.as_deref(), Some(text));
        for line in wrapped.lines.iter().chain(&cut.lines) {
            assert!(face.width(line) <= 120.0, "{line}");
        }
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        let wrapped = fit("instant centre 3.9 m inboard", Type::plain(12.0), 115.0, 3);
        assert_eq!(wrapped.lines, ["instant centre", "3.9 m inboard"]);
    }

    #[test]
    fn a_word_longer_than_the_line_is_broken_inside() {
        let wrapped = fit(&"w".repeat(40), Type::bold(12.0), 100.0, 40);
        assert!(wrapped.lines.len() > 3);
        assert_eq!(wrapped.lines.concat().len(), 40);
    }

    #[test]
    fn a_room_of_nothing_still_ends() {
        assert_eq!(fit("abc", Type::plain(12.0), -5.0, 2).lines, ["a", "b…"]);
        assert!(fit("", Type::plain(12.0), 50.0, 2).lines.is_empty());
    }
}
