//! Imports: files of the script's own folder, each read once per engine.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread::ThreadId;

use rhai::{Dynamic, Engine, EvalAltResult, Module, ModuleResolver, Position, Scope, Shared};

use super::{ScriptError, Session, lint, script_folder};

/// Resolves `import "vehicles/wagon"` to `vehicles/wagon.rhai` in the script's own folder, whichever file
/// imports it.
pub(super) struct Modules {
    session: Session,
    state: Mutex<State>,
}

#[derive(Default)]
struct State {
    loaded: BTreeMap<PathBuf, Shared<Module>>,
    /// Files that are being read, the outermost first.
    loading: Vec<Loading>,
}

struct Loading {
    thread: ThreadId,
    file: PathBuf,
    name: String,
}

impl Modules {
    pub(super) fn new(session: Session) -> Self {
        Self {
            session,
            state: Mutex::new(State::default()),
        }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn load(
        &self,
        engine: &Engine,
        path: &str,
        position: Position,
    ) -> Result<Shared<Module>, Box<EvalAltResult>> {
        // An empty path stays one, to be refused as such.
        let is_whole = path.is_empty() || path.ends_with(".rhai");
        let name = if is_whole {
            path.to_owned()
        } else {
            format!("{path}.rhai")
        };
        let file = self.session.script_folder().resolve(&name)?;
        if let Some(module) = self.state().loaded.get(&file) {
            return Ok(module.clone());
        }
        let _entered = self.enter(&file, &name)?;
        let shown = self.session.script_folder().shown(&name);
        let text = script_folder::read_text(&file, &name, self.session.limits().file_bytes)?;
        let module = self
            .evaluate(engine, &shown, &text)
            .map_err(|error| Box::new(EvalAltResult::ErrorInModule(shown, error, position)))?;
        self.state().loaded.insert(file, module.clone());
        Ok(module)
    }

    fn evaluate(
        &self,
        engine: &Engine,
        shown: &str,
        text: &str,
    ) -> Result<Shared<Module>, Box<EvalAltResult>> {
        self.session.keep_source(shown, text);
        lint::check(text, self.session.words()).map_err(|fault| {
            Box::new(EvalAltResult::ErrorRuntime(
                Dynamic::from(fault.error),
                fault.position,
            ))
        })?;
        let mut script = engine
            .compile(text)
            .map_err(|error| Box::new(EvalAltResult::ErrorParsing(*error.0, error.1)))?;
        script.set_source(shown);
        Ok(Module::eval_ast_as_new(Scope::new(), &script, engine)?.into())
    }

    /// Marks a file as being read; a file that is reached again before it is finished imports itself.
    fn enter(&self, file: &Path, name: &str) -> Result<Entered<'_>, ScriptError> {
        let thread = std::thread::current().id();
        let mut state = self.state();
        let mine = state.loading.iter().filter(|loading| loading.thread == thread);
        let mut circle: Vec<&str> = mine
            .skip_while(|loading| loading.file != file)
            .map(|loading| loading.name.as_str())
            .collect();
        if !circle.is_empty() {
            circle.push(name);
            return Err(ScriptError::new(format!(
                "the imports go round in a circle: {}",
                circle.join(" -> ")
            ))
            .with_help("move what both files need into a third file that imports neither"));
        }
        // The engine counts the imports of one file only, not those of the files it imports.
        let most = self.session.limits().modules;
        if state.loaded.len() + state.loading.len() >= most {
            return Err(ScriptError::new(format!("more than {most} files are imported")));
        }
        state.loading.push(Loading {
            thread,
            file: file.to_owned(),
            name: name.to_owned(),
        });
        Ok(Entered {
            modules: self,
            thread,
        })
    }
}

/// Takes the mark away again, also when reading fails.
struct Entered<'a> {
    modules: &'a Modules,
    thread: ThreadId,
}

impl Drop for Entered<'_> {
    fn drop(&mut self) {
        let mut state = self.modules.state();
        if let Some(last) = state
            .loading
            .iter()
            .rposition(|loading| loading.thread == self.thread)
        {
            state.loading.remove(last);
        }
    }
}

impl ModuleResolver for Modules {
    fn resolve(
        &self,
        engine: &Engine,
        _source: Option<&str>,
        path: &str,
        position: Position,
    ) -> Result<Shared<Module>, Box<EvalAltResult>> {
        self.load(engine, path, position).map_err(|mut error| {
            // The engine fills in positions for functions only.
            if error.position().is_none() {
                error.set_position(position);
            }
            error
        })
    }
}
