//! The `kin` program: arguments in, exit code out.

fn main() {}
