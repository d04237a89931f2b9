//! Which spring of the user's list goes in.

use super::asked::{refused, take_question};
use super::columns::{numbers, words};
use super::report::{Item, Report, Value};
use super::{Answer, Asked, FitCheck, Typed};
use crate::host::ScriptError;
use crate::model::Suspension;
use crate::table::Table;
use crate::units::Units;
use kin_core::Dimension::{Force, Frequency, Length, Rate};
use kin_core::checks::{
    ListedSpring, Sentence, SpringCandidate, SpringChoice, SpringRide, Standing, Verdict, choose_axle_spring,
    choose_corner_spring,
};
use kin_core::pickups::{Measured, Quantity};
use rhai::{Array, Dynamic, Map};
use serde::Deserialize;

pub(super) const CHECK: FitCheck = FitCheck {
    word: "springs",
    counted: "check_springs",
    needs_ride_height: true,
    documentation: "Which spring of your list holds the car at ride height with its seat on the thread, seated at full droop and clear of \
        coil bind: all of them ranked, each with its seat, or with the reasons why it does not serve.\n\n\
        Keys: `list` (one map or a list of maps: `name`, `rate`, `free_length`, and where known `solid_length` and `helper` with \
        `rate`, `free_length`, `solid_length`, `divider`), `ride_height` (the question of that check; its `seat`, `solid_length` \
        and `helper` do not count here). Those that serve come first: nearest to `wanted_frequency` where that is asked for, else \
        with most thread left.\n\n\
        Can be read: `fitting` (how many serve), `first_choice` (a name, or () where none serves), `names` (all, ranked), and in \
        `items` after the first, which holds the ranked table, one for each spring in that order: `name`, `serves`, `verdict`, \
        `reasons`, `remedies`, `rate`, `free_length`, `seat`, `installed_length`, `preload`, `force`, `droop_compression`, `coil_margin`, \
        `wheel_rate`, `frequency`, `bump_to_stop`, `laden_low`, `laden_bump_to_stop`, `laden_frequency`.",
    run,
};

/// The springs that can be had.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct SpringList {
    list: Vec<ListedSpring>,
}

impl Measured for SpringList {
    fn visit(&mut self, visitor: &mut dyn FnMut(&mut f64, Quantity)) {
        self.list.visit(visitor);
    }
}

fn run(asked: &Asked<'_>, mut question: Dynamic) -> Result<Answer, ScriptError> {
    const WHAT: &str = "the choice of a spring";
    const RIDE: &str = "the ride height question";
    let ride = take_question(&mut question, "ride_height");
    one_or_many(&mut question);
    let SpringList { list } = asked.read(question, WHAT)?;
    let choice = match asked.suspension {
        Suspension::Corner(corner) => choose_corner_spring(corner, &list, &asked.read(ride, RIDE)?),
        Suspension::Axle(axle) => choose_axle_spring(axle, &list, &asked.read_sides(ride, RIDE)?),
    };
    let choice = choice.map_err(|error| refused(&error, &asked.units))?;
    Ok(Answer {
        report: report(&choice, &list, &asked.units),
        typed: Typed::None,
    })
}

/// One spring is a list of one.
fn one_or_many(question: &mut Dynamic) {
    if let Some(mut map) = question.write_lock::<Map>()
        && let Some(list) = map.get_mut("list")
        && list.is_map()
    {
        let one = list.take();
        *list = Array::from([one]).into();
    }
}

/// A spring of the list with what was found.
struct Row<'a> {
    listed: &'a ListedSpring,
    candidate: &'a SpringCandidate,
}

impl Row<'_> {
    fn ride(&self) -> Option<&SpringRide> {
        self.candidate.rides.first()
    }

    fn standing(&self) -> Option<&Standing> {
        self.ride()?.standing.as_ref()
    }

    fn laden(&self) -> Option<&Standing> {
        self.ride()?.laden.as_ref()
    }

    fn preload(&self) -> Option<f64> {
        Some(self.ride()?.at_full_extension?.compression)
    }
}

fn report(choice: &SpringChoice, list: &[ListedSpring], units: &Units) -> Report {
    let rows: Vec<Row<'_>> = choice
        .candidates
        .iter()
        .filter_map(|candidate| list.get(candidate.place).map(|listed| Row { listed, candidate }))
        .collect();
    let mut items = vec![summary(choice, &rows, units)];
    items.extend(rows.iter().map(item));
    Report {
        check: CHECK.word,
        heading: "Choice of a spring",
        items,
        findings: choice.findings.clone(),
    }
}

