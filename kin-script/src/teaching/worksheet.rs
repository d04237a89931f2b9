//! A worksheet: the blank sheet for the class and the key for the teacher, from the same questions.

use crate::table::fixed;
use serde::Deserialize;

/// One question with its answer.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Question {
    /// What is asked, with the numbers it needs.
    pub(crate) ask: String,
    pub(crate) answer: Answer,
    /// Unit of a number.
    #[serde(default)]
    pub(crate) unit: String,
    /// Decimals that a number is given with.
    #[serde(default = "two")]
    pub(crate) decimals: u32,
    /// How the answer is found, for the key.
    #[serde(default)]
    pub(crate) because: String,
}

/// A number or words.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub(crate) enum Answer {
    Number(f64),
    Words(String),
}

/// A title, the questions, and the number that tells one class's sheet from another's.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Worksheet {
    pub(crate) title: String,
    /// What holds for all questions.
    #[serde(default)]
    pub(crate) intro: String,
    pub(crate) seed: u64,
    pub(crate) questions: Vec<Question>,
}

/// Lines are this wide at most; a reader of Markdown joins them again.
const COLUMNS: usize = 100;
/// More decimals than a number has tell nothing.
const MOST_DECIMALS: u32 = 9;

fn two() -> u32 {
    2
}

impl Question {
    fn answered(&self) -> String {
        let answer = match &self.answer {
            Answer::Number(number) => fixed(*number, self.decimals.min(MOST_DECIMALS) as usize),
            Answer::Words(words) => words.clone(),
        };
        [answer.as_str(), &self.unit].join(" ").trim().to_owned()
    }
}

impl Worksheet {
    /// The sheet without answers.
    pub(crate) fn blank(&self) -> String {
        self.written("", |question| {
            let unit = if question.unit.is_empty() {
                String::new()
            } else {
                format!(" {}", question.unit)
            };
            format!("Answer: ____________{unit}")
        })
    }

    /// The same sheet with the answers, and how they are found.
    pub(crate) fn key(&self) -> String {
        self.written(", answer key", |question| {
            let because = if question.because.is_empty() {
                String::new()
            } else {
                format!("\n   {}", question.because)
            };
            format!("Answer: {}{because}", question.answered())
        })
    }

    fn written(&self, kind: &str, answer: impl Fn(&Question) -> String) -> String {
        let mut sheet = format!("# {}{kind}\n\nSheet {}. ", self.title, self.seed);
        if kind.is_empty() {
            sheet.push_str("Name: ______________________\n");
        } else {
            sheet.push_str("For the teacher.\n");
        }
        if !self.intro.is_empty() {
            sheet.push_str(&format!("\n{}\n", textwrap::fill(&self.intro, COLUMNS)));
        }
        for (index, question) in self.questions.iter().enumerate() {
            let answer = answer(question);
            let ask = format!("{}. {}", index + 1, question.ask);
            let hanging = textwrap::Options::new(COLUMNS).subsequent_indent("   ");
            sheet.push_str(&format!("\n{}\n   {answer}\n", textwrap::fill(&ask, hanging)));
        }
        sheet.trim_end().to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet() -> Worksheet {
        Worksheet {
            title: "Levers".into(),
            intro: String::new(),
            seed: 3,
            questions: vec![Question {
                ask: "How far?".into(),
                answer: Answer::Number(-0.001),
                unit: "mm".into(),
                decimals: 1,
                because: "half of it".into(),
            }],
        }
    }

    #[test]
    fn the_blank_sheet_holds_no_answer_and_the_key_holds_all() {
        let (blank, key) = (sheet().blank(), sheet().key());
        assert!(
            blank.contains("1. How far?\n   Answer: ____________ mm"),
            "{blank}"
        );
        assert!(!blank.contains("0.0") && !blank.contains("half of it"), "{blank}");
        assert!(key.contains("Answer: 0.0 mm\n   half of it"), "{key}");
        assert!(key.starts_with("# Levers, answer key\n\nSheet 3. "), "{key}");
    }
}
