//! A position in a script: every curve, rate and place by name.

use super::core_error;
use super::described::ScriptModel;
use crate::host::ScriptError;
use crate::model::{Model, Suspension};
use crate::readings::Reading;
use crate::units::{Measure, Units};
use kin_core::Dimension;
use kin_core::curves::{AxleCurve, CornerCurve, WheelRate};
use kin_core::pickups::Point;
use kin_core::{Along, AxleAlong, AxlePosition, AxleTravel, CornerPosition};
use rhai::{Dynamic, EvalAltResult, Map};
use std::sync::Arc;

/// A suspension at one position.
#[derive(Clone)]
pub(super) struct Gauge {
    model: Arc<Model>,
    suspension: Arc<Suspension>,
    place: Place,
}

#[derive(Clone, Copy)]
enum Place {
    Corner { travel: f64, rack: f64 },
    Axle(AxleTravel),
}

/// Where a position is asked for (mm, rad).
#[derive(Default)]
pub(super) struct Asked {
    pub(super) travel: Option<f64>,
    pub(super) bump: Option<f64>,
    pub(super) rack: Option<f64>,
    pub(super) roll: Option<f64>,
    pub(super) travel_left: Option<f64>,
    pub(super) travel_right: Option<f64>,
}

impl Gauge {
    pub(super) fn new(model: &ScriptModel, asked: &Asked) -> Result<Self, ScriptError> {
        let suspension = model.suspension()?;
        let units = model.model.units;
        let heave = match asked.bump {
            Some(bump) => model.ride_travel()? + bump,
            None => asked.travel.unwrap_or(0.0),
        };
        let place = match &*suspension {
            Suspension::Corner(corner) => {
                let rack = asked.rack.unwrap_or(0.0);
                corner
                    .at(heave, rack)
                    .map_err(|error| core_error(&error.into(), &units))?;
                Place::Corner { travel: heave, rack }
            }
            Suspension::Axle(axle) => {
                let travel = if asked.travel_left.is_some() || asked.travel_right.is_some() {
                    AxleTravel {
                        left: asked.travel_left.unwrap_or(0.0),
                        right: asked.travel_right.unwrap_or(0.0),
                    }
                } else {
                    let roll = asked.roll.unwrap_or(0.0);
                    AxleTravel::from_heave(heave, axle.half_difference_for_roll(roll))
                };
                axle.at(travel)
                    .map_err(|error| core_error(&error.into(), &units))?;
                Place::Axle(travel)
            }
        };
        Ok(Self {
            model: Arc::clone(&model.model),
            suspension,
            place,
        })
    }

