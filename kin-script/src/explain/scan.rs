//! Cuts a script's text into words, numbers, texts and symbols with their places.
//!
//! The engine's own tokens carry no lengths and cannot be read from outside it. These are for finding names in
//! a text that the engine has already judged, or will.

use rhai::Position;

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A name or keyword.
    Word,
    /// A number.
    Number,
    /// A text or character with its quotes, or the part of a text between two `${..}`.
    Text,
    /// An operator or bracket; `#{`, `::` and `==` are one piece each.
    Symbol,
}

/// A piece of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Piece<'a> {
    pub(crate) kind: Kind,
    pub(crate) text: &'a str,
    /// Bytes before it.
    pub(crate) offset: usize,
    /// From 1.
    pub(crate) line: usize,
    /// Characters from 1.
    pub(crate) column: usize,
}

impl Piece<'_> {
    pub(crate) fn is_word(&self, word: &str) -> bool {
        self.kind == Kind::Word && self.text == word
    }

    pub(crate) fn end(&self) -> usize {
        self.offset + self.text.len()
    }

    /// The place as the engine counts it; places beyond its range are shown as the last it can count.
    pub(crate) fn position(&self) -> Position {
        let clamp = |number: usize| u16::try_from(number).unwrap_or(u16::MAX);
        Position::new(clamp(self.line).max(1), clamp(self.column))
    }
}

/// All pieces of `source`; comments and blanks are left out.
pub(crate) fn pieces(source: &str) -> Vec<Piece<'_>> {
    let mut scanner = Scanner {
        source,
        offset: 0,
        line: 1,
        column: 1,
        pieces: Vec::new(),
        templates: Vec::new(),
    };
    while scanner.offset < source.len() {
        scanner.step();
    }
    scanner.pieces
}

struct Scanner<'a> {
    source: &'a str,
    offset: usize,
    line: usize,
    column: usize,
    pieces: Vec<Piece<'a>>,
    /// For each open `${` the number of braces open inside it.
    templates: Vec<usize>,
}

impl<'a> Scanner<'a> {
    fn rest(&self) -> &'a str {
        &self.source[self.offset..]
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn advance(&mut self) -> Option<char> {
        let next = self.peek()?;
        self.offset += next.len_utf8();
        if next == '\n' {
            self.line += 1;
            self.column = 1;
        } else {
            self.column += 1;
        }
        Some(next)
    }

    fn advance_while(&mut self, accept: impl Fn(char) -> bool) {
        while self.peek().is_some_and(&accept) {
            self.advance();
        }
    }

    fn step(&mut self) {
        let Some(next) = self.peek() else { return };
        let (offset, line, column) = (self.offset, self.line, self.column);
        let kind = if self.rest().starts_with("//") {
            self.advance_while(|c| c != '\n');
            return;
        } else if self.rest().starts_with("/*") {
            self.block_comment();
            return;
        } else if next.is_whitespace() {
            self.advance();
            return;
        } else if next.is_alphabetic() || next == '_' {
            self.advance_while(|c| c.is_alphanumeric() || c == '_');
            Kind::Word
        } else if next.is_ascii_digit() {
            self.number();
            Kind::Number
        } else if matches!(next, '"' | '\'') {
            self.advance();
            self.quoted(next);
            Kind::Text
        } else if next == '`' {
            self.advance();
            self.template();
            Kind::Text
        } else if next == '#' && self.rest().trim_start_matches('#').starts_with('"') {
            self.raw();
            Kind::Text
        } else {
            self.symbol();
            Kind::Symbol
        };
        self.pieces.push(Piece {
            kind,
            text: &self.source[offset..self.offset],
            offset,
            line,
            column,
        });
        if kind == Kind::Symbol && self.source[offset..self.offset].ends_with('}') {
            self.close_brace();
        }
    }

    /// Comments may stand inside comments.
    fn block_comment(&mut self) {
        let mut depth = 0_usize;
        while self.offset < self.source.len() {
            let change = match self.rest().get(..2) {
                Some("/*") => 1,
                Some("*/") => -1,
                _ => 0,
            };
            self.advance();
            if change != 0 {
                self.advance();
                depth = depth.saturating_add_signed(change);
                if depth == 0 {
                    return;
                }
            }
        }
    }

