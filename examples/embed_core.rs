//! The library without scripts: pickup points in, a table of curves and the findings of the stroke check out.
//!
//! Run it with `cargo run -p kin-core --example embed_core`. The car is invented.

use std::io::{self, Write};

use kin_core::checks::{StrokeQuestion, check_corner_stroke};
use kin_core::curves::CornerCurve;
use kin_core::{Along, Corner, samples};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    // A description is plain data; take an invented one and move a pickup.
    let mut pickups = samples::wagon_front();
    pickups.tie_rod.outer.z -= 6.35;

    // Building it validates the points and freezes the lengths of the links.
    let corner = Corner::new(&pickups)?;

    // Positions along the travel (mm), steering straight ahead. Angles are radians, rates are per mm and exact.
    let travels: Vec<f64> = (-2..=3).map(|step| 25.0 * f64::from(step)).collect();
    let mut out = io::stdout().lock();
    writeln!(
        out,
        "travel_mm  camber_deg  toe_deg  damper_mm  motion_ratio  bump_steer_deg_per_mm"
    )?;
    for position in corner.sweep_travel(&travels, 0.0)? {
        let value = |curve: CornerCurve| curve.value(&position).ok_or("this corner has no such curve");
        let bump_steer = CornerCurve::Toe
            .rate(&position, Along::Travel)
            .ok_or("toe has a rate everywhere")?;
        writeln!(
            out,
            "{:9.1}  {:10.3}  {:7.3}  {:9.2}  {:12.4}  {:21.5}",
            position.travel(),
            value(CornerCurve::Camber)?.to_degrees(),
            value(CornerCurve::Toe)?.to_degrees(),
            value(CornerCurve::DamperLength)?,
            value(CornerCurve::MotionRatio)?,
            bump_steer.to_degrees(),
        )?;
    }

    // Does the coilover fit? What does not fit is a finding, never an error.
    let question = StrokeQuestion {
        bump: Some(65.0),
        droop: Some(50.0),
        margin: Some(5.0),
    };
    writeln!(out)?;
    for finding in check_corner_stroke(&corner, &question)?.findings {
        writeln!(out, "{finding}")?;
    }
    Ok(())
}
