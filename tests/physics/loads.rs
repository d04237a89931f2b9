//! Static loads of corners and axles.

mod axle_shares;
mod published;
mod questions;
mod reference;
mod virtual_work;
