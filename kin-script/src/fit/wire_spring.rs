//! A spring without marking, from its wire.

use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use kin_core::Dimension::{Force, Rate, Ratio, Stress};
use kin_core::Error;
use kin_core::checks::{WireSpring, WireSpringRate, check_wire_spring};
use rhai::Dynamic;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "wire_spring",
    counted: "check_wire_spring",
    needs_ride_height: false,
    documentation: "Rate, solid length and stress of a coil spring that carries no marking, from its wire.\n\n\
        Keys: `wire_diameter`, exactly one of `mean_diameter`, `outside_diameter` and `inside_diameter` of the coil, \
        `total_coils` (from tip to tip), `ends` (\"closed_ground\" unless given, \"closed\", \"plain\" or \"plain_ground\"), and where \
        known `free_length` (for the load that closes the coils), `shear_modulus` of the wire (spring steel unless given), \
        `allowed_stress` (shear, with the coils closed).\n\n\
        Can be read: `rate`, `solid_length`, `active_coils`, `mean_diameter`, `index` (mean over wire diameter), `force_at_solid`, \
        `stress_at_solid`, `wahl_factor`, `bergstrasser_factor`.",
    run,
};

fn run(asked: &Asked<'_>, question: Dynamic) -> Result<Answer, ScriptError> {
    let spring: WireSpring = asked.read(question, "the spring")?;
    let found = check_wire_spring(&spring)
        .map_err(|error| super::asked::refused(&Error::from(error), &asked.units))?;
    Ok(Answer {
        report: Report {
            check: CHECK.word,
            heading: "Spring from its wire",
            items: vec![item(&found)],
            findings: found.findings,
        },
        typed: Typed::None,
    })
}

fn item(found: &WireSpringRate) -> Item {
    const NO_LENGTH: &str = "not known without the free length";
    Item::new("")
        .quantity("rate", "rate", found.rate, Rate)
        .length("solid_length", "solid length", found.solid_length)
        .with(
            "active_coils",
            "coils that work",
            Value::Number(found.active_coils, 2),
        )
        .length("mean_diameter", "mean diameter of the coil", found.mean_diameter)
        .quantity("index", "mean over wire diameter", found.index, Ratio)
        .maybe(
            "force_at_solid",
            "force that closes the coils",
            (found.force_at_solid, Force),
            NO_LENGTH,
        )
        .maybe(
            "stress_at_solid",
            "shear stress there",
            (found.stress_at_solid, Stress),
            NO_LENGTH,
        )
        .quantity("wahl_factor", "", found.wahl_factor, Ratio)
        .quantity("bergstrasser_factor", "", found.bergstrasser_factor, Ratio)
}
