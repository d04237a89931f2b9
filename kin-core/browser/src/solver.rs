//! The suspension that a page moves, and the numbers and words it shares with it.

use crate::axle_answer::axle_answer;
use crate::axle_description::axle_description;
use crate::corner_answer::corner_answer;
use crate::corner_description::corner_description;
use crate::layout::{AXLE, CORNER, LINK, UNITS};
use crate::spoken::Spoken;
use kin_core::{Axle, AxleTravel, Corner, Error};
use std::cell::{Cell, RefCell};

#[allow(clippy::large_enum_variant, reason = "a page has one")]
enum Moved {
    Corner(Corner),
    Axle(Axle),
}

/// One page's suspension.
pub(crate) struct Solver {
    /// The shared list. Cells, since the page writes into it between calls.
    numbers: RefCell<Vec<Cell<f64>>>,
    /// The words that the page writes: names and symbols.
    words: RefCell<Vec<Cell<u8>>>,
    moved: RefCell<Option<Moved>>,
    spoken: RefCell<Option<Spoken>>,
    /// Why the last call was refused.
    text: RefCell<String>,
}

thread_local! {
    static SOLVER: Solver = const {
        Solver {
            numbers: RefCell::new(Vec::new()),
            words: RefCell::new(Vec::new()),
            moved: RefCell::new(None),
            spoken: RefCell::new(None),
            text: RefCell::new(String::new()),
        }
    };
}

/// Does something with the page's suspension. A page has one thread.
pub(crate) fn with<T>(act: impl FnOnce(&Solver) -> T) -> T {
    SOLVER.with(act)
}

/// A list with room for so many.
fn room<T: Default>(list: &RefCell<Vec<Cell<T>>>, count: usize) -> *const T {
    let mut list = list.borrow_mut();
    if list.len() < count {
        list.resize_with(count, Cell::default);
    }
    list.as_ptr().cast()
}

/// The first so many of a list, as they are now.
fn first<T: Copy>(list: &RefCell<Vec<Cell<T>>>, count: usize) -> Vec<T> {
    list.borrow().iter().take(count).map(Cell::get).collect()
}

impl Solver {
    pub(crate) fn numbers(&self, count: usize) -> *const f64 {
        room(&self.numbers, count)
    }

    pub(crate) fn words(&self, bytes: usize) -> *const u8 {
        room(&self.words, bytes)
    }

    pub(crate) fn text(&self) -> (*const u8, usize) {
        let text = self.text.borrow();
        (text.as_ptr(), text.len())
    }

    fn write(&self, numbers: &[f64]) {
        room(&self.numbers, numbers.len());
        for (place, number) in self.numbers.borrow().iter().zip(numbers) {
            place.set(*number);
        }
    }

    pub(crate) fn speak(&self, bytes: usize) {
        let spoken = Spoken::read(&first(&self.numbers, UNITS), &first(&self.words, bytes));
        *self.spoken.borrow_mut() = Some(spoken);
    }

    /// Keeps the words of a refusal; tells whether there was none.
    fn told<T>(&self, result: Result<T, Error>) -> Option<T> {
        let refusal = |error: Error| {
            let spoken = self.spoken.borrow();
            *self.text.borrow_mut() = match spoken.as_ref() {
                Some(spoken) => spoken.words(&error),
                None => error.to_string(),
            };
        };
        result.map_err(refusal).ok()
    }

    fn keep(&self, moved: Option<Moved>) -> bool {
        let done = moved.is_some();
        *self.moved.borrow_mut() = moved;
        done
    }

    pub(crate) fn describe_corner(&self) -> bool {
        let description = corner_description(&first(&self.numbers, CORNER));
        self.keep(self.told(Corner::new(&description)).map(Moved::Corner))
    }

    pub(crate) fn describe_axle(&self, links: usize, bytes: usize) -> bool {
        let numbers = first(&self.numbers, AXLE + links * LINK);
        let description = axle_description(&numbers, &first(&self.words, bytes));
        self.keep(self.told(Axle::new(&description)).map(Moved::Axle))
    }

    pub(crate) fn solve(&self, left: f64, right: f64) -> bool {
        let moved = self.moved.borrow();
        let answer = match moved.as_ref() {
            None => {
                "nothing is described".clone_into(&mut self.text.borrow_mut());
                return false;
            }
            Some(Moved::Corner(corner)) => self
                .told(corner.at(left, 0.0).map_err(Error::from))
                .map(|position| corner_answer(&position)),
            Some(Moved::Axle(axle)) => self
                .told(axle.at(AxleTravel { left, right }).map_err(Error::from))
                .map(|position| axle_answer(&position)),
        };
        answer.inspect(|numbers| self.write(numbers)).is_some()
    }
}
