//! Time of the fixed workloads, the general solver beside the hand-written limit.
//!
//! `cargo bench --bench sweep` prints the least time per position and the ratio to the limit, then the distribution.
#![expect(clippy::print_stdout, reason = "a bench program prints its figures")]

mod closed_form;
mod general;

use closed_form::reference::{self, WISHBONE_POSITIONS};
use closed_form::{axle, check, wishbone};
use std::hint::black_box;
use std::process::ExitCode;
use std::time::{Duration, Instant};

/// Runs per solver in the summary; the least time of so many leaves out what other programs took.
const RUNS: usize = 400;

/// A way to solve a workload: its name, and one whole sweep.
type Solver<'a> = (&'a str, &'a mut dyn FnMut());

fn main() -> ExitCode {
    // Cargo asks for a measurement with this argument; without it the programs are only tried out.
    let measure = std::env::args().any(|argument| argument == "--bench");
    if let Err(error) = check_all().and_then(|()| if measure { summary() } else { Ok(()) }) {
        eprintln!("no figures: {error}");
        return ExitCode::FAILURE;
    }
    divan::main();
    ExitCode::SUCCESS
}

fn check_all() -> Result<(), String> {
    check::all()?;
    general::check(&reference::wishbone()?.0, &reference::axle()?.0)
}

fn summary() -> Result<(), String> {
    let (given, _) = reference::wishbone()?;
    let mut positions = [wishbone::Position::default(); WISHBONE_POSITIONS];
    let mut limit_positions = positions;
    let mut closed_form = || _ = black_box(wishbone::sweep(black_box(&given), &mut limit_positions));
    let corner = general::corner(&given)?;
    let travels = general::travels(WISHBONE_POSITIONS, given.travel_step);
    let factorisations = general::sweep_corner(&corner, &travels, &mut positions)?;
    let mut sweep = || {
        _ = black_box(general::sweep_corner(
            black_box(&corner),
            &travels,
            &mut positions,
        ))
    };
    // Further solvers of the same workload go into this list; ratios are to the first.
    compare(
        "sweep_161",
        WISHBONE_POSITIONS,
        &mut [("closed_form", &mut closed_form), ("general", &mut sweep)],
    );
    print_factorisations("sweep_161", factorisations, WISHBONE_POSITIONS);

    let (given, _) = reference::axle()?;
    let mut positions = [axle::Position::default(); axle::POSITIONS];
    let mut limit_positions = positions;
    let mut closed_form = || _ = black_box(axle::sweep(black_box(&given), &mut limit_positions));
    let live_axle = general::live_axle(&given)?;
    let grid = general::grid(&given);
    let factorisations = general::sweep_axle(&live_axle, &grid, &mut positions)?;
    let mut sweep = || _ = black_box(general::sweep_axle(black_box(&live_axle), &grid, &mut positions));
    // Further solvers of the same workload go into this list; ratios are to the first.
    compare(
        "axle_861",
        axle::POSITIONS,
        &mut [("closed_form", &mut closed_form), ("general", &mut sweep)],
    );
    print_factorisations("axle_861", factorisations, axle::POSITIONS);
    growth()
}

/// Prints how the time grows with the number of positions: the same travel in steps of 1, 0.1 and 0.01 mm.
fn growth() -> Result<(), String> {
    let (given, _) = reference::wishbone()?;
    let corner = general::corner(&given)?;
    for finer in [1, 10, 100] {
        let count = WISHBONE_POSITIONS * finer;
        let travels = general::travels(count, given.travel_step / finer as f64);
        let mut positions = vec![wishbone::Position::default(); count];
        let mut least = Duration::MAX;
        let mut factorisations = 0;
        for _ in 0..(RUNS / finer).max(40) {
            let start = Instant::now();
            factorisations = general::sweep_corner(black_box(&corner), &travels, &mut positions)?;
            least = start.elapsed().min(least);
        }
        println!(
            "growth::general: {count} positions, {:.1} ns a position, {:.3} factorisations a position",
            least.as_secs_f64() * 1e9 / count as f64,
            f64::from(factorisations) / count as f64
        );
    }
    Ok(())
}

fn print_factorisations(workload: &str, factorisations: u32, positions: usize) {
    let each = f64::from(factorisations) / positions as f64;
    println!("{workload}::general: {factorisations} factorisations, {each:.3} a position");
}

/// Prints the least time of each solver; they take turns, so that a busy machine slows all of them alike.
fn compare(workload: &str, positions: usize, solvers: &mut [Solver<'_>]) {
    let mut least = vec![Duration::MAX; solvers.len()];
    for _ in 0..RUNS {
        for ((_, solve), least) in solvers.iter_mut().zip(&mut least) {
            let start = Instant::now();
            solve();
            *least = start.elapsed().min(*least);
        }
    }
    for ((name, _), time) in solvers.iter().zip(&least) {
        let nanoseconds = time.as_secs_f64() * 1e9 / positions as f64;
        let ratio = time.as_secs_f64() / least[0].as_secs_f64();
        println!(
            "{workload}::{name}: {positions} positions, {nanoseconds:.1} ns a position, {ratio:.2} x limit \
             (least of {RUNS} runs)"
        );
    }
}

/// One double wishbone, -80 to +80 mm in 1 mm steps.
#[divan::bench_group]
mod sweep_161 {
    use super::*;
    use divan::counter::ItemsCount;

    #[divan::bench]
    fn closed_form(bencher: divan::Bencher<'_, '_>) {
        let Ok((corner, _)) = reference::wishbone() else {
            return;
        };
        let mut positions = [wishbone::Position::default(); WISHBONE_POSITIONS];
        let bencher = bencher.counter(ItemsCount::new(WISHBONE_POSITIONS));
        bencher.bench_local(|| wishbone::sweep(black_box(&corner), black_box(&mut positions)));
    }

    #[divan::bench]
    fn general(bencher: divan::Bencher<'_, '_>) {
        let Ok((given, _)) = reference::wishbone() else {
            return;
        };
        let Ok(corner) = general::corner(&given) else {
            return;
        };
        let travels = general::travels(WISHBONE_POSITIONS, given.travel_step);
        let mut positions = [wishbone::Position::default(); WISHBONE_POSITIONS];
        let bencher = bencher.counter(ItemsCount::new(WISHBONE_POSITIONS));
        bencher
            .bench_local(|| general::sweep_corner(black_box(&corner), &travels, black_box(&mut positions)));
    }
}

/// One triangulated four-link axle, 41 heave by 21 roll positions.
#[divan::bench_group]
mod axle_861 {
    use super::*;
    use divan::counter::ItemsCount;

    #[divan::bench]
    fn closed_form(bencher: divan::Bencher<'_, '_>) {
        let Ok((live_axle, _)) = reference::axle() else {
            return;
        };
        let mut positions = [axle::Position::default(); axle::POSITIONS];
        let bencher = bencher.counter(ItemsCount::new(axle::POSITIONS));
        bencher.bench_local(|| axle::sweep(black_box(&live_axle), black_box(&mut positions)));
    }

    #[divan::bench]
    fn general(bencher: divan::Bencher<'_, '_>) {
        let Ok((given, _)) = reference::axle() else {
            return;
        };
        let Ok(live_axle) = general::live_axle(&given) else {
            return;
        };
        let grid = general::grid(&given);
        let mut positions = [axle::Position::default(); axle::POSITIONS];
        let bencher = bencher.counter(ItemsCount::new(axle::POSITIONS));
        bencher.bench_local(|| general::sweep_axle(black_box(&live_axle), &grid, black_box(&mut positions)));
    }
}
