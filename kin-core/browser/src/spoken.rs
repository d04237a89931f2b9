//! Refusals in the page's units.

use crate::reader::Reader;
use kin_core::{Dimension, Error, Rounding};

/// A unit: core units in one of it, decimals, symbol.
struct Unit {
    size: f64,
    decimals: usize,
    symbol: String,
}

impl Unit {
    fn read(read: &mut Reader<'_>, words: &mut std::slice::Iter<'_, u8>) -> Self {
        let (size, decimals, bytes) = (read.number(), read.count(), read.count());
        let symbol: Vec<u8> = words.by_ref().take(bytes).copied().collect();
        Self {
            size,
            decimals,
            symbol: String::from_utf8_lossy(&symbol).into_owned(),
        }
    }

    fn text(&self, value: f64, more: usize, rounding: Rounding) -> String {
        let number = rounding.text(value / self.size, self.size, self.decimals + more);
        format!("{number} {}", self.symbol)
    }
}

/// The units that a page speaks in.
pub(crate) struct Spoken {
    length: Unit,
    rate: Unit,
}

impl Spoken {
    /// Reads units in the order of [`UNITS`](crate::layout::UNITS).
    pub(crate) fn read(numbers: &[f64], words: &[u8]) -> Self {
        let (mut read, mut words) = (Reader::new(numbers), words.iter());
        Self {
            length: Unit::read(&mut read, &mut words),
            rate: Unit::read(&mut read, &mut words),
        }
    }

    /// What is wrong, in words.
    pub(crate) fn words(&self, error: &Error) -> String {
        error
            .sentence()
            .render(|value, dimension, rounding| match dimension {
                Dimension::Length => self.length.text(value, 0, rounding),
                Dimension::FineLength => self.length.text(value, 1, rounding),
                Dimension::Rate => self.rate.text(value, 0, rounding),
                other => other.rounded(value, rounding),
            })
    }
}
