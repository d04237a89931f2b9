//! Every picture that the examples make can be read: by a machine, by someone who sees, and by someone who does not.
//!
//! Widths of letters are estimated with a narrow sans-serif face, from memory and rounded, independent of the widths that
//! the program itself leaves room with: texts that touch here touch on most screens.

use std::fs;
use std::path::{Path, PathBuf};

use roxmltree::{Document, Node};

use crate::examples::{examples, run};

/// Contrast of text with what lies behind it: WCAG 2.2, 1.4.3 (from memory).
const LEAST_CONTRAST: f64 = 4.5;
/// Height of a text's box over the font size: from the foot of a descender to the top of a capital.
const ABOVE: f64 = 0.72;
const BELOW: f64 = 0.2;
/// The middle of small letters over the baseline, over the font size: what `dy="0.5ex"` moves a text by.
const HALF_EX: f64 = 0.26;
/// Overlaps below this (CSS pixels) come from rounded places.
const ROUNDING: f64 = 0.3;

/// A text with the box it needs (user units of the picture).
#[derive(Debug)]
struct Lettered {
    words: String,
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

impl Lettered {
    fn overlaps(&self, other: &Self) -> bool {
        self.left + ROUNDING < other.right
            && other.left + ROUNDING < self.right
            && self.top + ROUNDING < other.bottom
            && other.top + ROUNDING < self.bottom
    }
}

/// Width of a letter over the font size in a narrow face.
fn letter(letter: char) -> f64 {
    match letter {
        'i' | 'j' | 'l' | '\'' | '|' => 0.22,
        'f' | 't' | 'I' | '.' | ',' | ':' | ';' | '!' | '/' | ' ' | '(' | ')' | '[' | ']' | '-' | 'r' => 0.28,
        'm' | 'M' | 'W' | '%' | '@' => 0.83,
        'w' | 'A'..='Z' => 0.67,
        '0'..='9' | 'a'..='z' => 0.53,
        _ => 0.55,
    }
}

fn inherited<'a>(node: Node<'a, 'a>, name: &str) -> Option<&'a str> {
    node.ancestors().find_map(|node| node.attribute(name))
}

fn own_text(node: Node<'_, '_>) -> String {
    let texts = node.children().filter(|child| child.is_text());
    let words: String = texts.filter_map(|child| child.text()).collect();
    words.trim().to_owned()
}

fn lettered(node: Node<'_, '_>, picture: &Path) -> Lettered {
    let number = |name: &str| -> f64 {
        let text = node.attribute(name).unwrap_or("0");
        text.parse()
            .unwrap_or_else(|_| panic!("{}: {name}=\"{text}\"", picture.display()))
    };
    let size: f64 = inherited(node, "font-size")
        .unwrap()
        .trim_end_matches("px")
        .parse()
        .unwrap();
    let words = own_text(node);
    let bold = if inherited(node, "font-weight") == Some("bold") {
        1.07
    } else {
        1.0
    };
    let width = words.chars().map(letter).sum::<f64>() * size * bold;
    let before = match inherited(node, "text-anchor") {
        Some("middle") => width / 2.0,
        Some("end") => width,
        _ => 0.0,
    };
    let down = match node.attribute("dy") {
        None => 0.0,
        Some("0.5ex") => HALF_EX * size,
        Some(other) => panic!("{}: dy=\"{other}\" is not known here", picture.display()),
    };
    let (x, y) = (number("x"), number("y"));
    // Along the line of the text, then up from it.
    let (from, to) = (-before, width - before);
    let (foot, head) = (down + BELOW * size, down - ABOVE * size);
    let [left, top, right, bottom] = match node.attribute("transform") {
        None => [x + from, y + head, x + to, y + foot],
        // A quarter turn to the left: along the line is up, down from it is to the right.
        Some(turn) if turn.starts_with("rotate(-90") || turn.starts_with("rotate(270") => {
            [x + head, y - to, x + foot, y - from]
        }
        Some(other) => panic!("{}: transform=\"{other}\" is not known here", picture.display()),
    };
    Lettered {
        words,
        left,
        top,
        right,
        bottom,
    }
}

/// Relative luminance of `#rrggbb` (WCAG 2.2, from memory).
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let share = f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap()) / 255.0;
        if share <= 0.040_45 {
            share / 12.92
        } else {
            ((share + 0.055) / 1.055).powf(2.4)
        }
    };
    assert!(
        colour.len() == 7 && colour.starts_with('#'),
        "{colour} is no plain colour"
    );
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

