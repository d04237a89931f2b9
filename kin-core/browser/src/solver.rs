//! The corner that a page moves, and the numbers it shares with it.

use crate::answer::answer;
use crate::description::description;
use crate::layout::{CAPACITY, DESCRIPTION};
use kin_core::{Corner, Error};
use std::cell::{Cell, RefCell};

/// One page's corner.
pub(crate) struct Solver {
    /// The shared list. Cells, since the page writes into it between calls.
    numbers: [Cell<f64>; CAPACITY],
    corner: RefCell<Option<Corner>>,
    /// Why the last call was refused.
    text: RefCell<String>,
}

thread_local! {
    static SOLVER: Solver = const {
        Solver {
            numbers: [const { Cell::new(0.0) }; CAPACITY],
            corner: RefCell::new(None),
            text: RefCell::new(String::new()),
        }
    };
}

/// Does something with the page's corner. A page has one thread.
pub(crate) fn with<T>(act: impl FnOnce(&Solver) -> T) -> T {
    SOLVER.with(act)
}

impl Solver {
    pub(crate) fn list(&self) -> *const f64 {
        self.numbers.as_ptr().cast()
    }

    pub(crate) fn text(&self) -> (*const u8, usize) {
        let text = self.text.borrow();
        (text.as_ptr(), text.len())
    }

    fn write(&self, numbers: &[f64]) {
        for (place, number) in self.numbers.iter().zip(numbers) {
            place.set(*number);
        }
    }

    /// Keeps the words of a refusal; tells whether there was none.
    fn told<T>(&self, result: Result<T, Error>) -> Option<T> {
        let refusal = |error: Error| *self.text.borrow_mut() = error.to_string();
        result.map_err(refusal).ok()
    }

    pub(crate) fn describe(&self) -> bool {
        let numbers: Vec<f64> = self.numbers.iter().take(DESCRIPTION).map(Cell::get).collect();
        let corner = self.told(Corner::new(&description(&numbers)));
        let done = corner.is_some();
        *self.corner.borrow_mut() = corner;
        done
    }

    pub(crate) fn solve(&self, travel: f64) -> bool {
        let corner = self.corner.borrow();
        let Some(corner) = corner.as_ref() else {
            "no corner is described".clone_into(&mut self.text.borrow_mut());
            return false;
        };
        match self.told(corner.at(travel, 0.0).map_err(Error::from)) {
            Some(position) => {
                self.write(&answer(&position));
                true
            }
            None => false,
        }
    }

    pub(crate) fn reach(&self) -> bool {
        let corner = self.corner.borrow();
        let Some(corner) = corner.as_ref() else {
            "no corner is described".clone_into(&mut self.text.borrow_mut());
            return false;
        };
        let reach = corner.reach();
        self.write(&[reach.lowest, reach.highest].map(|end| end.unwrap_or(f64::NAN)));
        true
    }
}
