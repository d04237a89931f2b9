//! The lever picture: travel, force and work of a spring behind a lever, and why its stiffness counts with the square of
//! the ratio.

use super::pen::{Pen, Stroke};
use super::picture::{Page, finished};
use crate::sheet::PictureError;
use crate::sheet::boxes::Spot;
use crate::sheet::colour::{AXIS, BLUE, Colour, GREEN, INK, SLATE, SOFT_INK};
use crate::sheet::text::{LEADING, Type, fit};

/// What one end of the lever does, told with its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct LeverEnd {
    /// How far it moves.
    pub travel: String,
    /// The force added there by that movement.
    pub force: String,
    /// The work done there, as a sum of the two: `0.6 mm x 0.6 N / 2 = 0.18 N mm`.
    pub work: String,
}

/// A lever with a spring on it and the wheel at its end, to scale with its ratio.
#[derive(Debug, Clone, PartialEq)]
pub struct LeverPicture {
    /// Heading of the picture.
    pub title: String,
    /// A line below it: of what, and where in the travel.
    pub subtitle: String,
    /// Spring travel over wheel travel.
    pub ratio: f64,
    /// The spring.
    pub spring: LeverEnd,
    /// The wheel.
    pub wheel: LeverEnd,
    /// The balance of the two forces about the pivot.
    pub balance: String,
    /// What follows, a line each; the first is the point of it.
    pub result: Vec<String>,
}

/// An end of the lever, as labels name it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    Spring,
    Wheel,
}

/// Ratios outside of these leave one end without room.
const RATIOS: (f64, f64) = (0.1, 2.5);

const WIDTH: f64 = 820.0;
const EDGE: f64 = 16.0;
const TITLE: Type = Type::bold(18.0);
const HEADING: Type = Type::bold(13.0);
const LETTERS: Type = Type::plain(12.0);

/// Where the pivot stands, and how long the longer end of the lever is (CSS pixels).
const PIVOT: f64 = 250.0;
const LEVER: f64 = 320.0;
/// Rise of the longer end, and length of the larger force's arrow (CSS pixels).
const RISE: f64 = 58.0;
const ARROW: f64 = 58.0;
/// Width and height of the larger triangle of work (CSS pixels).
const WORK: (f64, f64) = (190.0, 96.0);

impl LeverPicture {
    /// The picture as SVG text, with a title and a description for those who cannot see it.
    ///
    /// # Errors
    /// [`PictureError`] for a ratio below 0.1 or above 2.5: one end of the lever would have no room.
    pub fn svg(&self) -> Result<String, PictureError> {
        PictureError::check_number(self.ratio, || "the ratio of the lever".to_owned())?;
        let (least, most) = RATIOS;
        if !(least..=most).contains(&self.ratio) {
            return Err(PictureError::Lever {
                ratio: self.ratio,
                least,
                most,
            });
        }
        let mut pen = Pen::default();
        let mut y = EDGE;
        y = lines(&mut pen, &[self.title.as_str()], y, TITLE, INK);
        y = lines(
            &mut pen,
            &[self.subtitle.as_str()],
            y,
            Type::plain(13.0),
            SOFT_INK,
        ) + 14.0;
        y = self.travels(&mut pen, y) + 16.0;
        y = self.forces(&mut pen, y) + 16.0;
        y = self.works(&mut pen, y) + 16.0;
        for (index, line) in self.result.iter().enumerate() {
            let face = if index == 0 { HEADING } else { LETTERS };
            y = lines(&mut pen, &[line.as_str()], y, face, INK) + 3.0;
        }
        Ok(finished(
            pen,
            &Page {
                width: WIDTH,
                height: y + EDGE,
                title: &self.title,
                description: &self.description(),
            },
        ))
    }

    fn description(&self) -> String {
        let Self { spring, wheel, .. } = self;
        format!(
            "{}. The wheel moves {} and the spring {}; the spring pushes with {}, which is {} at the wheel. Work at the wheel: {}. \
             Work in the spring: {}. {}",
            self.subtitle,
            wheel.travel,
            spring.travel,
            spring.force,
            wheel.force,
            wheel.work,
            spring.work,
            self.result.join(" ")
        )
    }

