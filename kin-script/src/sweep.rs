//! A sweep as a script or a command asks for it: positions along one or two variables, read by name.

use crate::host::ScriptError;
use crate::model::{Model, Suspension};
use crate::readings::Reading;
use crate::table::{Cell, Column, Table};
use crate::units::Measure;
use crate::vocabulary::core_error;
use kin_core::Dimension;
use kin_core::{Along, Axle, AxleAlong, AxlePosition, AxleTravel, Corner, CornerPosition, Error};
use std::sync::Arc;

/// What a sweep varies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Variable {
    /// Wheel travel (both wheels of an axle) from the pickups as measured.
    Travel,
    /// Wheel travel (both wheels of an axle) from ride height: bump positive, droop negative.
    Bump,
    /// Rack displacement.
    Rack,
    /// Roll of an axle relative to the body.
    Roll,
    /// Travel of the left wheel of an axle.
    TravelLeft,
    /// Travel of the right wheel of an axle.
    TravelRight,
}

impl Variable {
    /// Its name in scripts and columns.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Travel => "travel",
            Self::Bump => "bump",
            Self::Rack => "rack",
            Self::Roll => "roll",
            Self::TravelLeft => "travel_left",
            Self::TravelRight => "travel_right",
        }
    }

    /// Its name on axes, and what its low and high values mean.
    #[must_use]
    pub const fn words(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Travel => ("Wheel travel", "droop", "bump"),
            Self::Bump => ("Wheel travel from ride height", "droop", "bump"),
            Self::Rack => ("Rack displacement", "to the right", "to the left"),
            Self::Roll => ("Roll of the axle", "left wheel down", "left wheel up"),
            Self::TravelLeft => ("Travel of the left wheel", "droop", "bump"),
            Self::TravelRight => ("Travel of the right wheel", "droop", "bump"),
        }
    }

    /// What its numbers are.
    #[must_use]
    pub const fn measure(self) -> Measure {
        let dimension = if matches!(self, Self::Roll) {
            Dimension::Angle
        } else {
            Dimension::Length
        };
        Measure {
            dimension,
            per_travel: false,
        }
    }
}

/// One variable with its values, in core units (mm, rad).
pub type Values = (Variable, Vec<f64>);

/// A model swept along one or two variables.
#[derive(Debug, Clone)]
pub struct Sweep {
    /// The model.
    pub model: Arc<Model>,
    /// The model in millimetres.
    pub suspension: Arc<Suspension>,
    /// What is varied: one variable, or two for a grid.
    pub varied: Vec<Variable>,
    /// The values of the varied variables, row by row, in core units.
    pub places: Vec<Vec<f64>>,
    stops: Stops,
}

/// Where the suspension stands at each row.
#[derive(Debug, Clone)]
enum Stops {
    Corner(Vec<(f64, f64)>),
    Axle(Vec<AxleTravel>),
}

