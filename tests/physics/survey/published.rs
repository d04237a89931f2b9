//! Published least-squares problems.

use crate::reference::case::{list, number};
use kin_core::nalgebra::{DMatrix, DVector};
use kin_core::survey::{Adjustment, Axis, Basis, Datum, Equations, Reading, Survey, least_squares};
use serde_json::Value;

fn published(name: &str) -> Value {
    let path = format!("{}/../tests/published/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn numbers(value: &Value, key: &str) -> Vec<f64> {
    list(value, key).iter().filter_map(Value::as_f64).collect()
}

/// y = b1 (1 - exp(-b2 x))
struct Growth {
    x: Vec<f64>,
    y: Vec<f64>,
}

impl Equations for Growth {
    fn count(&self) -> usize {
        self.x.len()
    }

    fn evaluate(&self, unknowns: &DVector<f64>, residuals: &mut DVector<f64>, jacobian: &mut DMatrix<f64>) {
        for (row, (x, y)) in self.x.iter().zip(&self.y).enumerate() {
            let decay = (-unknowns[1] * x).exp();
            residuals[row] = unknowns[0] * (1.0 - decay) - y;
            jacobian[(row, 0)] = 1.0 - decay;
            jacobian[(row, 1)] = unknowns[0] * x * decay;
        }
    }
}

/// NIST Statistical Reference Datasets, nonlinear regression, Misra1a: certified to 11 digits (seen). From both starts.
#[test]
fn nonlinear_regression_has_the_certified_values() {
    let file = published("misra1a");
    let growth = Growth {
        x: numbers(&file, "x"),
        y: numbers(&file, "y"),
    };
    let certified = &file["certified"];
    let (wanted, deviations) = (numbers(certified, "b"), numbers(certified, "sd"));
    for start in list(&file, "starts") {
        let start: Vec<f64> = start
            .as_array()
            .expect("a start")
            .iter()
            .filter_map(Value::as_f64)
            .collect();
        let found = least_squares(&growth, &DVector::from_vec(start)).expect("an end");
        for (found, wanted) in found.unknowns.iter().zip(&wanted) {
            assert!((found / wanted - 1.0).abs() < 5e-9, "{found} is not {wanted}");
        }
        assert!((found.sum_of_squares / number(certified, "rss") - 1.0).abs() < 5e-9);
        let variance = found.sum_of_squares / number(certified, "dof");
        let inverse = (found.jacobian.tr_mul(&found.jacobian))
            .try_inverse()
            .expect("an inverse");
        for (place, wanted) in deviations.iter().enumerate() {
            let found = (variance * inverse[(place, place)]).sqrt();
            assert!((found / wanted - 1.0).abs() < 5e-7, "{found} is not {wanted}");
        }
    }
}

/// A levelling network as a survey: only heights, in millimetres.
fn levelling(network: &Value, deviation: impl Fn(&Value) -> f64) -> Survey {
    let mut survey = Survey::default();
    let mut points: Vec<String> = Vec::new();
    for seen in list(network, "obs") {
        let name = |place: usize| seen[place].as_str().expect("a name");
        let rise = 1_000.0 * seen[2].as_f64().expect("a rise");
        survey
            .readings
            .push(Reading::difference(name(1), Axis::Z, name(0), rise).with_deviation(deviation(seen)));
        points.extend([name(0).to_owned(), name(1).to_owned()]);
    }
    points.sort();
    points.dedup();
    for point in points {
        survey.fix(&point, Axis::X, 0.0);
        survey.fix(&point, Axis::Y, 0.0);
        if let Some(height) = network["fixed"][&point].as_f64() {
            survey.fix(&point, Axis::Z, 1_000.0 * height);
        }
    }
    survey
}

fn heights_agree(adjusted: &Adjustment, network: &Value, tolerance: f64) {
    for (name, height) in network["adjusted"].as_object().expect("heights") {
        let found = adjusted.place(name).expect("a place").z;
        let wanted = 1_000.0 * height.as_f64().expect("a height");
        assert!(
            (found - wanted).abs() <= tolerance,
            "{name}: {found} is not {wanted}"
        );
    }
}

/// A loop of 8 equal height differences, sample network of GNU Gama 1.5.09 (general least-squares adjustment of geodetic networks), its
/// printed output seen.
#[test]
fn a_levelling_loop_agrees() {
    let file = published("levelling");
    let network = &file["networks"][0];
    let adjusted = levelling(network, |_| 5.0).adjust().expect("an adjustment");
    let tolerance = number(network, "tolerance_mm");
    heights_agree(&adjusted, network, tolerance);
    // Sums and deviations to half a unit of their printed digits.
    assert!((adjusted.sum_of_squares() * 25.0 - number(network, "pvv_mm2")).abs() < 0.05);
    assert!((adjusted.sigma0().expect("surplus") * 5.0 - number(network, "m0_mm")).abs() <= 0.005);
    assert_eq!(adjusted.redundancy(), 5);
    assert_eq!(adjusted.datum(), Datum::Stated);
    for (name, deviation) in network["sd_apriori_mm"].as_object().expect("deviations") {
        let found = adjusted
            .standard_deviations(name, Basis::APriori)
            .expect("deviations")
            .z;
        assert!(
            (found - deviation.as_f64().expect("a number")).abs() <= 0.05,
            "{name}: {found}"
        );
    }
    let (residuals, normalised) = (numbers(network, "residuals_mm"), numbers(network, "w"));
    for (place, judged) in adjusted.readings().iter().enumerate() {
        assert!(
            (judged.residual - residuals[place]).abs() <= tolerance,
            "{judged:?}"
        );
        assert!((judged.redundancy - number(network, "redundancy_numbers")).abs() < 1e-9);
        assert!(
            (judged.normalised.expect("checked") - normalised[place]).abs() < 0.002,
            "{judged:?}"
        );
    }
    // The largest is number 6 of the source, and below its limit: no reading is suspect.
    assert!(adjusted.suspect(number(network, "limit")).is_none());
    let largest = adjusted.suspect(1.6).expect("the largest");
    assert_eq!(
        largest.index as u64 + 1,
        network["max_w_obs"].as_u64().expect("a number")
    );
    assert!((largest.normalised.abs() - number(network, "max_w_printed")).abs() <= 0.005);
}

/// C. D. Ghilani, P. R. Wolf, Adjustment Computations, Wiley, weighted levelling example: inputs seen as
/// others have copied them, results recomputed.
#[test]
fn a_weighted_levelling_network_agrees() {
    let file = published("levelling");
    let network = &file["networks"][1];
    let survey = levelling(network, |seen| 1_000.0 * seen[3].as_f64().expect("a deviation"));
    let adjusted = survey.adjust().expect("an adjustment");
    heights_agree(&adjusted, network, 1_000.0 * number(network, "tolerance_m"));
    assert!((adjusted.sigma0().expect("surplus") - number(network, "S0")).abs() < 1e-6);
    let (residuals, numbers_of, normalised) = (
        numbers(network, "residuals_m"),
        numbers(network, "redundancy_numbers"),
        numbers(network, "w"),
    );
    for (place, judged) in adjusted.readings().iter().enumerate() {
        assert!(
            (judged.residual - 1_000.0 * residuals[place]).abs() < 1e-5,
            "{judged:?}"
        );
        assert!(
            (judged.redundancy - numbers_of[place]).abs() <= 5.1e-5,
            "{judged:?}"
        );
        assert!(
            (judged.normalised.expect("checked") - normalised[place]).abs() <= 5.1e-5,
            "{judged:?}"
        );
    }
}
