//! Studies, as scripts ask for them and people read them.

mod calibrate;
mod choices;
mod compare;
mod program;
mod search;
mod tolerance;
