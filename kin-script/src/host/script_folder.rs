//! The folder a script may read from: its own, and nothing outside it.

use std::fs::File;
use std::io::Read;
use std::path::{Component, Path, PathBuf};

use super::ScriptError;
use crate::explain::suggest;

/// The script's own folder. Imports and data files are looked up in it and never outside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScriptFolder {
    root: PathBuf,
    shown: PathBuf,
}

impl ScriptFolder {
    /// The folder at `path`, which must exist.
    ///
    /// # Errors
    /// A folder that does not exist or cannot be opened.
    pub fn new(path: &Path) -> Result<Self, ScriptError> {
        let asked = if path.as_os_str().is_empty() {
            Path::new(".")
        } else {
            path
        };
        let root = asked.canonicalize().map_err(|error| {
            ScriptError::new(format!(
                "the folder {} cannot be opened: {error}",
                asked.display()
            ))
        })?;
        Ok(Self {
            root,
            shown: path.to_owned(),
        })
    }

    /// The folder with all links followed.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The path of a file in this folder as messages show it.
    pub(crate) fn shown(&self, name: &str) -> String {
        self.shown.join(name).display().to_string()
    }

    /// The file that `name` means, such as `vehicles/wagon.toml`, always counted from the script's own folder.
    ///
    /// # Errors
    /// An absolute path, a path with `..`, a link that leads out of the folder, a path that is no plain file,
    /// and a file that does not exist, with the nearest name that does.
    pub fn resolve(&self, name: &str) -> Result<PathBuf, ScriptError> {
        let path = self.root.join(plain(name)?);
        let found = path
            .canonicalize()
            .map_err(|error| self.unopened(name, &path, &error))?;
        if !found.starts_with(&self.root) {
            return Err(refusal(
                name,
                "it is a link that leads out of the script's own folder",
            ));
        }
        // A pipe or a device could block for ever.
        if !found.is_file() {
            return Err(ScriptError::new(format!("{name:?} is not a file")));
        }
        Ok(found)
    }

    /// Reads a text file of at most `limit` bytes.
    ///
    /// # Errors
    /// As [`ScriptFolder::resolve`], and files that are too large or not UTF-8 text.
    pub fn read_text(&self, name: &str, limit: u64) -> Result<String, ScriptError> {
        read_text(&self.resolve(name)?, name, limit)
    }

    fn unopened(&self, name: &str, path: &Path, error: &std::io::Error) -> ScriptError {
        if error.kind() != std::io::ErrorKind::NotFound {
            return ScriptError::new(format!("{name:?} cannot be opened: {error}"));
        }
        let missing = ScriptError::new(format!("there is no file {name:?} in the script's folder"));
        let wanted = path
            .file_name()
            .and_then(|file| file.to_str())
            .unwrap_or_default();
        let mut neighbours: Vec<String> = path
            .parent()
            .filter(|folder| {
                folder
                    .canonicalize()
                    .is_ok_and(|folder| folder.starts_with(&self.root))
            })
            .and_then(|folder| folder.read_dir().ok())
            .map(|entries| {
                entries
                    .flatten()
                    .filter_map(|entry| entry.file_name().into_string().ok())
                    .collect()
            })
            .unwrap_or_default();
        neighbours.sort();
        match suggest(wanted, neighbours.iter().map(String::as_str)) {
            Some(nearest) => missing.with_help(format!("did you mean {nearest:?}?")),
            None => missing.with_help("names are counted from the folder the script lies in"),
        }
    }
}

/// Accepts names made of plain parts only.
fn plain(name: &str) -> Result<&Path, ScriptError> {
    let path = Path::new(name);
    if name.is_empty() || name.contains(['\\', '\0', ':']) {
        return Err(refusal(
            name,
            "names are parts joined by /, such as vehicles/wagon",
        ));
    }
    for part in path.components() {
        match part {
            Component::Normal(_) => {}
            Component::ParentDir => return Err(refusal(name, "`..` would leave the script's own folder")),
            Component::CurDir => return Err(refusal(name, "leave out the `.`")),
            Component::RootDir | Component::Prefix(_) => {
                return Err(refusal(
                    name,
                    "an absolute path would leave the script's own folder",
                ));
            }
        }
    }
    Ok(path)
}

