//! Instructions of the fixed workloads: unlike times they do not depend on the load of the machine.
//!
//! `cargo bench --bench instructions` runs itself under valgrind's callgrind (a system package) with one and with
//! several sweeps of each solver; the difference leaves out the start of the program. The counts include the
//! mathematics library of the system, so they are compared on one machine only.
#![expect(clippy::print_stdout, reason = "a bench program prints its figures")]

mod closed_form;
mod general;

use closed_form::reference::{self, WISHBONE_POSITIONS};
use closed_form::{axle, check, wishbone};
use std::hint::black_box;
use std::process::{Command, ExitCode};

/// Argument that makes the program run one solver instead of counting them all.
const RUN: &str = "--run-solver";
/// Sweeps in the longer of the two counted runs.
const SWEEPS: usize = 11;

/// A solver of a workload: its name, how many positions one sweep has, and the sweep repeated.
struct Solver {
    name: &'static str,
    positions: usize,
    sweeps: fn(usize) -> Result<(), String>,
}

/// Further solvers go here; ratios are to the `closed_form` of the same workload.
const SOLVERS: [Solver; 4] = [
    Solver {
        name: "sweep_161::closed_form",
        positions: WISHBONE_POSITIONS,
        sweeps: sweep_161_closed_form,
    },
    Solver {
        name: "sweep_161::general",
        positions: WISHBONE_POSITIONS,
        sweeps: sweep_161_general,
    },
    Solver {
        name: "axle_861::closed_form",
        positions: axle::POSITIONS,
        sweeps: axle_861_closed_form,
    },
    Solver {
        name: "axle_861::general",
        positions: axle::POSITIONS,
        sweeps: axle_861_general,
    },
];

fn sweep_161_closed_form(sweeps: usize) -> Result<(), String> {
    let (corner, _) = reference::wishbone()?;
    let mut positions = [wishbone::Position::default(); WISHBONE_POSITIONS];
    for _ in 0..sweeps {
        wishbone::sweep(black_box(&corner), black_box(&mut positions)).map_err(|error| error.to_string())?;
    }
    Ok(())
}

fn axle_861_closed_form(sweeps: usize) -> Result<(), String> {
    let (live_axle, _) = reference::axle()?;
    let mut positions = [axle::Position::default(); axle::POSITIONS];
    for _ in 0..sweeps {
        axle::sweep(black_box(&live_axle), black_box(&mut positions)).map_err(|error| error.to_string())?;
    }
    Ok(())
}

fn sweep_161_general(sweeps: usize) -> Result<(), String> {
    let (given, _) = reference::wishbone()?;
    let corner = general::corner(&given)?;
    let travels = general::travels(WISHBONE_POSITIONS, given.travel_step);
    let mut positions = [wishbone::Position::default(); WISHBONE_POSITIONS];
    for _ in 0..sweeps {
        general::sweep_corner(black_box(&corner), black_box(&travels), black_box(&mut positions))?;
    }
    Ok(())
}

fn axle_861_general(sweeps: usize) -> Result<(), String> {
    let (given, _) = reference::axle()?;
    let live_axle = general::live_axle(&given)?;
    let grid = general::grid(&given);
    let mut positions = [axle::Position::default(); axle::POSITIONS];
    for _ in 0..sweeps {
        general::sweep_axle(black_box(&live_axle), black_box(&grid), black_box(&mut positions))?;
    }
    Ok(())
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    let outcome = match arguments.iter().position(|argument| argument == RUN) {
        Some(at) => run(arguments.get(at + 1..).unwrap_or_default()),
        // Cargo asks for a measurement with this argument; without it the programs are only tried out.
        None if arguments.iter().any(|argument| argument == "--bench") => {
            check_all().and_then(|()| count_all())
        }
        None => check_all(),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("no figures: {error}");
            ExitCode::FAILURE
        }
    }
}

fn check_all() -> Result<(), String> {
    check::all()?;
    general::check(&reference::wishbone()?.0, &reference::axle()?.0)
}

/// Runs one solver: its name and the number of sweeps.
fn run(arguments: &[String]) -> Result<(), String> {
    let [name, sweeps] = arguments else {
        return Err(format!("{RUN} needs a solver and a number of sweeps"));
    };
    let solver = SOLVERS.iter().find(|solver| solver.name == name);
    let solver = solver.ok_or_else(|| format!("there is no solver `{name}`"))?;
    let sweeps = sweeps
        .parse()
        .map_err(|error| format!("`{sweeps}` sweeps: {error}"))?;
    (solver.sweeps)(sweeps)
}

fn count_all() -> Result<(), String> {
    let mut limit = ("", 1.0);
    for solver in &SOLVERS {
        let difference = count(solver.name, SWEEPS)?.saturating_sub(count(solver.name, 1)?);
        let each = difference as f64 / ((SWEEPS - 1) * solver.positions) as f64;
        let (workload, way) = solver.name.split_once("::").unwrap_or_default();
        if way == "closed_form" {
            limit = (workload, each);
        } else if limit.0 != workload {
            return Err(format!(
                "`{}` stands before the closed_form of its workload",
                solver.name
            ));
        }
        println!(
            "{}: {} positions, {each:.0} instructions a position, {:.2} x limit",
            solver.name,
            solver.positions,
            each / limit.1
        );
    }
    Ok(())
}

/// Instructions of a whole run of this program with one solver.
fn count(name: &str, sweeps: usize) -> Result<u64, String> {
    let program = std::env::current_exe().map_err(|error| format!("this program is not found: {error}"))?;
    let output = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null"])
        .arg(program)
        .args([RUN, name, &sweeps.to_string()])
        .output()
        .map_err(|error| format!("valgrind cannot be started (is it installed?): {error}"))?;
    let report = String::from_utf8_lossy(&output.stderr);
    if !output.status.success() {
        return Err(format!("the counted run failed:\n{report}"));
    }
    let collected = report.lines().find_map(|line| line.split_once("Collected :"));
    collected
        .and_then(|(_, count)| count.trim().parse().ok())
        .ok_or_else(|| format!("valgrind reported no count:\n{report}"))
}
