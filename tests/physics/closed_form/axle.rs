//! Axles: parallel links with a panhard rod in heave, and the roll centre of a level panhard rod.

use super::close;
use kin_core::curves::AxleCurve as C;
use kin_core::pickups::{AxleWheels, Link, LiveAxle, Pinion, Point, RightSide, Stops};
use kin_core::{Axle, AxleAlong, AxleTravel};

const LINK_MM: f64 = 500.0;
const PANHARD_MM: f64 = 900.0;
const PANHARD_HEIGHT_MM: f64 = 380.0;

/// Four equal links straight back and a level panhard rod from the body on the right to the axle on the left.
pub(crate) fn parallel_links() -> LiveAxle {
    let link = |y: f64, z: f64| Link {
        body: Point::new(-2_000.0, y, z),
        axle: Point::new(-2_000.0 - LINK_MM, y, z),
        stiffness: None,
    };
    let panhard_rod = Link {
        body: Point::new(-2_580.0, -420.0, PANHARD_HEIGHT_MM),
        axle: Point::new(-2_580.0, -420.0 + PANHARD_MM, PANHARD_HEIGHT_MM),
        stiffness: None,
    };
    LiveAxle {
        right: RightSide::Given,
        links: [
            ("lower_left", link(450.0, 260.0)),
            ("lower_right", link(-450.0, 260.0)),
            ("upper_left", link(400.0, 440.0)),
            ("upper_right", link(-400.0, 440.0)),
            ("panhard_rod", panhard_rod),
        ]
        .into_iter()
        .map(|(name, link)| (name.to_owned(), link))
        .collect(),
        wheels: AxleWheels {
            left: Point::new(-2_520.0, 740.0, 320.0),
            right: Some(Point::new(-2_520.0, -740.0, 320.0)),
            tyre_radius: 320.0,
        },
        pinion: Some(Pinion {
            point: Point::new(-2_300.0, 0.0, 330.0),
            nose_up: 0.0,
        }),
        coilovers: None,
        dampers: None,
        springs: None,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}

/// Shift forward and to the right (mm) of an axle that does not turn, both wheels at z.
///
/// The links ask `(L - x)^2 + y^2 + z^2 = L^2` and the panhard rod `(P - y)^2 + x^2 + z^2 = P^2`, with x towards the
/// links' body joints and y towards the rod's. So `2 L x = 2 P y = S` with `S = x^2 + y^2 + z^2`, and with
/// `q = (1/L^2 + 1/P^2) / 4` it follows that `q S^2 - S + z^2 = 0`.
fn heave(z: f64) -> (f64, f64) {
    let q = 0.25 * (LINK_MM.powi(-2) + PANHARD_MM.powi(-2));
    let sum = (1.0 - (1.0 - 4.0 * q * z * z).sqrt()) / (2.0 * q);
    (sum / (2.0 * LINK_MM), sum / (2.0 * PANHARD_MM))
}

/// Five links are more than the axle needs, and still none of them stretches in heave.
#[test]
fn parallel_links_in_heave() {
    let axle = Axle::new(&parallel_links()).expect("an axle");
    assert!(axle.is_held_too_much());
    // Derived: even in z, printed to 1e-6 mm.
    for (travel, forward, right) in [(40.0, 1.603_364, 0.890_758), (80.0, 6.454_519, 3.585_844)] {
        let (x, y) = heave(travel);
        close(x, forward, 5e-7, "the formula against the printed shift forward");
        close(y, right, 5e-7, "the formula against the printed shift sideways");
        for z in [travel, -travel] {
            let position = axle.at(AxleTravel::both(z)).expect("within reach");
            let label = format!("travel {z}");
            close(
                C::ForeAftShift.value(&position).expect("a value"),
                x,
                1e-9,
                &label,
            );
            close(
                C::LateralShift.value(&position).expect("a value"),
                -y,
                1e-9,
                &label,
            );
            for curve in [C::RollAngle, C::AxleSteer, C::PinionAngle] {
                close(curve.value(&position).expect("a value"), 0.0, 1e-12, &label);
            }
            for (name, stretch) in position.link_stretch() {
                close(stretch, 0.0, 1e-9, &format!("{label}: stretch of {name}"));
            }
            // The rate from the same equation: S' (1 - 2 q S) = 2 z.
            let q = 0.25 * (LINK_MM.powi(-2) + PANHARD_MM.powi(-2));
            let rate = 2.0 * z / (1.0 - 2.0 * q * 2.0 * LINK_MM * x);
            let found = C::ForeAftShift.rate(&position, AxleAlong::Heave).expect("a rate");
            close(found, rate / (2.0 * LINK_MM), 1e-10, &label);
            let found = C::LateralShift.rate(&position, AxleAlong::Heave).expect("a rate");
            close(found, -rate / (2.0 * PANHARD_MM), 1e-10, &label);
        }
    }
}

/// The same axle on three of the four links is held exactly, and moves the same in heave.
#[test]
fn three_parallel_links_in_heave() {
    let mut pickups = parallel_links();
    pickups.links.shift_remove("upper_right");
    let axle = Axle::new(&pickups).expect("an axle");
    assert!(!axle.is_held_too_much());
    for z in [-80.0, -40.0, 40.0, 80.0] {
        let (x, y) = heave(z);
        let position = axle.at(AxleTravel::both(z)).expect("within reach");
        close(
            C::ForeAftShift.value(&position).expect("a value"),
            x,
            1e-9,
            "forward",
        );
        close(
            C::LateralShift.value(&position).expect("a value"),
            -y,
            1e-9,
            "sideways",
        );
    }
}

/// The roll centre of a rigid axle lies at the height of a level panhard rod, whatever holds it lengthwise.
///
/// Source: RWTH Aachen (ika), lecture slides on suspensions (euromotor.org); seen. It holds for the point in the
/// middle of the car when the rod's joints stand to either side of it at the axle's own x.
#[test]
fn a_level_panhard_rod_sets_the_roll_centre() {
    for height in [250.0, PANHARD_HEIGHT_MM, 500.0] {
        let mut pickups = parallel_links();
        pickups.links.shift_remove("upper_right");
        let axle_x = pickups.wheels.left.x;
        // A single upper link in the middle: roll then turns the axle about a line along the car.
        let middle = Link {
            body: Point::new(-2_000.0, 0.0, 440.0),
            axle: Point::new(-2_500.0, 0.0, 440.0),
            stiffness: None,
        };
        pickups.links.insert("upper_left".to_owned(), middle);
        let rod = Link {
            body: Point::new(axle_x, -450.0, height),
            axle: Point::new(axle_x, 450.0, height),
            stiffness: None,
        };
        pickups.links.insert("panhard_rod".to_owned(), rod);
        let axle = Axle::new(&pickups).expect("an axle");
        let here = axle.at(AxleTravel::default()).expect("as measured");
        let found = C::RollCentreHeight.value(&here).expect("a value");
        close(found, height, 1e-9, "roll centre");
    }
}
