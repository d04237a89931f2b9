//! Model files and scripts say the same with the same names, in both directions.

use kin_core::pickups::{Measured, Quantity};
use kin_core::samples;
use kin_script::arguments;
use kin_script::model::{Body, Model, ModelFile, ModelFormat, Suspension, from_map};
use kin_script::units::{LengthUnit, RateUnit, Units};
use proptest::prelude::*;
use rhai::{Dynamic, Map};

fn models() -> Vec<Model> {
    let of = |title: &str, body| Model {
        title: title.into(),
        provenance: Some("invented".into()),
        units: Units::default(),
        body,
    };
    let corner = |corner| Body::DoubleWishbone { corner, right: None };
    vec![
        of("front", corner(samples::wagon_front())),
        of("rig", corner(samples::bench_rig())),
        of(
            "both sides",
            Body::DoubleWishbone {
                corner: samples::wagon_front(),
                right: Some(samples::bench_rig().mirrored()),
            },
        ),
        of("rear", Body::LiveAxle(samples::wagon_rear())),
        of(
            "written out",
            Body::LiveAxle(samples::pickup_rear().with_both_sides()),
        ),
    ]
}

#[test]
fn a_model_survives_each_kind_of_file() {
    for model in models() {
        for format in [ModelFormat::Toml, ModelFormat::Json] {
            let text = ModelFile::write(&model, format).expect("text");
            let again = ModelFile::read(&text, format).unwrap_or_else(|error| panic!("{error}\n{text}"));
            assert_eq!(again, model, "{text}");
            assert_eq!(ModelFile::write(&again, format).expect("text"), text);
        }
    }
}

#[test]
fn a_script_and_a_file_say_the_same() {
    for model in models() {
        // A script's map with the very keys of the JSON file.
        let json = ModelFile::write(&model, ModelFormat::Json).expect("text");
        let script = format!("#{}", json.replace(": {", ": #{"));
        let mut engine = rhai::Engine::new();
        engine.set_max_expr_depths(0, 0);
        let map: Map = engine
            .eval(&script)
            .unwrap_or_else(|error| panic!("{error}\n{script}"));
        assert_eq!(from_map(map, Some(model.layout())).expect("a model"), model);
    }
}

#[test]
fn units_other_than_the_usual_are_kept_and_converted_once() {
    let mut model = models().remove(0);
    model.units = Units {
        length: LengthUnit::Inch,
        rate: RateUnit::NewtonPerMillimetre,
    };
    let text = ModelFile::write(&model, ModelFormat::Toml).expect("text");
    assert!(
        text.contains("unit = \"inch\"") && text.contains("rate_unit = \"N/mm\""),
        "{text}"
    );
    assert_eq!(
        ModelFile::read(&text, ModelFormat::Toml).expect("a model").units,
        model.units
    );
}

#[test]
fn an_inch_model_is_the_same_car_as_its_millimetre_model() {
    let Body::DoubleWishbone { corner, .. } = models().remove(0).body else {
        panic!("a corner")
    };
    let mut in_inches = corner.clone();
    in_inches.visit(&mut |number, quantity| {
        if quantity == Quantity::Length {
            *number /= 25.4;
        }
    });
    let units = Units {
        length: LengthUnit::Inch,
        rate: RateUnit::NewtonPerMillimetre,
    };
    let model = Model {
        title: String::new(),
        provenance: None,
        units,
        body: Body::DoubleWishbone {
            corner: in_inches,
            right: None,
        },
    };
    let Suspension::Corner(found) = model.suspension().expect("a corner") else {
        panic!("a corner")
    };
    let (mut found, mut expected) = (found.pickups().clone(), corner);
    let mut numbers = Vec::new();
    expected.visit(&mut |number, _| numbers.push(*number));
    let mut numbers = numbers.into_iter();
    // Dividing and multiplying by 25.4 may each round once: two parts in 2^52 of a metre.
    found.visit(&mut |number, _| {
        let wanted = numbers.next().expect("as many numbers");
        assert!(
            (*number - wanted).abs() <= 1e-12 * wanted.abs().max(1.0),
            "{number} {wanted}"
        );
    });
}

