//! Text can be read: the contrast of every pair of colours in a page's style.

use super::written;

/// Least contrast of text, WCAG 2.2, success criterion 1.4.3 (level AA, normal text).
const LEAST: f64 = 4.5;

/// Relative luminance of a colour such as `#1d242c`: WCAG 2.2, definition of relative luminance.
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let share = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
        if share <= 0.04045 {
            share / 12.92
        } else {
            ((share + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

/// Contrast ratio of two colours: WCAG 2.2, definition of contrast ratio.
fn contrast(a: &str, b: &str) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// What a rule sets a property to, if it does so in plain hexadecimal.
fn set<'a>(rule: &'a str, property: &str) -> Option<&'a str> {
    rule.split(';')
        .filter_map(|line| line.split_once(':'))
        .find(|(name, _)| name.trim() == property)
        .map(|(_, value)| value.trim())
}

fn text_can_be_read(page: &str) {
    let style = page
        .split("<style>")
        .nth(1)
        .unwrap()
        .split("</style>")
        .next()
        .unwrap();
    let paper = "#ffffff";
    let mut pairs = 0;
    for rule in style.split('}') {
        let (selector, rule) = rule.rsplit_once('{').unwrap_or(("", rule));
        let ground = set(rule, "background").unwrap_or(paper);
        let inks = ["color", "fill"]
            .iter()
            .filter_map(|property| set(rule, property));
        // In a picture, the words; shapes have outlines.
        let is_text = set(rule, "color").is_some()
            || ["text", ".tick", ".word", ".sign", ".label"]
                .iter()
                .any(|mark| selector.contains(mark));
        for ink in inks.filter(|ink| is_text && ink.starts_with('#')) {
            assert!(ground.starts_with('#'), "{selector}: {ground}");
            let found = contrast(ink, ground);
            assert!(found >= LEAST, "{selector}: {ink} on {ground} is {found:.2}");
            pairs += 1;
        }
    }
    assert!(pairs >= 8, "{pairs} pairs were found");
}

#[test]
fn black_on_white_is_21_and_grey_is_as_published() {
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-12);
    // #767676 on white is the lightest grey that passes: 4.54 (from memory).
    assert!((contrast("#767676", "#ffffff") - 4.54).abs() < 0.01);
}

#[test]
fn text_on_the_sheet_and_on_the_moving_page_can_be_read() {
    text_can_be_read(&written(super::sheet::SHEET, "sheet.html"));
    text_can_be_read(&written(super::moving::MOVING, "moving.html"));
    text_can_be_read(&written(super::moving::AXLE, "axle.html"));
}
