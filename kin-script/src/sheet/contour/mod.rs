//! Maps over two numbers: lines of equal value, and where limits fail, as SVG text.
//!
//! The lines come from the `contour` crate (marching squares with linear interpolation). Nothing here computes kinematics.

mod field;
mod labels;
mod limits;
mod paint;

use super::PictureError;
use super::plot::Axis;

/// A map over two numbers.
#[derive(Debug, Clone, Default)]
pub struct ContourMap {
    /// Title, also the `<title>` of the picture.
    pub title: String,
    /// What the map shows, for the `<desc>` of the picture.
    pub description: String,
    /// The axis across.
    pub x: Axis,
    /// The axis upwards.
    pub y: Axis,
    /// What the lines are.
    pub z: Axis,
    /// Places across, rising.
    pub xs: Vec<f64>,
    /// Places upwards, rising.
    pub ys: Vec<f64>,
    /// The number at every place, all places across of the lowest row first; none where there is none.
    pub values: Vec<Option<f64>>,
    /// What is left to each limit, at every place as `values` are: from zero up it holds. None where it could not be judged;
    /// no limit where nothing was limited.
    pub margins: Vec<Vec<Option<f64>>>,
}

impl ContourMap {
    /// The picture as SVG text, with a title and a description for those who cannot see it.
    ///
    /// # Errors
    /// [`PictureError`] when there are too few places or numbers, or places do not rise.
    pub fn svg(&self) -> Result<String, PictureError> {
        let empty = || PictureError::Empty {
            place: self.z.name.clone(),
        };
        if self.xs.len() < 2 || self.ys.len() < 2 || self.values.len() != self.xs.len() * self.ys.len() {
            return Err(empty());
        }
        for (axis, places) in [(&self.x, &self.xs), (&self.y, &self.ys)] {
            for pair in places.windows(2) {
                PictureError::check_number(pair[0], || axis.name.clone())?;
                PictureError::check_number(pair[1], || axis.name.clone())?;
                if pair[1] <= pair[0] {
                    return Err(PictureError::BadRange {
                        axis: axis.name.clone(),
                        low: pair[0],
                        high: pair[1],
                    });
                }
            }
        }
        if self.values.iter().flatten().all(|value| !value.is_finite()) {
            return Err(empty());
        }
        paint::picture(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A slope that rises with x, whose limit fails for y above 6.
    fn slope() -> ContourMap {
        let xs: Vec<f64> = (0..6).map(f64::from).collect();
        let ys = vec![0.0, 2.0, 4.0, 8.0];
        let places = || ys.iter().flat_map(|y| xs.iter().map(move |x| (*x, *y)));
        ContourMap {
            title: "A slope".into(),
            description: "the number rises to the right".into(),
            x: Axis::new("Across", "mm"),
            y: Axis::new("Up", "mm"),
            z: Axis::new("Slope", ""),
            values: places().map(|(x, _)| Some(2.0 * x)).collect(),
            margins: vec![places().map(|(_, y)| Some(6.0 - y)).collect()],
            xs: xs.clone(),
            ys: ys.clone(),
        }
    }

    #[test]
    fn a_map_says_what_it_shows_and_names_its_lines() {
        let svg = slope().svg().expect("a picture");
        let document = roxmltree::Document::parse(&svg).expect("a document");
        let texts: Vec<&str> = document
            .descendants()
            .filter(|node| node.has_tag_name("text") || node.has_tag_name("title"))
            .filter_map(|node| node.text().map(str::trim))
            .collect();
        for words in ["A slope", "Across (mm)", "Up (mm)", "4", "6"] {
            assert!(texts.contains(&words), "{words} in {texts:?}");
        }
        assert_eq!(svg, slope().svg().expect("a picture"));
    }

    #[test]
    fn what_cannot_be_drawn_is_refused() {
        let mut map = slope();
        map.values.fill(None);
        assert!(matches!(map.svg(), Err(PictureError::Empty { .. })));
        let mut map = slope();
        map.xs.reverse();
        assert!(matches!(map.svg(), Err(PictureError::BadRange { .. })));
    }
}