#[test]
fn british_and_american_spelling_are_read_alike() {
    let text = ModelFile::write(&models()[0], ModelFormat::Toml).expect("text");
    let american = text
        .replace("centre", "center")
        .replace("tyre_radius", "tire_radius");
    assert_ne!(american, text);
    assert_eq!(
        ModelFile::read(&american, ModelFormat::Toml).expect("a model"),
        models()[0]
    );
}

#[test]
fn a_right_corner_stands_mirrored_unless_it_is_given() {
    let mirrored = models()[0].right_corner().expect("a corner");
    let Body::DoubleWishbone { corner, .. } = &mirrored.body else {
        panic!("a corner")
    };
    assert_eq!(*corner, samples::wagon_front().mirrored());
    let given = models()[2].right_corner().expect("a corner");
    let Body::DoubleWishbone { corner, .. } = &given.body else {
        panic!("a corner")
    };
    assert_eq!(*corner, samples::bench_rig().mirrored());
    assert!(models()[3].right_corner().is_none());
}

#[test]
fn malformed_files_are_told_apart() {
    for (text, format, words) in [
        (
            "unit = \"mm\"\nlayout = ",
            ModelFormat::Toml,
            vec!["not valid TOML", "line 2"],
        ),
        (
            "{\"unit\": \"mm\",",
            ModelFormat::Json,
            vec!["not valid JSON", "line 1"],
        ),
        ("[1, 2]", ModelFormat::Json, vec!["a table with named keys"]),
        (
            "unit = \"mm\"",
            ModelFormat::Toml,
            vec!["does not say what it is"],
        ),
        (
            "layout = \"double_wishbone\"",
            ModelFormat::Toml,
            vec!["does not state its unit"],
        ),
        (
            "layout = \"leaf_springs\"\nunit = \"mm\"",
            ModelFormat::Toml,
            vec!["leaf_springs", "double_wishbone"],
        ),
        (
            "layout = \"live_axle\"\nunit = \"cubits\"",
            ModelFormat::Toml,
            vec!["cubits", "inch"],
        ),
        (
            "layout = \"live_axle\"\nunit = \"mm\"",
            ModelFormat::Toml,
            vec!["links"],
        ),
    ] {
        let Err(error) = ModelFile::read(text, format) else {
            panic!("read: {text}")
        };
        for word in words {
            assert!(error.what.contains(word), "{word:?} is not in {:?}", error.what);
        }
    }
}

#[test]
fn deep_and_long_files_end_in_an_error() {
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    assert!(ModelFile::read(&deep, ModelFormat::Json).is_err());
    let long = format!(
        "layout = \"live_axle\"\nunit = \"mm\"\nx = \"{}\"",
        "y".repeat(1_000_000)
    );
    assert!(ModelFile::read(&long, ModelFormat::Toml).is_err());
}

proptest! {
    /// Any numbers whatever survive both kinds of file to the last bit.
    #[test]
    fn numbers_survive_files_to_the_last_bit(seed in proptest::collection::vec(-1e4..1e4_f64, 60)) {
        let mut model = models().remove(0);
        if let Body::DoubleWishbone { corner, .. } = &mut model.body {
            let mut numbers = seed.into_iter().cycle();
            corner.visit(&mut |number, _| *number = numbers.next().unwrap_or(*number));
        }
        for format in [ModelFormat::Toml, ModelFormat::Json] {
            let text = ModelFile::write(&model, format).expect("text");
            prop_assert_eq!(&ModelFile::read(&text, format).expect("a model"), &model);
        }
    }

    /// Text that is no model is an error, never a panic.
    #[test]
    fn any_text_is_read_without_a_panic(text in "\\PC{0,200}") {
        let _ = ModelFile::read(&text, ModelFormat::Toml);
        let _ = ModelFile::read(&text, ModelFormat::Json);
        let _ = arguments::read::<f64>(Dynamic::from(text), "a number");
    }
}
