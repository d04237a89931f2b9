//! Time of the workload clearance-20: the least gaps of a coilover to twenty fixed obstacles, beside a hand-written loop.
//!
//! The loop takes the gap at 161 positions; the library's whole check also finds what lies between positions, validates
//! its input and writes its findings. `cargo bench --bench clearance` prints both.
#![expect(clippy::print_stdout, reason = "a bench program prints its figures")]
#![allow(dead_code, reason = "the baselines of other workloads are only used in part")]

mod closed_form;
#[path = "closed_form/least_gaps.rs"]
mod least_gaps;

use closed_form::wishbone::Wishbone;
use closed_form::{check, reference};
use kin_core::Corner;
use kin_core::checks::{
    AlongDamper, Block, Clearance, ClearanceQuestion, Shape, Solid, Tube, check_corner_clearance,
};
use kin_core::pickups::{Arm, Damper, DoubleWishbone, RideHeight, Side, Stops, TieRod, Wheel};
use least_gaps::{OBSTACLES, RADIUS, Surroundings, least_gaps, surroundings};
use std::hint::black_box;
use std::process::ExitCode;
use std::time::{Duration, Instant};

/// Runs of each; the least time of so many leaves out what other programs took.
const RUNS: usize = 400;
/// Bump and droop of the workload (mm).
const TRAVEL: f64 = 80.0;
/// Gaps at one travel, both ways (mm).
const EXACT: f64 = 1e-9;
/// How far the least gap at positions 1 mm apart may lie above the true one (mm): curvature over 320 mm, halved twice.
const BETWEEN: f64 = 1e-3;

fn main() -> ExitCode {
    // Cargo asks for a measurement with this argument; without it the programs are only tried out.
    let measure = std::env::args().any(|argument| argument == "--bench");
    match run(measure) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("no figures: {error}");
            ExitCode::FAILURE
        }
    }
}

fn run(measure: bool) -> Result<(), String> {
    check::all()?;
    let (pickups, _) = reference::wishbone()?;
    let surroundings = surroundings();
    let corner = Corner::new(&described(&pickups, 0.0)).map_err(|error| error.to_string())?;
    let question = question(&surroundings, TRAVEL);
    check_least(&pickups, &surroundings, &corner, &question)?;
    check_single(&pickups, &surroundings)?;
    if !measure {
        return Ok(());
    }
    let mut least = [0.0; OBSTACLES];
    let mut by_hand = || {
        _ = black_box(least_gaps(
            black_box(&pickups),
            black_box(&surroundings),
            &mut least,
        ))
    };
    let mut library = || _ = black_box(check_corner_clearance(black_box(&corner), black_box(&question)));
    let times = time([&mut by_hand, &mut library]);
    for (name, time) in ["by_hand", "check_corner_clearance"].iter().zip(times) {
        let ratio = time.as_secs_f64() / times[0].as_secs_f64();
        let microseconds = time.as_secs_f64() * 1e6;
        println!("clearance_20::{name}: {microseconds:.1} us, {ratio:.2} x limit (least of {RUNS} runs)");
    }
    Ok(())
}

/// The least time of each; they take turns, so that a busy machine slows both alike.
fn time(solvers: [&mut dyn FnMut(); 2]) -> [Duration; 2] {
    let mut least = [Duration::MAX; 2];
    for _ in 0..RUNS {
        for (place, least) in least.iter_mut().enumerate() {
            let start = Instant::now();
            solvers[place]();
            *least = start.elapsed().min(*least);
        }
    }
    least
}

