//! The word for a paper template.

use super::pictures::write;
use crate::arguments;
use crate::host::{Session, Word};
use crate::picture::BracketDrawing;
use rhai::{Dynamic, Engine, EvalAltResult, Map};

pub(super) const NAMES: &[&str] = &["bracket_drawing"];

/// Registers the words of this topic.
pub(super) fn register(engine: &mut Engine, session: &Session) {
    let session = session.clone();
    Word {
        name: "bracket_drawing",
        parameters: &["file: text", "bracket: map", "text"],
        documentation: "Draws a bracket or tab at full size, as SVG into the output folder: a paper template with the places of the \
            holes from a stated datum, their diameters, edge distances, and a check square that tells whether it was printed at \
            full size. A plate that does not fit on the page is refused, with the page on which it does.\n\n\
            Keys: `name`, `unit` (\"mm\" unless given, or \"inch\"), `page` (\"A4\", \"Letter\", \"A3\", \"Tabloid\", \"A2\"), `width` \
            (along the root), `length` (from the root to the opposite edge), `corner_radius`, `thickness`, `tabs` (how many to cut). \
            One hole in the middle: `height` (root to its middle) and `edge_distance`. More: `holes`, a list of maps with `at` ([across, \
            up] from the left end of the root), `name`, `diameter`. Diameters from `bolt` and `hole_class`, `hole` or `drill_to`, as in \
            `check_brackets`; its other keys may stand in the map as well.",
    }
    .register(engine, move |file: &str, bracket: Map| -> Result<String, Box<EvalAltResult>> {
        let bracket: BracketDrawing = arguments::read(Dynamic::from_map(bracket), "the bracket")?;
        write(&session, file, &bracket.svg()?)
    });
}
