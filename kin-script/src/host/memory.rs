//! How much memory the program holds.
//!
//! Rhai bounds the size of one value but not of all values together, so a script with many large values, or one
//! that hides data in closures, is bounded by what the allocator has handed out. The counting allocator is part
//! of this crate and so of every program that links it.

use std::alloc::System;

use cap::Cap;

/// Counts only; the limit is enforced by the meter, which can stop a script with a sentence.
#[global_allocator]
static ALLOCATOR: Cap<System> = Cap::new(System, usize::MAX);

/// Bytes allocated at this moment by the whole program.
pub(super) fn bytes_in_use() -> usize {
    ALLOCATOR.allocated()
}
