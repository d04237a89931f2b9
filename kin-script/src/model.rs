//! A suspension as described in a file or a script: its title, its units, and its pickups in those units.

mod file;
mod pickups_table;
mod read;

pub(crate) use file::to_value;
pub use file::{ModelFile, ModelFormat};
pub use read::from_map;

use crate::units::{Measure, Units};
use kin_core::pickups::{DoubleWishbone, LiveAxle, Measured, Quantity};
use kin_core::{Axle, Corner, Dimension, Error, Reach};

/// A description with its units. Numbers stay as they were written; the core gets millimetres from
/// [`Model::suspension`].
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// What it is called on sheets and pictures.
    pub title: String,
    /// Where the numbers come from, in the user's words.
    pub provenance: Option<String>,
    /// The units of every number.
    pub units: Units,
    /// The pickups.
    pub body: Body,
}

/// The two layouts.
#[derive(Debug, Clone, PartialEq)]
#[allow(clippy::large_enum_variant, reason = "a handful exist at a time")]
pub enum Body {
    /// A corner with double wishbones, and the other corner where it is given apart.
    DoubleWishbone {
        /// The corner described.
        corner: DoubleWishbone,
        /// The right corner, when it is not the mirror image of the left one.
        right: Option<DoubleWishbone>,
    },
    /// A live axle on links.
    LiveAxle(LiveAxle),
}

/// A suspension in millimetres, ready to be moved.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant, reason = "a handful exist at a time")]
pub enum Suspension {
    /// A corner.
    Corner(Corner),
    /// An axle.
    Axle(Axle),
}

impl Suspension {
    /// Ride height as wheel travel from the pickups as measured (mm).
    ///
    /// # Errors
    /// A ride height that the damper never has.
    pub fn ride_travel(&self) -> Result<f64, Error> {
        match self {
            Self::Corner(corner) => corner.ride_travel(),
            Self::Axle(axle) => axle.ride_travel(),
        }
    }

    /// Where the linkage itself ends (mm of travel from the pickups as measured).
    #[must_use]
    pub fn reach(&self) -> Reach {
        match self {
            Self::Corner(corner) => corner.reach(),
            Self::Axle(axle) => axle.reach(),
        }
    }
}

impl Model {
    /// The suspension in millimetres, validated.
    ///
    /// # Errors
    /// Pickups that cannot be right, or that do not hold the wheel.
    pub fn suspension(&self) -> Result<Suspension, Error> {
        match &self.body {
            Body::DoubleWishbone { corner, .. } => Ok(Suspension::Corner(Corner::new(&in_core_units(
                corner,
                &self.units,
            ))?)),
            Body::LiveAxle(axle) => Ok(Suspension::Axle(Axle::new(&in_core_units(axle, &self.units))?)),
        }
    }

    /// The corner on the right: the one given apart, or the mirror image. None for an axle.
    #[must_use]
    pub fn right_corner(&self) -> Option<Self> {
        let Body::DoubleWishbone { corner, right } = &self.body else {
            return None;
        };
        let other = right.clone().unwrap_or_else(|| corner.mirrored());
        Some(Self {
            title: format!("{}, right", self.title),
            body: Body::DoubleWishbone {
                corner: other,
                right: None,
            },
            ..self.clone()
        })
    }

    /// The name of the layout in files.
    #[must_use]
    pub const fn layout(&self) -> &'static str {
        match self.body {
            Body::DoubleWishbone { .. } => "double_wishbone",
            Body::LiveAxle(_) => "live_axle",
        }
    }
}

/// The same description in the core's units: millimetres, newtons, kilograms.
pub(crate) fn in_core_units<T: Measured + Clone>(described: &T, units: &Units) -> T {
    converted(described, |number, size| *number *= size, units)
}

/// A description in the core's units, in the user's units.
pub(crate) fn in_user_units<T: Measured + Clone>(described: &T, units: &Units) -> T {
    converted(described, |number, size| *number /= size, units)
}

/// A copy with each number changed by the size of its unit in core units.
fn converted<T: Measured + Clone>(described: &T, change: fn(&mut f64, f64), units: &Units) -> T {
    let mut converted = described.clone();
    converted.visit(&mut |number, quantity| {
        if let Some(dimension) = dimension_of(quantity) {
            change(number, units.core_units(dimension));
        }
    });
    converted
}

/// The symbol of the unit that a number of a description is written in.
pub(crate) fn symbol_of(quantity: Quantity, units: &Units) -> String {
    let symbol = |dimension| {
        units.symbol(Measure {
            dimension,
            per_travel: false,
        })
    };
    match (quantity, dimension_of(quantity)) {
        (Quantity::TorsionalRate, Some(torque)) => format!("{} per deg", symbol(torque)),
        (_, Some(dimension)) => symbol(dimension),
        (_, None) => "deg".to_owned(),
    }
}

/// The dimension that decides a number's unit; none for angles: descriptions hold degrees, whatever the unit of length.
fn dimension_of(quantity: Quantity) -> Option<Dimension> {
    Some(match quantity {
        Quantity::Length => Dimension::Length,
        Quantity::Rate => Dimension::Rate,
        Quantity::Force => Dimension::Force,
        Quantity::Mass => Dimension::Mass,
        Quantity::Torque | Quantity::TorsionalRate => Dimension::Torque,
        Quantity::Stress => Dimension::Stress,
        Quantity::Speed => Dimension::Speed,
        Quantity::Angle => return None,
    })
}
