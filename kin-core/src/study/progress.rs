//! How a long study tells how far it is, and is told to stop.

/// What a study reports to while it works. The core has no clock and no terminal: whoever calls a study may have both.
pub trait Progress: Sync {
    /// Some more variants are done.
    fn advance(&self, variants: usize);

    /// Whether to stop here. A stopped study keeps what it has and says how far it came.
    fn should_stop(&self) -> bool;
}

/// Nobody is watching.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unwatched;

impl Progress for Unwatched {
    fn advance(&self, _variants: usize) {}

    fn should_stop(&self) -> bool {
        false
    }
}
