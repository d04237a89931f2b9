//! Springs from their wire, and formulas of ride, against books.

use super::support::close;
use kin_core::checks::{
    SpringEnds, Verdict, WireSpring, bergstrasser_factor, check_wire_spring, critical_damping,
    rate_in_series, ride_frequency, spring_rate, spring_stress, wahl_factor, wheel_rate_for_frequency,
};
use kin_core::curves::wheel_rate;

/// Books print four digits: 0.1 % against the printed figure.
fn printed(found: f64, expected: f64) {
    close(found, expected, 1e-3 * expected);
}

/// Against a figure worked out exactly from the book's input.
fn exact(found: f64, expected: f64) {
    close(found, expected, 1e-6 * expected);
}

/// R. G. Budynas, J. K. Nisbett, Shigley's Mechanical Engineering Design, problem 10-3 (published solution).
#[test]
fn a_plain_ground_spring_of_music_wire() {
    let spring = WireSpring {
        wire_diameter: 2.5,
        mean_diameter: None,
        outside_diameter: Some(31.0),
        inside_diameter: None,
        total_coils: 14.0,
        ends: SpringEnds::PlainGround,
        // The free length that makes the book's solid force safe.
        free_length: Some(162.72),
        shear_modulus: Some(81_000.0),
        allowed_stress: Some(900.0),
    };
    let found = check_wire_spring(&spring).expect("a spring");
    assert_eq!((found.active_coils, found.mean_diameter), (13.0, 28.5));
    close(found.index, 11.4, 1e-12);
    exact(found.rate, 1.314_247);
    printed(found.rate, 1.314);
    close(found.solid_length, 35.0, 1e-12);
    printed(found.bergstrasser_factor, 1.117);
    close(found.wahl_factor, 1.126_063, 5e-7);
    let force = found.force_at_solid.expect("a free length was given");
    printed(force, 167.9);
    let by_wahl = spring_stress(1.126_063, force, 28.5, 2.5);
    close(found.stress_at_solid.expect("a stress"), by_wahl, 1e-3);
    assert!(
        found
            .findings
            .iter()
            .all(|finding| finding.verdict == Verdict::Holds)
    );
    assert_eq!(found.findings.len(), 2);
}

/// Shigley, problem 10-1: how far the two factors lie apart for C from 4 to 12.
#[test]
fn wahl_and_bergstrasser_differ_by_a_percent() {
    let apart = |index: f64| (wahl_factor(index) - bergstrasser_factor(index)) / wahl_factor(index);
    close(apart(4.0), 0.0136, 5e-5);
    close(apart(12.0), 0.00743, 5e-6);
}

/// V. B. Bhandari, Design of Machine Elements, examples 10.6, 10.7 and 10.18 (seen in a worked companion).
#[test]
fn springs_of_a_second_book() {
    exact(spring_rate(20.0, 120.0, 13.0, 81_370.0), 72.444_801);
    exact(spring_rate(5.0, 40.0, 5.0, 81_370.0), 19.865_723);
    // Two springs, one inside the other, share 2000 N as their rates do.
    let (outer, inner) = (
        spring_rate(10.0, 80.0, 8.0, 81_370.0),
        spring_rate(8.0, 64.0, 12.0, 81_370.0),
    );
    let deflection = 2_000.0 / (outer + inner);
    exact(deflection, 52.526_569);
    exact(outer * deflection, 1_304.347_826);
    exact(inner * deflection, 695.652_174);
    exact(
        spring_stress(wahl_factor(8.0), outer * deflection, 80.0, 10.0),
        314.616_701,
    );
    exact(
        spring_stress(wahl_factor(8.0), inner * deflection, 64.0, 8.0),
        262.180_584,
    );
}

/// B. K. Sarkar, Strength of Materials, problem 8.1, and a university course example (both seen).
#[test]
fn springs_of_two_more_sources() {
    printed(spring_rate(3.06, 31.5, 14.7, 42_000.0), 1.002);
    printed(spring_rate(2.5, 22.25, 16.0, 79_300.0), 2.197);
}