/// Everything the examples draw, by the example, in folders that are kept until they are dropped.
fn drawn() -> Vec<(PathBuf, tempfile::TempDir)> {
    let mut scripts: Vec<PathBuf> = ["", "lessons", "vehicles"]
        .into_iter()
        .flat_map(|folder| fs::read_dir(examples().join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            let ending = path.extension().unwrap_or_default();
            let inside = path.parent().unwrap().ends_with("vehicles");
            if inside {
                ending == "toml"
            } else {
                ending == "rhai"
            }
        })
        .collect();
    scripts.sort();
    scripts
        .into_iter()
        .map(|script| {
            let ran = run(&script);
            (script, ran.output)
        })
        .collect()
}

fn svgs(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut found: Vec<PathBuf> = entries
        .filter(|path| path.extension().is_some_and(|ending| ending == "svg"))
        .collect();
    found.sort();
    found
}

#[test]
fn every_picture_of_the_examples_can_be_read() {
    let mut count = 0;
    let mut kinds: Vec<(&str, &str)> = KINDS.to_vec();
    for (script, folder) in drawn() {
        for picture in svgs(folder.path()) {
            count += 1;
            let text = fs::read_to_string(&picture).unwrap();
            let shown = script.with_extension("").join(picture.file_name().unwrap());
            check(&text, &shown);
            kinds.retain(|(script, file)| !shown.ends_with(Path::new(script).join(file)));
        }
    }
    assert!(kinds.is_empty(), "not looked at: {kinds:?}");
    assert!(count >= 60, "only {count} pictures");
}

/// One picture of each kind besides curves and linkages.
const KINDS: [(&str, &str); 6] = [
    ("29_where_on_the_arm", "motion_ratio.svg"),
    ("25_what_moves_bump_steer", "bump_steer.svg"),
    ("35_bracket_template", "tab.svg"),
    ("17_front_fit", "lip_close_up.svg"),
    ("02_why_the_rate_goes_with_the_square", "lever.svg"),
    ("27_moving_page", "slide.svg"),
];

fn check(text: &str, shown: &Path) {
    let document = Document::parse(text).unwrap_or_else(|error| panic!("{}: {error}", shown.display()));
    let root = document.root_element();
    for needed in ["title", "desc"] {
        let words = root.children().find(|node| node.tag_name().name() == needed);
        let words = words.and_then(|node| node.text()).unwrap_or_default().trim();
        assert!(!words.is_empty(), "{} has no {needed}", shown.display());
    }
    let texts: Vec<Node<'_, '_>> = document
        .descendants()
        .filter(|node| node.tag_name().name() == "text" && !own_text(*node).is_empty())
        .collect();
    let paper = luminance(background(&document));
    for node in &texts {
        let fill = inherited(*node, "fill").unwrap_or("#000000").to_lowercase();
        let ink = luminance(&fill);
        let contrast = (paper.max(ink) + 0.05) / (paper.min(ink) + 0.05);
        let words = own_text(*node);
        assert!(
            contrast >= LEAST_CONTRAST,
            "{}: \"{words}\" at {contrast:.1}:1",
            shown.display()
        );
        assert!(
            inherited(*node, "opacity").is_none_or(|opacity| opacity == "1"),
            "{}: \"{words}\" is thinned",
            shown.display()
        );
    }
    // The words of a picture that moves are shown one after the other.
    let moves = text.contains("@keyframes");
    let shown_at_once = if moves { &[][..] } else { &texts[..] };
    let boxes: Vec<Lettered> = shown_at_once.iter().map(|node| lettered(*node, shown)).collect();
    for (index, one) in boxes.iter().enumerate() {
        for other in &boxes[index + 1..] {
            assert!(
                !one.overlaps(other),
                "{}: \"{}\" touches \"{}\"\n{one:?}\n{other:?}",
                shown.display(),
                one.words,
                other.words
            );
        }
    }
    let described = root.children().find(|node| node.tag_name().name() == "desc");
    if described
        .and_then(|node| node.text())
        .is_some_and(|words| words.contains("Linkage"))
    {
        stand_clear_of_parts(&document, &boxes, shown);
    }
    axes_have_units(&texts, scale_of(&root), shown);
    is_drawn(text, shown);
}

/// Lines of parts, of the ground and of springs are at least this wide; those that lead to a label are thinner (CSS pixels).
const PART_LINE: f64 = 1.15;
/// Across and down of the ground's hatching (CSS pixels).
const HATCHING: (f64, f64) = (5.0, 5.0);
/// Letters do not fill their box to its rim (CSS pixels).
const RIM: f64 = 2.0;

