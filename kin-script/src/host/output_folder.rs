//! The folder a script may write to: one named folder, and nothing outside it.

use std::fs::OpenOptions;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use super::{Limits, ScriptError, ScriptFolder};

/// File kinds a run may write: none of them is a program or a script.
const KINDS: [&str; 8] = ["svg", "csv", "json", "txt", "md", "html", "toml", "log"];

/// Names that mean a device on some systems, whatever their ending.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// The one folder outputs land in. It is made at the first write, so a run without outputs leaves no folder.
#[derive(Debug)]
pub struct OutputFolder {
    path: PathBuf,
    protected: PathBuf,
    files_allowed: usize,
    bytes_allowed: u64,
    state: Mutex<State>,
}

#[derive(Debug, Default)]
struct State {
    root: Option<PathBuf>,
    names: Vec<String>,
    bytes: u64,
}

impl OutputFolder {
    /// The folder at `path`, which need not exist yet, for outputs of a script in `script_folder`.
    ///
    /// # Errors
    /// A path that is no folder, and a folder that is or holds the script's own: outputs could overwrite what
    /// the script reads.
    pub fn new(path: PathBuf, script_folder: &ScriptFolder, limits: &Limits) -> Result<Self, ScriptError> {
        let folder = Self {
            path,
            protected: script_folder.root().to_owned(),
            files_allowed: limits.output_files,
            bytes_allowed: limits.output_bytes,
            state: Mutex::new(State::default()),
        };
        if folder.path.symlink_metadata().is_ok() {
            folder.checked_root()?;
        }
        Ok(folder)
    }

    /// Where the outputs land, as it was given.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The files written so far, in the order they were written.
    pub fn written(&self) -> Vec<PathBuf> {
        let state = self.state.lock().unwrap_or_else(|poisoned| poisoned.into_inner());
        state.names.iter().map(|name| self.path.join(name)).collect()
    }

    /// Writes a file into the folder and returns its path. A file of an earlier run is replaced.
    ///
    /// # Errors
    /// A name that is no plain file name of a known kind, a name used before in this run, a budget that is used
    /// up, and what the file system refuses.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<PathBuf, ScriptError> {
        check_name(name)?;
        let mut state = self.state.lock().unwrap_or_else(|poisoned| poisoned.into_inner());
        if let Some(earlier) = state
            .names
            .iter()
            .find(|earlier| earlier.eq_ignore_ascii_case(name))
        {
            return Err(
                ScriptError::new(format!("{name:?} was written before in this run, as {earlier:?}"))
                    .with_help("give each output a name of its own, for instance with a number in it"),
            );
        }
        self.check_budget(&state, name, bytes)?;
        let root = match &state.root {
            Some(root) => root.clone(),
            None => {
                let root = self.create()?;
                state.root = Some(root.clone());
                root
            }
        };
        place(&root, name, bytes)?;
        state.names.push(name.to_owned());
        state.bytes = state.bytes.saturating_add(bytes.len() as u64);
        Ok(self.path.join(name))
    }

    /// The text of a picture written in this run, by the path that [`OutputFolder::write`] returned.
    ///
    /// # Errors
    /// A path that is none of them: nothing else in the folder is read.
    pub fn read_back(&self, path: &str) -> Result<String, ScriptError> {
        let state = self.state.lock().unwrap_or_else(|poisoned| poisoned.into_inner());
        let known = state
            .names
            .iter()
            .filter(|name| name.to_ascii_lowercase().ends_with(".svg"))
            .find(|name| self.path.join(name).to_str() == Some(path) || *name == path);
        let (Some(root), Some(name)) = (&state.root, known) else {
            return Err(
                ScriptError::new(format!("{path:?} is no picture that was written in this run"))
                    .with_help("give what `draw` or `plot` returned, such as `draw(\"front.svg\", corner)`"),
            );
        };
        std::fs::read_to_string(root.join(name))
            .map_err(|error| ScriptError::new(format!("{name:?} cannot be read back: {error}")))
    }

    fn check_budget(&self, state: &State, name: &str, bytes: &[u8]) -> Result<(), ScriptError> {
        if state.names.len() >= self.files_allowed {
            return Err(ScriptError::new(format!(
                "{name:?} is not written: a run may write {} files",
                self.files_allowed
            )));
        }
        if state.bytes.saturating_add(bytes.len() as u64) > self.bytes_allowed {
            return Err(ScriptError::new(format!(
                "{name:?} is not written: a run may write {} bytes in all",
                self.bytes_allowed
            )));
        }
        Ok(())
    }

    fn create(&self) -> Result<PathBuf, ScriptError> {
        std::fs::create_dir_all(&self.path).map_err(|error| {
            ScriptError::new(format!(
                "the output folder {} cannot be made: {error}",
                self.path.display()
            ))
        })?;
        self.checked_root()
    }

    fn checked_root(&self) -> Result<PathBuf, ScriptError> {
        let shown = self.path.display();
        let root = self.path.canonicalize().map_err(|error| {
            ScriptError::new(format!("the output folder {shown} cannot be opened: {error}"))
        })?;
        if !root.is_dir() {
            return Err(ScriptError::new(format!("the output folder {shown} is a file"))
                .with_help("name another folder with --output"));
        }
        if self.protected.starts_with(&root) {
            return Err(
                ScriptError::new(format!("the output folder {shown} holds the script itself"))
                    .with_help("name a folder of its own with --output, so that no input can be overwritten"),
            );
        }
        Ok(root)
    }
}

