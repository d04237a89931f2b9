//! What a moving page says it shows.

use crate::driver::Browser;
use serde_json::Value;

/// What the page says it shows.
pub(crate) struct Shown {
    pub(crate) pickups: Vec<f64>,
    /// Of each wheel.
    pub(crate) travel: Vec<f64>,
    pub(crate) answer: Vec<f64>,
    pub(crate) cells: Vec<(String, f64)>,
}

fn numbers(words: &Value) -> Vec<f64> {
    let parts = words.as_str().unwrap().split(' ');
    parts.map(|part| part.parse().unwrap()).collect()
}

/// Everything in one go: the page may be moving.
pub(crate) fn shown(browser: &mut Browser) -> Shown {
    let page = browser.value(
        "({ ...document.querySelector('main').dataset, cells: [...document.querySelectorAll('td[data-state=now]')]\
         .map((cell) => [cell.dataset.key, Number(cell.dataset.value)]) })",
    );
    let cells = page["cells"].as_array().unwrap().iter();
    Shown {
        pickups: numbers(&page["pickups"]),
        travel: numbers(&page["travel"]),
        answer: numbers(&page["answer"]),
        cells: cells
            .map(|cell| (cell[0].as_str().unwrap().to_owned(), cell[1].as_f64().unwrap()))
            .collect(),
    }
}

pub(crate) fn cell(shown: &Shown, name: &str) -> f64 {
    let found = shown.cells.iter().find(|(key, _)| key == name);
    found.unwrap_or_else(|| panic!("no {name}")).1
}

/// Waits until a page is ready to be moved.
pub(crate) fn ready(browser: &mut Browser, page: &std::path::Path) {
    browser.open(page);
    browser.wait_for("document.querySelector('main').dataset.ready === 'yes'");
}

/// Types a number into a field of the page.
pub(crate) fn type_in(browser: &mut Browser, field: &str, value: &str) {
    browser.value(&format!(
        "(() => {{ const field = document.querySelector('[data-field=\"{field}\"]'); field.value = '{value}'; \
         field.dispatchEvent(new Event('change')); }})()"
    ));
}

/// The words with which the page refuses.
pub(crate) fn refusal(browser: &mut Browser) -> String {
    let words = browser.value("document.getElementById('refusal').textContent");
    words.as_str().unwrap().to_owned()
}
