/// Why a picture cannot be made from what was given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PictureError {
    /// A figure holds one to six panels.
    #[error("a figure needs one to six panels, this one has {count}")]
    PanelCount {
        /// Panels given.
        count: usize,
    },
    /// A drawing holds one to three views.
    #[error("a drawing needs one to three views, this one has {count}")]
    ViewCount {
        /// Views given.
        count: usize,
    },
    /// The width of the picture is outside the usable bounds.
    #[error("a picture is {least} to {most} wide, {width} was asked")]
    Width {
        /// Width asked (CSS pixels).
        width: f64,
        /// Least width (CSS pixels).
        least: f64,
        /// Greatest width (CSS pixels).
        most: f64,
    },
    /// Nothing to draw.
    #[error("{place} has nothing to draw")]
    Empty {
        /// The panel or view, by name.
        place: String,
    },
    /// A curve without one finite point.
    #[error("curve `{series}` in panel `{panel}` has no point with two finite numbers")]
    NoFinitePoint {
        /// Name of the curve.
        series: String,
        /// Name of the panel's axis.
        panel: String,
    },
    /// A number that has to be finite is not.
    #[error("{what} is not a finite number")]
    NotFinite {
        /// What the number is for.
        what: String,
    },
    /// A number that has to be above zero is not.
    #[error("{what} must be above zero, it is {value}")]
    NotPositive {
        /// What the number is for.
        what: String,
        /// The number given.
        value: f64,
    },
    /// A number too large to be placed on a picture.
    #[error("{what} is too large to draw: {value:e}")]
    TooLarge {
        /// What the number is for.
        what: String,
        /// The number given.
        value: f64,
    },
    /// An axis range asked by the caller is empty or upside down.
    #[error("the range of axis `{axis}` must run from a lower to a higher number, {low} to {high} was asked")]
    BadRange {
        /// Name of the axis.
        axis: String,
        /// Low end asked.
        low: f64,
        /// High end asked.
        high: f64,
    },
    /// A lever picture of a ratio that leaves one end without room.
    #[error("a lever picture shows ratios from {least} to {most}, this one is {ratio}")]
    Lever {
        /// The ratio.
        ratio: f64,
        /// Least ratio shown.
        least: f64,
        /// Greatest ratio shown.
        most: f64,
    },
    /// A plate that cannot be.
    #[error("{what}")]
    Plate {
        /// What is wrong with it.
        what: String,
    },
    /// A plate does not fit on its page at full size.
    #[error("a plate of {size} does not fit on {page} at full size with its dimensions; {advice}")]
    PageTooSmall {
        /// Size of the plate in words.
        size: String,
        /// Page asked.
        page: &'static str,
        /// The page on which it fits.
        advice: String,
    },
    /// The writer of the picture refused.
    #[error("the picture could not be written: {0}")]
    Writer(String),
}

/// Narrowest and widest picture (CSS pixels).
const WIDTHS: (f64, f64) = (360.0, 4000.0);
/// Beyond this size differences of numbers could overflow.
const LARGEST: f64 = 1e150;

impl PictureError {
    pub(crate) fn check_width(width: f64) -> Result<(), Self> {
        let (least, most) = WIDTHS;
        // Written so that NaN is refused as well.
        if width >= least && width <= most {
            Ok(())
        } else {
            Err(Self::Width { width, least, most })
        }
    }

    pub(crate) fn check_number(value: f64, what: impl FnOnce() -> String) -> Result<(), Self> {
        if !value.is_finite() {
            Err(Self::NotFinite { what: what() })
        } else if value.abs() > LARGEST {
            Err(Self::TooLarge { what: what(), value })
        } else {
            Ok(())
        }
    }

    pub(crate) fn check_positive(value: f64, what: impl Fn() -> String) -> Result<(), Self> {
        Self::check_number(value, &what)?;
        if value > 0.0 {
            Ok(())
        } else {
            Err(Self::NotPositive { what: what(), value })
        }
    }
}
