//! What a page can call.
#![allow(
    unsafe_code,
    reason = "exporting a function under its own name counts as unsafe code; nothing else here does"
)]

use crate::solver::with;

/// Makes room for so many numbers in the shared list, and tells where it begins in the memory of the module. It may move whenever
/// anything is called.
#[unsafe(no_mangle)]
pub extern "C" fn numbers(count: u32) -> *const f64 {
    with(|solver| solver.numbers(count as usize))
}

/// Makes room for so many bytes of shared words, in UTF-8, and tells where they begin.
#[unsafe(no_mangle)]
pub extern "C" fn words(bytes: u32) -> *const u8 {
    with(|solver| solver.words(bytes as usize))
}

/// Reads the units that refusals are told in from the shared list and the shared words.
#[unsafe(no_mangle)]
pub extern "C" fn speak(bytes: u32) {
    with(|solver| solver.speak(bytes as usize));
}

/// Reads the corner in the shared list, validates it and makes it ready to be moved. 1 when it is; else 0, the reason is in
/// [`text`], and nothing can be moved.
#[unsafe(no_mangle)]
pub extern "C" fn describe_corner() -> u32 {
    with(|solver| solver.describe_corner()).into()
}

/// The same for an axle with so many links, whose names are so many bytes of the shared words.
#[unsafe(no_mangle)]
pub extern "C" fn describe_axle(links: u32, bytes: u32) -> u32 {
    with(|solver| solver.describe_axle(links as usize, bytes as usize)).into()
}

/// Moves the wheels to their travels (mm from the pickups as measured, bump positive) and writes the answer into the shared list. A
/// corner has one wheel, and takes the first. 1 when the answer is there; else 0, the reason is in [`text`], and the list is as it was.
#[unsafe(no_mangle)]
pub extern "C" fn solve(left: f64, right: f64) -> u32 {
    with(|solver| solver.solve(left, right)).into()
}

/// Where the words of the last refusal begin, in UTF-8.
#[unsafe(no_mangle)]
pub extern "C" fn text() -> *const u8 {
    with(|solver| solver.text().0)
}

/// How many bytes those words have.
#[unsafe(no_mangle)]
pub extern "C" fn text_length() -> u32 {
    with(|solver| solver.text().1) as u32
}
