//! The quantities of the trade, each read from one position of the wheel.
//!
//! Every formula is written once for any number type: with plain numbers it gives the value, with dual numbers its
//! exact rate as well. Angles are radians, lengths millimetres; signs are those of
//! [`conventions`](crate::conventions).

mod axle_attitude;
mod axle_curve;
mod axle_readings;
mod axle_spring;
mod camber;
mod corner_curve;
mod corner_readings;
mod instant_centre;
mod lever_rule;
mod motion_ratio;
mod quantity;
mod ratio_conventions;
mod roll_centre;
mod side_view_slope;
mod steering_axis;
mod toe;
mod wheel_rate;
mod with_rates;

pub use axle_attitude::{axle_roll, axle_steer, pinion_nose_up_change};
pub use axle_curve::AxleCurve;
pub(crate) use axle_curve::mounted_length;
pub use axle_readings::AxleReadings;
pub use axle_spring::AxleSpring;
pub use camber::camber;
pub use corner_curve::CornerCurve;
pub use corner_readings::CornerReadings;
pub use instant_centre::{front_view_instant_centre, side_view_instant_centre};
pub use lever_rule::LeverRule;
pub use motion_ratio::motion_ratio;
pub use quantity::CurveInfo;
pub use ratio_conventions::RatioConventions;
pub use roll_centre::{roll_centre_of_axle, roll_centre_of_pair};
pub use side_view_slope::side_view_slope;
pub use steering_axis::{caster, caster_trail, kingpin_inclination, scrub_radius};
pub use toe::toe;
pub use wheel_rate::{WheelRate, wheel_rate};
pub use with_rates::{ValueAndRate, ValueAndRates};
