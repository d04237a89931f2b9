//! How far a spherical bearing can swing, from the sizes of its ball, its housing and what stands beside the ball.

use crate::pickups::{Measured, PickupError, Quantity, length_within, positive_of};
use crate::{Dimension, Sentence};
use serde::{Deserialize, Serialize};

/// A spherical bearing or rod end, with the spacers that hold it in its bracket (mm).
///
/// The housing is a ring of width `housing_width` around a ball of `ball_width` across its flat faces. Without spacers
/// the bracket's cheeks lie against those faces. Sizes are diameters and full widths, as catalogues give them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SphericalBearing {
    /// Diameter of the ball.
    pub ball_diameter: f64,
    /// Width of the ball across its flat faces.
    pub ball_width: f64,
    /// Width of the housing, or of the race in it, where it holds the ball.
    pub housing_width: f64,
    /// Outside diameter of the housing or head; needed only to see whether it meets the bracket.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub housing_diameter: Option<f64>,
    /// Chamfer of the housing's outer edges, at 45 degrees.
    #[serde(default)]
    pub housing_chamfer: f64,
    /// Diameter of the spacer, or of the bare pin, where it leaves the ball; absent for cheeks right against the ball.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spacer_diameter: Option<f64>,
    /// Length of the spacer between ball and bracket on either side.
    #[serde(default)]
    pub spacer_length: f64,
}

impl Measured for SphericalBearing {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        for length in [
            &mut self.ball_diameter,
            &mut self.ball_width,
            &mut self.housing_width,
            &mut self.housing_chamfer,
            &mut self.spacer_length,
        ] {
            visitor(length, Quantity::Length);
        }
        for length in [&mut self.housing_diameter, &mut self.spacer_diameter]
            .into_iter()
            .flatten()
        {
            visitor(length, Quantity::Length);
        }
    }
}

impl SphericalBearing {
    /// The swing either way from square at which the housing first touches something (rad).
    ///
    /// Seen in the plane of the swing, a point of the housing goes round the ball's centre on a circle. The edge of its
    /// bore starts at `asin(H/E)` from the ball's equator and is stopped by a flat shoulder at the ball's face, at
    /// `asin(W/E)`, or, past that face, by the spacer or bare pin of diameter S, at `acos(S/E)`. The corners of its head
    /// are stopped by the bracket, which stands at the end of the spacers: with A the diagonal through a corner,
    /// `asin(T/A) - asin(h/A)`. The least of these rules.
    ///
    /// W ball width, H housing width, E ball diameter, T distance between the bracket's cheeks, h height of the corner
    /// (times two). Formulas for shoulder, chamfered head and bare pin as in a published catalogue of spherical bearings,
    /// which prints asin for the pin where the geometry has acos.
    ///
    /// # Errors
    /// Sizes that cannot be those of a bearing.
    pub fn swing_limit(&self) -> Result<f64, PickupError> {
        self.validate("bearing")?;
        let (ball, width, housing) = (self.ball_diameter, self.ball_width, self.housing_width);
        let shoulder = (width / ball).asin();
        // A spacer that hides the whole face of the ball is a shoulder; a slimmer one lets the edge pass the face.
        let edge = match self.spacer_diameter {
            Some(spacer) => shoulder.max((spacer / ball).min(1.0).acos()),
            None => shoulder,
        };
        let mut limit = edge - (housing / ball).asin();
        if let Some(diameter) = self.housing_diameter {
            let between_cheeks = width + 2.0 * self.spacer_length;
            let chamfer = self.housing_chamfer;
            for (across, high) in [
                (diameter - 2.0 * chamfer, housing),
                (diameter, housing - 2.0 * chamfer),
            ] {
                let diagonal = across.hypot(high);
                if diagonal > between_cheeks {
                    let swing = (between_cheeks / diagonal).asin() - (high / diagonal).asin();
                    limit = limit.min(swing);
                }
            }
        }
        Ok(limit)
    }

    /// Width of the ball with its spacers (mm).
    #[must_use]
    pub fn stack_width(&self) -> f64 {
        self.ball_width + 2.0 * self.spacer_length
    }

    pub(super) fn validate(&self, field: &str) -> Result<(), PickupError> {
        let named = |name: &str| format!("{field}.{name}");
        positive_of(
            self.ball_diameter,
            Dimension::Length,
            &named("ball_diameter"),
            "give the diameter of the ball",
        )?;
        let ball = self.ball_diameter;
        let narrower = |value: f64, name: &str, advice: &'static str| {
            positive_of(value, Dimension::Length, &named(name), advice)?;
            below(value, ball, &named(name), "ball_diameter", advice)
        };
        narrower(
            self.ball_width,
            "ball_width",
            "give the width across the ball's flat faces",
        )?;
        narrower(
            self.housing_width,
            "housing_width",
            "give the width of the housing or race",
        )?;
        if self.housing_width > self.ball_width {
            return Err(PickupError::QuantityOutOfRange {
                field: named("housing_width"),
                value: self.housing_width,
                dimension: Dimension::Length,
                requirement: Sentence::new("at most `ball_width`, ").given_length(self.ball_width),
                advice: "a housing wider than its ball cannot swing; are the two widths swapped?",
            });
        }
        if let Some(spacer) = self.spacer_diameter {
            let advice = "give the diameter of the spacer or pin where it leaves the ball";
            narrower(spacer, "spacer_diameter", advice)?;
        }
        let lengths = (0.0, 10.0 * ball);
        length_within(
            self.spacer_length,
            &named("spacer_length"),
            lengths,
            "give the length of one spacer, from the ball to the bracket",
        )?;
        let Some(head) = self.housing_diameter else {
            return Ok(());
        };
        let advice = "give the outside diameter of the housing, larger than the ball";
        length_within(head, &named("housing_diameter"), (ball, 10.0 * ball), advice)?;
        length_within(
            self.housing_chamfer,
            &named("housing_chamfer"),
            (0.0, 0.5 * (head - ball).min(self.housing_width)),
            "give the width of the 45 degree chamfer on the housing's outer edges",
        )
    }
}

fn below(value: f64, limit: f64, field: &str, of: &str, advice: &'static str) -> Result<(), PickupError> {
    if value < limit {
        return Ok(());
    }
    Err(PickupError::QuantityOutOfRange {
        field: field.to_owned(),
        value,
        dimension: Dimension::Length,
        requirement: Sentence::new(format!("less than `{of}`, ")).given_length(limit),
        advice,
    })
}
