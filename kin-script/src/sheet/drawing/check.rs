//! Whether a drawing can be drawn.

use super::model::{BarStyle, Drawing, Shape, View, Wheel};
use crate::sheet::PictureError;
use crate::sheet::text::clean;

const MOST_VIEWS: usize = 3;
const MOST_COILS: u32 = 40;

/// Refuses what cannot be drawn.
pub(super) fn check(drawing: &Drawing) -> Result<(), PictureError> {
    PictureError::check_width(drawing.width)?;
    let count = drawing.views.len();
    if count == 0 || count > MOST_VIEWS {
        return Err(PictureError::ViewCount { count });
    }
    PictureError::check_positive(drawing.scale_unit.millimetres, || {
        "the unit of the scale bar".into()
    })?;
    drawing.views.iter().try_for_each(check_view)
}

fn check_view(view: &View) -> Result<(), PictureError> {
    let name = clean(&view.name);
    let mut solid = 0;
    for number in view.reaches.iter().flat_map(|place| [place.0, place.1]) {
        PictureError::check_number(number, || format!("a place that view `{name}` reaches"))?;
    }
    for shape in view.layers.iter().flat_map(|layer| &layer.shapes) {
        check_shape(shape, &name)?;
        solid += usize::from(matches!(
            shape,
            Shape::Bar(_) | Shape::Joint(_) | Shape::Wheel(_) | Shape::Outline(_)
        ));
    }
    if solid == 0 {
        Err(PictureError::Empty {
            place: format!("view `{name}`"),
        })
    } else {
        Ok(())
    }
}

fn check_shape(shape: &Shape, view: &str) -> Result<(), PictureError> {
    let place = |what: &'static str, places: &[(f64, f64)]| {
        places
            .iter()
            .flat_map(|place| [place.0, place.1])
            .try_for_each(|number| {
                PictureError::check_number(number, || format!("the place of a {what} in view `{view}`"))
            })
    };
    let positive = |what: &'static str, value: f64| {
        PictureError::check_positive(value, || format!("the {what} in view `{view}`"))
    };
    match shape {
        Shape::Bar(bar) => {
            place("bar", &[bar.from, bar.to])?;
            match bar.style {
                BarStyle::Damper { body } => positive("length of a damper body", body),
                BarStyle::Spring { diameter, coils } => {
                    positive("diameter of a spring", diameter)?;
                    positive("number of coils of a spring", f64::from(coils))?;
                    let value = f64::from(coils);
                    let what = format!("the number of coils of a spring in view `{view}`");
                    if coils > MOST_COILS {
                        Err(PictureError::TooLarge { what, value })
                    } else {
                        Ok(())
                    }
                }
                _ => Ok(()),
            }
        }
        Shape::Joint(joint) => place("joint", &[joint.at]),
        Shape::Wheel(Wheel::Edge {
            centre,
            radius,
            width,
            plane,
        }) => {
            place("wheel", &[*centre])?;
            PictureError::check_number(plane.0, || format!("the plane of a wheel in view `{view}`"))?;
            PictureError::check_number(plane.1, || format!("the plane of a wheel in view `{view}`"))?;
            positive("direction of a wheel's plane", plane.0.hypot(plane.1))?;
            positive("radius of a wheel", *radius)?;
            positive("width of a wheel", *width)
        }
        Shape::Wheel(Wheel::Round { centre, radius }) => {
            place("wheel", &[*centre])?;
            positive("radius of a wheel", *radius)
        }
        Shape::Ground(height) => {
            PictureError::check_number(*height, || format!("the height of the ground in view `{view}`"))
        }
        Shape::Dimension(dimension) => place("dimension", &[dimension.from, dimension.to]),
        Shape::Construction(line) => place("construction line", &[line.from, line.to]),
        Shape::Marker(marker) => place("marker", &[marker.at]),
        Shape::Outline(outline) => {
            place("solid", &outline.places)?;
            if outline.places.len() < 3 {
                return Err(PictureError::Empty {
                    place: format!("an outline in view `{view}`"),
                });
            }
            Ok(())
        }
    }
}
