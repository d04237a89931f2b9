//! Where everything stands on the page.

use super::super::pen::Pen;
use super::page::Page;
use super::{Template, foot};
use crate::sheet::PictureError;
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::colour::{Colour, INK, SOFT_INK};
use crate::sheet::text::{Fitted, LEADING, Type, fit};

/// CSS pixels to a millimetre: 96 to an inch, by definition (CSS Values and Units).
pub(super) const PIXELS_PER_MM: f64 = 96.0 / 25.4;
pub(super) const LETTERS: Type = Type::plain(12.0);
const TITLE: Type = Type::bold(18.0);
const PRINT: Type = Type::bold(13.0);
/// Free edge of the page (mm): printers reach no farther.
const MARGIN_MM: f64 = 10.0;
/// Room round the plate for its dimensions (mm): left, right, above, below.
const ROUND_MM: [f64; 4] = [26.0, 26.0, 16.0, 24.0];
/// Edge of the check square where the sheet is in millimetres, and where it is in inches (mm).
const SQUARES_MM: (f64, f64) = (50.0, 50.8);

/// The page with the places of its parts (CSS pixels, unless said otherwise).
pub(super) struct Layout {
    /// Width and height of the page (mm).
    pub(super) page: (f64, f64),
    /// Edge of the check square (mm).
    pub(super) square: f64,
    /// What may be printed on.
    pub(super) area: Rect,
    /// Where the plate lies.
    pub(super) plate: Rect,
    /// Top of the check square and the table.
    pub(super) foot_top: f64,
    paper: &'static str,
    size: &'static str,
    upright: bool,
    head: Vec<(Fitted, Type, Colour)>,
}

impl Layout {
    /// Upright where the plate fits that way, else across.
    pub(super) fn new(template: &Template) -> Result<Self, PictureError> {
        Self::on(template, template.page).ok_or_else(|| {
            let fits = Page::ALL
                .into_iter()
                .find(|page| Self::on(template, *page).is_some());
            PictureError::PageTooSmall {
                size: format!(
                    "{} by {}",
                    template.size(template.width),
                    template.size(template.length)
                ),
                page: template.page.name(),
                advice: match fits {
                    Some(page) => format!("on {} ({}) it does", page.name(), page.words()),
                    None => "it fits on none of A4, Letter, A3, Tabloid and A2".to_owned(),
                },
            }
        })
    }

    fn on(template: &Template, page: Page) -> Option<Self> {
        [true, false]
            .into_iter()
            .find_map(|upright| Self::turned(template, page, upright))
    }

    fn turned(template: &Template, page: Page, upright: bool) -> Option<Self> {
        let (narrow, long) = page.size();
        let size = if upright { (narrow, long) } else { (long, narrow) };
        let area = Rect::new(0.0, 0.0, size.0 * PIXELS_PER_MM, size.1 * PIXELS_PER_MM)
            .grown(-MARGIN_MM * PIXELS_PER_MM);
        let is_inch = (template.unit.millimetres - 25.4).abs() < 1e-9;
        let square = if is_inch { SQUARES_MM.1 } else { SQUARES_MM.0 };
        let mut layout = Self {
            page: size,
            square,
            area,
            plate: area,
            foot_top: area.bottom,
            paper: page.name(),
            size: page.words(),
            upright,
            head: Vec::new(),
        };
        layout.head = layout.head_lines(template);
        layout.foot_top = area.bottom - foot::height(template, &layout)?;
        let [left, right, above, below] = ROUND_MM.map(|room| room * PIXELS_PER_MM);
        let room = Rect::new(
            area.left + left,
            area.top + layout.head_height() + above,
            area.right - right,
            layout.foot_top - below,
        );
        let (width, height) = (template.width * PIXELS_PER_MM, template.length * PIXELS_PER_MM);
        if width > room.width() + 1e-9 || height > room.height() + 1e-9 {
            return None;
        }
        layout.plate = Rect::around(room.centre(), width, height);
        Some(layout)
    }

    /// The paper in words: `A4 (210 x 297 mm), upright`.
    pub(super) fn paper_words(&self) -> String {
        let way = if self.upright { "upright" } else { "on its side" };
        format!("{} ({}), {way}", self.paper, self.size)
    }

    /// A place of the plate on the page.
    pub(super) fn at(&self, (across, up): (f64, f64)) -> Spot {
        (
            self.plate.left + across * PIXELS_PER_MM,
            self.plate.bottom - up * PIXELS_PER_MM,
        )
    }

    fn head_lines(&self, template: &Template) -> Vec<(Fitted, Type, Colour)> {
        let room = self.area.width();
        let print = format!(
            "Scale 1:1. Print on {}, at 100 % (\u{201c}actual size\u{201d}), never \u{201c}fit to page\u{201d}.",
            self.paper_words()
        );
        let datum = format!(
            "Sizes without a unit are {}. Datum 0, 0: the left end of the root, where the plate is welded or bent.",
            template.unit.name
        );
        let mut lines = vec![
            (fit(&template.title, TITLE, room, 2), TITLE, INK),
            (fit(&print, PRINT, room, 2), PRINT, INK),
            (fit(&datum, LETTERS, room, 2), LETTERS, SOFT_INK),
        ];
        let notes = template
            .notes
            .iter()
            .map(|note| (fit(note, LETTERS, room, 3), LETTERS, INK));
        lines.extend(notes);
        lines
    }

    fn head_height(&self) -> f64 {
        let heights = self.head.iter();
        heights
            .map(|(words, face, _)| face.size * LEADING * words.lines.len() as f64 + 2.0)
            .sum()
    }

    pub(super) fn draw_head(&self, pen: &mut Pen) {
        let mut top = self.area.top;
        for (words, face, colour) in &self.head {
            let height = face.size * LEADING * words.lines.len() as f64;
            pen.text(
                words,
                (self.area.left, top + height / 2.0),
                *face,
                *colour,
                "start",
            );
            top += height + 2.0;
        }
    }
}
