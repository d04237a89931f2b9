//! Pictures as they stand on a sheet.

use super::inline_svg::{inline, words_of};
use minijinja::Value as Safe;
use serde::Serialize;

/// Height over width up to which a picture is broad enough for the foot of the first page.
const BROAD: f64 = 0.75;
/// Height over width from which a picture may have a page of paper to itself.
const TALL: f64 = 1.0;

/// Letters that a caption has at most: a description that tells every number is for those who do not see the picture.
const LONGEST_CAPTION: usize = 220;

/// A picture inside the page, with the words below it.
#[derive(Debug, Serialize)]
pub(super) struct Picture {
    svg: Safe,
    caption: String,
    /// The class of its shape in the style sheet.
    shape: &'static str,
}

/// A picture by its SVG.
///
/// * `prefix`: put before every name inside it
pub(super) fn picture(svg: &str, prefix: &str) -> Picture {
    let short = |words: &String| words.chars().count() <= LONGEST_CAPTION;
    let told = words_of(svg, "desc").and_then(|words| {
        // What follows the first semicolon may be left out, unless a list began before it.
        let first = words.split(';').next().unwrap_or_default().to_owned();
        let whole = Some(words).filter(short);
        whole.or_else(|| Some(first).filter(|first| short(first) && !first.contains(':')))
    });
    let caption = told.or_else(|| words_of(svg, "title"));
    Picture {
        svg: Safe::from_safe_string(inline(svg, prefix)),
        caption: caption.unwrap_or_default(),
        shape: match height_over_width(svg) {
            Some(ratio) if ratio <= BROAD => "broad",
            Some(ratio) if ratio > TALL => "tall",
            _ => "even",
        },
    }
}

/// Takes the first picture out that is broad enough to be read at the foot of the first page.
pub(super) fn take_broad(pictures: &mut Vec<Picture>) -> Option<Picture> {
    let place = pictures.iter().position(|picture| picture.shape == "broad")?;
    Some(pictures.remove(place))
}

/// The shape of a picture, from its `viewBox`.
fn height_over_width(svg: &str) -> Option<f64> {
    let (_, after) = svg.split_once("viewBox=\"")?;
    let (numbers, _) = after.split_once('"')?;
    let mut numbers = numbers.split_whitespace().skip(2).map(str::parse::<f64>);
    let (width, height) = (numbers.next()?.ok()?, numbers.next()?.ok()?);
    (width > 0.0 && height > 0.0).then(|| height / width)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caption_is_no_list_of_numbers() {
        let svg = |words: &str| format!("<svg><title>Bars</title><desc>{words}</desc></svg>");
        assert_eq!(picture(&svg("What moves it"), "a-").caption, "What moves it");
        assert_eq!(picture(&svg(&"1.62, ".repeat(50)), "a-").caption, "Bars");
        assert_eq!(picture(&svg(&"change: 1.62; ".repeat(50)), "a-").caption, "Bars");
        let marked = format!("Toe; marked: {}", "bump, ".repeat(50));
        assert_eq!(picture(&svg(&marked), "a-").caption, "Toe");
    }

    #[test]
    fn the_first_broad_picture_is_taken() {
        let tall = picture("<svg viewBox=\"0 0 900 806\"><title>Tall</title></svg>", "a-");
        let broad = picture("<svg viewBox=\"0 0 900 554\"><title>Broad</title></svg>", "b-");
        let unknown = picture("<svg><title>Unknown</title></svg>", "c-");
        let mut pictures = vec![tall, unknown, broad];
        assert_eq!(take_broad(&mut pictures).unwrap().caption, "Broad");
        assert!(take_broad(&mut pictures).is_none());
        assert_eq!(pictures.len(), 2);
    }
}
