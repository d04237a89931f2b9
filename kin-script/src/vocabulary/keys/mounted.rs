//! Keys of what is mounted on either layout: dampers, springs, ride height, stops, and the travel wanted.

use super::Kind::{Choice, Length, List, Map, Point, Rate, Text};
use super::{Key, key};

const BOTH: &[&str] = &["double_wishbone", "live_axle"];
const CORNER: &[&str] = &["double_wishbone"];
const AXLE: &[&str] = &["live_axle"];
const DAMPERS: &[&str] = &["coilover", "damper"];
const MOUNTS: &[&str] = &["coilover", "damper", "spring", "straps"];

pub(super) const KEYS: &[Key] = &[
    key(
        "coilover",
        CORNER,
        Map,
        "A damper with its spring around it. Each side of `coilovers` has the same keys.",
        "coilover: #{ upper_mount: [-4, 478, 492], lower_mount: [0, 540, 182], rides_on: \"lower_arm\", \
         extended: 349.25, compressed: 254, bump_stop: 20 }",
    ),
    key(
        "damper",
        CORNER,
        Map,
        "A damper without a spring, with the keys of a coilover; its spring stands apart. So has each side of `dampers`.",
        "damper: #{ upper_mount: [-4, 478, 492], lower_mount: [0, 540, 182], rides_on: \"lower_arm\", extended: 349.25, \
         compressed: 254 }",
    ),
    key(
        "spring",
        CORNER,
        Map,
        "The spring. Without mounts of its own it sits on the coilover. Each side of `springs` has the same keys.",
        "spring: #{ rate: 60, free_length: 250, upper_seat: 55, lower_seat: 75 }",
    ),
    key(
        "coilovers",
        AXLE,
        Map,
        "The coilovers of an axle: `left`, and `right` where it is not the mirror image.",
        "coilovers: #{ left: #{ upper_mount: [-2770, 460, 550], lower_mount: [-2785, 535, 222], rides_on: \"axle\", \
         extended: 390, compressed: 270 } }",
    ),
    key(
        "dampers",
        AXLE,
        Map,
        "The dampers of an axle whose springs stand apart, as `coilovers`.",
        "dampers: #{ left: #{ upper_mount: [-2770, 460, 550], lower_mount: [-2785, 535, 222], rides_on: \"axle\", \
         extended: 390, compressed: 270 } }",
    ),
    key(
        "springs",
        AXLE,
        Map,
        "The springs of an axle: `left`, and `right` where it is not the mirror image.",
        "springs: #{ left: #{ rate: 35, free_length: 305, upper_seat: 55, lower_seat: 70 } }",
    ),
    key(
        "left",
        &["wheels", "coilovers", "dampers", "springs"],
        Map,
        "The one on the left: of `wheels` a point, the middle of the tyre's width at hub height; else a map.",
        "left: [-2720, 745, 315]",
    ),
    key(
        "right",
        &["wheels", "coilovers", "dampers", "springs"],
        Map,
        "The one on the right, as `left`. Not needed with `right: \"mirror\"` in the model.",
        "right: [-2720, -745, 315]",
    ),
    key(
        "upper_mount",
        MOUNTS,
        Point,
        "The end on the frame: the middle of the eye bolt, or of the rubbers of a stud.",
        "upper_mount: [-4, 478, 492]",
    ),
    key(
        "lower_mount",
        MOUNTS,
        Point,
        "The end on the moving part: the middle of the eye bolt, or of the rubbers of a stud.",
        "lower_mount: [0, 540, 182]",
    ),
    key(
        "rides_on",
        MOUNTS,
        Choice,
        "The part that carries the lower end: \"lower_arm\", \"upper_arm\" or \"upright\"; of an axle \"axle\" or the name of \
         a link.",
        "rides_on: \"lower_arm\"",
    ),
    key(
        "extended",
        DAMPERS,
        Length,
        "Full length, as the catalogue gives it.",
        "extended: 349.25",
    ),
    key(
        "compressed",
        DAMPERS,
        Length,
        "Shortest length, metal to metal, as the catalogue gives it.",
        "compressed: 254",
    ),
    key(
        "bump_stop",
        DAMPERS,
        Length,
        "Length of the rubber on the shaft: it is touched that much before metal. 0 without it.",
        "bump_stop: 20",
    ),
    key(
        "upper_stud",
        DAMPERS,
        Length,
        "A stud instead of an eye: how far the middle of the rubbers lies beyond the mark the catalogue measures to.",
        "upper_stud: 14",
    ),
    key(
        "lower_stud",
        DAMPERS,
        Length,
        "The same at the lower end.",
        "lower_stud: 14",
    ),
    key("rate", &["spring"], Rate, "How stiff the spring is.", "rate: 60"),
    key(
        "free_length",
        &["spring"],
        Length,
        "Length without load. Without it the spring's force is not known, nor its part in the wheel rate.",
        "free_length: 250",
    ),
    key(
        "upper_seat",
        &["spring"],
        Length,
        "From the upper mount along the axis to the upper seat. 0 without it.",
        "upper_seat: 55",
    ),
    key(
        "lower_seat",
        &["spring"],
        Length,
        "From the lower mount along the axis to the lower seat. 0 without it.",
        "lower_seat: 75",
    ),
    key(
        "ride_height",
        BOTH,
        Map,
        "Where the car sits, when the points were measured elsewhere, such as hanging. Given in one of three ways: `travel`, \
         `damper_length`, or both `hub_to_lip` heights. Without it, ride height is where the points were measured.",
        "ride_height: #{ travel: 60 }",
    ),
    key(
        "travel",
        &["ride_height"],
        Length,
        "Wheel travel from the points as measured to ride height; plus when the wheel rises.",
        "travel: 60",
    ),
    key(
        "damper_length",
        &["ride_height"],
        Length,
        "Mount to mount with the car on its wheels; of an axle, of the left damper. When a script then moves a mount, ride \
         height moves with it: `hold_ride_height` keeps the wheel where it is.",
        "damper_length: 316",
    ),
    key(
        "hub_to_lip",
        &["ride_height"],
        Length,
        "Hub centre up to the wing lip with the car on its wheels; needs `hub_to_lip_as_measured`.",
        "hub_to_lip: 380",
    ),
    key(
        "hub_to_lip_as_measured",
        &["ride_height"],
        Length,
        "Hub centre up to the wing lip when the points were measured.",
        "hub_to_lip_as_measured: 440",
    ),
    key(
        "stops",
        BOTH,
        Map,
        "What stops the wheel besides the damper.",
        "stops: #{ bump: 70, droop: 50 }",
    ),
    key(
        "bump",
        &["stops", "wanted"],
        Length,
        "Of `stops`: wheel travel up from ride height to the suspension's own stop. Of `wanted`: the travel up from ride \
         height to keep before the bump stop. Not negative.",
        "bump: 65",
    ),
    key(
        "droop",
        &["stops", "wanted"],
        Length,
        "Of `stops`: wheel travel down from ride height to the suspension's own stop. Of `wanted`: the travel down from ride \
         height to keep before the damper tops out. Not negative.",
        "droop: 50",
    ),
    key(
        "straps",
        &["stops"],
        List,
        "Straps, and hoses that must not be pulled: each stops the wheel when it is taut.",
        "straps: [#{ name: \"strap\", upper_mount: [50, 430, 400], lower_mount: [60, 610, 200], rides_on: \"lower_arm\", \
         length: 300 }]",
    ),
    key(
        "name",
        &["straps"],
        Text,
        "What the strap or hose is called in findings.",
        "name: \"brake hose\"",
    ),
    key(
        "length",
        &["straps"],
        Length,
        "Distance between its ends when it is taut.",
        "length: 300",
    ),
    key(
        "wanted",
        BOTH,
        Map,
        "The wheel travel to keep, counted from ride height.",
        "wanted: #{ bump: 65, droop: 50, margin: 5 }",
    ),
    key(
        "margin",
        &["wanted"],
        Length,
        "Travel beyond the wanted one below which a limit is called tight.",
        "margin: 5",
    ),
];
