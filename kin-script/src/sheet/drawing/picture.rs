//! From a drawing to its picture.

use svg::node::element::{Description, Rectangle, SVG, Title};
use svg::node::{Node, Text};

use super::arrange::{EDGE, arrange};
use super::check::check;
use super::footer;
use super::model::Drawing;
use super::pen::{Pen, short};
use super::view;
use crate::sheet::PictureError;
use crate::sheet::colour::{INK, PAPER, SOFT_INK};
use crate::sheet::text::{LEADING, Type, clean, fit};

const TITLE: Type = Type::bold(18.0);
const SUBTITLE: Type = Type::plain(13.0);

impl Drawing {
    /// The picture as SVG text, with a title and a description for those who cannot see it. A label for which there is
    /// no room is told in the description.
    ///
    /// The picture is wider than asked if dimensions at the sides leave no room for the parts.
    ///
    /// # Errors
    /// [`PictureError`] when there is nothing to draw, a place is not finite, a size is not above zero, or the width is
    /// unusable.
    pub fn svg(&self) -> Result<String, PictureError> {
        check(self)?;
        let mut pen = Pen::default();
        let top = self.draw_titles(&mut pen);
        let arranged = arrange(self, top);
        let mut missing = Vec::new();
        for ((view, rows), projection) in self.views.iter().zip(&arranged.rows).zip(&arranged.projections) {
            missing.extend(view::draw(&mut pen, view, rows, projection));
        }
        let height = footer::draw(&mut pen, self, arranged.scale, arranged.bottom, arranged.width);
        Ok(self.document(pen, arranged.width, height, &missing))
    }

    /// Draws title and subtitle; returns where they end.
    fn draw_titles(&self, pen: &mut Pen) -> f64 {
        let mut top = EDGE;
        let subtitle = self.subtitle.as_deref().unwrap_or_default();
        for (text, face, colour) in [(self.title.as_str(), TITLE, INK), (subtitle, SUBTITLE, SOFT_INK)] {
            let words = fit(text, face, self.width - 2.0 * EDGE, 3);
            let height = face.size * LEADING * words.lines.len() as f64;
            pen.text(&words, (EDGE, top + height / 2.0), face, colour, "start");
            top += height;
        }
        top
    }

    fn document(&self, pen: Pen, width: f64, height: f64, missing: &[String]) -> String {
        let names: Vec<String> = self.views.iter().map(|view| clean(&view.name)).collect();
        let listing = format!("Drawing to scale: {}", names.join(", "));
        let title = clean(&self.title);
        let title = if title.is_empty() { listing.clone() } else { title };
        let mut description = clean(&self.description);
        if description.is_empty() {
            description = listing;
        }
        if !missing.is_empty() {
            description += &format!(" Not labelled for want of room: {}.", missing.join(", "));
        }
        finished(
            pen,
            &Page {
                width,
                height,
                title: &title,
                description: &description,
            },
        )
    }
}

/// What a picture needs besides its elements.
pub(super) struct Page<'a> {
    /// CSS pixels.
    pub(super) width: f64,
    /// CSS pixels.
    pub(super) height: f64,
    pub(super) title: &'a str,
    pub(super) description: &'a str,
}

/// The elements on white paper as SVG text.
pub(super) fn finished(pen: Pen, page: &Page<'_>) -> String {
    let (width, height) = (short(page.width), short(page.height));
    let mut document = SVG::new()
        .set("role", "img")
        .set("width", width.as_str())
        .set("height", height.as_str())
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("font-family", "sans-serif")
        .add(Title::new(clean(page.title)));
    let mut described = Description::new();
    described.append(Text::new(clean(page.description)));
    document.append(described);
    let paper = Rectangle::new()
        .set("width", width)
        .set("height", height)
        .set("fill", PAPER.hex());
    document.append(paper);
    for element in pen.elements {
        document.append(element);
    }
    format!("{document}\n")
}
