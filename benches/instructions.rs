//! Instructions of the fixed workloads, counted under valgrind: unlike times they do not depend on the machine's load.
#![expect(
    missing_docs,
    reason = "the macros of the counting library make public functions"
)]
#![expect(
    clippy::expect_used,
    reason = "a set-up function has no other way to stop the count"
)]

mod closed_form;

use closed_form::axle::{self, Axle};
use closed_form::reference::{self, WISHBONE_POSITIONS};
use closed_form::{check, wishbone};
use gungraun::{library_benchmark, library_benchmark_group, main};
use std::hint::black_box;

fn corner() -> wishbone::Wishbone {
    check::all().expect("the baselines are right");
    reference::wishbone().expect("the reference case is read").0
}

fn live_axle() -> Axle {
    reference::axle().expect("the reference case is read").0
}

#[library_benchmark]
#[bench::positions_161(setup = corner)]
fn sweep_161_closed_form(corner: wishbone::Wishbone) {
    let mut positions = [wishbone::Position::default(); WISHBONE_POSITIONS];
    _ = black_box(wishbone::sweep(black_box(&corner), black_box(&mut positions)));
}

#[library_benchmark]
#[bench::positions_861(setup = live_axle)]
fn axle_861_closed_form(axle: Axle) {
    let mut positions = [axle::Position::default(); axle::POSITIONS];
    _ = black_box(axle::sweep(black_box(&axle), black_box(&mut positions)));
}

library_benchmark_group!(
    name = closed,
    benchmarks = [sweep_161_closed_form, axle_861_closed_form]
);
main!(library_benchmark_groups = closed);
