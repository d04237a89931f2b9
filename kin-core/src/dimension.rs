//! What a number is.

/// Physical dimension of a number, with its unit inside the core.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Dimension {
    /// mm
    Length,
    /// mm, where hundredths count: clearances and shims
    FineLength,
    /// rad
    Angle,
    /// rad, where hundredths of a degree count: toe
    FineAngle,
    /// A ratio of two like numbers.
    Ratio,
    /// N/mm
    Rate,
    /// N
    Force,
    /// N mm
    Torque,
    /// N/mm^2, which is MPa
    Stress,
    /// Hz
    Frequency,
    /// kg
    Mass,
    /// mm/s
    Speed,
    /// N s/mm
    Damping,
}

impl Dimension {
    /// A number in core units as text with a unit that people read: degrees for angles, N m for torques.
    #[must_use]
    pub fn text(self, value: f64) -> String {
        match self {
            Self::Length => format!("{value:.1} mm"),
            Self::FineLength => format!("{value:.2} mm"),
            Self::FineAngle => format!("{:.2} deg", value.to_degrees()),
            Self::Angle => format!("{:.1} deg", value.to_degrees()),
            Self::Ratio => format!("{value:.3}"),
            Self::Rate => format!("{value:.2} N/mm"),
            Self::Force => format!("{value:.0} N"),
            Self::Torque => format!("{:.1} N m", value / 1_000.0),
            Self::Stress => format!("{value:.0} MPa"),
            Self::Frequency => format!("{value:.2} Hz"),
            Self::Mass => format!("{value:.1} kg"),
            Self::Damping => format!("{value:.3} N s/mm"),
            Self::Speed => format!("{value:.0} mm/s"),
        }
    }
}
