//! The pen: plotters' SVG writer on a ten-fold canvas, and what it cannot say added afterwards.
//!
//! The writer rounds to whole units, so everything is drawn ten times too large and only `width` and `height` of the
//! root are given in CSS pixels. It has no dash patterns, no halo round letters and no `<title>`: each stroke of the pen
//! writes exactly one element, in order, so additions are kept in a list and put in at the end.

use plotters::coord::Shift;
use plotters::prelude::{
    Circle, Color, DrawingArea, FontDesc, FontFamily, FontStyle, FontTransform, IntoDrawingArea, PathElement,
    Polygon, RGBAColor, SVGBackend, ShapeStyle, Text, TextStyle,
};
use plotters::style::text_anchor::{HPos, Pos, VPos};

use crate::sheet::PictureError;
use crate::sheet::boxes::{Rect, Spot};
use crate::sheet::colour::{Colour, PAPER};
use crate::sheet::text::{Fitted, LEADING, Type};

/// Canvas units per CSS pixel.
const FINE: f64 = 10.0;
/// plotters writes the font size divided by this.
const FONT_FACTOR: f64 = 1.24;

/// How a line is drawn (CSS pixels).
#[derive(Debug, Clone, Copy)]
pub(in crate::sheet) struct Stroke {
    pub(in crate::sheet) colour: Colour,
    pub(in crate::sheet) width: f64,
    /// Lengths of dashes and gaps in turn; empty for a continuous line.
    pub(in crate::sheet) dash: &'static [f64],
}

impl Stroke {
    pub(in crate::sheet) const fn solid(colour: Colour, width: f64) -> Self {
        Self {
            colour,
            width,
            dash: &[],
        }
    }
}

/// Where a text is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheet) enum Hold {
    Start,
    Middle,
    End,
}

/// How a text is set.
#[derive(Debug, Clone, Copy)]
pub(in crate::sheet) struct Lettering {
    pub(in crate::sheet) face: Type,
    pub(in crate::sheet) colour: Colour,
    pub(in crate::sheet) hold: Hold,
    /// Reads upwards.
    pub(in crate::sheet) upright: bool,
}

/// What is added to one written element.
#[derive(Debug, Default)]
struct Addition {
    attributes: String,
    title: Option<String>,
}

/// A sheet being drawn on.
pub(in crate::sheet) struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
    additions: Vec<Addition>,
}

/// Draws a picture of the given size (CSS pixels) and returns it as SVG text with its title and description.
pub(in crate::sheet) fn paint(
    size: (f64, f64),
    title: &str,
    description: &str,
    draw: impl FnOnce(&mut Canvas<'_>) -> Result<(), PictureError>,
) -> Result<String, PictureError> {
    let fine_size = (fine(size.0).unsigned_abs(), fine(size.1).unsigned_abs());
    let mut written = String::new();
    let additions = {
        let area = SVGBackend::with_string(&mut written, fine_size).into_drawing_area();
        let mut canvas = Canvas {
            area,
            additions: Vec::new(),
        };
        canvas.fill_rect(&Rect::new(0.0, 0.0, size.0, size.1), PAPER, 1.0)?;
        draw(&mut canvas)?;
        canvas
            .area
            .present()
            .map_err(|error| PictureError::Writer(error.to_string()))?;
        canvas.additions
    };
    Ok(finish(&written, &additions, fine_size, title, description))
}

impl Canvas<'_> {
    /// A line through the points.
    pub(in crate::sheet) fn line(&mut self, points: &[Spot], stroke: Stroke) -> Result<(), PictureError> {
        let mut attributes = String::from(" stroke-linejoin=\"round\"");
        if !stroke.dash.is_empty() {
            let lengths: Vec<String> = stroke
                .dash
                .iter()
                .map(|length| fine(*length).to_string())
                .collect();
            attributes += &format!(" stroke-dasharray=\"{}\"", lengths.join(" "));
        }
        let style = ShapeStyle {
            color: paint_colour(stroke.colour, 1.0),
            filled: false,
            stroke_width: fine(stroke.width).unsigned_abs(),
        };
        self.put(
            &PathElement::new(fine_points(points), style),
            Addition {
                attributes,
                title: None,
            },
        )
    }

    /// A filled outline.
    pub(in crate::sheet) fn fill(
        &mut self,
        points: &[Spot],
        colour: Colour,
        opacity: f64,
    ) -> Result<(), PictureError> {
        let style = ShapeStyle {
            color: paint_colour(colour, opacity),
            filled: true,
            stroke_width: 0,
        };
        self.put(&Polygon::new(fine_points(points), style), Addition::default())
    }

    pub(in crate::sheet) fn fill_rect(
        &mut self,
        area: &Rect,
        colour: Colour,
        opacity: f64,
    ) -> Result<(), PictureError> {
        let Rect {
            left,
            top,
            right,
            bottom,
        } = *area;
        self.fill(
            &[(left, top), (right, top), (right, bottom), (left, bottom)],
            colour,
            opacity,
        )
    }

    /// A filled dot.
    pub(in crate::sheet) fn dot(
        &mut self,
        centre: Spot,
        radius: f64,
        colour: Colour,
    ) -> Result<(), PictureError> {
        let style = ShapeStyle {
            color: paint_colour(colour, 1.0),
            filled: true,
            stroke_width: 0,
        };
        let place = (fine(centre.0), fine(centre.1));
        self.put(&Circle::new(place, fine(radius), style), Addition::default())
    }

    /// Lines of text around a middle; letters keep a white rim so that they stay readable on lines and hatching. Where
    /// the text was shortened, the first line carries the whole of it.
    pub(in crate::sheet) fn text(
        &mut self,
        fitted: &Fitted,
        middle: Spot,
        how: Lettering,
    ) -> Result<(), PictureError> {
        let step = how.face.size * LEADING;
        let first = -step * (fitted.lines.len() as f64 - 1.0) / 2.0;
        for (index, line) in fitted.lines.iter().enumerate() {
            let shift = first + step * index as f64;
            let place = if how.upright {
                (middle.0 + shift, middle.1)
            } else {
                (middle.0, middle.1 + shift)
            };
            let title = if index == 0 { fitted.whole.clone() } else { None };
            let attributes = format!(
                " paint-order=\"stroke\" stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"",
                PAPER.hex(),
                fine(3.0)
            );
            let element = Text::new(line.clone(), (fine(place.0), fine(place.1)), text_style(how));
            self.put(&element, Addition { attributes, title })?;
        }
        Ok(())
    }

    fn put<E>(&mut self, element: &E, addition: Addition) -> Result<(), PictureError>
    where
        for<'e> &'e E: plotters::element::PointCollection<'e, (i32, i32)>,
        for<'a> E: plotters::element::Drawable<SVGBackend<'a>>,
    {
        self.additions.push(addition);
        self.area
            .draw(element)
            .map_err(|error| PictureError::Writer(error.to_string()))
    }
}

