//! Finds names and keys in a script's text.

use std::sync::Arc;

use rhai::Position;

use super::report::Place;
use super::scan::{Kind, Piece, pieces};

/// The place at an engine position, stretched over the word, number, text or symbol that begins there.
pub(super) fn place_at(file: &str, source: &Arc<str>, position: Position, label: &str) -> Option<Place> {
    let (line, column) = (position.line()?, position.position().unwrap_or(1));
    let start: usize = source.split_inclusive('\n').take(line - 1).map(str::len).sum();
    let within = source.get(start..)?.split('\n').next().unwrap_or_default();
    let before: usize = within.chars().take(column - 1).map(char::len_utf8).sum();
    let offset = start + before;
    let length = pieces(source)
        .iter()
        .find(|piece| piece.offset == offset)
        .map_or_else(
            || {
                source[offset..]
                    .chars()
                    .next()
                    .filter(|c| *c != '\n')
                    .map_or(0, char::len_utf8)
            },
            |piece| piece.text.lines().next().map_or(0, str::len),
        );
    Some(Place {
        file: file.to_owned(),
        line,
        column,
        label: label.to_owned(),
        source: source.clone(),
        offset,
        length,
    })
}

/// The place of a key such as `coilover.upper_mount` near a call at `call`.
///
/// Keys inside the call's own brackets come first; then keys written before the call, the last one first. Of
/// several, the one under the most matching outer keys is taken.
pub(super) fn place_of_key(call: &Place, key: &str) -> Option<Place> {
    let wanted: Vec<&str> = key
        .split('.')
        .map(|part| part.split('[').next().unwrap_or(part))
        .collect();
    let all = pieces(&call.source);
    let call_end = end_of_call(&all, call.offset);
    let found = keys(&all).into_iter().filter_map(|written| {
        let matching = written
            .path
            .iter()
            .rev()
            .zip(wanted.iter().rev())
            .take_while(|(a, b)| a == b)
            .count();
        let inside = written.piece.offset >= call.offset && written.piece.offset < call_end;
        let before = written.piece.offset < call.offset;
        (matching > 0 && (inside || before))
            .then_some(((inside, matching, written.piece.offset), written.piece))
    });
    let best = found.max_by_key(|(rank, _)| *rank);
    let piece = match best {
        Some(((true, ..), piece)) => piece,
        other => {
            named_directly(&all, call.offset, call_end, wanted.last()?).or(other.map(|(_, piece)| piece))?
        }
    };
    Some(Place {
        line: piece.line,
        column: piece.column,
        offset: piece.offset,
        length: piece.text.len(),
        ..call.clone()
    })
}

/// A name read as a property right at the call (`position.name`), or given to it as a text (`column("name")`).
fn named_directly<'a>(all: &[Piece<'a>], call: usize, call_end: usize, name: &str) -> Option<Piece<'a>> {
    let start = all.iter().position(|piece| piece.offset == call)?;
    let property = all.get(start + 1).filter(|next| {
        matches!(all.get(start).map(|piece| piece.text), Some("." | "?.")) && next.text == name
    });
    let text = || {
        let inside = all
            .iter()
            .filter(|piece| piece.offset > call && piece.offset < call_end);
        inside
            .filter(|piece| piece.kind == Kind::Text)
            .find(|piece| piece.text.trim_matches('"') == name)
    };
    property.or_else(text).copied()
}

/// A key as it stands in the text, with the keys of the maps around it.
struct Written<'a> {
    path: Vec<&'a str>,
    piece: Piece<'a>,
}

/// Keys in maps (`key: value`) and keys that are assigned to (`map.key = value`).
fn keys<'a>(all: &[Piece<'a>]) -> Vec<Written<'a>> {
    let mut found = Vec::new();
    // For each open bracket the key it belongs to, if any.
    let mut open: Vec<Option<&str>> = Vec::new();
    let mut pending = None;
    for (at, piece) in all.iter().enumerate() {
        let next = all.get(at + 1).map_or("", |next| next.text);
        match piece.text {
            "#{" | "{" | "[" | "(" => open.push(pending.take()),
            "}" | "]" | ")" => {
                open.pop();
            }
            "," | ";" => pending = None,
            _ if next == ":" && matches!(piece.kind, Kind::Word | Kind::Text) => {
                let name = piece.text.trim_matches('"');
                let mut path: Vec<&str> = open.iter().flatten().copied().collect();
                path.push(name);
                found.push(Written { path, piece: *piece });
                pending = Some(name);
            }
            _ if matches!(next, "=" | "+=" | "-=" | "*=" | "/=") && piece.kind == Kind::Word => {
                let path = chain(&all[..=at]);
                if path.len() > 1 {
                    found.push(Written {
                        path: path.into_iter().skip(1).collect(),
                        piece: *piece,
                    });
                }
                // A map assigned to a property stands under that property.
                pending = Some(piece.text);
            }
            _ => {}
        }
    }
    found
}

/// The names joined by dots that end with the last piece.
fn chain<'a>(all: &[Piece<'a>]) -> Vec<&'a str> {
    let mut names: Vec<&str> = Vec::new();
    for (back, piece) in all.iter().rev().enumerate() {
        let fits = if back % 2 == 0 {
            piece.kind == Kind::Word
        } else {
            piece.text == "."
        };
        if !fits {
            break;
        }
        if back % 2 == 0 {
            names.push(piece.text);
        }
    }
    names.reverse();
    names
}

