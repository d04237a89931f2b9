//! The pictures that studies make.

use crate::host::ScriptError;
use crate::sheet::bars::BarChart;
use crate::sheet::plot::Figure;

/// A picture of a study.
#[derive(Debug, Clone)]
pub enum StudyPicture {
    /// Curves against something that varies.
    Curves(Figure),
    /// Signed bars, one under the other.
    Bars(BarChart),
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
        };
        svg.map_err(|error| ScriptError::new(error.to_string()))
    }
}
