//! Surveys as scripts read and use them.

mod bad_input;
mod words;

use crate::support::Garage;
use crate::vocabulary::garage as with_models;

/// The notebook of the front corner that the examples use.
fn notebook() -> String {
    let path = crate::examples::examples().join("surveys/wagon_front.csv");
    std::fs::read_to_string(path).unwrap()
}

/// A garage with the models and that notebook.
fn garage() -> Garage {
    let garage = with_models();
    garage.file("front.csv", &notebook());
    garage
}

/// What a script prints, with a notebook under the name `own.csv`.
fn printed_with(own: &str, script: &str) -> String {
    let garage = garage();
    garage.file("own.csv", own);
    garage
        .run(script)
        .unwrap_or_else(|report| panic!("{}", report.render(false)));
    garage.printed.text()
}

fn printed(script: &str) -> String {
    printed_with("", script)
}
