//! The pictures that studies make.

use crate::host::ScriptError;
use crate::sheet::bars::BarChart;
use crate::sheet::contour::ContourMap;
use crate::sheet::plot::Figure;

/// A picture of a study.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant, reason = "a handful exist at a time")]
pub enum StudyPicture {
    /// Curves against something that varies.
    Curves(Figure),
    /// Signed bars, one under the other.
    Bars(BarChart),
    /// Lines of equal value over two numbers.
    Map(ContourMap),
}

impl StudyPicture {
    /// The picture as SVG.
    ///
    /// # Errors
    /// When it holds nothing that can be drawn.
    pub fn svg(&self) -> Result<String, ScriptError> {
        let svg = match self {
            Self::Curves(figure) => figure.svg(),
            Self::Bars(chart) => chart.svg(),
            Self::Map(map) => map.svg(),
        };
        svg.map_err(|error| ScriptError::new(error.to_string()))
    }
}