    /// What `corner` or `axle` reads from this position, in core units.
    pub(super) fn read<T>(
        &self,
        corner: impl FnOnce(&CornerPosition<'_>) -> Option<T>,
        axle: impl FnOnce(&AxlePosition<'_>) -> Option<T>,
    ) -> Result<Option<T>, ScriptError> {
        let failed = |error: kin_core::PoseError| core_error(&error.into(), &self.model.units);
        Ok(match (&*self.suspension, self.place) {
            (Suspension::Corner(found), Place::Corner { travel, rack }) => {
                corner(&found.at(travel, rack).map_err(failed)?)
            }
            (Suspension::Axle(found), Place::Axle(travel)) => axle(&found.at(travel).map_err(failed)?),
            _ => None,
        })
    }

    /// The model at this position.
    pub(super) fn model(&self) -> &Model {
        &self.model
    }

    /// Where it is, counted from ride height, such as `at 20.0 mm of bump`.
    pub(super) fn place_text(&self) -> Result<String, ScriptError> {
        let ride = self.suspension.ride_travel();
        let ride = ride.map_err(|error| core_error(&error, &self.model.units))?;
        let of = |travel: f64| {
            let shown = self.model.units.length.text((travel - ride).abs());
            // Far below what a drawing can show.
            if (travel - ride).abs() < 1e-6 {
                "at ride height".to_owned()
            } else if travel > ride {
                format!("at {shown} of bump")
            } else {
                format!("at {shown} of droop")
            }
        };
        Ok(match self.place {
            Place::Corner { travel, rack: 0.0 } => of(travel),
            Place::Corner { travel, .. } => format!("{}, steered", of(travel)),
            Place::Axle(travel) if travel.left == travel.right => of(travel.left),
            Place::Axle(travel) => {
                format!("left wheel {}, right wheel {}", of(travel.left), of(travel.right))
            }
        })
    }

    /// The value of a name, in the reader's units; `()` where it does not exist.
    pub(super) fn get(&mut self, name: &str) -> Result<Dynamic, Box<EvalAltResult>> {
        let units = self.model.units;
        match (&*self.suspension, self.place) {
            (Suspension::Corner(corner), Place::Corner { travel, rack }) => {
                let position = corner
                    .at(travel, rack)
                    .map_err(|error| core_error(&error.into(), &units))?;
                if let Some(found) = of_corner(name, &position, &units) {
                    return Ok(found);
                }
                let reading = Reading::of_corner(name, Along::Travel)?;
                Ok(number(reading.at_corner(&position), reading.measure(), &units))
            }
            (Suspension::Axle(axle), Place::Axle(travel)) => {
                let position = axle
                    .at(travel)
                    .map_err(|error| core_error(&error.into(), &units))?;
                if let Some(found) = of_axle(name, &position, &units) {
                    return Ok(found);
                }
                let reading = Reading::of_axle(name, AxleAlong::Heave)?;
                Ok(number(reading.at_axle(&position), reading.measure(), &units))
            }
            _ => Ok(Dynamic::UNIT),
        }
    }
}

fn number(value: Option<f64>, measure: Measure, units: &Units) -> Dynamic {
    value.map_or(Dynamic::UNIT, |value| units.from_core(value, measure).into())
}

fn point(place: Point, units: &Units) -> Dynamic {
    place
        .iter()
        .map(|value| Dynamic::from(units.from_core(*value, Measure::LENGTH)))
        .collect::<rhai::Array>()
        .into()
}

fn rate(part: Option<f64>, units: &Units) -> Dynamic {
    number(
        part,
        Measure {
            dimension: Dimension::Rate,
            per_travel: false,
        },
        units,
    )
}

/// The two parts of a wheel rate, by the end of the name.
fn wheel_rate_part(name: &str, rate_here: Option<WheelRate>, units: &Units) -> Dynamic {
    if name.ends_with("_from_spring") {
        rate(rate_here.map(|rate| rate.from_spring), units)
    } else {
        rate(rate_here.and_then(|rate| rate.geometric), units)
    }
}

/// Places and parts of a corner that are no curves.
fn of_corner(name: &str, position: &CornerPosition<'_>, units: &Units) -> Option<Dynamic> {
    let place = match name {
        "upper_ball_joint" => position.upper_ball_joint(),
        "lower_ball_joint" => position.lower_ball_joint(),
        "tie_rod_inner" => position.tie_rod_inner(),
        "tie_rod_outer" => position.tie_rod_outer(),
        "wheel_centre" => position.wheel_centre(),
        "contact_point" => position.contact_point(),
        "damper_lower_mount" => position.damper_ends()?.1,
        "wheel_rate_from_spring" | "wheel_rate_geometric" => {
            return Some(wheel_rate_part(
                name,
                CornerCurve::WheelRate.wheel_rate_at(position),
                units,
            ));
        }
        "travel" => return Some(number(Some(position.travel()), Measure::LENGTH, units)),
        "rack" => return Some(number(Some(position.rack()), Measure::LENGTH, units)),
        _ => return None,
    };
    Some(point(place, units))
}

/// Places and parts of an axle that are no curves.
fn of_axle(name: &str, position: &AxlePosition<'_>, units: &Units) -> Option<Dynamic> {
    let place = match name {
        "wheel_centre_left" => position.wheel_centres().0,
        "wheel_centre_right" => position.wheel_centres().1,
        "contact_point_left" => position.contact_points().0,
        "contact_point_right" => position.contact_points().1,
        "damper_lower_mount_left" => position.damper_ends()?[0].1,
        "damper_lower_mount_right" => position.damper_ends()?[1].1,
        "pinion_point" => position.carried(&position.axle().pickups().pinion?.point),
        "travel_left" => return Some(number(Some(position.travel().left), Measure::LENGTH, units)),
        "travel_right" => return Some(number(Some(position.travel().right), Measure::LENGTH, units)),
        "link_stretch" => {
            let stretch = position.link_stretch().into_iter();
            let map: Map = stretch
                .map(|(name, length)| (name.into(), number(Some(length), Measure::LENGTH, units)))
                .collect();
            return Some(map.into());
        }
        _ => return axle_wheel_rate_part(name, position, units),
    };
    Some(point(place, units))
}

fn axle_wheel_rate_part(name: &str, position: &AxlePosition<'_>, units: &Units) -> Option<Dynamic> {
    let curve = name
        .strip_suffix("_from_spring")
        .or_else(|| name.strip_suffix("_geometric"))?;
    let curve = AxleCurve::from_key(curve).filter(|curve| curve.info().dimension == Dimension::Rate)?;
    Some(wheel_rate_part(name, curve.wheel_rate_at(position), units))
}