fn text_style(how: Lettering) -> TextStyle<'static> {
    let weight = if how.face.bold {
        FontStyle::Bold
    } else {
        FontStyle::Normal
    };
    let font = FontDesc::new(FontFamily::SansSerif, how.face.size * FINE * FONT_FACTOR, weight);
    let font = if how.upright {
        font.transform(FontTransform::Rotate270)
    } else {
        font
    };
    let hold = match how.hold {
        Hold::Start => HPos::Left,
        Hold::Middle => HPos::Center,
        Hold::End => HPos::Right,
    };
    TextStyle {
        font,
        color: paint_colour(how.colour, 1.0).to_backend_color(),
        pos: Pos::new(hold, VPos::Center),
    }
}

fn paint_colour(colour: Colour, opacity: f64) -> RGBAColor {
    RGBAColor(colour.0, colour.1, colour.2, opacity)
}

/// CSS pixels to canvas units. Callers keep to the picture, so the cast never saturates in use.
fn fine(pixels: f64) -> i32 {
    (pixels * FINE).round() as i32
}

fn fine_points(points: &[Spot]) -> Vec<(i32, i32)> {
    let mut fine_points: Vec<(i32, i32)> = points.iter().map(|(x, y)| (fine(*x), fine(*y))).collect();
    fine_points.dedup();
    fine_points
}

/// Puts title, description and the additions into what plotters wrote: one element a line, text on lines of its own.
fn finish(written: &str, additions: &[Addition], size: (u32, u32), title: &str, description: &str) -> String {
    let mut picture = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {} {}\">\n<title>{}</title>\n<desc>{}</desc>\n",
        f64::from(size.0) / FINE,
        f64::from(size.1) / FINE,
        size.0,
        size.1,
        escape(title),
        escape(description)
    );
    let mut additions = additions.iter();
    let mut pending_title = None;
    for line in written.lines().skip(1) {
        if line.starts_with("</text") {
            if let Some(title) = pending_title.take() {
                picture += &format!("<title>{}</title>\n", escape(title));
            }
            picture += line;
        } else if line.starts_with('<') && !line.starts_with("</") {
            let addition = additions.next();
            let attributes = addition.map_or("", |addition| addition.attributes.as_str());
            pending_title = addition.and_then(|addition| addition.title.as_deref());
            let end = if line.ends_with("/>") { "/>" } else { ">" };
            picture += line.strip_suffix(end).unwrap_or(line).trim_end();
            picture += attributes;
            picture += end;
        } else {
            picture += line;
        }
        picture.push('\n');
    }
    picture
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}
