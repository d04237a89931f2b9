//! Bolt sizes: diameters, threads and stress areas.

use crate::Error;
use crate::pickups::validate::incomplete;
use std::f64::consts::PI;

const INCH: f64 = 25.4;

/// A series of threads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThreadSeries {
    /// Unified coarse (UNC).
    UnifiedCoarse,
    /// Unified fine (UNF).
    UnifiedFine,
    /// ISO metric coarse.
    MetricCoarse,
    /// ISO metric fine.
    MetricFine,
}

/// A bolt by its thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltSize {
    /// As the trade writes it: `1/2-13`, `M12x1.75`.
    pub name: &'static str,
    /// Nominal diameter (mm).
    pub diameter: f64,
    /// Distance from thread to thread (mm).
    pub pitch: f64,
    /// The series.
    pub series: ThreadSeries,
}

const fn inch(name: &'static str, diameter: f64, threads: f64, series: ThreadSeries) -> BoltSize {
    BoltSize {
        name,
        diameter: diameter * INCH,
        pitch: INCH / threads,
        series,
    }
}

const fn metric(name: &'static str, diameter: f64, pitch: f64, series: ThreadSeries) -> BoltSize {
    BoltSize {
        name,
        diameter,
        pitch,
        series,
    }
}

use ThreadSeries::{MetricCoarse, MetricFine, UnifiedCoarse, UnifiedFine};

/// Sizes that hold suspension parts, each series by diameter.
///
/// Unified threads: ASME B1.1, seen in Budynas and Nisbett, Shigley's Mechanical Engineering Design, table 8-2. Metric
/// threads: ISO 261, from memory; M12 coarse seen.
const SIZES: [BoltSize; 36] = [
    inch("1/4-20", 0.25, 20.0, UnifiedCoarse),
    inch("5/16-18", 0.3125, 18.0, UnifiedCoarse),
    inch("3/8-16", 0.375, 16.0, UnifiedCoarse),
    inch("7/16-14", 0.4375, 14.0, UnifiedCoarse),
    inch("1/2-13", 0.5, 13.0, UnifiedCoarse),
    inch("9/16-12", 0.5625, 12.0, UnifiedCoarse),
    inch("5/8-11", 0.625, 11.0, UnifiedCoarse),
    inch("3/4-10", 0.75, 10.0, UnifiedCoarse),
    inch("7/8-9", 0.875, 9.0, UnifiedCoarse),
    inch("1-8", 1.0, 8.0, UnifiedCoarse),
    inch("1/4-28", 0.25, 28.0, UnifiedFine),
    inch("5/16-24", 0.3125, 24.0, UnifiedFine),
    inch("3/8-24", 0.375, 24.0, UnifiedFine),
    inch("7/16-20", 0.4375, 20.0, UnifiedFine),
    inch("1/2-20", 0.5, 20.0, UnifiedFine),
    inch("9/16-18", 0.5625, 18.0, UnifiedFine),
    inch("5/8-18", 0.625, 18.0, UnifiedFine),
    inch("3/4-16", 0.75, 16.0, UnifiedFine),
    inch("7/8-14", 0.875, 14.0, UnifiedFine),
    inch("1-12", 1.0, 12.0, UnifiedFine),
    metric("M6x1", 6.0, 1.0, MetricCoarse),
    metric("M8x1.25", 8.0, 1.25, MetricCoarse),
    metric("M10x1.5", 10.0, 1.5, MetricCoarse),
    metric("M12x1.75", 12.0, 1.75, MetricCoarse),
    metric("M14x2", 14.0, 2.0, MetricCoarse),
    metric("M16x2", 16.0, 2.0, MetricCoarse),
    metric("M18x2.5", 18.0, 2.5, MetricCoarse),
    metric("M20x2.5", 20.0, 2.5, MetricCoarse),
    metric("M24x3", 24.0, 3.0, MetricCoarse),
    metric("M8x1", 8.0, 1.0, MetricFine),
    metric("M10x1.25", 10.0, 1.25, MetricFine),
    metric("M12x1.25", 12.0, 1.25, MetricFine),
    metric("M12x1.5", 12.0, 1.5, MetricFine),
    metric("M14x1.5", 14.0, 1.5, MetricFine),
    metric("M16x1.5", 16.0, 1.5, MetricFine),
    metric("M18x1.5", 18.0, 1.5, MetricFine),
];

impl BoltSize {
    /// Every size known.
    #[must_use]
    pub fn all() -> &'static [Self] {
        &SIZES
    }

    /// The size of a name such as `1/2-13` or `M12x1.75`. A metric size without a pitch is coarse.
    ///
    /// # Errors
    /// A name that is not known, with the nearest one that is.
    pub fn named(name: &str) -> Result<&'static Self, Error> {
        Self::named_in("size", name)
    }

    pub(crate) fn named_in(field: &str, name: &str) -> Result<&'static Self, Error> {
        let asked = name.trim().to_ascii_lowercase();
        let found = SIZES.iter().find(|size| {
            let known = size.name.to_ascii_lowercase();
            let coarse = size.series == MetricCoarse && known.split('x').next() == Some(asked.as_str());
            known == asked || coarse
        });
        found.ok_or_else(|| {
            let mut names: Vec<&str> = SIZES.iter().map(|size| size.name).collect();
            let unlike = |known: &str| 1.0 - strsim::jaro_winkler(&known.to_ascii_lowercase(), &asked);
            names.sort_by(|a, b| unlike(a).total_cmp(&unlike(b)));
            let nearest: Vec<String> = names.iter().take(3).map(|name| format!("`{name}`")).collect();
            let problem = format!(
                "no bolt of size `{name}` is known here; the nearest names are {}",
                nearest.join(", ")
            );
            incomplete(field, &problem).into()
        })
    }

    /// Whether the thread is measured in inches.
    #[must_use]
    pub fn is_inch(&self) -> bool {
        matches!(self.series, UnifiedCoarse | UnifiedFine)
    }

    /// Tensile stress area of the thread (mm^2).
    ///
    /// `pi/4 (d - 0.9743/n)^2` with n threads per inch (ASME B1.1), `pi/4 (d - 0.9382 P)^2` (ISO 898-1).
    /// ```
    /// let half_inch = kin_core::checks::BoltSize::named("1/2-13")?;
    /// assert!((half_inch.stress_area() / (25.4 * 25.4) - 0.1419).abs() < 1e-4); // square inches
    /// # Ok::<(), kin_core::Error>(())
    /// ```
    #[must_use]
    pub fn stress_area(&self) -> f64 {
        let factor = if self.is_inch() { 0.9743 } else { 0.9382 };
        0.25 * PI * (self.diameter - factor * self.pitch).powi(2)
    }

    /// Area of the shank (mm^2), at the nominal diameter.
    #[must_use]
    pub fn shank_area(&self) -> f64 {
        0.25 * PI * self.diameter * self.diameter
    }

    /// The thicker sizes of the same series, thinnest first.
    pub(crate) fn larger(&self) -> impl Iterator<Item = &'static Self> {
        let (series, diameter) = (self.series, self.diameter);
        SIZES
            .iter()
            .filter(move |other| other.series == series && other.diameter > diameter)
    }
}
