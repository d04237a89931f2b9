//! For tests: reads a finished picture and finds its texts and the boxes they need.

use super::boxes::Rect;
use super::colour::Colour;
use super::text::{HALF_HEIGHT, Type};

/// A text of a picture with its box (CSS pixels).
#[derive(Debug, Clone)]
pub(crate) struct FoundText {
    pub(crate) words: String,
    pub(crate) area: Rect,
    pub(crate) fill: Colour,
    pub(crate) family: String,
}

/// A finished picture, read back.
#[derive(Debug)]
pub(crate) struct Picture {
    pub(crate) size: (f64, f64),
    pub(crate) role: String,
    pub(crate) title: String,
    pub(crate) description: String,
    /// Titles of single elements, that is, texts shown shortened.
    pub(crate) whole_texts: Vec<String>,
    pub(crate) texts: Vec<FoundText>,
}

impl Picture {
    /// Reads a picture; fails the test if it is not well-formed XML.
    pub(crate) fn read(svg: &str) -> Self {
        let document = roxmltree::Document::parse(svg).expect("the picture is well-formed XML");
        let root = document.root_element();
        let number = |name: &str| {
            let text = root.attribute(name).unwrap();
            // A sheet at full size says its size in millimetres: 96 pixels to 25.4 of them.
            match text.strip_suffix("mm") {
                Some(millimetres) => millimetres.parse::<f64>().unwrap() * 96.0 / 25.4,
                None => text.parse().unwrap(),
            }
        };
        let size: (f64, f64) = (number("width"), number("height"));
        let view: Vec<f64> = root
            .attribute("viewBox")
            .unwrap()
            .split_whitespace()
            .map(|part| part.parse().unwrap())
            .collect();
        let scale = size.0 / view[2];
        assert!(
            (scale - size.1 / view[3]).abs() < 1e-6,
            "the picture is not distorted"
        );
        let child = |name: &str| {
            let found = root.children().find(|node| node.has_tag_name(name));
            found
                .and_then(|node| node.text())
                .unwrap_or_default()
                .trim()
                .to_owned()
        };
        let texts = document.descendants().filter(|node| node.has_tag_name("text"));
        let titles = document
            .descendants()
            .filter(|node| node.has_tag_name("title") && node.parent() != Some(root));
        Self {
            size,
            role: root.attribute("role").unwrap_or_default().to_owned(),
            title: child("title"),
            description: child("desc"),
            whole_texts: titles
                .filter_map(|node| node.text())
                .map(|text| text.trim().to_owned())
                .collect(),
            texts: texts.map(|node| read_text(node, scale)).collect(),
        }
    }

    pub(crate) fn words(&self) -> Vec<&str> {
        self.texts.iter().map(|text| text.words.as_str()).collect()
    }

    pub(crate) fn has(&self, words: &str) -> bool {
        self.texts.iter().any(|text| text.words == words)
    }

    /// Fails the test if texts touch each other, leave the picture, are hard to read or name a font.
    pub(crate) fn check_legible(&self) {
        assert_eq!(self.role, "img");
        assert!(!self.title.is_empty() && !self.description.is_empty());
        let sheet = Rect::new(0.0, 0.0, self.size.0, self.size.1);
        for (index, text) in self.texts.iter().enumerate() {
            assert!(sheet.holds(&text.area), "{text:?} leaves the picture {sheet:?}");
            assert!(text.fill.contrast_on_white() >= 4.5, "{text:?}");
            assert_eq!(text.family, "sans-serif");
            for other in &self.texts[index + 1..] {
                // Half a pixel: places are rounded to tenths in one kind of picture, hundredths in the other.
                assert!(
                    !text.area.grown(-0.25).overlaps(&other.area.grown(-0.25)),
                    "{text:?} touches {other:?}"
                );
            }
        }
    }
}

fn read_text(node: roxmltree::Node<'_, '_>, scale: f64) -> FoundText {
    let inherited = |name: &str| node.ancestors().find_map(|node| node.attribute(name));
    let number = |name: &str| node.attribute(name).and_then(|text| text.parse::<f64>().ok());
    let size: f64 = inherited("font-size").unwrap().parse().unwrap();
    let bold = inherited("font-weight") == Some("bold");
    let own_text = node
        .children()
        .filter(|child| child.is_text())
        .filter_map(|child| child.text());
    let words = own_text.collect::<String>().trim().to_owned();
    // Both writers hold text by the middle of its small letters.
    assert_eq!(node.attribute("dy"), Some("0.5ex"));
    let (x, y) = (number("x").unwrap() * scale, number("y").unwrap() * scale);
    let face = Type {
        size: size * scale,
        bold,
    };
    let width = face.width(&words);
    let before = match inherited("text-anchor") {
        Some("middle") => width / 2.0,
        Some("end") => width,
        _ => 0.0,
    };
    let half = HALF_HEIGHT * face.size;
    let area = match node.attribute("transform") {
        None => Rect::new(x - before, y - half, x - before + width, y + half),
        Some(turn) if turn.starts_with("rotate(270") || turn.starts_with("rotate(-90") => {
            Rect::new(x - half, y - (width - before), x + half, y + before)
        }
        Some(other) => panic!("a turn the walker does not know: {other}"),
    };
    FoundText {
        words,
        area,
        fill: Colour::from_hex(&inherited("fill").unwrap().to_ascii_lowercase()).unwrap(),
        family: inherited("font-family").unwrap_or_default().to_owned(),
    }
}
