//! Where in a question a field is: written out only when a message needs it.

use std::fmt;

/// A solid of the question, and the form of it that is being read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Field {
    /// `clearance.parts` or `clearance.obstacles`.
    pub(super) list: &'static str,
    /// Place in that list.
    pub(super) place: usize,
    /// The form's name with a point before it, or nothing.
    pub(super) form: &'static str,
}

impl Field {
    pub(super) fn of(self, form: &'static str) -> Self {
        Self { form, ..self }
    }

    /// The path of a field of the solid or of its form.
    pub(super) fn at(&self, name: impl fmt::Display) -> String {
        format!("{self}.{name}")
    }
}

impl fmt::Display for Field {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}[{}]{}", self.list, self.place, self.form)
    }
}
