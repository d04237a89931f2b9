//! Does the damper's stroke hold the wheel's travel?

mod allowed;
mod answer;
mod axle;
mod budget;
mod budget_alone;
mod check;
mod corner;
mod crossed_wheels;
mod finding;
mod fitting;
mod misfit;
mod question;
mod stopper;
mod stops;
mod travel;

pub use answer::{DamperStroke, MockUp};
pub use axle::check_axle_stroke;
pub use budget::{DamperLengths, TravelBudget};
pub(crate) use budget_alone::{
    StrokePlace, axle_budget, axle_travel_near, corner_budget, corner_travel_near,
};
pub use corner::check_corner_stroke;
pub use question::StrokeQuestion;
pub use stopper::Stopper;