/// The reference corner with its coilover, and ride height at a travel (mm).
fn described(pickups: &Wishbone, ride: f64) -> DoubleWishbone {
    DoubleWishbone {
        side: Side::Left,
        upper_arm: Arm {
            front_pivot: pickups.upper_front,
            rear_pivot: pickups.upper_rear,
            ball_joint: pickups.upper_ball,
        },
        lower_arm: Arm {
            front_pivot: pickups.lower_front,
            rear_pivot: pickups.lower_rear,
            ball_joint: pickups.lower_ball,
        },
        tie_rod: TieRod {
            inner: pickups.tie_inner,
            outer: pickups.tie_outer,
        },
        wheel: Wheel {
            centre: pickups.wheel_centre,
            tyre_radius: 309.5,
            camber: pickups.camber.to_degrees(),
            toe: pickups.toe.to_degrees(),
        },
        coilover: Some(Damper {
            upper_mount: pickups.damper_body,
            lower_mount: pickups.damper_mount,
            rides_on: "lower_arm".into(),
            extended: 500.0,
            compressed: 250.0,
            bump_stop: 0.0,
            upper_stud: None,
            lower_stud: None,
        }),
        damper: None,
        spring: None,
        ride_height: Some(RideHeight {
            travel: Some(ride),
            damper_length: None,
            hub_to_lip: None,
            hub_to_lip_as_measured: None,
        }),
        stops: Stops::default(),
        wanted: None,
    }
}

fn solid(name: String, shape: Shape) -> Solid {
    Solid {
        name,
        shape,
        fixed_to: None,
        mirror: false,
        gap: Some(0.0),
    }
}

fn question(surroundings: &Surroundings, travel: f64) -> ClearanceQuestion {
    let coilover = Shape::AlongDamper(AlongDamper {
        from_upper: Some(0.0),
        from_lower: Some(0.0),
        radius: RADIUS,
        ..AlongDamper::default()
    });
    let tubes = surroundings.tubes.iter().map(|tube| {
        Shape::Tube(Tube {
            points: vec![tube.start, tube.end],
            radius: tube.radius,
        })
    });
    let blocks = surroundings.blocks.iter().map(|block| {
        let [yaw, pitch, roll] = block.turns.map(f64::to_degrees);
        Shape::Box(Block {
            centre: block.centre,
            size: 2.0 * block.half,
            yaw,
            pitch,
            roll,
        })
    });
    let obstacles = tubes.chain(blocks).enumerate();
    ClearanceQuestion {
        parts: vec![solid("coilover".into(), coilover)],
        obstacles: obstacles
            .map(|(place, shape)| solid(place.to_string(), shape))
            .collect(),
        bump: Some(travel),
        droop: Some(travel),
        ..ClearanceQuestion::default()
    }
}

/// The gap found to an obstacle, by its place in the list.
fn found(clearance: &Clearance, place: usize) -> Result<f64, String> {
    let name = place.to_string();
    let pair = clearance.pairs.iter().find(|pair| pair.other == name);
    pair.map(|pair| pair.least.gap)
        .ok_or_else(|| format!("no gap to obstacle {name}"))
}

/// The library finds what the loop finds, or a little less between the positions.
fn check_least(
    pickups: &Wishbone,
    surroundings: &Surroundings,
    corner: &Corner,
    question: &ClearanceQuestion,
) -> Result<(), String> {
    let mut least = [0.0; OBSTACLES];
    least_gaps(pickups, surroundings, &mut least).map_err(|error| error.to_string())?;
    let clearance = check_corner_clearance(corner, question).map_err(|error| error.to_string())?;
    for (place, by_hand) in least.iter().enumerate() {
        let found = found(&clearance, place)?;
        if found <= 0.0 {
            return Err(format!(
                "obstacle {place} is in the way, which the workload does not mean"
            ));
        }
        if found > by_hand + EXACT || found < by_hand - BETWEEN {
            return Err(format!(
                "gap {place}: the library finds {found} mm, the loop {by_hand} mm"
            ));
        }
    }
    Ok(())
}

/// At single travels both give the same gaps.
fn check_single(pickups: &Wishbone, surroundings: &Surroundings) -> Result<(), String> {
    for travel in [-80.0, -37.0, 0.0, 12.0, 80.0] {
        let corner = Corner::new(&described(pickups, travel)).map_err(|error| error.to_string())?;
        let clearance = check_corner_clearance(&corner, &question(surroundings, 0.0))
            .map_err(|error| error.to_string())?;
        let by_hand =
            least_gaps::gaps_at(pickups, surroundings, travel).map_err(|error| error.to_string())?;
        for (place, by_hand) in by_hand.iter().enumerate() {
            let found = found(&clearance, place)?;
            if (found - by_hand).abs() > EXACT {
                return Err(format!(
                    "gap {place} at {travel} mm: the library finds {found} mm, the loop {by_hand} mm"
                ));
            }
        }
    }
    Ok(())
}
