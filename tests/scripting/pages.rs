//! The pages as files: what they hold, what they never hold, and that the same input gives the same bytes.

mod animation;
mod contrast;
mod moving;
mod sheet;

use crate::examples::{Ran, examples, kin};
use std::collections::BTreeSet;
use std::path::Path;

/// Runs a script beside the examples' vehicles.
fn run(script: &str) -> Ran {
    let folder = tempfile::tempdir().unwrap();
    let files = ["wagon_front.toml", "wagon_rear.toml", "bench_rig.toml"];
    let files = files.map(|vehicle| Path::new("vehicles").join(vehicle));
    for file in files
        .iter()
        .chain([&Path::new("surveys").join("wagon_front.csv")])
    {
        let own = folder.path().join(file);
        std::fs::create_dir_all(own.parent().unwrap()).unwrap();
        std::fs::copy(examples().join(file), own).unwrap();
    }
    std::fs::write(folder.path().join("script.rhai"), script).unwrap();
    kin(folder.path(), &["run", "script.rhai"])
}

/// The text of a file that the script wrote.
fn written(script: &str, file: &str) -> String {
    let ran = run(script);
    let path = ran.output.path().join(file);
    std::fs::read_to_string(path)
        .unwrap_or_else(|error| panic!("{file}: {error}\n{}{}", ran.printed, ran.complaint))
}

/// Every name of an element is its own, and every one that is used is there.
fn names_are_sound(page: &str) {
    let after = |mark: &'static str| {
        page.split(mark)
            .skip(1)
            .map(|rest| rest.split(['"', ')']).next().unwrap_or_default())
    };
    let names: Vec<&str> = after(" id=\"").collect();
    let set: BTreeSet<&str> = names.iter().copied().collect();
    assert_eq!(set.len(), names.len(), "a name is used twice: {names:?}");
    let used = after("url(#").chain(after(" for=\""));
    let used = used.chain(after(" aria-labelledby=\"").flat_map(|names| names.split(' ')));
    for name in used {
        assert!(set.contains(name), "nothing is called {name}");
    }
}

/// Nothing is fetched: no address, and a policy that forbids it.
fn stands_alone(page: &str) {
    // The name of the SVG language looks like an address and is none.
    let page = page.replace("http://www.w3.org/2000/svg", "");
    for mark in [
        "http:", "https:", "//cdn", "@import", "src=", "<link", "url(http", "fetch(",
    ] {
        assert!(!page.contains(mark), "{mark}");
    }
    assert!(page.contains("default-src 'none'"));
}

/// Every picture in a page has a title and a description, and every table headings and a caption.
fn is_accessible(page: &str) {
    for picture in page.split("<svg").skip(1) {
        let picture = picture.split("</svg>").next().unwrap();
        assert!(
            picture.contains("<title") && picture.contains("<desc"),
            "{picture:.200}"
        );
    }
    for table in page.split("<table").skip(1) {
        let table = table.split("</table>").next().unwrap();
        assert!(
            table.contains("<caption") && table.contains("<th scope=\"col\">"),
            "{table:.200}"
        );
    }
    assert!(page.starts_with("<!DOCTYPE html>\n<html lang=\"en-GB\">"));
}
