//! Studies, as scripts ask for them and people read them.

mod choices;
mod compare;
mod program;
mod tolerance;
