//! Every key of the maps that scripts and model files are written with: what it means, in which unit, and an example.

mod model;
mod mounted;
mod moves;

use Kind::{Angle, Choice, Length, List, Map, Number, Parts, Point, Rate, Text, Texts};

/// A key of a map.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Key {
    /// Its name.
    pub name: &'static str,
    /// The maps it stands in: the word that takes the map, or the key the map is given under.
    pub inside: &'static [&'static str],
    /// What is written behind it.
    pub kind: Kind,
    /// What it means, with its sign, what it is counted from, and what holds without it.
    pub meaning: &'static str,
    /// It in a script.
    pub example: &'static str,
}

/// What is written behind a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A text.
    Text,
    /// One of a few texts.
    Choice,
    /// A length.
    Length,
    /// A place in space.
    Point,
    /// An angle.
    Angle,
    /// A spring or link rate.
    Rate,
    /// A plain number.
    Number,
    /// A map with the keys that stand inside it.
    Map,
    /// A map whose keys are names of one's own.
    Parts,
    /// A list of maps.
    List,
    /// A list of texts.
    Texts,
}

impl Kind {
    /// What is written, with its unit.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Text => "a text",
            Choice => "a text that names a choice",
            Length => "a length in the model's unit",
            Point => "a point [forward, left, up] in the model's unit",
            Angle => "an angle in degrees",
            Number => "a number",
            Rate => "a rate in the model's `rate_unit`",
            Map => "a map #{ }",
            Parts => "a map #{ } by names of your own",
            List => "a list of maps",
            Texts => "a list of texts",
        }
    }
}

const fn key(
    name: &'static str,
    inside: &'static [&'static str],
    kind: Kind,
    meaning: &'static str,
    example: &'static str,
) -> Key {
    Key {
        name,
        inside,
        kind,
        meaning,
        example,
    }
}

/// Every key: those of descriptions first, outer maps before inner ones, then those of sweeps, checks and drawings.
pub fn all() -> impl Iterator<Item = &'static Key> {
    descriptions().chain(moves::KEYS)
}

fn descriptions() -> impl Iterator<Item = &'static Key> {
    model::KEYS.iter().chain(mounted::KEYS)
}

