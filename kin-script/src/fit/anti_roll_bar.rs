//! The anti-roll bar: what it does at the wheels, and whether its links preload it.

use super::asked::refused;
use super::places::place_keys;
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use kin_core::Dimension::{FineAngle, FineLength, Force, Rate, Ratio, Torque};
use kin_core::checks::{BarAtWheel, check_axle_anti_roll_bar, check_corner_anti_roll_bar};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "anti_roll_bar",
    counted: "check_anti_roll_bar",
    needs_ride_height: false,
    documentation: "What an anti-roll bar does at the wheels, whether its links preload it at ride height, and the link length that \
        frees it.\n\n\
        Keys: `section` (`outside_diameter`, `inside_diameter` of a tube, `shear_modulus`, `young_modulus` in MPa or ksi; spring steel unless \
        given), `arm` (\"stiff\" unless given, \"same_as_bar\", #{ blade: #{ `thickness`, `width` } } or #{ rate: force at its end \
        per deflection }), `length` (twisted; between both roots unless given), `mounted_on` (\"body\" unless given, or \"axle\"), \
        `left` and `right` (`root` where the arm begins on the axis, `arm_end`, `link_end`, `rides_on`, `link_length`; the right is \
        the mirror unless given), `other_axle_roll_stiffness` (N m or lb-ft per degree, springs and bar), `largest_preload` (force at a \
        wheel that counts as none; 20 N unless given), `range` (`bump`, `droop`, `rack`).\n\n\
        Can be read: `roll_stiffness`, `spring_roll_stiffness`, `torsional_rate` (N m or lb-ft per degree), `share_of_axle`, \
        `share_of_car`, `left_motion_ratio`, `right_motion_ratio`, `left_wheel_rate_in_roll`, `right_wheel_rate_in_roll`, \
        `left_wheel_rate_alone`, `right_wheel_rate_alone`, `rate_at_arm_ends`, `lost_to_arm_bending`, `left_link_length`, \
        `right_link_length`, `left_link_without_preload`, `preload_twist` (degrees), `preload_at_left_wheel`, `preload_on_scales`, \
        `least_link_angle` (and its `_at`, `_travel`, `_rack`, or `_left`, `_right`).",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let question = asked.read(question, "the anti-roll bar")?;
    let bar = match asked.suspension {
        Suspension::Corner(corner) => check_corner_anti_roll_bar(corner, &question),
        Suspension::Axle(axle) => check_axle_anti_roll_bar(axle, &question),
    };
    let bar = bar.map_err(|error| refused(&error, &asked.units))?;
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Anti-roll bar",
            items: vec![item(&bar)],
            findings: bar.findings.clone(),
        },
        typed: Typed::AntiRollBar(bar),
    })
}

/// Torque per degree from torque per radian.
fn per_degree(per_radian: f64) -> f64 {
    per_radian.to_radians()
}

fn item(bar: &BarAtWheel) -> Item {
    let mut item = Item::new("");
    for (key, label, value) in [
        ("left_link_length", "left link, as set", bar.link_lengths[0]),
        ("right_link_length", "right link, as set", bar.link_lengths[1]),
        (
            "left_link_without_preload",
            "left link without preload",
            bar.left_link_without_preload,
        ),
    ] {
        item = item.quantity(key, label, value, FineLength);
    }
    item = item
        .quantity(
            "preload_twist",
            "bar twisted at ride height",
            bar.preload_twist,
            FineAngle,
        )
        .quantity(
            "preload_at_left_wheel",
            "that loads the left wheel by",
            bar.preload_at_left_wheel,
            Force,
        )
        .maybe(
            "preload_on_scales",
            "  of it on corner scales",
            (bar.preload_on_scales, Force),
            "not known without the other axle's roll stiffness",
        )
        .quantity(
            "roll_stiffness",
            "roll stiffness per degree",
            per_degree(bar.roll_stiffness),
            Torque,
        )
        .maybe(
            "spring_roll_stiffness",
            "  and of the springs",
            (bar.spring_roll_stiffness.map(per_degree), Torque),
            "not known without springs",
        );
    for (key, label, share) in [
        ("share_of_axle", "bar, of this axle's", bar.share_of_axle),
        ("share_of_car", "this axle, of the car's", bar.share_of_car),
    ] {
        item = item.with(key, label, share.map_or(Value::Absent("not known"), Value::Share));
    }
    item = pair(
        item,
        ["left_motion_ratio", "right_motion_ratio"],
        ["arm end per wheel", "  right"],
        bar.motion_ratio,
        Ratio,
    );
    item = pair(
        item,
        ["left_wheel_rate_in_roll", "right_wheel_rate_in_roll"],
        ["adds to the wheel rate, roll", "  right"],
        bar.wheel_rate_in_roll,
        Rate,
    );
    item = pair(
        item,
        ["left_wheel_rate_alone", "right_wheel_rate_alone"],
        ["adds to one wheel alone", "  right"],
        bar.wheel_rate_alone,
        Rate,
    );
    item.quantity(
        "rate_at_arm_ends",
        "rate between the arm ends",
        bar.rate_at_arm_ends,
        Rate,
    )
    .with(
        "lost_to_arm_bending",
        "lost to bending of the arms",
        Value::Share(bar.lost_to_arm_bending),
    )
    .quantity(
        "torsional_rate",
        "bar alone, torque per degree",
        per_degree(bar.torsional_rate),
        Torque,
    )
    .angle(
        "least_link_angle",
        "link to arm, least angle",
        bar.least_link_angle,
    )
    .place(
        place_keys!("least_link_angle"),
        "  found",
        &bar.least_link_angle_at,
    )
}

/// A value of both sides; the right one is for people only where it is another.
fn pair(
    item: Item,
    keys: [&'static str; 2],
    labels: [&'static str; 2],
    [left, right]: [f64; 2],
    dimension: kin_core::Dimension,
) -> Item {
    let same = (left - right).abs() <= 1e-6 * left.abs();
    let right_label = if same { "" } else { labels[1] };
    item.quantity(keys[0], labels[0], left, dimension)
        .quantity(keys[1], right_label, right, dimension)
}
