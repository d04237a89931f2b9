//! Readings as equations between the coordinates of points.

use super::least_squares::Equations;
use super::notebook::Survey;
use super::reading::{Axis, Observed};
use super::{Reading, datum};
use crate::pickups::Point;
use indexmap::IndexSet;
use nalgebra::{DMatrix, DVector, Vector3};

/// Points nearer than this (mm) have no direction between them.
const NO_LENGTH: f64 = 1e-9;

/// What a reading is of, by the numbers of its points.
#[derive(Debug, Clone, Copy)]
pub(super) enum Row {
    Distance(usize, usize),
    Coordinate(usize, Axis, Option<usize>),
    Angle(usize, usize),
    Mirror(usize, usize, Axis),
    Rigid([usize; 2], [usize; 2]),
}

/// A derivative with respect to a point.
pub(super) type Slope = (usize, Vector3<f64>);

/// The readings of a survey as weighted equations.
#[derive(Debug, Clone)]
pub(super) struct Network {
    /// The points' names.
    pub(super) points: IndexSet<String>,
    /// What each reading is of, its number with offset, and its standard deviation.
    pub(super) rows: Vec<(Row, f64, f64)>,
    /// For each coordinate its column among the unknowns; none where it is stated.
    pub(super) columns: Vec<[Option<usize>; 3]>,
    /// Stated coordinates, and zeros elsewhere.
    pub(super) stated: Vec<Point>,
    /// How many unknowns there are.
    pub(super) unknowns: usize,
}

impl Network {
    /// The network of these readings of a survey. Points of the whole survey keep their numbers.
    pub(super) fn new(survey: &Survey, readings: &[&Reading], points: &IndexSet<String>) -> Self {
        let number = |name: &String| points.get_index_of(name).unwrap_or(0);
        let rows = readings.iter().map(|reading| {
            let row = match &reading.observed {
                Observed::Distance { from, to } => Row::Distance(number(from), number(to)),
                Observed::Coordinate { of, axis, from } => {
                    Row::Coordinate(number(of), *axis, from.as_ref().map(number))
                }
                Observed::Angle { from, to } => Row::Angle(number(from), number(to)),
                Observed::Mirror { left, right, axis } => Row::Mirror(number(left), number(right), *axis),
                Observed::Rigid { first, second } => {
                    Row::Rigid(first.each_ref().map(number), second.each_ref().map(number))
                }
            };
            (row, reading.value + reading.offset, survey.deviation(reading))
        });
        let rows = rows.collect();
        let mut columns = vec![[Some(0); 3]; points.len()];
        let mut stated = vec![Point::zeros(); points.len()];
        for fixed in &survey.fixed {
            let point = number(&fixed.point);
            columns[point][fixed.axis.index()] = None;
            stated[point][fixed.axis.index()] = fixed.value;
        }
        let mut unknowns = 0;
        for column in columns.iter_mut().flatten().flatten() {
            *column = unknowns;
            unknowns += 1;
        }
        Self {
            points: points.clone(),
            rows,
            columns,
            stated,
            unknowns,
        }
    }

    /// The unknowns of places.
    pub(super) fn unknowns_of(&self, places: &[Point]) -> DVector<f64> {
        let mut unknowns = DVector::zeros(self.unknowns);
        for (columns, place) in self.columns.iter().zip(places) {
            for (column, coordinate) in columns.iter().zip(place.iter()) {
                if let Some(column) = column {
                    unknowns[*column] = *coordinate;
                }
            }
        }
        unknowns
    }

    /// The places of unknowns, stated coordinates as stated.
    pub(super) fn places_of(&self, unknowns: &DVector<f64>) -> Vec<Point> {
        let mut places = self.stated.clone();
        for (columns, place) in self.columns.iter().zip(&mut places) {
            for (column, coordinate) in columns.iter().zip(place.iter_mut()) {
                if let Some(column) = column {
                    *coordinate = unknowns[*column];
                }
            }
        }
        places
    }

    /// The derivative of a quantity at places as a row over the unknowns.
    pub(super) fn gradient(&self, row: Row, places: &[Point]) -> DVector<f64> {
        let mut gradient = DVector::zeros(self.unknowns);
        for (point, slope) in evaluate(row, places).1 {
            for (column, part) in self.columns[point].iter().zip(slope.iter()) {
                if let Some(column) = column {
                    gradient[*column] += *part;
                }
            }
        }
        gradient
    }
}

impl Equations for Network {
    fn count(&self) -> usize {
        self.rows.len()
    }

    fn evaluate(&self, unknowns: &DVector<f64>, residuals: &mut DVector<f64>, jacobian: &mut DMatrix<f64>) {
        let places = self.places_of(unknowns);
        jacobian.fill(0.0);
        for (place, (row, observed, deviation)) in self.rows.iter().enumerate() {
            let (computed, slopes) = evaluate(*row, &places);
            residuals[place] = (computed - observed) / deviation;
            for (point, slope) in slopes {
                for (column, part) in self.columns[point].iter().zip(slope.iter()) {
                    if let Some(column) = column {
                        jacobian[(place, *column)] += part / deviation;
                    }
                }
            }
        }
    }

    fn free_directions(&self, unknowns: &DVector<f64>, jacobian: &DMatrix<f64>) -> DMatrix<f64> {
        datum::free_motions(self, &self.places_of(unknowns), jacobian)
    }
}

/// A quantity at places, with its derivatives.
pub(super) fn evaluate(row: Row, places: &[Point]) -> (f64, Vec<Slope>) {
    match row {
        Row::Distance(from, to) => {
            let (length, direction) = distance(&places[from], &places[to]);
            (length, vec![(from, -direction), (to, direction)])
        }
        Row::Coordinate(of, axis, from) => {
            let unit = unit(axis);
            let mut value = places[of][axis.index()];
            let mut slopes = vec![(of, unit)];
            if let Some(from) = from {
                value -= places[from][axis.index()];
                slopes.push((from, -unit));
            }
            (value, slopes)
        }
        Row::Angle(from, to) => {
            let run = places[to] - places[from];
            let level = run.x.hypot(run.y);
            // theta = atan2(dz, h): d theta = (h d(dz) - dz dh) / (h^2 + dz^2), dh = (dx d(dx) + dy d(dy)) / h
            let squared = run.norm_squared().max(NO_LENGTH * NO_LENGTH);
            let ahead = if level > NO_LENGTH { run.z / level } else { 0.0 };
            let slope = Vector3::new(-ahead * run.x, -ahead * run.y, level) / squared;
            (run.z.atan2(level), vec![(from, -slope), (to, slope)])
        }
        Row::Mirror(left, right, axis) => {
            let unit = unit(axis);
            let sign = if axis == Axis::Y { 1.0 } else { -1.0 };
            let value = places[left][axis.index()] + sign * places[right][axis.index()];
            (value, vec![(left, unit), (right, sign * unit)])
        }
        Row::Rigid([a, b], [c, d]) => {
            let (first, along) = distance(&places[a], &places[b]);
            let (second, other) = distance(&places[c], &places[d]);
            (
                first - second,
                vec![(a, -along), (b, along), (c, other), (d, -other)],
            )
        }
    }
}

fn distance(from: &Point, to: &Point) -> (f64, Vector3<f64>) {
    let run = to - from;
    let length = run.norm();
    // Two points in one place: any direction leads apart.
    let direction = if length > NO_LENGTH {
        run / length
    } else {
        Vector3::x()
    };
    (length, direction)
}

fn unit(axis: Axis) -> Vector3<f64> {
    let mut unit = Vector3::zeros();
    unit[axis.index()] = 1.0;
    unit
}
