//! Words on a page: what stands in back quotes is set as code, and a text is told to a style sheet.

use minijinja::HtmlEscape;
use std::fmt::Write;

/// Letters of a text that the foot of a page holds.
const FOOT_LETTERS: usize = 70;

/// A sentence for a page: escaped, and what stands between two back quotes as code. A quote without a partner stays as it is.
pub(super) fn with_code(words: &str) -> String {
    let mut page = String::with_capacity(words.len());
    let mut rest = words;
    while let Some((before, after)) = rest.split_once('`') {
        let Some((code, after)) = after.split_once('`') else {
            break;
        };
        let _ = if code.trim().is_empty() {
            write!(page, "{}`{}`", HtmlEscape(before), HtmlEscape(code))
        } else {
            write!(page, "{}<code>{}</code>", HtmlEscape(before), HtmlEscape(code))
        };
        rest = after;
    }
    let _ = write!(page, "{}", HtmlEscape(rest));
    page
}

/// A text between the quotes of a style sheet inside a page: nothing in it can end the quotes, the style sheet or the element.
/// Long ones are cut.
///
/// Source of the escapes: CSS Syntax Module Level 3, section 4.3.7 (a backslash, the number of the letter, a space).
pub(super) fn for_foot(words: &str) -> String {
    let mut text = String::new();
    for (place, letter) in words.chars().enumerate() {
        if place == FOOT_LETTERS {
            text.push_str("\\2026 ");
            break;
        }
        match letter {
            letter if letter.is_ascii_alphanumeric() || " ,.-+".contains(letter) => text.push(letter),
            letter if letter.is_control() => text.push(' '),
            letter => {
                let _ = write!(text, "\\{:x} ", u32::from(letter));
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_in_back_quotes_is_code_and_escaped() {
        assert_eq!(
            with_code("The joint `upper_arm.ball_joint` & `a<b>`."),
            "The joint <code>upper_arm.ball_joint</code> &amp; <code>a&lt;b&gt;</code>."
        );
    }

    #[test]
    fn a_quote_without_a_partner_stays_a_quote() {
        assert_eq!(with_code("a ` b <i>"), "a ` b &lt;i&gt;");
        assert_eq!(with_code("`a` ` b"), "<code>a</code> ` b");
        assert_eq!(with_code("`` and ` `"), "`` and ` `");
        assert_eq!(with_code(""), "");
    }

    #[test]
    fn no_text_gets_out_of_a_style_sheet() {
        assert_eq!(
            for_foot("a\"}</style><script>\n"),
            "a\\22 \\7d \\3c \\2f style\\3e \\3c script\\3e  "
        );
        assert_eq!(for_foot("Orvane wagon, front"), "Orvane wagon, front");
        assert_eq!(for_foot("\\"), "\\5c ");
        assert!(for_foot(&"a".repeat(200)).ends_with("a\\2026 "));
    }
}
