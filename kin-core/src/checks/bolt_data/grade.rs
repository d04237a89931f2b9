//! Strengths by grade and property class.

use super::BoltSize;
use crate::Error;
use serde::{Deserialize, Serialize};

/// One thousand pounds per square inch (MPa).
const KSI: f64 = 6.894_757_293_168_361;

/// Grade of an inch bolt (SAE J429) or property class of a metric one (ISO 898-1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Grade {
    /// SAE J429 grade 2: no marks on the head.
    #[serde(rename = "grade 2", alias = "2")]
    Grade2,
    /// SAE J429 grade 5: three marks on the head.
    #[serde(rename = "grade 5", alias = "5")]
    Grade5,
    /// SAE J429 grade 8: six marks on the head.
    #[serde(rename = "grade 8", alias = "8")]
    Grade8,
    /// ISO 898-1 class 4.6.
    #[serde(rename = "class 4.6", alias = "4.6")]
    Class4_6,
    /// ISO 898-1 class 4.8.
    #[serde(rename = "class 4.8", alias = "4.8")]
    Class4_8,
    /// ISO 898-1 class 5.8.
    #[serde(rename = "class 5.8", alias = "5.8")]
    Class5_8,
    /// ISO 898-1 class 8.8.
    #[serde(rename = "class 8.8", alias = "8.8")]
    Class8_8,
    /// ISO 898-1 class 9.8.
    #[serde(rename = "class 9.8", alias = "9.8")]
    Class9_8,
    /// ISO 898-1 class 10.9.
    #[serde(rename = "class 10.9", alias = "10.9")]
    Class10_9,
    /// ISO 898-1 class 12.9.
    #[serde(rename = "class 12.9", alias = "12.9")]
    Class12_9,
}

/// Least strengths of a bolt's material (MPa).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// Stress that leaves no lasting stretch.
    pub proof: f64,
    /// Yield, or the 0.2 % limit.
    pub yielding: f64,
    /// Tensile strength.
    pub tensile: f64,
}

const fn strength(proof: f64, yielding: f64, tensile: f64) -> Strength {
    Strength {
        proof,
        yielding,
        tensile,
    }
}

const fn ksi(proof: f64, yielding: f64, tensile: f64) -> Strength {
    strength(proof * KSI, yielding * KSI, tensile * KSI)
}

impl Grade {
    /// The word for it, as the trade says it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Grade2 => "grade 2",
            Self::Grade5 => "grade 5",
            Self::Grade8 => "grade 8",
            Self::Class4_6 => "class 4.6",
            Self::Class4_8 => "class 4.8",
            Self::Class5_8 => "class 5.8",
            Self::Class8_8 => "class 8.8",
            Self::Class9_8 => "class 9.8",
            Self::Class10_9 => "class 10.9",
            Self::Class12_9 => "class 12.9",
        }
    }

    const fn is_inch(self) -> bool {
        matches!(self, Self::Grade2 | Self::Grade5 | Self::Grade8)
    }

    /// Least strengths in a size.
    ///
    /// SAE J429 as in Budynas and Nisbett, Shigley's Mechanical Engineering Design, table 8-9, seen; ISO 898-1 as in its
    /// table 8-11, seen, but the yield of class 8.8 up to M16: from memory.
    ///
    /// # Errors
    /// A grade of inch bolts on a metric size, or the other way; a class that is not made in that size.
    pub fn strength(self, size: &BoltSize) -> Result<Strength, Error> {
        let refuse = |reason: String| {
            Err(Error::NotForThisLayout {
                question: format!("strength of {} {}", size.name, self.name()),
                reason: reason.into(),
            })
        };
        if self.is_inch() != size.is_inch() {
            return refuse(if size.is_inch() {
                "property classes are for metric bolts; an inch bolt has `grade 2`, `grade 5` or `grade 8`"
                    .to_owned()
            } else {
                "SAE grades are for inch bolts; a metric bolt has a class such as `class 8.8` or `class 10.9`"
                    .to_owned()
            });
        }
        let thick = size.diameter > 16.0;
        if thick && matches!(self, Self::Class4_8 | Self::Class9_8) {
            return refuse(format!("{} is made up to M16 only", self.name()));
        }
        Ok(match self {
            Self::Grade2 if size.diameter <= 19.05 => ksi(55.0, 57.0, 74.0),
            Self::Grade2 => ksi(33.0, 36.0, 60.0),
            Self::Grade5 => ksi(85.0, 92.0, 120.0),
            Self::Grade8 => ksi(120.0, 130.0, 150.0),
            Self::Class4_6 => strength(225.0, 240.0, 400.0),
            Self::Class4_8 => strength(310.0, 340.0, 420.0),
            Self::Class5_8 => strength(380.0, 420.0, 520.0),
            Self::Class8_8 if thick => strength(600.0, 660.0, 830.0),
            Self::Class8_8 => strength(580.0, 640.0, 800.0),
            Self::Class9_8 => strength(650.0, 720.0, 900.0),
            Self::Class10_9 => strength(830.0, 940.0, 1_040.0),
            Self::Class12_9 => strength(970.0, 1_100.0, 1_220.0),
        })
    }

    /// Shear stress that a plane through the bolt may see (MPa).
    ///
    /// `alpha f_ub / 1.25` of EN 1993-1-8, table 3.4, with the nominal tensile strength: alpha is 0.6, but 0.5 where
    /// the threads of a bolt that stretches little lie in the plane. SAE grades, which that standard does not know,
    /// are treated as the classes they stand nearest to: grade 2 as 5.8, grade 5 as 8.8, grade 8 as 10.9 (assumption).
    ///
    /// # Errors
    /// As [`Grade::strength`].
    pub fn shear_limit(self, size: &BoltSize, threads_in_plane: bool) -> Result<f64, Error> {
        let tensile = match self {
            Self::Class4_6 | Self::Class4_8 => 400.0,
            Self::Class5_8 => 500.0,
            Self::Class8_8 => 800.0,
            Self::Class9_8 => 900.0,
            Self::Class10_9 => 1_000.0,
            Self::Class12_9 => 1_200.0,
            Self::Grade2 | Self::Grade5 | Self::Grade8 => self.strength(size)?.tensile,
        };
        self.strength(size)?;
        let ductile = matches!(self, Self::Class4_6 | Self::Class8_8 | Self::Grade5);
        let alpha = if ductile || !threads_in_plane { 0.6 } else { 0.5 };
        Ok(alpha * tensile / 1.25)
    }

    /// Stronger grades or classes of the same system, weakest first.
    pub(crate) fn stronger(self) -> &'static [Self] {
        match self {
            Self::Grade2 => &[Self::Grade5, Self::Grade8],
            Self::Grade5 => &[Self::Grade8],
            Self::Class4_6 | Self::Class4_8 | Self::Class5_8 => {
                &[Self::Class8_8, Self::Class10_9, Self::Class12_9]
            }
            Self::Class8_8 | Self::Class9_8 => &[Self::Class10_9, Self::Class12_9],
            Self::Class10_9 => &[Self::Class12_9],
            Self::Grade8 | Self::Class12_9 => &[],
        }
    }
}