/// No word of a drawing of a linkage lies on a part, on the ground or on its hatching.
fn stand_clear_of_parts(document: &Document<'_>, boxes: &[Lettered], shown: &Path) {
    for line in document
        .descendants()
        .filter(|node| node.tag_name().name() == "line")
    {
        let number = |name: &str| {
            line.attribute(name)
                .and_then(|text| text.parse::<f64>().ok())
                .unwrap_or(0.0)
        };
        let (from, to) = ((number("x1"), number("y1")), (number("x2"), number("y2")));
        let near = |one: f64, other: f64| (one - other).abs() < 0.1;
        let hatching = near(from.0 - to.0, HATCHING.0) && near(to.1 - from.1, HATCHING.1);
        // Dashes are ghosts and lines of construction: those may have to be crossed.
        if line.attribute("stroke-dasharray").is_some() || !(hatching || number("stroke-width") >= PART_LINE)
        {
            continue;
        }
        for words in boxes {
            let steps = (0..=200).map(|step| f64::from(step) / 200.0);
            let on = steps.filter(|share| {
                let (x, y) = (from.0 + (to.0 - from.0) * share, from.1 + (to.1 - from.1) * share);
                words.left + RIM < x && x < words.right - RIM && words.top + RIM < y && y < words.bottom - RIM
            });
            assert_eq!(
                on.count(),
                0,
                "{}: \"{}\" lies on {line:?}",
                shown.display(),
                words.words
            );
        }
    }
}

/// Units of the drawing in a CSS pixel: one unless a view box says more.
fn scale_of(root: &Node<'_, '_>) -> f64 {
    let width = root
        .attribute("width")
        .and_then(|width| width.parse::<f64>().ok());
    let inside = root
        .attribute("viewBox")
        .and_then(|sizes| sizes.split(' ').nth(2)?.parse::<f64>().ok());
    match (width, inside) {
        (Some(width), Some(inside)) if width > 0.0 => inside / width,
        _ => 1.0,
    }
}

/// The colour of the paper: the first rectangle.
fn background<'a>(document: &'a Document<'a>) -> &'a str {
    let paper = document
        .descendants()
        .find(|node| node.tag_name().name() == "rect");
    paper.and_then(|node| node.attribute("fill")).unwrap_or("#ffffff")
}

/// What the names of plain ratios and counts hold, which have no unit.
const WITHOUT_UNIT: [&str; 6] = ["ratio", "slope", "share", "over roll", "steer)", "roll steer"];
/// Names of axes are bold and this large (CSS pixels); a title is larger.
const NAME_SIZE: f64 = 13.0;

/// Every axis of a picture of curves states its unit. Other pictures have no numbers that stand alone, but for paper
/// templates, which state the unit once for all.
///
/// * `scale`: units of the drawing in a CSS pixel
fn axes_have_units(texts: &[Node<'_, '_>], scale: f64, shown: &Path) {
    let is_number = |words: &str| words.replace('\u{2212}', "-").parse::<f64>().is_ok();
    let numbers = texts.iter().filter(|node| is_number(&own_text(**node))).count();
    if numbers < 6 {
        return;
    }
    if texts
        .iter()
        .any(|node| own_text(*node).starts_with("Sizes without a unit are "))
    {
        return;
    }
    let names = texts.iter().filter(|node| {
        let size =
            inherited(**node, "font-size").and_then(|size| size.trim_end_matches("px").parse::<f64>().ok());
        let is_name = size.is_some_and(|size| (size / scale - NAME_SIZE).abs() < 0.05);
        inherited(**node, "font-weight") == Some("bold") && is_name
    });
    let mut axes = 0;
    for name in names {
        let words = own_text(*name);
        let unit = words.ends_with(')') && words.contains('(');
        let none = WITHOUT_UNIT
            .iter()
            .any(|part| words.to_lowercase().contains(part));
        assert!(
            unit || none,
            "{}: the axis \"{words}\" has no unit",
            shown.display()
        );
        axes += 1;
    }
    // Bars have one axis, named in the size of their labels.
    let named = texts.iter().any(|node| own_text(*node).ends_with(')'));
    assert!(
        axes >= 2 || named,
        "{}: numbers, but no axis with a name",
        shown.display()
    );
}

/// An independent renderer, without any font, finds shapes on the paper.
fn is_drawn(text: &str, shown: &Path) {
    let tree = resvg::usvg::Tree::from_str(text, &resvg::usvg::Options::default())
        .unwrap_or_else(|error| panic!("{}: {error}", shown.display()));
    let size = tree.size().to_int_size();
    let mut pixels = resvg::tiny_skia::Pixmap::new(size.width(), size.height()).unwrap();
    resvg::render(
        &tree,
        resvg::tiny_skia::Transform::identity(),
        &mut pixels.as_mut(),
    );
    let inked = pixels
        .pixels()
        .iter()
        .filter(|pixel| pixel.alpha() == 255 && pixel.red() < 200);
    // Frames and grids alone are thousands of pixels; a blank sheet has none.
    let inked = inked.count();
    assert!(inked > 500, "{}: only {inked} pixels are inked", shown.display());
}