impl Sweep {
    /// Moves a suspension through every combination of the given values.
    ///
    /// * `asked`: variables with their values in core units; those with more than one value are the varied ones
    ///
    /// # Errors
    /// Variables that do not go together or with the layout, and positions out of reach.
    pub fn new(
        model: Arc<Model>,
        suspension: Arc<Suspension>,
        asked: &[Values],
    ) -> Result<Self, ScriptError> {
        let varied: Vec<Variable> = asked
            .iter()
            .filter(|(_, values)| values.len() != 1)
            .map(|(variable, _)| *variable)
            .collect();
        if varied.len() > 2 {
            return Err(ScriptError::new("a sweep varies one or two things at a time")
                .with_help("give one number instead of a list for the others"));
        }
        if let Some((variable, _)) = asked.iter().find(|(_, values)| values.is_empty()) {
            return Err(
                ScriptError::new(format!("the list for `{}` is empty", variable.key()))
                    .with_key(variable.key()),
            );
        }
        goes_together(&suspension, asked.iter().map(|(variable, _)| *variable))?;
        let rows = combinations(asked);
        let value = |row: &[f64], wanted: Variable| {
            asked
                .iter()
                .zip(row)
                .find(|((variable, _), _)| *variable == wanted)
                .map(|(_, value)| *value)
        };
        let failed = |error: Error| core_error(&error, &model.units);
        let stops = match &*suspension {
            Suspension::Corner(corner) => {
                let ride = corner.ride_travel().map_err(failed)?;
                let stops = rows.iter().map(|row| {
                    let bump = value(row, Variable::Bump).map(|bump| ride + bump);
                    let travel = bump.or(value(row, Variable::Travel)).unwrap_or(0.0);
                    (travel, value(row, Variable::Rack).unwrap_or(0.0))
                });
                Stops::Corner(stops.collect())
            }
            Suspension::Axle(axle) => {
                use Variable::{Bump, Roll, Travel, TravelLeft, TravelRight};
                let ride = axle.ride_travel().map_err(failed)?;
                let stops = rows.iter().map(|row| {
                    let bump = value(row, Bump).map(|bump| ride + bump);
                    let heave = bump.or(value(row, Travel)).unwrap_or(0.0);
                    match (value(row, TravelLeft), value(row, TravelRight)) {
                        (None, None) => {
                            let roll = value(row, Roll).unwrap_or(0.0);
                            AxleTravel::from_heave(heave, axle.half_difference_for_roll(roll))
                        }
                        (left, right) => AxleTravel {
                            left: left.unwrap_or(0.0),
                            right: right.unwrap_or(0.0),
                        },
                    }
                });
                Stops::Axle(stops.collect())
            }
        };
        let keep: Vec<usize> = (0..asked.len())
            .filter(|&place| varied.contains(&asked[place].0))
            .collect();
        let places = rows
            .iter()
            .map(|row| keep.iter().map(|&place| row[place]).collect())
            .collect();
        let sweep = Self {
            model,
            suspension,
            varied,
            places,
            stops,
        };
        // Out of reach is said here, where the sweep is asked for, and not at the first look at it.
        sweep.evaluate(|_| (), |_| ())?;
        Ok(sweep)
    }

    /// The reading of this name along the sweep.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn reading(&self, name: &str) -> Result<Reading, ScriptError> {
        match &*self.suspension {
            Suspension::Corner(_) => {
                let steering = self.varied == [Variable::Rack];
                Reading::of_corner(name, if steering { Along::Rack } else { Along::Travel })
            }
            Suspension::Axle(_) => {
                let rolling = self.varied == [Variable::Roll];
                Reading::of_axle(
                    name,
                    if rolling {
                        AxleAlong::Roll
                    } else {
                        AxleAlong::Heave
                    },
                )
            }
        }
    }

    /// A reading at every row, in the reader's units; none where it does not exist.
    ///
    /// # Errors
    /// Positions that cannot be reached.
    pub fn values(&self, reading: Reading) -> Result<Vec<Option<f64>>, ScriptError> {
        let units = self.model.units;
        let values = self.evaluate(|corner| reading.at_corner(corner), |axle| reading.at_axle(axle))?;
        let shown = |value: f64| units.from_core(value, reading.measure());
        Ok(values.into_iter().map(|value| value.map(shown)).collect())
    }

    /// The values of a varied variable at every row, in the reader's units.
    #[must_use]
    pub fn variable_values(&self, place: usize) -> Vec<f64> {
        let Some(variable) = self.varied.get(place) else {
            return Vec::new();
        };
        let shown = |row: &Vec<f64>| {
            row.get(place).map_or(f64::NAN, |value| {
                self.model.units.from_core(*value, variable.measure())
            })
        };
        self.places.iter().map(shown).collect()
    }

    /// A table: the varied variables, then the readings of these names.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn table(&self, names: &[String]) -> Result<Table, ScriptError> {
        let units = self.model.units;
        let mut columns = Vec::with_capacity(self.varied.len() + names.len());
        for (place, variable) in self.varied.iter().enumerate() {
            let cells = self
                .variable_values(place)
                .into_iter()
                .map(Cell::Number)
                .collect();
            let name = format!("{}{}", variable.key(), units.suffix(variable.measure()));
            columns.push(Column {
                name,
                decimals: 2,
                cells,
            });
        }
        for name in names {
            let reading = self.reading(name)?;
            let measure = reading.measure();
            let cells = self.values(reading)?.into_iter().map(Cell::from).collect();
            let name = format!("{}{}", reading.name(), units.suffix(measure));
            columns.push(Column {
                name,
                decimals: decimals(measure),
                cells,
            });
        }
        Ok(Table { columns })
    }

    /// Looks at every row's position.
    fn evaluate<T: Clone + Send>(
        &self,
        of_corner: impl Fn(&CornerPosition<'_>) -> T + Sync,
        of_axle: impl Fn(&AxlePosition<'_>) -> T + Sync,
    ) -> Result<Vec<T>, ScriptError> {
        let failed = |error: kin_core::PoseError| core_error(&error.into(), &self.model.units);
        match (&*self.suspension, &self.stops) {
            (Suspension::Corner(corner), Stops::Corner(stops)) => Ok(corner_positions(corner, stops)
                .map_err(failed)?
                .iter()
                .map(of_corner)
                .collect()),
            (Suspension::Axle(axle), Stops::Axle(stops)) => Ok(axle_positions(axle, stops)
                .map_err(failed)?
                .iter()
                .map(of_axle)
                .collect()),
            _ => Ok(Vec::new()),
        }
    }
}

fn corner_positions<'a>(
    corner: &'a Corner,
    stops: &[(f64, f64)],
) -> Result<Vec<CornerPosition<'a>>, kin_core::PoseError> {
    let (travels, racks): (Vec<f64>, Vec<f64>) = stops.iter().copied().unzip();
    match racks.first() {
        Some(&rack) if racks.iter().all(|other| *other == rack) => corner.sweep_travel(&travels, rack),
        _ => stops
            .iter()
            .map(|&(travel, rack)| corner.at(travel, rack))
            .collect(),
    }
}

