//! The pen for drawings: elements of the `svg` crate with places to a hundredth of a pixel.

use svg::node::Node;
use svg::node::element::{Circle, Element, Line, Path, Polygon, Text, Title};

use crate::sheet::boxes::Spot;
use crate::sheet::colour::{Colour, PAPER};
use crate::sheet::text::{Fitted, LEADING, Type};

/// How a line is drawn (CSS pixels).
#[derive(Debug, Clone, Copy)]
pub(in crate::sheet) struct Stroke {
    pub(in crate::sheet) colour: Colour,
    pub(in crate::sheet) width: f64,
    /// Dashes and gaps as SVG writes them; empty for a continuous line.
    pub(in crate::sheet) dash: &'static str,
    pub(in crate::sheet) opacity: f64,
}

impl Stroke {
    pub(in crate::sheet) const fn solid(colour: Colour, width: f64) -> Self {
        Self {
            colour,
            width,
            dash: "",
            opacity: 1.0,
        }
    }

    fn set(&self, element: &mut impl Node) {
        element.assign("stroke", self.colour.hex());
        element.assign("stroke-width", short(self.width));
        if !self.dash.is_empty() {
            element.assign("stroke-dasharray", self.dash);
        }
        if self.opacity < 1.0 {
            element.assign("stroke-opacity", short(self.opacity));
        }
    }
}

/// Elements of a drawing in the order they are drawn.
#[derive(Debug, Default)]
pub(in crate::sheet) struct Pen {
    pub(in crate::sheet) elements: Vec<Element>,
}

impl Pen {
    pub(in crate::sheet) fn line(&mut self, from: Spot, to: Spot, stroke: Stroke) {
        let mut line = Line::new();
        for (name, value) in [("x1", from.0), ("y1", from.1), ("x2", to.0), ("y2", to.1)] {
            line.assign(name, short(value));
        }
        line.assign(
            "stroke-linecap",
            if stroke.dash.is_empty() { "round" } else { "butt" },
        );
        stroke.set(&mut line);
        self.elements.push(line.into());
    }

    /// A filled outline.
    pub(in crate::sheet) fn polygon(&mut self, points: &[Spot], fill: Colour) {
        self.elements.push(
            Polygon::new()
                .set("points", joined(points))
                .set("fill", fill.hex())
                .into(),
        );
    }

    /// A closed path with a fill that may let the ground show through.
    pub(in crate::sheet) fn path(&mut self, data: String, fill: Option<(Colour, f64)>, stroke: Stroke) {
        let mut path = Path::new().set("d", data);
        set_fill(&mut path, fill);
        stroke.set(&mut path);
        self.elements.push(path.into());
    }

    pub(in crate::sheet) fn circle(
        &mut self,
        centre: Spot,
        radius: f64,
        fill: Option<(Colour, f64)>,
        stroke: Stroke,
    ) {
        self.titled_circle(centre, radius, fill, stroke, None);
    }

    pub(in crate::sheet) fn titled_circle(
        &mut self,
        centre: Spot,
        radius: f64,
        fill: Option<(Colour, f64)>,
        stroke: Stroke,
        title: Option<&str>,
    ) {
        let mut circle = Circle::new()
            .set("cx", short(centre.0))
            .set("cy", short(centre.1))
            .set("r", short(radius));
        set_fill(&mut circle, fill);
        stroke.set(&mut circle);
        if let Some(title) = title {
            circle.append(Title::new(title));
        }
        self.elements.push(circle.into());
    }

    /// Lines of text around a middle, with a white rim; `anchor` as SVG names it. Where the text was shortened, the first
    /// line carries the whole of it.
    pub(in crate::sheet) fn text(
        &mut self,
        fitted: &Fitted,
        middle: Spot,
        face: Type,
        colour: Colour,
        anchor: &str,
    ) {
        let step = face.size * LEADING;
        let first = -step * (fitted.lines.len() as f64 - 1.0) / 2.0;
        for (index, line) in fitted.lines.iter().enumerate() {
            let mut text = text_line(
                line,
                (middle.0, middle.1 + first + step * index as f64),
                face,
                colour,
                anchor,
            );
            if let Some(whole) = fitted.whole.as_ref().filter(|_| index == 0) {
                text.append(Title::new(whole.as_str()));
            }
            self.elements.push(text.into());
        }
    }

    /// One line of text reading upwards, held by its middle.
    pub(in crate::sheet) fn upright_text(
        &mut self,
        fitted: &Fitted,
        middle: Spot,
        face: Type,
        colour: Colour,
    ) {
        for line in &fitted.lines {
            let mut text = text_line(line, middle, face, colour, "middle");
            text.assign(
                "transform",
                format!("rotate(-90 {} {})", short(middle.0), short(middle.1)),
            );
            if let Some(whole) = &fitted.whole {
                text.append(Title::new(whole.as_str()));
            }
            self.elements.push(text.into());
        }
    }
}

fn text_line(line: &str, place: Spot, face: Type, colour: Colour, anchor: &str) -> Text {
    let mut text = Text::new(line)
        .set("x", short(place.0))
        .set("y", short(place.1))
        .set("dy", "0.5ex");
    text.assign("text-anchor", anchor);
    text.assign("font-size", short(face.size));
    if face.bold {
        text.assign("font-weight", "bold");
    }
    text.assign("fill", colour.hex());
    text.assign("paint-order", "stroke");
    text.assign("stroke", PAPER.hex());
    text.assign("stroke-width", "3");
    text.assign("stroke-linejoin", "round");
    text
}

fn set_fill(element: &mut impl Node, fill: Option<(Colour, f64)>) {
    match fill {
        None => element.assign("fill", "none"),
        Some((colour, opacity)) => {
            element.assign("fill", colour.hex());
            if opacity < 1.0 {
                element.assign("fill-opacity", short(opacity));
            }
        }
    }
}

/// A number to a hundredth, without needless zeros.
pub(in crate::sheet) fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

fn joined(points: &[Spot]) -> String {
    let pairs: Vec<String> = points
        .iter()
        .map(|(x, y)| format!("{},{}", short(*x), short(*y)))
        .collect();
    pairs.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        assert_eq!(short(12.0), "12");
        assert_eq!(short(-0.001), "0");
        assert_eq!(short(2.71501), "2.72");
        assert_eq!(short(100.5), "100.5");
    }
}
