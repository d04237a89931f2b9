//! The bench rig's fifteen motion ratios.
//!
//! Provenance: invented rig; figures of an independent solver, printed to the digits shown. A few units of the last digit
//! are allowed.

use super::close;
use kin_core::curves::CornerCurve as C;
use kin_core::{Along, Corner, samples};

/// Distance of the hole along the lower arm, y, z (mm).
const HOLES: [(f64, f64, f64); 5] = [
    (80.0, 140.0, 89.64),
    (110.0, 170.0, 88.0),
    (140.0, 200.0, 86.36),
    (170.0, 230.0, 84.73),
    (200.0, 260.0, 83.09),
];

/// Peg y, distance of the hole, damper (mm); motion ratio at 0, +25 and -25 mm; wheel rate for 1 N/mm (N/mm).
const RATIOS: [[f64; 7]; 15] = [
    [120.0, 80.0, 241.19, 0.3501, 0.3444, 0.3563, 0.1226],
    [120.0, 110.0, 247.11, 0.4739, 0.4739, 0.4751, 0.2245],
    [120.0, 140.0, 256.43, 0.5839, 0.5912, 0.5794, 0.341],
    [120.0, 170.0, 268.81, 0.6785, 0.6927, 0.6685, 0.4604],
    [120.0, 200.0, 283.84, 0.7576, 0.7775, 0.7433, 0.574],
    [160.0, 80.0, 241.19, 0.346, 0.3335, 0.3587, 0.1197],
    [160.0, 110.0, 242.21, 0.4806, 0.4722, 0.4895, 0.2309],
    [160.0, 140.0, 246.9, 0.6048, 0.6035, 0.6081, 0.3658],
    [160.0, 170.0, 255.07, 0.7146, 0.7213, 0.7116, 0.5106],
    [160.0, 200.0, 266.39, 0.8078, 0.8218, 0.7995, 0.6526],
    [200.0, 80.0, 247.74, 0.3329, 0.3136, 0.3521, 0.1108],
    [200.0, 110.0, 243.85, 0.4745, 0.4565, 0.4922, 0.2251],
    [200.0, 140.0, 243.64, 0.6112, 0.599, 0.6241, 0.3736],
    [200.0, 170.0, 247.1, 0.7371, 0.7334, 0.7433, 0.5433],
    [200.0, 200.0, 254.09, 0.8476, 0.8529, 0.8469, 0.7183],
];

#[test]
fn fifteen_motion_ratios() {
    for [peg, hole, damper, ratio, in_bump, in_droop, rate] in RATIOS {
        let mut pickups = samples::bench_rig();
        let (_, y, z) = *HOLES.iter().find(|place| place.0 == hole).expect("a hole");
        let coilover = pickups.coilover.as_mut().expect("a coilover");
        coilover.upper_mount.y = peg;
        (coilover.lower_mount.y, coilover.lower_mount.z) = (y, z);
        let corner = Corner::new(&pickups).expect("a corner");
        let label = format!("peg {peg}, hole {hole}");
        for (travel, expected) in [(0.0, ratio), (25.0, in_bump), (-25.0, in_droop)] {
            let position = corner.at(travel, 0.0).expect("within reach");
            let found = C::MotionRatio.value(&position).expect("a value");
            close(found, expected, 0.0001, &format!("{label}, {travel} mm"));
        }
        let here = corner.at(0.0, 0.0).expect("as measured");
        close(
            C::DamperLength.value(&here).expect("a value"),
            damper,
            0.01,
            &label,
        );
        let found = C::WheelRate.wheel_rate_at(&here).expect("a wheel rate");
        // The free length is not given: no force is known, and the spring's part stands alone.
        assert_eq!(found.geometric, None);
        close(found.total(), rate, 0.0001, &label);
    }
}

#[test]
fn camber_gain_and_roll_centre() {
    let corner = Corner::new(&samples::bench_rig()).expect("a corner");
    let here = corner.at(0.0, 0.0).expect("as measured");
    let gain = C::Camber.rate(&here, Along::Travel).expect("a rate").to_degrees() * 10.0;
    close(gain, -0.539, 0.001, "camber gain over 10 mm");
    let height = C::RollCentreHeight.value(&here).expect("a value");
    // Printed above the board; the ground is its wheel contact at 30 mm, which the figure is counted from.
    close(height, 29.6, 0.1, "roll centre");
}