fn axle_positions<'a>(
    axle: &'a Axle,
    stops: &[AxleTravel],
) -> Result<Vec<AxlePosition<'a>>, kin_core::PoseError> {
    if stops.iter().all(|stop| stop.left == stop.right) {
        let travels: Vec<f64> = stops.iter().map(|stop| stop.left).collect();
        return axle.sweep_heave(&travels);
    }
    axle.sweep(stops)
}

/// Every combination of the values, the first variable running slowest.
fn combinations(asked: &[Values]) -> Vec<Vec<f64>> {
    let mut rows = vec![Vec::new()];
    for (_, values) in asked {
        rows = rows
            .iter()
            .flat_map(|row: &Vec<f64>| {
                values.iter().map(move |value| {
                    let mut longer = row.clone();
                    longer.push(*value);
                    longer
                })
            })
            .collect();
    }
    rows
}

/// Whether these variables go with the layout and with one another.
///
/// # Errors
/// The first that does not, with those that would.
pub fn goes_together(
    suspension: &Suspension,
    variables: impl Iterator<Item = Variable>,
) -> Result<(), ScriptError> {
    use Variable::{Bump, Rack, Roll, Travel, TravelLeft, TravelRight};
    let (known, layout): (&[Variable], _) = match suspension {
        Suspension::Corner(_) => (&[Travel, Bump, Rack], "a corner"),
        Suspension::Axle(_) => (&[Travel, Bump, Roll, TravelLeft, TravelRight], "a live axle"),
    };
    let variables: Vec<Variable> = variables.collect();
    for variable in &variables {
        if !known.contains(variable) {
            let names: Vec<String> = known.iter().map(|known| format!("`{}`", known.key())).collect();
            return Err(
                ScriptError::new(format!("{layout} is not moved along `{}`", variable.key()))
                    .with_help(format!("it is moved along {}", names.join(", ")))
                    .with_key(variable.key()),
            );
        }
    }
    for (first, second) in [
        (Travel, Bump),
        (Travel, TravelLeft),
        (Travel, TravelRight),
        (Bump, TravelLeft),
        (Bump, TravelRight),
        (Roll, TravelLeft),
        (Roll, TravelRight),
    ] {
        if variables.contains(&first) && variables.contains(&second) {
            return Err(ScriptError::new(format!(
                "`{}` and `{}` say the same thing twice",
                first.key(),
                second.key()
            ))
            .with_help("give one of them")
            .with_key(second.key()));
        }
    }
    Ok(())
}

/// Decimals that a reading is worth in text.
fn decimals(measure: Measure) -> usize {
    match (measure.dimension, measure.per_travel) {
        (Dimension::Length, false) => 2,
        (Dimension::Angle | Dimension::Rate, false) => 3,
        (Dimension::Ratio, false) | (Dimension::Length, true) => 4,
        (_, true) => 5,
        (_, false) => 3,
    }
}
