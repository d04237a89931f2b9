//! Where the wheels stand, as words for people and numbers for scripts.

use super::columns::numbers;
use super::report::{Item, Value};
use crate::table::Column;
use crate::units::Units;
use kin_core::Dimension::Length;
use kin_core::checks::WheelPlace;

/// The keys of a place: its words, and its numbers on a corner and on an axle.
pub(super) struct PlaceKeys {
    pub(super) words: &'static str,
    pub(super) corner: [&'static str; 2],
    pub(super) axle: [&'static str; 2],
}

/// The keys of the place of something, such as `worst_at` with `worst_travel` and `worst_rack`, or `worst_left` and
/// `worst_right` on an axle.
macro_rules! place_keys {
    ($name:literal) => {
        &$crate::fit::places::PlaceKeys {
            words: concat!($name, "_at"),
            corner: [concat!($name, "_travel"), concat!($name, "_rack")],
            axle: [concat!($name, "_left"), concat!($name, "_right")],
        }
    };
}
pub(super) use place_keys;

impl Item {
    /// With a place: words on the sheet, numbers for scripts.
    pub(super) fn place(self, keys: &PlaceKeys, label: &'static str, place: &WheelPlace) -> Self {
        let item = self.with(keys.words, label, Value::Sentence(place.sentence()));
        let ([first, second], values) = match *place {
            WheelPlace::Corner { travel, rack } => (keys.corner, [travel, rack]),
            _ => (keys.axle, [place.left(), place.right()]),
        };
        item.length(first, "", values[0]).length(second, "", values[1])
    }
}

/// The columns of a place: travel, and rack where it moves; or both wheels of an axle.
pub(super) fn place_columns<R>(rows: &[R], units: &Units, of: impl Fn(&R) -> WheelPlace) -> Vec<Column> {
    let column = |name: &str, value: &dyn Fn(WheelPlace) -> f64| {
        numbers(rows, units, name, Length, |row| Some(value(of(row))))
    };
    let corner = rows
        .iter()
        .any(|row| matches!(of(row), WheelPlace::Corner { .. }));
    if !corner {
        return vec![
            column("left", &|place| place.left()),
            column("right", &|place| place.right()),
        ];
    }
    let mut columns = vec![column("travel", &|place| place.left())];
    if rows.iter().any(|row| of(row).rack() != 0.0) {
        columns.push(column("rack", &|place| place.rack()));
    }
    columns
}