/// The end of the brackets that follow the name of the function called at `offset`.
fn end_of_call(all: &[Piece<'_>], offset: usize) -> usize {
    let mut depth = 0_usize;
    for piece in all.iter().filter(|piece| piece.offset >= offset) {
        match piece.text {
            "(" | "[" | "{" | "#{" => depth += 1,
            ")" | "]" | "}" => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    return piece.end();
                }
            }
            ";" if depth == 0 => return piece.offset,
            _ => {}
        }
    }
    usize::MAX
}

/// Names of the functions a text defines.
pub(super) fn functions(source: &str) -> Vec<String> {
    let all = pieces(source);
    let names = all
        .windows(2)
        .filter(|pair| pair[0].is_word("fn") && pair[1].kind == Kind::Word);
    names.map(|pair| pair[1].text.to_owned()).collect()
}

/// Names of the variables, parameters and imports a text defines.
pub(super) fn variables(source: &str) -> Vec<String> {
    let all = pieces(source);
    let mut names: Vec<&Piece<'_>> = Vec::new();
    for (at, piece) in all.iter().enumerate() {
        let rest = &all[at + 1..];
        match piece.text {
            "let" | "const" | "as" | "catch" => names.extend(rest.iter().find(|p| p.kind == Kind::Word)),
            "for" => names.extend(
                rest.iter()
                    .take_while(|p| p.text != "in")
                    .filter(|p| p.kind == Kind::Word),
            ),
            "fn" => names.extend(
                rest.iter()
                    .skip(1)
                    .take_while(|p| !matches!(p.text, ")" | "{"))
                    .filter(|p| p.kind == Kind::Word),
            ),
            "|" if opens_closure(&all[..at]) => names.extend(
                rest.iter()
                    .take_while(|p| p.kind == Kind::Word || p.text == ",")
                    .filter(|p| p.kind == Kind::Word),
            ),
            _ => {}
        }
    }
    names.into_iter().map(|piece| piece.text.to_owned()).collect()
}

/// Whether a bar after these pieces begins a closure, and is not an operator or the end of the parameters.
fn opens_closure(before: &[Piece<'_>]) -> bool {
    before.last().is_none_or(|last| {
        last.is_word("return") || matches!(last.text, "(" | "," | "=" | ":" | "{" | ";" | "[" | "=>")
    })
}

/// Keys that a text writes in maps or assigns to.
pub(super) fn key_names(source: &str) -> Vec<String> {
    keys(&pieces(source))
        .into_iter()
        .map(|written| written.piece.text.trim_matches('"').to_owned())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(source: &str, call: &str, key: &str) -> Option<(usize, usize)> {
        let source: Arc<str> = Arc::from(source);
        let offset = source.find(call).unwrap();
        let line = source[..offset].matches('\n').count() + 1;
        let column = offset - source[..offset].rfind('\n').map_or(0, |at| at + 1) + 1;
        let position = Position::new(line as u16, column as u16);
        let call = place_at("s.rhai", &source, position, "here").unwrap();
        place_of_key(&call, key).map(|place| (place.line, place.column))
    }

    #[test]
    fn a_key_in_the_call_is_found_under_its_outer_key() {
        let source = "let c = corner(#{\n  damper: #{ uper_mount: 1 },\n  coilover: #{ uper_mount: 2 },\n});";
        assert_eq!(found(source, "corner", "coilover.uper_mount"), Some((3, 16)));
        assert_eq!(found(source, "corner", "damper.uper_mount"), Some((2, 14)));
        assert_eq!(found(source, "corner", "spring"), None);
    }

    #[test]
    fn a_key_written_before_the_call_is_found() {
        let source =
            "let d = #{ extended: 371 };\nlet e = #{ extended: \"x\" };\ncheck(e); let f = #{ extended: 1 };";
        assert_eq!(found(source, "check", "coilover.extended"), Some((2, 12)));
    }

    #[test]
    fn an_assigned_key_is_found_under_its_chain() {
        let source = "let c = base();\nc.coilover.extended = 1;\nc.damper.extended = \"x\";\ncheck(c);";
        assert_eq!(found(source, "check", "coilover.extended"), Some((2, 12)));
        assert_eq!(found(source, "check", "damper.extended[2]"), Some((3, 10)));
    }

    #[test]
    fn a_place_beyond_the_text_is_its_end() {
        let source: Arc<str> = Arc::from("a\n");
        let place = place_at("s.rhai", &source, Position::new(9, 9), "here").unwrap();
        assert_eq!((place.offset, place.length), (2, 0));
    }

    #[test]
    fn defined_names_are_listed() {
        let source =
            "import \"x\" as v; fn f(a, b) { } for (c, i) in d { } let e = |g| z + 1; try { } catch (h) { }";
        let mut names = variables(source);
        names.sort();
        assert_eq!(names, ["a", "b", "c", "e", "g", "h", "i", "v"]);
        assert_eq!(functions(source), ["f"]);
    }
}