fn summary(choice: &SpringChoice, rows: &[Row<'_>], units: &Units) -> Item {
    let fitting = i64::try_from(choice.fitting().count()).unwrap_or(i64::MAX);
    let first = choice.fitting().next();
    let names = rows.iter().map(|row| Value::Text(row.listed.name.clone()));
    Item::new("")
        .with("fitting", "springs that serve", Value::Count(fitting))
        .with(
            "first_choice",
            "first choice",
            first.map_or(Value::Absent("none serves"), |best| {
                Value::Text(best.name.clone())
            }),
        )
        .with("names", "", Value::List(names.collect()))
        .table(
            "ranked, each with its seat where ride height needs it",
            table(rows, units),
        )
}

fn table(rows: &[Row<'_>], units: &Units) -> Table {
    let mut columns = vec![
        words(rows, "spring", |row| row.listed.name.clone()),
        words(rows, "verdict", |row| row.candidate.verdict.to_string()),
        numbers(rows, units, "seat", Length, |row| Some(row.ride()?.needed.seat)),
        numbers(rows, units, "preload", Length, Row::preload),
        numbers(rows, units, "coil_margin", Length, |row| row.ride()?.coil_margin),
        numbers(rows, units, "ride", Frequency, |row| row.standing()?.frequency),
    ];
    if rows.iter().any(|row| row.laden().is_some()) {
        columns.push(numbers(rows, units, "laden_bump", Length, |row| {
            row.laden()?.bump_to_stop
        }));
    }
    Table { columns }
}

/// What would let a spring keep the limits that it fails.
fn remedies(candidate: &SpringCandidate) -> Vec<Sentence> {
    let findings = candidate.rides.iter().flat_map(|ride| &ride.findings);
    let failing = findings.filter(|finding| finding.verdict == Verdict::Fails);
    failing
        .flat_map(|finding| &finding.remedies)
        .map(|remedy| remedy.sentence.clone())
        .collect()
}

/// A spring: on the sheet only the reasons against it, for scripts everything that the table shows and more.
fn item(row: &Row<'_>) -> Item {
    const NONE: &str = "none";
    let candidate = row.candidate;
    let ride = row.ride();
    let standing = row.standing();
    let of = |value: Option<f64>, dimension| (value, dimension);
    Item::new(&candidate.name)
        .sentences("reasons", "does not serve", &candidate.reasons)
        .sentences("remedies", "what would help", &remedies(candidate))
        .with("serves", "", Value::Truth(candidate.verdict != Verdict::Fails))
        .text("verdict", "", candidate.verdict.word())
        .quantity("rate", "", row.listed.rate, Rate)
        .length("free_length", "", row.listed.free_length)
        .maybe("seat", "", of(ride.map(|ride| ride.needed.seat), Length), NONE)
        .maybe(
            "installed_length",
            "",
            of(ride.map(|ride| ride.needed.installed_length), Length),
            NONE,
        )
        .maybe("force", "", of(ride.map(|ride| ride.needed.force), Force), NONE)
        .maybe("preload", "", of(row.preload(), Length), NONE)
        .maybe(
            "droop_compression",
            "",
            of(
                ride.and_then(|ride| Some(ride.at_full_droop.1?.compression)),
                Length,
            ),
            NONE,
        )
        .maybe(
            "coil_margin",
            "",
            of(ride.and_then(|ride| ride.coil_margin), Length),
            NONE,
        )
        .maybe(
            "wheel_rate",
            "",
            of(standing.map(|standing| standing.wheel_rate.total()), Rate),
            NONE,
        )
        .maybe("frequency", "", of(candidate.frequency(), Frequency), NONE)
        .maybe(
            "bump_to_stop",
            "",
            of(standing.and_then(|standing| standing.bump_to_stop), Length),
            NONE,
        )
        .maybe(
            "laden_low",
            "",
            of(row.laden().map(|laden| laden.low), Length),
            NONE,
        )
        .maybe(
            "laden_bump_to_stop",
            "",
            of(row.laden().and_then(|laden| laden.bump_to_stop), Length),
            NONE,
        )
        .maybe(
            "laden_frequency",
            "",
            of(row.laden().and_then(|laden| laden.frequency), Frequency),
            NONE,
        )
}