fn refusal(name: &str, why: &str) -> ScriptError {
    ScriptError::new(format!("{name:?} is refused: {why}"))
        .with_help("a script reads files of its own folder and the folders in it; copy the file there")
}

/// Reads a text file of at most `limit` bytes; `name` is how messages call it. A byte order mark is dropped.
pub(super) fn read_text(path: &Path, name: &str, limit: u64) -> Result<String, ScriptError> {
    let unreadable = |error: std::io::Error| ScriptError::new(format!("{name:?} cannot be read: {error}"));
    let mut bytes = Vec::new();
    File::open(path)
        .map_err(unreadable)?
        .take(limit.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(unreadable)?;
    if bytes.len() as u64 > limit {
        return Err(too_large(name, limit));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        ScriptError::new(format!("{name:?} is not UTF-8 text (at byte {at})"))
            .with_help("save it as UTF-8 in the text editor")
    })?;
    Ok(text.strip_prefix('\u{FEFF}').map(str::to_owned).unwrap_or(text))
}

/// The refusal of a file that is larger than `limit` bytes.
pub(super) fn too_large(name: &str, limit: u64) -> ScriptError {
    ScriptError::new(format!(
        "{name:?} is larger than {limit} bytes, the most a file may have"
    ))
    .with_help("split it into several files, or move long tables of numbers into a data file")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> (tempfile::TempDir, ScriptFolder) {
        let outside = tempfile::tempdir().unwrap();
        let root = outside.path().join("garage");
        std::fs::create_dir_all(root.join("vehicles")).unwrap();
        std::fs::write(root.join("vehicles/wagon.toml"), "a = 1\n").unwrap();
        std::fs::write(outside.path().join("secret.toml"), "b = 2\n").unwrap();
        let folder = ScriptFolder::new(&root).unwrap();
        (outside, folder)
    }

    #[test]
    fn files_inside_are_found() {
        let (_keep, folder) = folder();
        assert_eq!(folder.read_text("vehicles/wagon.toml", 100).unwrap(), "a = 1\n");
    }

    #[test]
    fn every_way_out_is_refused() {
        let (outside, folder) = folder();
        let absolute = outside.path().join("secret.toml").display().to_string();
        for name in [
            "../secret.toml",
            "vehicles/../../secret.toml",
            "./vehicles/wagon.toml",
            &absolute,
            "",
            "a\\b",
            "C:x",
        ] {
            let error = folder.resolve(name).unwrap_err();
            assert!(error.what.contains("is refused"), "{name}: {}", error.what);
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_that_leads_out_is_refused_and_one_that_stays_is_followed() {
        let (outside, folder) = folder();
        let link =
            |target: &Path, name: &str| std::os::unix::fs::symlink(target, folder.root().join(name)).unwrap();
        link(&outside.path().join("secret.toml"), "out.toml");
        link(outside.path(), "up");
        link(&folder.root().join("vehicles/wagon.toml"), "in.toml");
        assert!(folder.resolve("out.toml").unwrap_err().what.contains("leads out"));
        assert!(
            folder
                .resolve("up/secret.toml")
                .unwrap_err()
                .what
                .contains("leads out")
        );
        assert!(folder.resolve("in.toml").is_ok());
    }

    #[test]
    fn a_missing_file_names_its_neighbour() {
        let (_keep, folder) = folder();
        let error = folder.resolve("vehicles/wagn.toml").unwrap_err();
        assert_eq!(error.help.as_deref(), Some("did you mean \"wagon.toml\"?"));
        assert!(
            folder
                .resolve("vehicles")
                .unwrap_err()
                .what
                .contains("is not a file")
        );
    }

    #[test]
    fn large_files_and_files_that_are_no_text_are_refused() {
        let (_keep, folder) = folder();
        assert!(
            folder
                .read_text("vehicles/wagon.toml", 5)
                .unwrap_err()
                .what
                .contains("larger than 5 bytes")
        );
        std::fs::write(folder.root().join("binary.toml"), [0x61, 0xFF]).unwrap();
        assert!(
            folder
                .read_text("binary.toml", 100)
                .unwrap_err()
                .what
                .contains("not UTF-8 text (at byte 1)")
        );
        std::fs::write(folder.root().join("marked.toml"), "\u{FEFF}a = 1").unwrap();
        assert_eq!(folder.read_text("marked.toml", 100).unwrap(), "a = 1");
    }
}