    /// Pixels from the pivot to the spring and to the wheel.
    fn arms(&self) -> (f64, f64) {
        let scale = LEVER / self.ratio.max(1.0);
        (self.ratio * scale, scale)
    }

    /// The lever at rest and lifted, with the way of each end.
    fn travels(&self, pen: &mut Pen, top: f64) -> f64 {
        let y = lines(
            pen,
            &["1. Travel: the lever arm decides how far each end moves"],
            top,
            HEADING,
            INK,
        );
        let base = y + RISE + 22.0;
        let (spring, wheel) = self.arms();
        let lift = |arm: f64| RISE * arm / LEVER;
        beam(pen, (PIVOT, base), (PIVOT + LEVER, base), SLATE.tint(0.35));
        beam(pen, (PIVOT, base), (PIVOT + LEVER, base - RISE), SLATE);
        pivot(pen, base);
        for (arm, colour) in [(spring, GREEN), (wheel, BLUE)] {
            arrow(pen, (PIVOT + arm, base), (PIVOT + arm, base - lift(arm)), colour);
        }
        let below = base + 30.0;
        self.beside(pen, &format!("spring {}", self.spring.travel), End::Spring, below);
        self.beside(pen, &format!("wheel {}", self.wheel.travel), End::Wheel, below);
        below + 10.0
    }

    /// The lever with the spring's force and what holds it at the wheel.
    fn forces(&self, pen: &mut Pen, top: f64) -> f64 {
        let heading = "2. Force added: through the same lever it reaches the wheel";
        let y = lines(pen, &[heading], top, HEADING, INK);
        let base = y + ARROW + 14.0;
        let (spring, wheel) = self.arms();
        // Forces about the pivot: spring times its arm is wheel times its own, so wheel over spring is the ratio.
        let scale = ARROW / self.ratio.max(1.0);
        beam(pen, (PIVOT, base), (PIVOT + LEVER, base), SLATE);
        pivot(pen, base);
        arrow(
            pen,
            (PIVOT + spring, base - scale),
            (PIVOT + spring, base - 3.0),
            GREEN,
        );
        let low = base + scale * self.ratio;
        arrow(pen, (PIVOT + wheel, low), (PIVOT + wheel, base + 3.0), BLUE);
        self.beside(
            pen,
            &format!("spring {}", self.spring.force),
            End::Spring,
            base - scale / 2.0 - 4.0,
        );
        self.beside(
            pen,
            &format!("wheel {}", self.wheel.force),
            End::Wheel,
            base + scale * self.ratio / 2.0 + 14.0,
        );
        let bottom = low.max(base + 34.0) + 8.0;
        let words = fit(&self.balance, LETTERS, WIDTH - 2.0 * EDGE, 1);
        pen.text(&words, (EDGE, bottom + 8.0), LETTERS, INK, "start");
        bottom + 16.0
    }

    /// Force over travel at both ends: triangles of the same area.
    fn works(&self, pen: &mut Pen, top: f64) -> f64 {
        let heading = "3. Work: what is put in at the wheel is stored in the spring, so both areas are equal";
        let y = lines(pen, &[heading], top, HEADING, INK);
        let base = y + WORK.1 + 12.0;
        let travel = WORK.0 / self.ratio.max(1.0);
        let force = WORK.1 / self.ratio.max(1.0);
        let triangles = [
            (70.0, (self.ratio * travel, force), &self.spring, "spring", GREEN),
            (460.0, (travel, self.ratio * force), &self.wheel, "wheel", BLUE),
        ];
        for (left, (width, height), end, name, colour) in triangles {
            let corners = [(left, base), (left + width, base), (left + width, base - height)];
            pen.polygon(&corners, colour.tint(0.3));
            for (from, to) in [(0, 1), (1, 2), (2, 0)] {
                if let (Some(from), Some(to)) = (corners.get(from), corners.get(to)) {
                    pen.line(*from, *to, Stroke::solid(colour, 1.8));
                }
            }
            let mut say = |text: &str, place: Spot| {
                pen.text(&fit(text, LETTERS, 350.0, 1), place, LETTERS, INK, "start");
            };
            say(&end.force, (left + width + 8.0, base - height / 2.0));
            say(&end.travel, (left, base + 14.0));
            say(&format!("{name}: {}", end.work), (left, base + 32.0));
        }
        base + 42.0
    }