    /// A point belongs to the number only when a digit follows: `3.inch` is 3, `.` and `inch`.
    fn number(&mut self) {
        let digit_after = |rest: &str, skip: usize| {
            rest.get(skip..)
                .and_then(|rest| rest.chars().next())
                .is_some_and(|c| c.is_ascii_digit())
        };
        if self.rest().starts_with("0x") || self.rest().starts_with("0X") {
            self.advance();
            self.advance_while(|c| c.is_ascii_alphanumeric() || c == '_');
            return;
        }
        self.advance_while(|c| c.is_ascii_digit() || c == '_');
        if self.peek() == Some('.') && digit_after(self.rest(), 1) {
            self.advance();
            self.advance_while(|c| c.is_ascii_digit() || c == '_');
        }
        let exponent = self
            .rest()
            .strip_prefix(['e', 'E'])
            .map(|rest| rest.starts_with(['+', '-']));
        if let Some(signed) = exponent
            && digit_after(self.rest(), 1 + usize::from(signed))
        {
            self.advance();
            self.advance();
            self.advance_while(|c| c.is_ascii_digit() || c == '_');
        }
    }

    /// Up to the closing quote, or to the end of the line where a text is left open.
    fn quoted(&mut self, quote: char) {
        while let Some(next) = self.peek() {
            if next == '\n' && !self.source[..self.offset].ends_with('\\') {
                return;
            }
            self.advance();
            match next {
                '\\' if self.peek() != Some('\n') => {
                    self.advance();
                }
                _ if next == quote => return,
                _ => {}
            }
        }
    }

    /// Up to the closing back-quote or the next `${`.
    fn template(&mut self) {
        while let Some(next) = self.advance() {
            if next == '`' {
                return;
            }
            if next == '$' && self.peek() == Some('{') {
                self.advance();
                self.templates.push(0);
                return;
            }
        }
    }

    /// `#"..."#` with any number of hash signs.
    fn raw(&mut self) {
        let start = self.offset;
        self.advance_while(|c| c == '#');
        let closing = format!("\"{}", "#".repeat(self.offset - start));
        self.advance();
        while self.offset < self.source.len() && !self.rest().starts_with(&closing) {
            self.advance();
        }
        for _ in 0..closing.len() {
            self.advance();
        }
    }

    fn symbol(&mut self) {
        let rest = self.rest();
        let pair = [
            "#{", "::", "==", "!=", "<=", ">=", "&&", "||", "=>", "..", "+=", "-=", "*=", "/=", "?.",
        ];
        let opens = rest.starts_with("#{") || rest.starts_with('{');
        if pair.iter().any(|pair| rest.starts_with(pair)) {
            self.advance();
        }
        self.advance();
        if opens && let Some(depth) = self.templates.last_mut() {
            *depth += 1;
        }
    }

    /// A closing brace may end a `${`, and the text goes on after it.
    fn close_brace(&mut self) {
        match self.templates.last_mut() {
            Some(0) => {
                self.templates.pop();
                let (offset, line, column) = (self.offset, self.line, self.column);
                self.template();
                let text = &self.source[offset..self.offset];
                self.pieces.push(Piece {
                    kind: Kind::Text,
                    text,
                    offset,
                    line,
                    column,
                });
            }
            Some(depth) => *depth -= 1,
            None => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn texts(source: &str) -> Vec<&str> {
        pieces(source).iter().map(|piece| piece.text).collect()
    }

    #[test]
    fn comments_and_texts_hide_what_is_in_them() {
        assert_eq!(texts("a /* b /* c */ d */ e // f\ng"), ["a", "e", "g"]);
        assert_eq!(
            texts(r##"x = "a \" b" + 'c' + #"d " e"#;"##),
            ["x", "=", r#""a \" b""#, "+", "'c'", "+", r##"#"d " e"#"##, ";"]
        );
    }

    #[test]
    fn units_and_ranges_are_not_part_of_numbers() {
        assert_eq!(
            texts("7/8.inch 3.5.mm 1..5 1e-3 0xFF 2.0"),
            [
                "7", "/", "8", ".", "inch", "3.5", ".", "mm", "1", "..", "5", "1e-3", "0xFF", "2.0"
            ]
        );
    }

    #[test]
    fn code_inside_a_text_is_code() {
        assert_eq!(
            texts("`a ${b + #{c: 1}.c} d ${`${e}`}` f"),
            [
                "`a ${", "b", "+", "#{", "c", ":", "1", "}", ".", "c", "}", " d ${", "`${", "e", "}", "`",
                "}", "`", "f"
            ]
        );
    }

    #[test]
    fn places_count_characters_from_one() {
        let found = pieces("é = 1;\n  wert = \"é\" + x");
        let x = found.last().unwrap();
        assert_eq!((x.text, x.line, x.column, x.offset), ("x", 2, 16, 24));
    }

    proptest! {
        #[test]
        fn any_text_is_cut_without_loss_of_order(source in "[-a-z0-9\"'`#{}$/*.\\\\ \né]{0,60}") {
            let found = pieces(&source);
            for pair in found.windows(2) {
                prop_assert!(pair[0].end() <= pair[1].offset);
            }
            for piece in found {
                prop_assert_eq!(&source[piece.offset..piece.end()], piece.text);
            }
        }
    }
}
