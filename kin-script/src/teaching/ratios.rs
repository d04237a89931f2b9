//! The motion ratio in words: the three conventions, and the rule of thumb beside the exact ratio.

use crate::table::{Cell, Column, Table};
use kin_core::curves::{LeverRule, RatioConventions};

const DECIMALS: usize = 4;

/// A row for each convention, labelled.
pub(crate) fn conventions_table(forms: &RatioConventions) -> Table {
    let rows = [
        (
            "damper over wheel",
            forms.damper_over_wheel,
            "the damper's movement for one of the wheel; the form used here",
        ),
        (
            "wheel over damper",
            forms.wheel_over_damper,
            "the wheel's movement for one of the damper: the inverse",
        ),
        (
            "damper over wheel, squared",
            forms.squared,
            "the wheel's stiffness for one of the spring's",
        ),
    ];
    labelled(
        "convention",
        "value",
        rows.map(|(label, value, meaning)| (label, value, meaning.to_owned())),
    )
}

/// The rule of thumb measured both ways, with what the gap comes from.
///
/// * `exact`: the motion ratio (damper over wheel)
pub(crate) fn lever_rule_table(rule: &LeverRule, exact: f64) -> Table {
    let off = |quick: f64| 100.0 * (quick / exact - 1.0);
    let rise = rule.ball_joint_rise;
    let to_ball_joint = format!("takes the ball joint to rise 1 for 1 of the wheel; it rises {rise:.3}");
    let to_wheel = format!(
        "takes it to rise {:.3}, the wheel bolted to the arm; it rises {rise:.3}",
        rule.ball_joint_rise_if_bolted()
    );
    let mut table = labelled(
        "rule",
        "motion_ratio",
        [
            (
                "exact",
                exact,
                "the damper's length in space: its lean is in it".to_owned(),
            ),
            (
                "lever to the ball joint x cosine",
                rule.to_ball_joint(),
                to_ball_joint,
            ),
            ("lever to the wheel x cosine", rule.to_wheel(), to_wheel),
        ],
    );
    let gaps = [0.0, off(rule.to_ball_joint()), off(rule.to_wheel())];
    table.columns.insert(
        2,
        Column {
            name: "off_percent".to_owned(),
            decimals: 1,
            cells: gaps.map(|gap| Cell::from(Some(gap))).into(),
        },
    );
    table
}

fn labelled(first: &str, second: &str, rows: [(&str, f64, String); 3]) -> Table {
    let texts = |name: &str, cells: Vec<Cell>, decimals| Column {
        name: name.to_owned(),
        decimals,
        cells,
    };
    let labels = rows
        .iter()
        .map(|(label, ..)| Cell::Text((*label).to_owned()))
        .collect();
    let values = rows
        .iter()
        .map(|(_, value, _)| Cell::from(Some(*value)))
        .collect();
    let meanings = rows
        .iter()
        .map(|(.., meaning)| Cell::Text(meaning.clone()))
        .collect();
    Table {
        columns: vec![
            texts(first, labels, 0),
            texts(second, values, DECIMALS),
            texts("what_it_says", meanings, 0),
        ],
    }
}
