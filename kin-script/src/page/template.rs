//! Filling the templates: every value is escaped, and a name that is not given is an error. The filter `in_words` escapes as well, and
//! sets what stands in back quotes as code.

use super::words::with_code;
use crate::host::ScriptError;
use minijinja::syntax::SyntaxConfig;
use minijinja::{Environment, UndefinedBehavior, Value};
use serde::Serialize;

/// A template and the pieces of style and script that it takes in.
pub(super) struct Template {
    /// Its name; it ends in `.html.jinja`, which is what turns the escaping on.
    pub(super) name: &'static str,
    /// Its text.
    pub(super) text: &'static str,
}

/// Fills a template.
///
/// # Errors
/// A name that the template uses and the context lacks.
pub(super) fn filled(template: &Template, context: impl Serialize) -> Result<String, ScriptError> {
    let failed =
        |error: minijinja::Error| ScriptError::new(format!("the page could not be written: {error}"));
    let mut environment = Environment::new();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.add_filter("in_words", |text: String| {
        Value::from_safe_string(with_code(&text))
    });
    environment.set_syntax(
        SyntaxConfig::builder()
            .trim_blocks(true)
            .lstrip_blocks(true)
            .build()
            .map_err(failed)?,
    );
    environment
        .add_template(template.name, template.text)
        .map_err(failed)?;
    let filled = environment.get_template(template.name).map_err(failed)?;
    let mut text = filled.render(minijinja::value::Serde(context)).map_err(failed)?;
    if !text.ends_with('\n') {
        text.push('\n');
    }
    Ok(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: Template = Template {
        name: "page.html.jinja",
        text: "<p>{{ title }}</p>",
    };

    #[test]
    fn values_are_escaped_and_missing_ones_refused() {
        let context = minijinja::context! { title => "<script>alert(1)</script> & \"more\"" };
        let text = filled(&PAGE, context).unwrap();
        assert_eq!(
            text,
            "<p>&lt;script&gt;alert(1)&lt;&#x2f;script&gt; &amp; &quot;more&quot;</p>\n"
        );
        assert!(filled(&PAGE, minijinja::context! { other => 1 }).is_err());
        let words = Template {
            name: "words.html.jinja",
            text: "{{ title|in_words }}",
        };
        let text = filled(&words, minijinja::context! { title => "<b> `a`" }).unwrap();
        assert_eq!(text, "&lt;b&gt; <code>a</code>\n");
    }
}
