//! The `kin` program: arguments in, exit code out.

use std::process::ExitCode;

fn main() -> ExitCode {
    kin_script::command_line::main()
}
