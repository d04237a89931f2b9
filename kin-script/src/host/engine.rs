//! The engine of a session: the language, bounded, with the fixed words and the vocabulary on top.

use std::sync::atomic::{AtomicU64, Ordering};

use rhai::{Dynamic, Engine};

use super::meter::PORTION;
use super::modules::Modules;
use super::{Session, division, fixed_words, maths};

/// Registers words on an engine. The session is the one the words work for; clone it into their closures.
pub type Registrar = fn(&mut Engine, &Session);

/// Builds an engine for `session`. Several engines of one session, one per worker thread, share its budgets.
///
/// A thread that runs script functions needs a stack of [`super::SCRIPT_STACK_BYTES`].
pub fn build_engine(session: &Session, registrars: &[Registrar]) -> Engine {
    let mut engine = Engine::new();
    bound(&mut engine, session);
    engine
        // Needed for the division of whole numbers to be ours.
        .set_fast_operators(false)
        .set_strict_variables(true)
        .set_fail_on_invalid_map_property(true)
        .disable_symbol("eval")
        .set_module_resolver(Modules::new(session.clone()));
    capture_print(&mut engine, session);
    division::register(&mut engine);
    maths::register(&mut engine);
    fixed_words::register(&mut engine);
    for registrar in registrars {
        registrar(&mut engine, session);
    }
    engine
}

fn bound(engine: &mut Engine, session: &Session) {
    let limits = session.limits();
    engine
        .set_max_call_levels(limits.call_levels)
        .set_max_expr_depths(limits.expression_depth, limits.expression_depth)
        .set_max_string_size(limits.text_bytes)
        .set_max_array_size(limits.list_items)
        .set_max_map_size(limits.map_keys)
        .set_max_variables(limits.variables)
        .set_max_functions(limits.functions)
        .set_max_modules(limits.modules);
    // The engine's own count starts again at every closure called from a native function; this one does not.
    let (meter, steps) = (session.clone(), AtomicU64::new(0));
    engine.on_progress(move |_| {
        let step = steps.fetch_add(1, Ordering::Relaxed).wrapping_add(1);
        if step.is_multiple_of(PORTION) {
            meter.meter().spend(PORTION);
        } else {
            meter.meter().weigh();
        }
        meter.meter().is_stopped().then_some(Dynamic::UNIT)
    });
}

fn capture_print(engine: &mut Engine, session: &Session) {
    let printing = session.clone();
    engine.on_print(move |text| printing.print(text));
    let debugging = session.clone();
    engine.on_debug(move |text, source, position| {
        let line = position.line().map_or(String::new(), |line| format!(":{line}"));
        debugging.print(&format!("{}{line}: {text}", source.unwrap_or("script")));
    });
}
