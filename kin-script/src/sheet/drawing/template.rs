//! A plate with its holes at full size, to be printed, checked with a rule, and laid on the metal.

mod dimensions;
mod foot;
mod layout;
mod page;
mod plate;
#[cfg(test)]
mod tests;

pub use page::Page;

use super::model::ScaleUnit;
use super::pen::{Pen, short};
use crate::sheet::PictureError;
use crate::sheet::colour::PAPER;
use crate::sheet::text::clean;
use layout::{Layout, PIXELS_PER_MM};
use svg::node::element::{Description, Rectangle, SVG, Title};
use svg::node::{Node, Text};

/// Most holes that one sheet lists.
const MOST_HOLES: usize = 60;

/// A plate, seen flat: a root at its foot, where it is welded or bent, and free edges on its other sides.
///
/// Places are counted from the datum, the left end of the root: across to the right, then up. Lengths in mm.
#[derive(Debug, Clone)]
pub struct Template {
    /// What the plate is for, also in the `<title>` of the picture.
    pub title: String,
    /// Lines below the title: what to cut, what to drill.
    pub notes: Vec<String>,
    /// The unit of the sizes written on it, and of the check square.
    pub unit: ScaleUnit,
    /// The paper.
    pub page: Page,
    /// Across, along the root (mm).
    pub width: f64,
    /// From the root to the opposite edge (mm).
    pub length: f64,
    /// Radius of the two corners away from the root (mm), 0 for sharp ones.
    pub corner_radius: f64,
    /// Holes, 1 to 60.
    pub holes: Vec<Hole>,
}

/// A hole of a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Short name, such as `A1`.
    pub name: String,
    /// Its middle: across and up from the datum (mm).
    pub at: (f64, f64),
    /// Its diameter (mm).
    pub diameter: f64,
}

impl Template {
    /// The sheet as SVG text, its size in millimetres, with a title and a description.
    ///
    /// # Errors
    /// [`PictureError`] when a size is not above zero, a hole is not in the plate or runs into another one, or the plate
    /// does not fit on the page; the error then names the page on which it does.
    pub fn svg(&self) -> Result<String, PictureError> {
        self.check()?;
        let layout = Layout::new(self)?;
        let mut pen = Pen::default();
        layout.draw_head(&mut pen);
        plate::draw(&mut pen, self, &layout);
        dimensions::draw(&mut pen, self, &layout);
        foot::draw(&mut pen, self, &layout);
        Ok(self.document(pen, &layout))
    }

    /// From the middle of a hole to the nearest free edge (mm). The root is none.
    #[must_use]
    pub fn edge_distance(&self, hole: &Hole) -> f64 {
        let (x, y) = hole.at;
        let radius = self.corner_radius;
        let aside = x.min(self.width - x);
        let straight = aside.min(self.length - y);
        let (into, up) = (radius - aside, y - (self.length - radius));
        if into > 0.0 && up > 0.0 {
            radius - into.hypot(up)
        } else {
            straight
        }
    }

    fn check(&self) -> Result<(), PictureError> {
        let positive = |value: f64, what: &str| PictureError::check_positive(value, || what.to_owned());
        positive(self.unit.millimetres, "the unit of the sheet")?;
        positive(self.width, "the width of the plate")?;
        positive(self.length, "the length of the plate")?;
        PictureError::check_number(self.corner_radius, || "the corner radius".to_owned())?;
        let refuse = |what: String| Err(PictureError::Plate { what });
        if self.corner_radius < 0.0 || self.corner_radius > self.length.min(self.width / 2.0) + 1e-9 {
            return refuse(format!(
                "a corner radius of {} does not go with a plate of {} by {}",
                self.size(self.corner_radius),
                self.size(self.width),
                self.size(self.length)
            ));
        }
        if self.holes.is_empty() || self.holes.len() > MOST_HOLES {
            return refuse(format!(
                "a plate has 1 to {MOST_HOLES} holes, this one has {}",
                self.holes.len()
            ));
        }
        for (index, hole) in self.holes.iter().enumerate() {
            let name = clean(&hole.name);
            positive(hole.diameter, &format!("the diameter of hole {name}"))?;
            for number in [hole.at.0, hole.at.1] {
                PictureError::check_number(number, || format!("the place of hole {name}"))?;
            }
            let left = self.edge_distance(hole).min(hole.at.1) - hole.diameter / 2.0;
            if left <= 0.0 {
                return refuse(format!("hole {name} breaks out of the plate"));
            }
            for other in self.holes.iter().skip(index + 1) {
                let apart = (hole.at.0 - other.at.0).hypot(hole.at.1 - other.at.1);
                if apart <= (hole.diameter + other.diameter) / 2.0 {
                    return refuse(format!("hole {name} runs into hole {}", clean(&other.name)));
                }
            }
        }
        Ok(())
    }

    /// A length as it is written on the sheet, without its unit: as many decimals as it needs, three at most.
    fn figure(&self, millimetres: f64) -> String {
        let text = crate::sheet::text::number(millimetres / self.unit.millimetres, 3);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    }

    /// The same with its unit.
    fn size(&self, millimetres: f64) -> String {
        format!("{} {}", self.figure(millimetres), clean(&self.unit.name))
    }

    fn document(&self, pen: Pen, layout: &Layout) -> String {
        let (width, height) = layout.page;
        let pixels = |millimetres: f64| format!("{:.4}", millimetres * PIXELS_PER_MM);
        let view = format!("0 0 {} {}", pixels(width), pixels(height));
        let mut document = SVG::new()
            .set("role", "img")
            .set("width", format!("{}mm", short(width)))
            .set("height", format!("{}mm", short(height)))
            .set("viewBox", view)
            .set("font-family", "sans-serif")
            .add(Title::new(format!(
                "{}: template at full size",
                clean(&self.title)
            )));
        let mut described = Description::new();
        described.append(Text::new(self.described(layout)));
        document.append(described);
        let paper = Rectangle::new()
            .set("width", pixels(width))
            .set("height", pixels(height))
            .set("fill", PAPER.hex());
        document.append(paper);
        for element in pen.elements {
            document.append(element);
        }
        format!("{document}\n")
    }

    fn described(&self, layout: &Layout) -> String {
        let holes: Vec<String> = self
            .holes
            .iter()
            .map(|hole| {
                format!(
                    "{} at {} across and {} up, {} in diameter",
                    clean(&hole.name),
                    self.size(hole.at.0),
                    self.size(hole.at.1),
                    self.size(hole.diameter)
                )
            })
            .collect();
        format!(
            "Plate of {} by {} at full size for {}, places from the left end of the root. Holes: {}. A check square of {} tells \
             whether it was printed at full size.",
            self.size(self.width),
            self.size(self.length),
            layout.paper_words(),
            holes.join("; "),
            self.size(layout.square)
        )
    }
}