/// Writes beside the final place first, so that a reader never sees half a file, and a link is replaced and
/// never followed.
fn place(root: &Path, name: &str, bytes: &[u8]) -> Result<(), ScriptError> {
    let failed = |error: std::io::Error| ScriptError::new(format!("{name:?} cannot be written: {error}"));
    let target = root.join(name);
    if let Ok(there) = target.symlink_metadata()
        && !there.is_file()
    {
        return Err(ScriptError::new(format!(
            "{name:?} is not written: something other than a file has that name"
        )));
    }
    let partial = root.join(format!(".{name}.partial"));
    // Left behind by a run that was cut off.
    let _ = std::fs::remove_file(&partial);
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(&partial)
        .map_err(failed)?;
    let written = file
        .write_all(bytes)
        .and_then(|()| std::fs::rename(&partial, &target));
    written.map_err(|error| {
        let _ = std::fs::remove_file(&partial);
        failed(error)
    })
}

/// Accepts names that mean the same single file on every system.
fn check_name(name: &str) -> Result<(), ScriptError> {
    let refused = |why: String| {
        Err(ScriptError::new(format!("the file name {name:?} is refused: {why}")).with_help(
            "use a plain name such as \"camber.svg\"; it lands in the output folder, which --output names",
        ))
    };
    if name.contains(['/', '\\', ':']) {
        return refused("outputs land in the output folder and nowhere else".to_owned());
    }
    let allowed = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_' | ' ');
    if let Some(odd) = name.chars().find(|c| !allowed(*c)) {
        return refused(format!(
            "{odd:?} is not a letter, a digit, a space, or one of . - _"
        ));
    }
    if name.is_empty() || name.len() > 100 {
        return refused("it must have 1 to 100 characters".to_owned());
    }
    if name.starts_with(['.', '-', ' ']) {
        return refused("it must begin with a letter or a digit".to_owned());
    }
    let lower = name.to_ascii_lowercase();
    let kind = lower.rsplit_once('.').map_or("", |(_, kind)| kind);
    if !KINDS.contains(&kind) {
        return refused(format!("it must end in .{}", KINDS.join(", .")));
    }
    let stem = lower.split('.').next().unwrap_or_default().trim_end();
    let numbered = stem.strip_prefix("com").or_else(|| stem.strip_prefix("lpt"));
    if DEVICES.contains(&stem) || numbered.is_some_and(|n| n.len() == 1 && n.as_bytes()[0].is_ascii_digit()) {
        return refused("some systems keep that name for a device".to_owned());
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folders(limits: &Limits) -> (tempfile::TempDir, ScriptFolder, OutputFolder) {
        let keep = tempfile::tempdir().unwrap();
        std::fs::create_dir(keep.path().join("garage")).unwrap();
        let scripts = ScriptFolder::new(&keep.path().join("garage")).unwrap();
        let output = OutputFolder::new(keep.path().join("out"), &scripts, limits).unwrap();
        (keep, scripts, output)
    }

    #[test]
    fn files_land_in_the_folder_and_are_recorded() {
        let (keep, _scripts, output) = folders(&Limits::default());
        assert!(!keep.path().join("out").exists());
        let path = output.write("camber.svg", b"<svg/>").unwrap();
        assert_eq!(std::fs::read(&path).unwrap(), b"<svg/>");
        assert_eq!(output.written(), vec![keep.path().join("out/camber.svg")]);
        assert_eq!(std::fs::read_dir(keep.path().join("out")).unwrap().count(), 1);
    }

    #[test]
    fn a_second_run_replaces_and_a_second_write_is_refused() {
        let (_keep, scripts, output) = folders(&Limits::default());
        output.write("camber.svg", b"one").unwrap();
        assert!(
            output
                .write("Camber.svg", b"two")
                .unwrap_err()
                .what
                .contains("written before")
        );
        let again = OutputFolder::new(output.path().to_owned(), &scripts, &Limits::default()).unwrap();
        let path = again.write("camber.svg", b"two").unwrap();
        assert_eq!(std::fs::read(path).unwrap(), b"two");
    }

    #[test]
    fn names_that_lead_out_or_are_not_portable_are_refused() {
        let (keep, _scripts, output) = folders(&Limits::default());
        for name in [
            "../x.svg",
            "/tmp/x.svg",
            "a/b.svg",
            "a\\b.svg",
            "C:x.svg",
            "",
            ".svg",
            "-x.svg",
            "x.rhai",
            "x.sh",
            "x",
            "con.svg",
            "COM1.txt",
            "caf\u{e9}.svg",
            "a\0.svg",
            "a\n.svg",
            "..",
            "x.svg ",
            &format!("{}.svg", "x".repeat(100)),
        ] {
            let error = output.write(name, b"x").unwrap_err();
            assert!(error.what.contains("is refused"), "{name}: {}", error.what);
        }
        assert!(!keep.path().join("out").exists());
    }

    #[test]
    fn budgets_on_files_and_bytes_hold() {
        let (_keep, _scripts, output) = folders(&Limits {
            output_files: 2,
            output_bytes: 10,
            ..Limits::default()
        });
        assert!(
            output
                .write("a.txt", &[0; 11])
                .unwrap_err()
                .what
                .contains("10 bytes in all")
        );
        output.write("a.txt", &[0; 4]).unwrap();
        output.write("b.txt", &[0; 4]).unwrap();
        assert!(
            output
                .write("c.txt", &[])
                .unwrap_err()
                .what
                .contains("may write 2 files")
        );
    }

    #[test]
    fn the_folder_of_the_script_is_no_output_folder() {
        let (keep, scripts, _output) = folders(&Limits::default());
        for path in [keep.path().to_owned(), keep.path().join("garage")] {
            let error = OutputFolder::new(path, &scripts, &Limits::default()).unwrap_err();
            assert!(error.what.contains("holds the script itself"), "{}", error.what);
        }
        std::fs::write(keep.path().join("taken"), b"").unwrap();
        let error = OutputFolder::new(keep.path().join("taken"), &scripts, &Limits::default()).unwrap_err();
        assert!(error.what.contains("is a file"), "{}", error.what);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_inside_the_folder_is_not_written_through() {
        let (keep, _scripts, output) = folders(&Limits::default());
        std::fs::create_dir(keep.path().join("out")).unwrap();
        std::fs::write(keep.path().join("precious.txt"), b"keep").unwrap();
        std::os::unix::fs::symlink(keep.path().join("precious.txt"), keep.path().join("out/a.txt")).unwrap();
        std::os::unix::fs::symlink(
            keep.path().join("precious.txt"),
            keep.path().join("out/.b.txt.partial"),
        )
        .unwrap();
        assert!(output.write("a.txt", b"gone").is_err());
        output.write("b.txt", b"new").unwrap();
        assert_eq!(std::fs::read(keep.path().join("precious.txt")).unwrap(), b"keep");
    }
}