    /// A label on the outer side of its end of the lever, so that the two never meet.
    fn beside(&self, pen: &mut Pen, text: &str, end: End, y: f64) {
        let (spring, wheel) = self.arms();
        // Of two ends at one place the wheel's label stands outside.
        let outer = if end == End::Wheel {
            wheel >= spring
        } else {
            spring > wheel
        };
        let arm = if end == End::Wheel { wheel } else { spring };
        let (x, anchor) = if outer {
            (PIVOT + arm + 8.0, "start")
        } else {
            (PIVOT + arm - 8.0, "end")
        };
        let room = if outer { WIDTH - EDGE - x } else { x - EDGE };
        pen.text(&fit(text, LETTERS, room, 1), (x, y), LETTERS, INK, anchor);
    }
}

/// Lines below each other from the left edge; returns where they end.
fn lines(pen: &mut Pen, texts: &[&str], top: f64, face: Type, colour: Colour) -> f64 {
    let mut y = top;
    for text in texts {
        let words = fit(text, face, WIDTH - 2.0 * EDGE, 3);
        let height = face.size * LEADING * words.lines.len() as f64;
        pen.text(&words, (EDGE, y + height / 2.0), face, colour, "start");
        y += height;
    }
    y
}

fn beam(pen: &mut Pen, from: Spot, to: Spot, colour: Colour) {
    pen.line(from, to, Stroke::solid(colour, 5.0));
}

/// The pivot at the end of the lever, standing on its wedge.
fn pivot(pen: &mut Pen, base: f64) {
    pen.polygon(
        &[
            (PIVOT, base),
            (PIVOT - 11.0, base + 18.0),
            (PIVOT + 11.0, base + 18.0),
        ],
        AXIS,
    );
    pen.circle(
        (PIVOT, base),
        4.5,
        Some((Colour(255, 255, 255), 1.0)),
        Stroke::solid(INK, 1.6),
    );
}

/// An arrow; one too short for its head is all head.
fn arrow(pen: &mut Pen, from: Spot, to: Spot, colour: Colour) {
    let length = crate::sheet::boxes::distance(from, to).max(f64::MIN_POSITIVE);
    let head = 9.0_f64.min(length);
    let along = ((to.0 - from.0) / length, (to.1 - from.1) / length);
    let neck = (to.0 - along.0 * head, to.1 - along.1 * head);
    let half = head * 0.5;
    pen.line(from, neck, Stroke::solid(colour, 2.6));
    pen.polygon(
        &[
            to,
            (neck.0 - along.1 * half, neck.1 + along.0 * half),
            (neck.0 + along.1 * half, neck.1 - along.0 * half),
        ],
        colour,
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::text_walker::Picture;

    fn picture(ratio: f64) -> LeverPicture {
        let end = |name: &str| LeverEnd {
            travel: format!("moves 0.6048 mm ({name})"),
            force: format!("pushes 1234.5 N ({name})"),
            work: "0.6048 mm x 1234.5 N / 2 = 373.3 N mm".to_owned(),
        };
        LeverPicture {
            title: "Why the wheel rate goes with the square of the motion ratio".into(),
            subtitle: "Bench rig, at ride height".into(),
            ratio,
            spring: end("spring"),
            wheel: end("wheel"),
            balance: "Balance about the pivot: 0.6048 N x 0.6048 = 0.3658 N x 1".into(),
            result: vec!["Stiffness at the wheel: 1.000 N/mm x 0.6048 x 0.6048 = 0.3658 N/mm".into()],
        }
    }

    #[test]
    fn texts_keep_apart_at_every_ratio() {
        for ratio in [0.1, 0.3, 0.6, 0.85, 0.99, 1.0, 1.01, 1.5, 2.5] {
            Picture::read(&picture(ratio).svg().unwrap()).check_legible();
        }
    }

    #[test]
    fn a_ratio_without_room_is_refused() {
        for ratio in [0.0, -0.5, 0.05, 3.0, f64::NAN] {
            assert!(picture(ratio).svg().is_err(), "{ratio}");
        }
    }
}
