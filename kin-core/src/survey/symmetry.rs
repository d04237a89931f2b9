//! Left against right: is the car straight enough for a mirrored model?

use super::adjustment::{Adjustment, Basis};
use super::error::SurveyError;
use super::reading::Axis;
use super::words::point_words;
use crate::Sentence;
use crate::pickups::Point;
use nalgebra::{DMatrix, DVector, Vector3};

/// Two standard deviations hold 95 of 100 honest results.
const SURE: f64 = 2.0;

/// Whether a difference matters, given how well it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Straightness {
    /// Within what is allowed, with 95 % certainty.
    Straight,
    /// The readings are too coarse to tell.
    CannotTell,
    /// Beyond what is allowed, with 95 % certainty.
    Crooked,
}

impl Straightness {
    fn of(difference: f64, deviation: f64, allowed: f64) -> Self {
        if difference.abs() + SURE * deviation <= allowed {
            Self::Straight
        } else if difference.abs() - SURE * deviation > allowed {
            Self::Crooked
        } else {
            Self::CannotTell
        }
    }

    /// It in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Straight => "straight",
            Self::CannotTell => "cannot tell",
            Self::Crooked => "crooked",
        }
    }
}

/// A point on the left and its partner on the right.
#[derive(Debug, Clone, PartialEq)]
pub struct SidePair {
    /// The point on the left.
    pub left: String,
    /// The point on the right.
    pub right: String,
    /// Left minus the mirrored right (mm): forward, outboard to the left, up.
    pub difference: Vector3<f64>,
    /// Its standard deviations (mm).
    pub deviations: Vector3<f64>,
    /// What that means, coordinate by coordinate.
    pub straightness: [Straightness; 3],
}

/// How the axles stand to each other, from four wheel centres seen from above.
#[derive(Debug, Clone, PartialEq)]
pub struct ThrustLine {
    /// Wheelbase on the left: how far the front wheel centre is ahead of the rear one (mm).
    pub wheelbase_left: f64,
    /// Wheelbase on the right (mm).
    pub wheelbase_right: f64,
    /// Left minus right (mm).
    pub difference: f64,
    /// Its standard deviation (mm).
    pub difference_deviation: f64,
    /// Angle of the rear axle's line of travel to the line through the middles of both axles (rad), positive when it points left.
    pub thrust_angle: f64,
    /// Its standard deviation (rad).
    pub thrust_deviation: f64,
}

/// The comparison of both sides.
#[derive(Debug, Clone, PartialEq)]
pub struct Symmetry {
    /// What is allowed (mm).
    pub allowed: f64,
    /// The pairs.
    pub pairs: Vec<SidePair>,
    /// The axles, where four wheel centres were measured.
    pub thrust: Option<ThrustLine>,
}

impl Symmetry {
    /// Compares points on the left with their partners on the right.
    ///
    /// * `left`, `right`: the adjusted surveys of both sides; `right` is none when one survey holds both, whose correlations then count
    /// * `pairs`: names on the left and on the right
    /// * `wheels`: wheel centres front left, front right, rear left, rear right, where all are in `left`
    /// * `allowed`: difference that a mirrored model may have (mm)
    ///
    /// # Errors
    /// A point that was not measured.
    pub fn compare(
        left: &Adjustment,
        right: Option<&Adjustment>,
        pairs: &[(&str, &str)],
        wheels: Option<[&str; 4]>,
        allowed: f64,
        basis: Basis,
    ) -> Result<Self, SurveyError> {
        let compared = pairs
            .iter()
            .map(|pair| compare(left, right, *pair, allowed, basis));
        Ok(Self {
            allowed,
            pairs: compared.collect::<Result<_, _>>()?,
            thrust: wheels.map(|wheels| thrust(left, wheels, basis)).transpose()?,
        })
    }

    /// The worst of all coordinates.
    #[must_use]
    pub fn verdict(&self) -> Straightness {
        let all = || self.pairs.iter().flat_map(|pair| pair.straightness);
        if all().any(|one| one == Straightness::Crooked) {
            Straightness::Crooked
        } else if self.pairs.is_empty() || all().any(|one| one == Straightness::CannotTell) {
            Straightness::CannotTell
        } else {
            Straightness::Straight
        }
    }

