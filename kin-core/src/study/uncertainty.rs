//! How well the numbers of a description are known.

use super::{NumberError, Subject};
use nalgebra::{DMatrix, DVector};

/// A covariance may miss symmetry or lie below zero by this share of its largest entry before it is refused: what ten
/// printed digits leave.
const ROUNDING: f64 = 1e-9;

/// The uncertainty of some numbers of a description: a covariance over their places.
///
/// Numbers that are not among them are taken as exact.
#[derive(Debug, Clone, PartialEq)]
pub struct Uncertainty {
    places: Vec<usize>,
    covariance: DMatrix<f64>,
}

/// An uncertainty that cannot be right.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum UncertaintyError {
    /// A name that leads to no number.
    #[error(transparent)]
    Number(#[from] NumberError),
    /// A standard deviation that is no number from zero up.
    #[error("the standard deviation of `{name}` is {value}: give a number from zero up")]
    Deviation {
        /// Whose it is.
        name: String,
        /// What was given.
        value: f64,
    },
    /// A covariance of the wrong size.
    #[error("the covariance has {rows} rows and {columns} columns for {numbers} numbers")]
    Size {
        /// Its rows.
        rows: usize,
        /// Its columns.
        columns: usize,
        /// How many numbers were named.
        numbers: usize,
    },
    /// A matrix that is no covariance.
    #[error("the matrix is no covariance: {reason}")]
    NoCovariance {
        /// Why not.
        reason: &'static str,
    },
}

impl Uncertainty {
    /// Every coordinate of every point by itself, with one standard deviation (mm).
    ///
    /// # Errors
    /// A standard deviation that is no number from zero up.
    pub fn of_every_coordinate(subject: &Subject, deviation: f64) -> Result<Self, UncertaintyError> {
        let deviation = checked("every coordinate", deviation)?;
        let places = subject.coordinates();
        let variances = DVector::from_element(places.len(), deviation * deviation);
        Ok(Self {
            covariance: DMatrix::from_diagonal(&variances),
            places,
        })
    }

    /// This uncertainty with other standard deviations for some numbers, each then independent of all others.
    ///
    /// * `given`: names as in [`Subject::places`] with standard deviations (the unit of the number)
    ///
    /// # Errors
    /// A name that leads to no number, and a standard deviation that is no number from zero up.
    pub fn with(mut self, subject: &Subject, given: &[(&str, f64)]) -> Result<Self, UncertaintyError> {
        for (name, deviation) in given {
            let deviation = checked(name, *deviation)?;
            for place in subject.places(name)? {
                self.set_independent(place, deviation * deviation);
            }
        }
        Ok(self)
    }

    /// Nothing uncertain.
    #[must_use]
    pub fn none() -> Self {
        Self {
            places: Vec::new(),
            covariance: DMatrix::zeros(0, 0),
        }
    }

    /// A covariance over named numbers, such as one that a survey gives.
    ///
    /// # Errors
    /// A name that leads to no number or to several, a matrix of another size, and one that is no covariance.
    pub fn from_covariance(
        subject: &Subject,
        names: &[&str],
        covariance: DMatrix<f64>,
    ) -> Result<Self, UncertaintyError> {
        let mut places = Vec::with_capacity(names.len());
        for name in names {
            places.extend(subject.places(name)?);
        }
        let (rows, columns) = covariance.shape();
        if rows != places.len() || columns != places.len() {
            return Err(UncertaintyError::Size {
                rows,
                columns,
                numbers: places.len(),
            });
        }
        let refused = |reason| Err(UncertaintyError::NoCovariance { reason });
        if covariance.iter().any(|entry| !entry.is_finite()) {
            return refused("it holds a number that is not finite");
        }
        let scale = covariance.amax();
        if (&covariance - covariance.transpose()).amax() > ROUNDING * scale {
            return refused("it is not symmetric");
        }
        let symmetric = 0.5 * (&covariance + covariance.transpose());
        if symmetric
            .symmetric_eigenvalues()
            .iter()
            .any(|value| *value < -ROUNDING * scale)
        {
            return refused("a combination of the numbers would have a negative variance");
        }
        Ok(Self {
            places,
            covariance: symmetric,
        })
    }

    /// The same numbers with another covariance, one that a study worked out.
    pub(crate) fn with_covariance(&self, covariance: DMatrix<f64>) -> Self {
        Self {
            places: self.places.clone(),
            covariance: 0.5 * (&covariance + covariance.transpose()),
        }
    }

    /// The places of the uncertain numbers, in the order of the covariance.
    #[must_use]
    pub fn places(&self) -> &[usize] {
        &self.places
    }

    /// The covariance (products of the numbers' units).
    #[must_use]
    pub fn covariance(&self) -> &DMatrix<f64> {
        &self.covariance
    }

    /// Standard deviation of each uncertain number.
    #[must_use]
    pub fn deviations(&self) -> Vec<f64> {
        self.covariance
            .diagonal()
            .iter()
            .map(|variance| variance.max(0.0).sqrt())
            .collect()
    }

