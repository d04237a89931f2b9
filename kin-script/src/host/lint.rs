//! What is looked for in a script's text before it runs.

use rhai::Position;

use super::{ScriptError, Words};
use crate::explain::scan::{Kind, Piece, pieces};

/// A finding with its place.
#[derive(Debug)]
pub(super) struct Fault {
    pub(super) error: ScriptError,
    pub(super) position: Position,
}

/// Looks for an empty script, functions under reserved names, and fractions that divide by a unit.
pub(super) fn check(source: &str, words: &Words) -> Result<(), Box<Fault>> {
    let pieces = pieces(source);
    if pieces.is_empty() {
        return Err(fault(
            ScriptError::new("the script is empty: there is nothing to run")
                .with_help("check the file's name, and that the editor has saved it"),
            Position::new(1, 1),
        ));
    }
    for (at, piece) in pieces.iter().enumerate() {
        reserved_name(piece, pieces.get(at + 1), words)?;
        divided_by_a_unit(&pieces[at..])?;
    }
    Ok(())
}

fn reserved_name(piece: &Piece<'_>, next: Option<&Piece<'_>>, words: &Words) -> Result<(), Box<Fault>> {
    let Some(name) = next.filter(|name| piece.is_word("fn") && name.kind == Kind::Word) else {
        return Ok(());
    };
    if !words.reserved.iter().any(|reserved| reserved == name.text) {
        return Ok(());
    }
    Err(fault(
        ScriptError::new(format!(
            "`{0}` is a word of the language: a function named `{0}` would hide it",
            name.text
        ))
        .with_help(format!(
            "give the function another name, such as `my_{}`",
            name.text
        )),
        name.position(),
    ))
}

/// `7/8.inch` is read as 7 divided by 8 inches.
fn divided_by_a_unit(pieces: &[Piece<'_>]) -> Result<(), Box<Fault>> {
    let [above, slash, below, dot, unit, ..] = pieces else {
        return Ok(());
    };
    let is_fraction = above.kind == Kind::Number && slash.text == "/" && below.kind == Kind::Number;
    if !is_fraction || dot.text != "." || unit.kind != Kind::Word {
        return Ok(());
    }
    let written = format!("{}/{}.{}", above.text, below.text, unit.text);
    let inches = if unit.text.starts_with("inch") {
        format!(
            ", or inches(\"{}/{}\") for a number of inches",
            above.text, below.text
        )
    } else {
        String::new()
    };
    let dividend = if above.text.contains('.') {
        above.text.to_owned()
    } else {
        format!("{}.0", above.text)
    };
    Err(fault(
        ScriptError::new(format!(
            "`{written}` divides {} by {}.{}",
            above.text, below.text, unit.text
        ))
        .with_help(format!(
            "write ({dividend} / {}).{}{inches}",
            below.text, unit.text
        )),
        above.position(),
    ))
}

fn fault(error: ScriptError, position: Position) -> Box<Fault> {
    Box::new(Fault { error, position })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words() -> Words {
        Words {
            reserved: vec!["sqrt".to_owned()],
            keys: Vec::new(),
        }
    }

    #[test]
    fn a_function_under_a_reserved_name_is_found_at_its_name() {
        let fault = check(
            "let a = 1;\n// fn sqrt(x)\nfn /* our own */ sqrt(x) { x }",
            &words(),
        )
        .unwrap_err();
        assert!(fault.error.what.contains("`sqrt` is a word of the language"));
        assert_eq!(fault.position, Position::new(3, 18));
        assert!(check("let text = \"fn sqrt(x)\"; fn my_sqrt(x) { x } sqrt(2)", &words()).is_ok());
    }

    #[test]
    fn a_fraction_with_a_unit_behind_it_is_found() {
        let fault = check("let x = 7/8.inch;", &words()).unwrap_err();
        assert_eq!(fault.error.what, "`7/8.inch` divides 7 by 8.inch");
        assert_eq!(
            fault.error.help.as_deref(),
            Some("write (7.0 / 8).inch, or inches(\"7/8\") for a number of inches")
        );
        assert_eq!(fault.position, Position::new(1, 9));
        assert!(check("let x = `${1} and ${7 / 8.mm}`;", &words()).is_err());
        assert!(
            check(
                "let x = (7.0/8).inch; let y = 7.0/8.0; let z = x/8.inch;",
                &words()
            )
            .is_ok()
        );
    }

    #[test]
    fn nothing_but_comments_is_an_empty_script() {
        for source in ["", " \n\t\n", "// a comment\n/* and /* another */ */"] {
            assert!(
                check(source, &words()).unwrap_err().error.what.contains("empty"),
                "{source:?}"
            );
        }
    }
}