/// The names of the keys of descriptions, for suggestions.
pub(super) fn of_descriptions<'a>() -> impl Iterator<Item = &'a str> {
    descriptions().map(|key| -> &'a str { key.name })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::from_map;
    use rhai::{Array, Dynamic, Map as ScriptMap};
    use std::collections::BTreeSet;

    const CORNER: &str = r#"#{
        title: "t", provenance: "p", layout: "double_wishbone", unit: "mm", rate_unit: "N/mm", side: "left", right: "mirror",
        upper_arm: #{ front_pivot: [150, 400, 449], rear_pivot: [-170, 395, 433], ball_joint: [-16, 652, 462] },
        lower_arm: #{ front_pivot: [150, 275, 205], rear_pivot: [-165, 265, 200], ball_joint: [6, 690, 190] },
        tie_rod: #{ inner: [-120, 302, 214], outer: [-140, 668, 211] },
        wheel: #{ centre: [0, 757, 320], tyre_radius: 320 },
        coilover: #{ upper_mount: [-4, 478, 492], lower_mount: [0, 540, 182], rides_on: "lower_arm", extended: 349, compressed: 254 },
        damper: #{ upper_mount: [-4, 478, 492], lower_mount: [0, 540, 182], rides_on: "lower_arm", extended: 349, compressed: 254 },
        spring: #{ rate: 60 }, ride_height: #{ travel: 0 }, wanted: #{ bump: 60 },
        stops: #{ straps: [#{ name: "s", upper_mount: [0, 0, 0], lower_mount: [0, 0, 9], rides_on: "lower_arm", length: 9 }] },
    }"#;
    const AXLE: &str = r#"#{
        title: "t", provenance: "p", layout: "live_axle", unit: "mm", rate_unit: "N/mm", right: "mirror",
        links: #{ lower_left: #{ body: [-2150, 460, 255], axle: [-2710, 480, 240] } },
        wheels: #{ left: [-2720, 745, 315], tyre_radius: 315 }, pinion: #{ point: [-2450, 0, 325] },
        coilovers: #{ left: #{ upper_mount: [0, 0, 9], lower_mount: [0, 0, 0], rides_on: "axle", extended: 9, compressed: 5 } },
        dampers: #{ left: #{ upper_mount: [0, 0, 9], lower_mount: [0, 0, 0], rides_on: "axle", extended: 9, compressed: 5 } },
        springs: #{ left: #{ rate: 35 } }, ride_height: #{ travel: 0 }, stops: #{ bump: 1 }, wanted: #{ bump: 60 },
    }"#;
    /// Other spellings that the reader takes and that need no words of their own.
    const SPELLINGS: [&str; 2] = ["center", "tire_radius"];

    fn model(text: &str) -> ScriptMap {
        rhai::Engine::new().eval::<ScriptMap>(text).unwrap()
    }

    /// The same value with a key that cannot be meant, in the map at `path`; a list stands for its first item.
    fn with_key_at(value: Dynamic, path: &str) -> Dynamic {
        if let Some(list) = value.clone().try_cast::<Array>() {
            return vec![with_key_at(list[0].clone(), path)].into();
        }
        let mut map = value.cast::<ScriptMap>();
        match path.split_once('.') {
            Some((first, rest)) => {
                let inner = map[first].clone();
                map.insert(first.into(), with_key_at(inner, rest));
            }
            None => {
                map.insert("qqqqqqqqqqqq".into(), Dynamic::UNIT);
            }
        }
        map.into()
    }

    /// The keys the reader of models says it takes in the map at `path`.
    fn taken(description: &str, path: &str) -> BTreeSet<String> {
        let map = with_key_at(model(description).into(), path).cast::<ScriptMap>();
        let help = from_map(map, None).unwrap_err().help.unwrap();
        let (_, names) = help
            .split_once("the keys are ")
            .unwrap_or_else(|| panic!("{path}: {help}"));
        names
            .replace(" and ", ", ")
            .split(", ")
            .filter(|name| !SPELLINGS.contains(name))
            .map(str::to_owned)
            .collect()
    }

    fn explained(inside: &str) -> BTreeSet<String> {
        let found = all().filter(|key| key.inside.contains(&inside));
        found.map(|key| key.name.to_owned()).collect()
    }

    #[test]
    fn the_keys_explained_are_those_the_reader_takes() {
        for (description, path, inside) in [
            (CORNER, "upper_arm.", "upper_arm"),
            (CORNER, "lower_arm.", "lower_arm"),
            (CORNER, "tie_rod.", "tie_rod"),
            (CORNER, "wheel.", "wheel"),
            (CORNER, "coilover.", "coilover"),
            (CORNER, "damper.", "damper"),
            (CORNER, "spring.", "spring"),
            (CORNER, "ride_height.", "ride_height"),
            (CORNER, "stops.", "stops"),
            (CORNER, "stops.straps.", "straps"),
            (CORNER, "wanted.", "wanted"),
            (AXLE, "links.lower_left.", "links"),
            (AXLE, "wheels.", "wheels"),
            (AXLE, "pinion.", "pinion"),
            (AXLE, "coilovers.", "coilovers"),
            (AXLE, "dampers.", "dampers"),
            (AXLE, "springs.", "springs"),
            (AXLE, "coilovers.left.", "coilover"),
            (AXLE, "springs.left.", "spring"),
        ] {
            assert_eq!(taken(description, path), explained(inside), "{path}");
        }
        // The outermost maps have the keys of the header and of the right corner, which are read apart.
        for (description, inside) in [(CORNER, "double_wishbone"), (AXLE, "live_axle")] {
            let apart = ["title", "provenance", "layout", "unit", "rate_unit", "right"].map(str::to_owned);
            let mut known = taken(description, "");
            known.extend(apart);
            assert_eq!(known, explained(inside), "{inside}");
        }
    }

    #[test]
    fn every_key_is_explained_with_an_example_of_it() {
        for key in all() {
            assert!(
                key.meaning.ends_with('.') && key.meaning.len() > 15,
                "{}",
                key.name
            );
            let written = format!("{}:", key.name);
            assert!(key.example.contains(&written), "{}: {}", key.name, key.example);
            assert!(
                rhai::Engine::new()
                    .compile_expression(format!("#{{ {} }}", key.example))
                    .is_ok(),
                "{}",
                key.example
            );
        }
    }
}
