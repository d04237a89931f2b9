//! Is the carrier held? If not, what motion is left free, in words.

use super::{LEVER_MM, Linkage};
use crate::Sentence;
use crate::pickups::Point;
use crate::pose::{Pose, Twist};
use nalgebra::{DMatrix, Vector3};
use std::fmt;

/// A linkage that does not hold its carrier.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum LinkageError {
    /// Some motion is left free although the wheels are held at their heights.
    HeldTooLittle {
        /// What is not held.
        carrier: &'static str,
        /// The free motion in words.
        motion: String,
        /// A point of the line that the motion turns about (mm); none where it shifts.
        through: Option<Point>,
        /// What would hold it.
        advice: String,
    },
    /// The pickups are exactly at the end of the linkage's travel.
    Singular,
}

impl LinkageError {
    /// What is wrong and what to do, with numbers that take the reader's units.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        match self {
            Self::HeldTooLittle {
                carrier,
                motion,
                through,
                advice,
            } => {
                let start = Sentence::new(format!("nothing holds the {carrier}: it is free to {motion}"));
                let start = match through {
                    Some(point) => start
                        .words(" through x = ")
                        .length(point.x)
                        .words(", y = ")
                        .length(point.y)
                        .words(", z = ")
                        .length(point.z),
                    None => start,
                };
                start.words(format!(". {advice}"))
            }
            Self::Singular => Sentence::new(
                "as measured, the linkage stands exactly at its dead point: no travel can be computed from there; \
                 measure the pickups at another height",
            ),
        }
    }
}

impl fmt::Display for LinkageError {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.sentence().fmt(formatter)
    }
}

impl std::error::Error for LinkageError {}

/// A direction that the constraints resist with less than this share of the strongest counts as free: at one part
/// in ten million a millimetre of measuring error would move the carrier by kilometres.
const FREE: f64 = 1e-7;

/// Both wheels' heights hold two of the six freedoms of an axle; each link holds one more.
const LEAST_LINKS: usize = 4;

/// Checks that rods and drives hold all six freedoms at the pickups.
pub(super) fn held(linkage: &Linkage) -> Result<(), LinkageError> {
    let start = Pose::as_measured();
    let mut rows: Vec<[f64; 6]> = vec![[0.0, 0.0, 1.0, 0.0, 0.0, 0.0]];
    if let Some(arm) = &linkage.half_axle {
        let size = arm.norm();
        rows.push([0.0, 0.0, 0.0, arm.y / size, -arm.x / size, 0.0]);
    }
    for rod in &linkage.rods {
        let placed = rod.place(&start, 0.0);
        let along = placed.span / rod.length;
        let moment = placed.arm.cross(&along) / LEVER_MM;
        rows.push([along.x, along.y, along.z, moment.x, moment.y, moment.z]);
    }
    // Padding to six rows keeps the decomposition square where rods are missing.
    let height = rows.len().max(6);
    let matrix = DMatrix::from_fn(height, 6, |row, column| {
        rows.get(row)
            .and_then(|values| values.get(column))
            .copied()
            .unwrap_or(0.0)
    });
    let decomposed = matrix.svd(false, true);
    let strongest = decomposed.singular_values.max();
    let Some(directions) = decomposed.v_t else {
        return Ok(());
    };
    let weakest = decomposed.singular_values.imin();
    if decomposed.singular_values[weakest] > FREE * strongest {
        return Ok(());
    }
    let free: Vec<f64> = directions.row(weakest).iter().copied().collect();
    let mut twist = Twist::from_parts(&free);
    twist.angular /= LEVER_MM;
    let carrier = if linkage.half_axle.is_some() {
        "axle"
    } else {
        "upright"
    };
    Err(LinkageError::HeldTooLittle {
        carrier,
        motion: words(&twist),
        through: (!shifts_more_than_turns(&twist)).then(|| {
            let axis = twist.angular / twist.angular.norm_squared();
            linkage.origin + axis.cross(&twist.linear)
        }),
        advice: advice(linkage, &twist, linkage.rods.len()),
    })
}

fn shifts_more_than_turns(twist: &Twist) -> bool {
    twist.linear.norm() > twist.angular.norm() * LEVER_MM
}

/// The main direction of a vector in a person's words.
fn direction(vector: &Vector3<f64>) -> &'static str {
    match vector.iamax() {
        0 => "fore and aft",
        1 => "sideways",
        _ => "up and down",
    }
}

fn words(twist: &Twist) -> String {
    if shifts_more_than_turns(twist) {
        return format!("move {}", direction(&twist.linear));
    }
    let about = match twist.angular.iamax() {
        0 => "a fore-and-aft line",
        1 => "a crosswise line (wind up)",
        _ => "an upright line (steer)",
    };
    format!("turn about {about}")
}

fn advice(linkage: &Linkage, twist: &Twist, rods: usize) -> String {
    if linkage.half_axle.is_none() {
        return "Check the pickups of the arms and the tie rod: two of them lie in one line or plane".into();
    }
    let count = match rods {
        1 => "Its 1 link cannot hold it".to_owned(),
        few if few < LEAST_LINKS => {
            format!("It has {few} links, and no fewer than {LEAST_LINKS} hold an axle")
        }
        enough => format!("Its {enough} links are enough in number, but none of them stops this"),
    };
    let cure = if shifts_more_than_turns(twist) {
        match twist.linear.iamax() {
            1 => "add a panhard rod or splay the upper links",
            0 => "add links that run fore and aft",
            _ => "check the heights of the link pickups",
        }
    } else {
        match twist.angular.iamax() {
            1 => "add an upper link that stands off the lower ones",
            2 => "spread the links apart across the car",
            _ => "check the link pickups",
        }
    };
    format!("{count}: {cure}")
}