/// Shigley, table 10-1.
#[test]
fn ends_decide_coils_and_solid_length() {
    let with = |ends| {
        let spring = WireSpring {
            wire_diameter: 12.0,
            mean_diameter: Some(90.0),
            outside_diameter: None,
            inside_diameter: None,
            total_coils: 9.0,
            ends,
            free_length: None,
            shear_modulus: None,
            allowed_stress: None,
        };
        let found = check_wire_spring(&spring).expect("a spring");
        (found.active_coils, found.solid_length)
    };
    assert_eq!(with(SpringEnds::Plain), (9.0, 120.0));
    assert_eq!(with(SpringEnds::PlainGround), (8.0, 108.0));
    assert_eq!(with(SpringEnds::Closed), (7.0, 120.0));
    assert_eq!(with(SpringEnds::ClosedGround), (7.0, 108.0));
}

/// The three diameters of one coil say the same.
#[test]
fn any_one_diameter_will_do() {
    let with = |mean, outside, inside| {
        let spring = WireSpring {
            wire_diameter: 12.0,
            mean_diameter: mean,
            outside_diameter: outside,
            inside_diameter: inside,
            total_coils: 9.0,
            ends: SpringEnds::ClosedGround,
            free_length: None,
            shear_modulus: None,
            allowed_stress: None,
        };
        check_wire_spring(&spring).map(|found| found.rate)
    };
    let rate = with(Some(90.0), None, None).expect("a rate");
    assert_eq!(with(None, Some(102.0), None), Ok(rate));
    assert_eq!(with(None, None, Some(78.0)), Ok(rate));
    assert!(with(None, None, None).is_err());
    assert!(with(Some(90.0), Some(102.0), None).is_err());
    assert!(with(Some(10.0), None, None).is_err(), "no room inside the coil");
}

/// Series of springs: common practice, no source; the closed form is that softnesses add.
#[test]
fn springs_in_series_are_softer_than_each() {
    close(rate_in_series(&[100.0, 25.0]).expect("a rate"), 20.0, 1e-12);
    close(rate_in_series(&[30.0, 30.0, 30.0]).expect("a rate"), 10.0, 1e-12);
    assert_eq!(rate_in_series(&[]), None);
}

/// D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, pp. 178-179, eq. 3.29 to 3.33.
#[test]
fn wheel_rate_frequency_and_critical_damping() {
    let rate = wheel_rate(50.0, 0.75, 0.0, None).total();
    close(rate, 28.125, 1e-12);
    close(ride_frequency(rate, 350.0).expect("a frequency"), 1.426_699, 5e-7);
    // Printed in N s/m.
    close(
        1_000.0 * critical_damping(rate, 350.0).expect("damping"),
        6_274.950,
        5e-4,
    );
    close(wheel_rate_for_frequency(1.5, 350.0), 31.089_254, 5e-7);
    assert_eq!(ride_frequency(-1.0, 350.0), None);
    assert_eq!(critical_damping(0.0, 350.0), None);
}

/// NCERT, Physics XI, exercise 14.21: 3000 kg on four springs that sink by 150 mm (g 10 m/s^2), with the amplitude halved
/// in each swing; 1351.58 kg/s printed, from a rounded period.
#[test]
fn damping_from_a_halved_swing() {
    let rate = 750.0 * 10.0 / 150.0;
    close(rate, 50.0, 1e-12);
    let critical = 1_000.0 * critical_damping(rate, 750.0).expect("damping");
    // Amplitudes halve in a swing at a ratio of ln 2 / 2 pi, as the book takes the swing to be undamped.
    let ratio = 2.0_f64.ln() / std::f64::consts::TAU;
    close(ratio, 0.1103, 5e-5);
    close(ratio * critical, 1_351.58, 5e-4 * 1_351.58);
}
