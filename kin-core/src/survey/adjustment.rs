//! What comes back: places, how sure they are, and what each reading is worth.

use super::adjust::Rejected;
use super::datum::Datum;
use super::error::SurveyError;
use super::mirror::MirrorImage;
use super::network::Network;
use super::notebook::Survey;
use super::quality::GlobalTest;
use super::reading::Reading;
use crate::pickups::Point;
use nalgebra::{DMatrix, Matrix3, Vector3};

/// A redundancy number below this leaves a mistake in the reading all but unseen.
const POORLY_CHECKED: f64 = 0.1;

/// Which standard deviations are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// From the standard deviations stated for the readings.
    APriori,
    /// Those times sigma0: by how the readings agreed. Needs surplus readings.
    Scaled,
}

impl Basis {
    /// Its name.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::APriori => "a priori",
            Self::Scaled => "scaled by sigma0",
        }
    }
}

/// A reading after the adjustment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JudgedReading {
    /// Its number among the survey's readings.
    pub index: usize,
    /// Computed from the adjusted places, minus observed (mm or rad).
    pub residual: f64,
    /// The standard deviation it counted with (mm or rad).
    pub deviation: f64,
    /// How much of it is checked by the others: 0 none of it, 1 all. All of them together are the survey's redundancy.
    pub redundancy: f64,
    /// Residual over its own a priori standard deviation; none where nothing checks the reading.
    pub normalised: Option<f64>,
    /// How much too large it was read, if it alone were mistaken (mm or rad); none where nothing checks the reading.
    pub mistake: Option<f64>,
}

/// An adjusted survey.
#[derive(Debug, Clone)]
pub struct Adjustment {
    pub(super) survey: Survey,
    pub(super) network: Network,
    pub(super) places: Vec<Point>,
    /// A priori, over the unknowns.
    pub(super) covariance: DMatrix<f64>,
    pub(super) judged: Vec<JudgedReading>,
    pub(super) rejected: Vec<Rejected>,
    pub(super) datum: Datum,
    pub(super) mirror: MirrorImage,
    pub(super) redundancy: usize,
    pub(super) sum_of_squares: f64,
    pub(super) iterations: usize,
}

impl Adjustment {
    /// The survey that was adjusted, rejected readings included.
    #[must_use]
    pub const fn survey(&self) -> &Survey {
        &self.survey
    }

    /// The names of the points, in the order of first mention.
    pub fn names(&self) -> impl ExactSizeIterator<Item = &str> {
        self.network.points.iter().map(String::as_str)
    }

    /// The adjusted place of a point (mm).
    #[must_use]
    pub fn place(&self, point: &str) -> Option<Point> {
        self.network
            .points
            .get_index_of(point)
            .map(|place| self.places[place])
    }

    /// The standard deviations of a point's coordinates (mm), 0 for stated ones; none for a point that was not measured, and
    /// none scaled without surplus readings.
    #[must_use]
    pub fn standard_deviations(&self, point: &str, basis: Basis) -> Option<Vector3<f64>> {
        let place = self.network.points.get_index_of(point)?;
        let factor = self.factor(basis)?;
        Some((self.block(place, place).diagonal() * factor).map(|variance| variance.max(0.0).sqrt()))
    }

    /// The covariance of points (mm^2), ordered point by point and x, y, z within each, with zeros for stated coordinates; none
    /// scaled without surplus readings.
    ///
    /// # Errors
    /// A point that was not measured.
    pub fn covariance(&self, points: &[&str], basis: Basis) -> Result<Option<DMatrix<f64>>, SurveyError> {
        let mut places = Vec::with_capacity(points.len());
        for name in points {
            places.push(self.number(name)?);
        }
        let Some(factor) = self.factor(basis) else {
            return Ok(None);
        };
        let mut dense = DMatrix::zeros(3 * places.len(), 3 * places.len());
        for (row, first) in places.iter().enumerate() {
            for (column, second) in places.iter().enumerate() {
                let block = self.block(*first, *second) * factor;
                dense.view_mut((3 * row, 3 * column), (3, 3)).copy_from(&block);
            }
        }
        Ok(Some(dense))
    }

