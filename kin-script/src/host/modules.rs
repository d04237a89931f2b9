//! Imports: files of the script's own folder, each read once per engine.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};
use std::thread::ThreadId;

use rhai::{Dynamic, Engine, EvalAltResult, Module, ModuleResolver, Position, Scope, Shared};

use super::{ScriptError, Session, lint, script_folder};

/// Resolves `import "vehicles/wagon"` to `vehicles/wagon.rhai` in the script's own folder, whichever file
/// imports it.
pub(super) struct Modules {
    session: Session,
    loaded: Mutex<BTreeMap<PathBuf, Shared<Module>>>,
    loading: Mutex<Vec<(ThreadId, PathBuf, String)>>,
}

impl Modules {
    pub(super) fn new(session: Session) -> Self {
        Self {
            session,
            loaded: Mutex::new(BTreeMap::new()),
            loading: Mutex::new(Vec::new()),
        }
    }

    fn load(
        &self,
        engine: &Engine,
        path: &str,
        position: Position,
    ) -> Result<Shared<Module>, Box<EvalAltResult>> {
        let name = if path.ends_with(".rhai") {
            path.to_owned()
        } else {
            format!("{path}.rhai")
        };
        let file = self.session.script_folder().resolve(&name)?;
        if let Some(module) = self
            .loaded
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .get(&file)
        {
            return Ok(module.clone());
        }
        let limits = self.session.limits();
        if self.loaded.lock().unwrap_or_else(PoisonError::into_inner).len() >= limits.modules {
            return Err(ScriptError::new(format!("more than {} files are imported", limits.modules)).into());
        }
        let shown = self.session.script_folder().shown(&name);
        let _entered = self.enter(&file, &name)?;
        let text = script_folder::read_text(&file, &name, limits.file_bytes)?;
        let module = self
            .evaluate(engine, &shown, &text)
            .map_err(|error| Box::new(EvalAltResult::ErrorInModule(shown, error, position)))?;
        self.loaded
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .insert(file, module.clone());
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
    fn enter(&self, file: &PathBuf, name: &str) -> Result<Entered<'_>, ScriptError> {
        let thread = std::thread::current().id();
        let mut loading = self.loading.lock().unwrap_or_else(PoisonError::into_inner);
        let mine: Vec<_> = loading.iter().filter(|(owner, ..)| *owner == thread).collect();
        if let Some(first) = mine.iter().position(|(_, known, _)| known == file) {
            let mut circle: Vec<&str> = mine.iter().skip(first).map(|(.., name)| name.as_str()).collect();
            circle.push(name);
            return Err(ScriptError::new(format!(
                "the imports go round in a circle: {}",
                circle.join(" -> ")
            ))
            .with_help("move what both files need into a third file that imports neither"));
        }
        loading.push((thread, file.clone(), name.to_owned()));
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
        let mut loading = self
            .modules
            .loading
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        if let Some(last) = loading.iter().rposition(|(owner, ..)| *owner == self.thread) {
            loading.remove(last);
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
