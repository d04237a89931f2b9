//! Places in a description by the keys that lead to them, such as `coilover.upper_mount.z`.

use crate::explain::suggest;
use crate::host::ScriptError;
use rhai::{Array, Dynamic, Map};

/// Puts a value where the keys of a path lead to; `x`, `y` and `z` lead into a point.
pub(super) fn put(map: &mut Map, path: &str, value: Dynamic) -> Result<(), ScriptError> {
    let spelt = path.replace("center", "centre").replace("tire_", "tyre_");
    let keys: Vec<&str> = spelt.split('.').collect();
    put_below(map, &keys, value).map_err(|(key, known)| {
        let error =
            ScriptError::new(format!("the model has no `{key}` to change, in `{path}`")).with_key(path);
        match suggest(&key, known.iter().map(String::as_str)) {
            Some(nearest) => error.with_help(format!("did you mean `{nearest}`?")),
            None => error,
        }
    })
}

/// The same below one map; where a key leads nowhere, that key and those there are.
fn put_below(map: &mut Map, keys: &[&str], value: Dynamic) -> Result<(), (String, Vec<String>)> {
    let [key, rest @ ..] = keys else { return Ok(()) };
    if rest.is_empty() {
        map.insert((*key).into(), value);
        return Ok(());
    }
    let known = || map.keys().map(ToString::to_string).collect::<Vec<String>>();
    let nowhere = ((*key).to_owned(), known());
    let Some(inner) = map.get_mut(*key) else {
        return Err(nowhere);
    };
    if let ([axis], Ok(mut point)) = (rest, inner.as_array_mut()) {
        let axis_place = ["x", "y", "z"].iter().position(|known| known == axis);
        return match axis_place.and_then(|place| point.get_mut(place)) {
            Some(coordinate) => {
                *coordinate = value;
                Ok(())
            }
            None => Err(((*axis).to_owned(), vec!["x".into(), "y".into(), "z".into()])),
        };
    }
    match inner.as_map_mut() {
        Ok(mut inner) => put_below(&mut inner, rest, value),
        Err(_) => Err(nowhere),
    }
}

/// The keys of lists of three numbers, with the keys around them.
pub(super) fn point_keys(map: &Map, before: &str, found: &mut Vec<String>) {
    for (key, value) in map {
        let path = format!("{before}{key}");
        if let Some(inner) = value.read_lock::<Map>() {
            point_keys(&inner, &format!("{path}."), found);
            continue;
        }
        let is_number = |item: &Dynamic| item.is_int() || item.is_float();
        let list = value.read_lock::<Array>();
        if list.is_some_and(|list| list.len() == 3 && list.iter().all(is_number)) {
            found.push(path);
        }
    }
}
