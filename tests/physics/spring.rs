//! Springs, ride height, bump stops and damper settings.

mod apart;
mod axle;
mod bump_stop;
mod choice;
mod damper_setting;
mod impossible;
mod laws;
mod mistakes;
mod pickup;
mod support;
mod wagon_front;
mod wagon_rear;
mod wire;
