//! What a script may use before it is stopped.

use std::time::Duration;

/// Bounds on one run. Every bound ends the run with a report; none of them changes a result.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Steps, added up over all engines, closures and imported files of the run. They are counted in portions
    /// of 64. Default 200 million, a few tens of seconds of pure script arithmetic.
    pub operations: u64,
    /// Functions calling functions. Default 64.
    pub call_levels: usize,
    /// Brackets and operators inside one another in one expression. Default 96.
    pub expression_depth: usize,
    /// Bytes of one text value, or of all texts inside one list or map. Default 4 MiB.
    pub text_bytes: usize,
    /// Items of one list, the items of the lists inside it included. Default 100 000.
    pub list_items: usize,
    /// Keys of one map, the keys of the maps inside it included. Default 20 000.
    pub map_keys: usize,
    /// Variables in sight at one time. Default 1000.
    pub variables: usize,
    /// Functions defined by one file. Default 500.
    pub functions: usize,
    /// Files imported by one engine. Default 50.
    pub modules: usize,
    /// Bytes of one script file or of one data file it loads. Default 1 MiB.
    pub file_bytes: u64,
    /// Memory the run may add to what the program held when it began, in bytes. Looked at at every step, so
    /// it may be passed by what one step makes. Default 192 MiB.
    pub memory_bytes: usize,
    /// Time on the clock. Default 600 s: a script's own steps are bounded by `operations` long before, so this is for
    /// native work, such as a study of a hundred thousand variants. `kin run --time-limit` sets it.
    pub wall_time: Duration,
    /// How long after `wall_time` a step that cannot be interrupted is waited for. Default 5 s.
    pub grace: Duration,
    /// Files written into the output folder. Default 500.
    pub output_files: usize,
    /// Bytes written into the output folder, all files together. Default 64 MiB.
    pub output_bytes: u64,
    /// Bytes printed. Default 4 MiB.
    pub print_bytes: usize,
}

impl Default for Limits {
    fn default() -> Self {
        const MIB: usize = 1024 * 1024;
        Self {
            operations: 200_000_000,
            call_levels: 64,
            expression_depth: 96,
            text_bytes: 4 * MIB,
            list_items: 100_000,
            map_keys: 20_000,
            variables: 1000,
            functions: 500,
            modules: 50,
            file_bytes: MIB as u64,
            memory_bytes: 192 * MIB,
            wall_time: Duration::from_secs(600),
            grace: Duration::from_secs(5),
            output_files: 500,
            output_bytes: 64 * MIB as u64,
            print_bytes: 4 * MIB,
        }
    }
}