    /// The correlation of points' coordinates, ordered as [`Adjustment::covariance`]; zeros where a coordinate is stated.
    ///
    /// # Errors
    /// A point that was not measured.
    pub fn correlation(&self, points: &[&str]) -> Result<DMatrix<f64>, SurveyError> {
        let covariance = self.covariance(points, Basis::APriori)?.unwrap_or_default();
        let deviations = covariance.diagonal().map(|variance| variance.max(0.0).sqrt());
        Ok(covariance.map_with_location(|row, column, value| {
            let product = deviations[row] * deviations[column];
            if product > 0.0 { value / product } else { 0.0 }
        }))
    }

    /// The place of a point among the survey's points.
    pub(super) fn number(&self, name: &str) -> Result<usize, SurveyError> {
        self.network
            .points
            .get_index_of(name)
            .ok_or_else(|| SurveyError::UnknownPoint {
                name: name.to_owned(),
                known: self.names().map(str::to_owned).collect(),
            })
    }

    /// The a priori covariance between two points.
    pub(super) fn block(&self, first: usize, second: usize) -> Matrix3<f64> {
        let (rows, columns) = (self.network.columns[first], self.network.columns[second]);
        Matrix3::from_fn(|row, column| match (rows[row], columns[column]) {
            (Some(row), Some(column)) => self.covariance[(row, column)],
            _ => 0.0,
        })
    }

    fn factor(&self, basis: Basis) -> Option<f64> {
        match basis {
            Basis::APriori => Some(1.0),
            Basis::Scaled => self.sigma0().map(|sigma0| sigma0 * sigma0),
        }
    }

    /// How much worse the readings agree than their standard deviations say: 1 as stated, 2 twice as badly. None without
    /// surplus readings.
    ///
    /// `sqrt(v' P v / redundancy)`
    #[must_use]
    pub fn sigma0(&self) -> Option<f64> {
        (self.redundancy > 0).then(|| (self.sum_of_squares / self.redundancy as f64).sqrt())
    }

    /// Sum of squared residuals over their standard deviations.
    #[must_use]
    pub const fn sum_of_squares(&self) -> f64 {
        self.sum_of_squares
    }

    /// Readings beyond what the coordinates need.
    #[must_use]
    pub const fn redundancy(&self) -> usize {
        self.redundancy
    }

    /// Coordinates that had to be found.
    #[must_use]
    pub const fn unknowns(&self) -> usize {
        self.network.unknowns
    }

    /// Steps of the adjustment.
    #[must_use]
    pub const fn iterations(&self) -> usize {
        self.iterations
    }

    /// Whether the readings agree as well as stated; none without surplus readings.
    #[must_use]
    pub fn global_test(&self) -> Option<GlobalTest> {
        GlobalTest::new(self.sum_of_squares, self.redundancy)
    }

    /// The readings that count, in the order of the survey.
    #[must_use]
    pub fn readings(&self) -> &[JudgedReading] {
        &self.judged
    }

    /// A reading of the survey by its number.
    #[must_use]
    pub fn reading(&self, index: usize) -> Option<&Reading> {
        self.survey.readings.get(index)
    }

    /// Readings that were left out, in the order they were.
    #[must_use]
    pub fn rejected(&self) -> &[Rejected] {
        &self.rejected
    }

    /// Readings that all but nothing checks: a mistake in one of them would go unseen into the coordinates.
    pub fn unchecked(&self) -> impl Iterator<Item = &JudgedReading> {
        self.judged
            .iter()
            .filter(|judged| judged.redundancy < POORLY_CHECKED)
    }

    /// What carries the axes.
    #[must_use]
    pub const fn datum(&self) -> Datum {
        self.datum
    }

    /// How the arrangement was told from its mirror images.
    #[must_use]
    pub const fn mirror_image(&self) -> &MirrorImage {
        &self.mirror
    }
}
