//! What a page can call.
#![allow(
    unsafe_code,
    reason = "exporting a function under its own name counts as unsafe code; nothing else here does"
)]

use crate::layout::CAPACITY;
use crate::solver::with;

/// Where the shared list of numbers begins in the memory of the module.
#[unsafe(no_mangle)]
pub extern "C" fn buffer() -> *const f64 {
    with(|solver| solver.list())
}

/// How many numbers the shared list holds.
#[unsafe(no_mangle)]
pub extern "C" fn capacity() -> u32 {
    CAPACITY as u32
}

/// Reads the corner in the shared list, validates it and makes it ready to be moved. 1 when it is; else 0, the reason is in
/// [`text`], and there is no corner.
#[unsafe(no_mangle)]
pub extern "C" fn describe() -> u32 {
    with(|solver| solver.describe()).into()
}

/// Moves the wheel to a travel (mm from the pickups as measured, bump positive) and writes the answer into the shared list. 1 when it
/// is there; else 0, the reason is in [`text`], and the list is as it was.
#[unsafe(no_mangle)]
pub extern "C" fn solve(travel: f64) -> u32 {
    with(|solver| solver.solve(travel)).into()
}

/// Writes where the linkage ends in droop and in bump (mm of travel) into the first two places of the list; NaN where it has
/// no end. 0 without a corner.
#[unsafe(no_mangle)]
pub extern "C" fn reach() -> u32 {
    with(|solver| solver.reach()).into()
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
