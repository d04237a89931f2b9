//! Keys of the two layouts, without what is mounted on them.

use super::Kind::{Angle, Choice, Length, Map, Parts, Point, Rate, Text};
use super::{Key, key};

const BOTH: &[&str] = &["double_wishbone", "live_axle"];
const CORNER: &[&str] = &["double_wishbone"];
const AXLE: &[&str] = &["live_axle"];
const ARMS: &[&str] = &["upper_arm", "lower_arm"];

pub(super) const KEYS: &[Key] = &[
    key(
        "title",
        BOTH,
        Text,
        "What the model is called on sheets and pictures.",
        "title: \"My front corner\"",
    ),
    key(
        "provenance",
        BOTH,
        Text,
        "Who measured the numbers, when and how; kept with the model.",
        "provenance: \"taped on stands, May\"",
    ),
    key(
        "layout",
        BOTH,
        Choice,
        "\"double_wishbone\" or \"live_axle\". A model file needs it; in a script the word says it.",
        "layout: \"double_wishbone\"",
    ),
    key(
        "unit",
        BOTH,
        Choice,
        "The unit of every length: \"mm\" or \"inch\". It has to be given. Sheets, tables and pictures use it as well.",
        "unit: \"mm\"",
    ),
    key(
        "rate_unit",
        BOTH,
        Choice,
        "The unit of spring and link rates: \"N/mm\" or \"lb/in\". Without it, N/mm beside unit \"mm\" and lb/in beside \
         \"inch\".",
        "rate_unit: \"lb/in\"",
    ),
    key(
        "side",
        CORNER,
        Choice,
        "\"left\" (the usual one, without it) or \"right\": the side of the car that the points lie on.",
        "side: \"left\"",
    ),
    key(
        "right",
        BOTH,
        Choice,
        "What stands on the right. A corner: \"mirror\" (also without the key) or a map with the right corner. An axle: \
         \"mirror\" when the left parts are given and the right ones stand mirrored, \"given\" (also without the key) when \
         all are given.",
        "right: \"mirror\"",
    ),
    key(
        "upper_arm",
        CORNER,
        Map,
        "The upper arm: two pivots on the frame and a ball joint on the upright.",
        "upper_arm: #{ front_pivot: [150, 400, 449], rear_pivot: [-170, 395, 433], ball_joint: [-16, 652, 462] }",
    ),
    key(
        "lower_arm",
        CORNER,
        Map,
        "The lower arm, with the keys of the upper one.",
        "lower_arm: #{ front_pivot: [150, 275, 205], rear_pivot: [-165, 265, 200], ball_joint: [6, 690, 190] }",
    ),
    key(
        "front_pivot",
        ARMS,
        Point,
        "The arm's pivot on the frame nearer the front of the car: the middle of the bushing.",
        "front_pivot: [150, 400, 449]",
    ),
    key(
        "rear_pivot",
        ARMS,
        Point,
        "The arm's pivot on the frame nearer the rear of the car: the middle of the bushing.",
        "rear_pivot: [-170, 395, 433]",
    ),
    key(
        "ball_joint",
        ARMS,
        Point,
        "The centre of the arm's ball joint.",
        "ball_joint: [-16, 652, 462]",
    ),
    key(
        "tie_rod",
        CORNER,
        Map,
        "The tie rod, steering straight ahead; at the rear the toe link.",
        "tie_rod: #{ inner: [-120, 302, 214], outer: [-140, 668, 211] }",
    ),
    key(
        "inner",
        &["tie_rod"],
        Point,
        "The joint on the rack, the centre link or the frame.",
        "inner: [-120, 302, 214]",
    ),
    key(
        "outer",
        &["tie_rod"],
        Point,
        "The joint on the steering arm.",
        "outer: [-140, 668, 211]",
    ),
    key(
        "wheel",
        CORNER,
        Map,
        "The wheel of the corner.",
        "wheel: #{ centre: [0, 757, 320], tyre_radius: 320, camber: -0.5, toe: 0.1 }",
    ),
    key(
        "centre",
        &["wheel"],
        Point,
        "The middle of the tyre's width at hub height.",
        "centre: [0, 757, 320]",
    ),
    key(
        "tyre_radius",
        &["wheel", "wheels"],
        Length,
        "Hub centre to the ground, with the car's weight on the tyre.",
        "tyre_radius: 320",
    ),
    key(
        "camber",
        &["wheel"],
        Angle,
        "Camber of this wheel: minus when its top leans in. It holds as measured, at travel 0, which is ride height only if \
         the points were measured there. 0 without it.",
        "camber: -0.5",
    ),
    key(
        "toe",
        &["wheel"],
        Angle,
        "Toe of this wheel alone: plus for toe-in. It holds as measured, at travel 0, which is ride height only if the \
         points were measured there. 0 without it.",
        "toe: 0.1",
    ),
    key(
        "links",
        AXLE,
        Parts,
        "The links of the axle by name, each with `body` and `axle`. Names that end in `_left` have partners in `_right`.",
        "links: #{ panhard_rod: #{ body: [-2810, 470, 345], axle: [-2810, -450, 330] } }",
    ),
    key(
        "body",
        &["links"],
        Point,
        "The link's joint on the frame.",
        "body: [-2810, 470, 345]",
    ),
    key(
        "axle",
        &["links"],
        Point,
        "The link's joint on the axle.",
        "axle: [-2810, -450, 330]",
    ),
    key(
        "stiffness",
        &["links"],
        Rate,
        "How stiff the link is along its length, bushings included. Only an axle on more links than it needs uses it; links \
         without it count as equally stiff.",
        "stiffness: 4000",
    ),
    key(
        "wheels",
        AXLE,
        Map,
        "The wheels of the axle.",
        "wheels: #{ left: [-2720, 745, 315], tyre_radius: 315 }",
    ),
    key(
        "pinion",
        AXLE,
        Map,
        "Where the propeller shaft meets the axle, for the angle of the pinion.",
        "pinion: #{ point: [-2450, 0, 325], nose_up: 2 }",
    ),
    key(
        "point",
        &["pinion"],
        Point,
        "The centre of the joint at the pinion.",
        "point: [-2450, 0, 325]",
    ),
    key(
        "nose_up",
        &["pinion"],
        Angle,
        "How far the pinion's nose points up, as measured, at travel 0; minus for down. 0 without it.",
        "nose_up: 2",
    ),
];