    /// The answer in words.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        let worst = self
            .pairs
            .iter()
            .flat_map(|pair| Axis::ALL.map(|axis| (pair, axis)));
        let worst = worst.max_by(|a, b| {
            let size = |(pair, axis): &(&SidePair, Axis)| pair.difference[axis.index()].abs();
            size(a).total_cmp(&size(b))
        });
        let Some((pair, axis)) = worst else {
            return "No point was measured on both sides.".into();
        };
        let said = match self.verdict() {
            Straightness::Straight => {
                Sentence::new("Straight enough for a mirrored model: every difference is within ")
            }
            Straightness::CannotTell => {
                Sentence::new("These readings are too coarse to tell whether every difference is within ")
            }
            Straightness::Crooked => {
                Sentence::new("NOT straight enough for a mirrored model: a difference is beyond ")
            }
        };
        let said = said
            .given_length(self.allowed)
            .words(format!(
                " with 95 % certainty. Largest is the {} of {} against {}, ",
                axis.word(),
                point_words(&pair.left),
                point_words(&pair.right)
            ))
            .length(pair.difference[axis.index()])
            .words(" with a standard deviation of ")
            .length(pair.deviations[axis.index()]);
        match self.verdict() {
            Straightness::Straight => said.words("."),
            Straightness::CannotTell => said.words(". Take more readings there before mirroring."),
            Straightness::Crooked => said.words(". Describe the right side by its own points."),
        }
    }
}

fn compare(
    left: &Adjustment,
    right: Option<&Adjustment>,
    (left_name, right_name): (&str, &str),
    allowed: f64,
    basis: Basis,
) -> Result<SidePair, SurveyError> {
    let other = right.unwrap_or(left);
    let (one, two) = (left.number(left_name)?, other.number(right_name)?);
    let mirrored = crate::pickups::mirrored(&other.places[two]);
    let difference = left.places[one] - mirrored;
    let factor = |adjustment: &Adjustment| match basis {
        Basis::APriori => 1.0,
        Basis::Scaled => adjustment.sigma0().map_or(1.0, |sigma0| sigma0 * sigma0),
    };
    let signs = Vector3::new(1.0, -1.0, 1.0);
    let mut deviations = Vector3::zeros();
    for axis in 0..3 {
        let own = left.block(one, one)[(axis, axis)] * factor(left);
        let others = other.block(two, two)[(axis, axis)] * factor(other);
        // Two surveys know nothing of each other's errors.
        let both = match right {
            None => left.block(one, two)[(axis, axis)] * signs[axis] * factor(left),
            Some(_) => 0.0,
        };
        deviations[axis] = (own + others - 2.0 * both).max(0.0).sqrt();
    }
    let straightness =
        std::array::from_fn(|axis| Straightness::of(difference[axis], deviations[axis], allowed));
    Ok(SidePair {
        left: left_name.to_owned(),
        right: right_name.to_owned(),
        difference,
        deviations,
        straightness,
    })
}

fn thrust(adjustment: &Adjustment, wheels: [&str; 4], basis: Basis) -> Result<ThrustLine, SurveyError> {
    let covariance = adjustment.covariance(&wheels, basis)?;
    let covariance = match covariance {
        Some(covariance) => covariance,
        None => adjustment
            .covariance(&wheels, Basis::APriori)?
            .unwrap_or_default(),
    };
    let mut places = [Point::zeros(); 4];
    for (place, name) in places.iter_mut().zip(wheels) {
        *place = adjustment.places[adjustment.number(name)?];
    }
    let [front_left, front_right, rear_left, rear_right] = places;
    // The rear axle's line of travel is square to the line from its right wheel to its left one.
    let axle = rear_left - rear_right;
    let along = 0.5 * (front_left + front_right - rear_left - rear_right);
    let thrust_angle = (-axle.x).atan2(axle.y) - along.y.atan2(along.x);
    // d atan2(y, x) = (x dy - y dx) / (x^2 + y^2)
    let (a, c) = (axle.x.powi(2) + axle.y.powi(2), along.x.powi(2) + along.y.powi(2));
    let (axle_x, axle_y) = (-axle.y / a, axle.x / a);
    let (along_x, along_y) = (0.5 * along.y / c, -0.5 * along.x / c);
    let angle = DVector::from_vec(vec![
        along_x,
        along_y,
        0.0,
        along_x,
        along_y,
        0.0,
        axle_x - along_x,
        axle_y - along_y,
        0.0,
        -axle_x - along_x,
        -axle_y - along_y,
        0.0,
    ]);
    let base = DVector::from_vec(vec![1.0, 0.0, 0.0, -1.0, 0.0, 0.0, -1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    let (wheelbase_left, wheelbase_right) = (front_left.x - rear_left.x, front_right.x - rear_right.x);
    Ok(ThrustLine {
        wheelbase_left,
        wheelbase_right,
        difference: wheelbase_left - wheelbase_right,
        difference_deviation: spread(&covariance, &base),
        thrust_angle,
        thrust_deviation: spread(&covariance, &angle),
    })
}

fn spread(covariance: &DMatrix<f64>, slope: &DVector<f64>) -> f64 {
    slope.dot(&(covariance * slope)).max(0.0).sqrt()
}
