//! Left against right in words.

use crate::fit::paragraph;
use crate::table::fixed;
use crate::units::Units;
use kin_core::Dimension;
use kin_core::survey::{Symmetry, point_words};
use std::fmt::Write;

/// The name of the point's partner on the right; none for a name without `left` in it.
#[must_use]
pub fn partner(name: &str) -> Option<String> {
    let partner = name.replacen("left", "right", 1);
    (partner != name).then_some(partner)
}

/// The comparison as a sheet.
#[must_use]
pub fn symmetry_sheet(title: &str, symmetry: &Symmetry, units: &Units) -> String {
    let show = units.shown();
    let mut sheet = String::new();
    let _ = writeln!(sheet, "Left against right: {title}");
    paragraph(&mut sheet, "", &symmetry.sentence().render(show));
    let _ = writeln!(sheet, "\nLeft minus mirrored right, with standard deviation:");
    for pair in &symmetry.pairs {
        let _ = writeln!(
            sheet,
            "  {} / {}",
            point_words(&pair.left),
            point_words(&pair.right)
        );
        for (axis, word) in ["forward", "left", "up"].into_iter().enumerate() {
            let _ = writeln!(
                sheet,
                "    {word:<8} {:>10} +- {:<9} {}",
                units.text(pair.difference[axis], Dimension::Length),
                units.text(pair.deviations[axis], Dimension::Length),
                pair.straightness[axis].words()
            );
        }
    }
    if let Some(thrust) = &symmetry.thrust {
        let _ = writeln!(sheet, "\nAxles:");
        let length = |value| units.text(value, Dimension::Length);
        paragraph(
            &mut sheet,
            "  ",
            &format!(
                "Wheelbase left {}, right {}: left minus right {} +- {}.",
                length(thrust.wheelbase_left),
                length(thrust.wheelbase_right),
                length(thrust.difference),
                length(thrust.difference_deviation)
            ),
        );
        let degrees = |angle: f64| fixed(angle.to_degrees(), 2);
        let side = if thrust.thrust_angle >= 0.0 {
            "left"
        } else {
            "right"
        };
        paragraph(
            &mut sheet,
            "  ",
            &format!(
                "Thrust angle {} deg +- {} deg, to the {side}: the direction the rear axle pushes, against the line through the \
                 middles of both axles.",
                degrees(thrust.thrust_angle.abs()),
                degrees(thrust.thrust_deviation)
            ),
        );
    }
    sheet.truncate(sheet.trim_end().len());
    sheet
}
