//! Keys of the maps that sweeps, positions, checks and drawings are asked with.

use super::Kind::{Angle, Length, Number, Parts, Texts};
use super::{Key, key};

const MOVES: &[&str] = &["sweep", "at"];

pub(super) const KEYS: &[Key] = &[
    key(
        "travel",
        MOVES,
        Length,
        "Wheel travel, of both wheels of an axle, from the points as measured; plus when the wheel rises. A plain number in \
         `at` is this.",
        "travel: 25",
    ),
    key(
        "bump",
        MOVES,
        Length,
        "Wheel travel, of both wheels of an axle, from ride height; droop is minus.",
        "bump: steps(-50, 65, 5)",
    ),
    key(
        "rack",
        MOVES,
        Length,
        "How far the steering rack is moved, of a corner; plus to the left.",
        "rack: 10",
    ),
    key(
        "roll",
        MOVES,
        Angle,
        "Roll of an axle under the body; plus when the left wheel rises.",
        "roll: steps(-4, 4, 1)",
    ),
    key(
        "travel_left",
        MOVES,
        Length,
        "Travel of the left wheel of an axle from the points as measured.",
        "travel_left: 50",
    ),
    key(
        "travel_right",
        MOVES,
        Length,
        "Travel of the right wheel of an axle from the points as measured.",
        "travel_right: -20",
    ),
    key(
        "bump",
        &["check_stroke", "stroke", "draw", "moving_page", "animation"],
        Length,
        "Wheel travel up from ride height: in a check the travel to keep, in a drawing where the upper ghost stands, on a moving page \
         how far the wheels go.",
        "bump: 65",
    ),
    key(
        "droop",
        &["check_stroke", "stroke", "draw", "moving_page", "animation"],
        Length,
        "Wheel travel down from ride height: in a check the travel to keep, in a drawing where the lower ghost stands, on a moving \
         page how far the wheels go.",
        "droop: 50",
    ),
    key(
        "margin",
        &["check_stroke", "stroke"],
        Length,
        "Travel beyond the wanted one below which a limit is called tight.",
        "margin: 5",
    ),
    key(
        "views",
        &["draw"],
        Texts,
        "Which views are drawn: \"front\" (of an axle, from behind), \"side\" and \"top\". Front and side without it.",
        "views: [\"front\", \"side\", \"top\"]",
    ),
    key(
        "seconds",
        &["animation"],
        Number,
        "The time from droop to bump and back, in seconds, 1 to 60; 5 without it.",
        "seconds: 8",
    ),
    key(
        "pictures",
        &["page"],
        Texts,
        "Pictures on the page: what `draw` and `plot` returned in this run, in the order they are shown.",
        "pictures: [draw(\"front.svg\", corner)]",
    ),
    key(
        "tables",
        &["page"],
        Parts,
        "Tables on the page, each under its caption.",
        "tables: #{ \"Camber in bump\": run.table([\"camber\"]) }",
    ),
    key(
        "sources",
        &["page"],
        Parts,
        "Where numbers come from, in words such as measured, catalogue or assumed, by what they belong to; what has none has the \
         model's `provenance`.",
        "sources: #{ coilover: \"catalogue\", \"coilover.upper_mount\": \"measured\" }",
    ),
];
