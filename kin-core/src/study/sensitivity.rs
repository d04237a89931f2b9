//! How much a result changes with each number of a description.

use super::{Outcome, Subject};
use crate::Error;

/// The exact rate of a result with one number.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// The number's place in the description.
    pub place: usize,
    /// Its name, such as `tie_rod.inner.z`.
    pub name: String,
    /// The rate of the result per unit of the number (core units).
    pub rate: f64,
}

impl Outcome {
    /// Rates of the outcome with numbers of a description, the largest first.
    ///
    /// * `places`: which numbers, as [`Subject::coordinates`] gives them
    ///
    /// # Errors
    /// As for [`Outcome::value`].
    pub fn sensitivities(&self, subject: &Subject, places: &[usize]) -> Result<Vec<Sensitivity>, Error> {
        let built = subject.build()?;
        let rates = self.gradient(subject, &built, places)?;
        let numbers = subject.numbers();
        let named = places.iter().zip(rates).filter_map(|(place, rate)| {
            let name = numbers.get(*place)?.name.clone();
            Some(Sensitivity {
                place: *place,
                name,
                rate,
            })
        });
        let mut sensitivities: Vec<Sensitivity> = named.collect();
        // The order of the description among equals.
        sensitivities.sort_by(|a, b| b.rate.abs().total_cmp(&a.rate.abs()));
        Ok(sensitivities)
    }
}
