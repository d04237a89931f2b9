//! Static loads, fasteners and brackets.

mod axle_shares;
mod published;
mod questions;
mod reference;
mod virtual_work;