    /// Variance of a result that depends on the numbers at these rates, to first order: `g' C g`.
    ///
    /// * `gradient`: the rate of the result per number, in the order of [`Uncertainty::places`]
    #[must_use]
    pub fn variance_of(&self, gradient: &[f64]) -> f64 {
        let gradient = DVector::from_column_slice(gradient);
        if gradient.len() != self.places.len() {
            return f64::NAN;
        }
        gradient.dot(&(&self.covariance * &gradient)).max(0.0)
    }

    /// What is left of the uncertainty when a result has been measured.
    ///
    /// With the gradient g and the variance r of the reading: `C - C g g' C / (g' C g + r)`, the update of linear least
    /// squares (the measurement step of the Kalman filter). Source: A. Gelb (editor), Applied Optimal Estimation, MIT Press
    /// 1974, ch. 4 (from memory).
    #[must_use]
    pub fn after_measuring(&self, gradient: &[f64], deviation: f64) -> Self {
        let gradient = DVector::from_column_slice(gradient);
        if gradient.len() != self.places.len() {
            return self.clone();
        }
        let shared = &self.covariance * &gradient;
        let whole = gradient.dot(&shared) + deviation * deviation;
        let mut left = self.clone();
        if whole > 0.0 {
            left.covariance -= &shared * shared.transpose() / whole;
        }
        left
    }

    /// A matrix F with `F F' = C`: changes are `F n` with independent standard normal numbers n.
    ///
    /// From the eigenvectors, so that a covariance of lower rank, such as that of a survey with held coordinates, is fine.
    #[must_use]
    pub fn factor(&self) -> DMatrix<f64> {
        if self.is_diagonal() {
            let deviations = DVector::from_vec(self.deviations());
            return DMatrix::from_diagonal(&deviations);
        }
        let mut eigen = self.covariance.clone().symmetric_eigen();
        for (place, value) in eigen.eigenvalues.iter().enumerate() {
            let scale = value.max(0.0).sqrt();
            eigen.eigenvectors.column_mut(place).scale_mut(scale);
        }
        eigen.eigenvectors
    }

    fn is_diagonal(&self) -> bool {
        let size = self.places.len();
        (0..size).all(|row| (0..size).all(|column| row == column || self.covariance[(row, column)] == 0.0))
    }

    fn set_independent(&mut self, place: usize, variance: f64) {
        let known = self.places.iter().position(|known| *known == place);
        let row = known.unwrap_or_else(|| {
            let size = self.places.len();
            self.places.push(place);
            let grown = std::mem::replace(&mut self.covariance, DMatrix::zeros(0, 0));
            self.covariance = grown.resize(size + 1, size + 1, 0.0);
            size
        });
        self.covariance.row_mut(row).fill(0.0);
        self.covariance.column_mut(row).fill(0.0);
        self.covariance[(row, row)] = variance;
    }
}

fn checked(name: &str, deviation: f64) -> Result<f64, UncertaintyError> {
    if deviation.is_finite() && deviation >= 0.0 {
        Ok(deviation)
    } else {
        Err(UncertaintyError::Deviation {
            name: name.to_owned(),
            value: deviation,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples;

    #[test]
    fn a_measured_sum_ties_its_parts() {
        let subject = Subject::from(samples::wagon_front());
        let names = ["coilover.upper_mount.z", "coilover.lower_mount.z"];
        let prior = Uncertainty::none()
            .with(&subject, &[(names[0], 1.5), (names[1], 1.5)])
            .expect("known names");
        let left = prior.after_measuring(&[1.0, -1.0], 0.5);
        // By hand: the difference had variance 4.5; with a reading of variance 0.25 it has 4.5 * 0.25 / 4.75.
        let expected = 4.5 * 0.25 / 4.75;
        assert!((left.variance_of(&[1.0, -1.0]) - expected).abs() < 1e-12);
        // The sum is as uncertain as before.
        assert!((left.variance_of(&[1.0, 1.0]) - 4.5).abs() < 1e-12);
        let factor = left.factor();
        assert!((&factor * factor.transpose() - left.covariance()).amax() < 1e-12);
    }

    #[test]
    fn what_is_no_covariance_is_refused() {
        let subject = Subject::from(samples::wagon_front());
        let names = ["tie_rod.outer.y", "tie_rod.outer.z"];
        let made = |entries: [f64; 4]| {
            Uncertainty::from_covariance(&subject, &names, DMatrix::from_row_slice(2, 2, &entries))
        };
        assert!(made([1.0, 0.5, 0.5, 1.0]).is_ok());
        for entries in [
            [1.0, 0.5, 0.4, 1.0],
            [1.0, 2.0, 2.0, 1.0],
            [f64::NAN, 0.0, 0.0, 1.0],
        ] {
            assert!(matches!(
                made(entries),
                Err(UncertaintyError::NoCovariance { .. })
            ));
        }
    }
}
