//! The notebook of a survey: a CSV file that a phone or a spreadsheet can write.

use super::row::{Cells, take};
use crate::explain::suggest;
use crate::host::ScriptError;
use crate::units::LengthUnit;
use kin_core::survey::{Kind, Survey};

/// Headings of the columns, and other words that are read as them.
const COLUMNS: [(&str, &[&str]); 7] = [
    ("kind", &[]),
    ("point", &["from", "of"]),
    ("to", &["second", "second_point"]),
    ("reading", &["value", "read"]),
    ("deviation", &["sd", "standard_deviation"]),
    ("offset", &["correction"]),
    ("note", &["notes", "comment", "remark"]),
];

/// A notebook that was read.
#[derive(Debug, Clone)]
pub struct Notebook {
    /// The file's name, as messages show it.
    pub file: String,
    /// The unit of numbers without one, and of results.
    pub unit: LengthUnit,
    /// Its readings (mm and rad).
    pub survey: Survey,
    /// The line of the file that each reading stands in.
    pub lines: Vec<u64>,
    /// Lines of readings that were not filled in.
    pub unread: Vec<u64>,
}

impl Notebook {
    /// Reads a notebook.
    ///
    /// The first line names the columns: `kind`, `point`, `reading`, and where needed `to`, `deviation`, `offset`, `note`, in any
    /// order, apart by commas, semicolons or tabs. Lines that begin with `#`, blank lines, and readings that were not filled in are
    /// left out.
    ///
    /// * `unit`: of numbers without one, when the file has no row `unit`
    ///
    /// # Errors
    /// Columns, kinds and numbers that cannot be read, each with its line.
    pub fn read(text: &str, file: &str, unit: Option<LengthUnit>) -> Result<Self, ScriptError> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let first = text
            .lines()
            .find(|line| !line.trim().is_empty() && !line.trim_start().starts_with('#'));
        let Some(first) = first else {
            return Err(ScriptError::new(format!("{file} has no readings"))
                .with_help("its first line names the columns: kind,point,to,reading,deviation,offset,note"));
        };
        let count = |mark: char| first.matches(mark).count();
        let delimiter = [b',', b';', b'\t']
            .into_iter()
            .max_by_key(|mark| (count(char::from(*mark)), u8::MAX - mark))
            .unwrap_or(b',');
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(delimiter)
            .has_headers(false)
            .flexible(true)
            .comment(Some(b'#'))
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let mut notebook = Self {
            file: file.to_owned(),
            unit: LengthUnit::Millimetre,
            survey: Survey::default(),
            lines: Vec::new(),
            unread: Vec::new(),
        };
        let mut records = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|error| ScriptError::new(format!("{file}: {error}")))?;
            let line = record.position().map_or(0, csv::Position::line);
            if record.iter().any(|cell| !cell.is_empty()) {
                records.push((line, record));
            }
        }
        let mut records = records.into_iter();
        let Some((line, header)) = records.next() else {
            return Err(ScriptError::new(format!("{file} has no readings")));
        };
        let columns = columns(&header).map_err(|error| at(error, file, line))?;
        let rows: Vec<(u64, Cells)> = records
            .map(|(line, record)| {
                Ok((
                    line,
                    cells(&record, &columns).map_err(|error| at(error, file, line))?,
                ))
            })
            .collect::<Result<_, ScriptError>>()?;
        notebook.unit = stated_unit(&rows, file, unit)?;
        // A rigid length needs to know all points: it is read last.
        let (rigid, others): (Vec<_>, Vec<_>) = rows
            .iter()
            .partition(|(_, cells)| cells.kind == Kind::Rigid.word());
        for (line, cells) in others.into_iter().chain(rigid) {
            if cells.is_unread() {
                notebook.unread.push(*line);
                continue;
            }
            let label = format!("{file}, line {line}");
            let readings = take(&mut notebook.survey, cells, notebook.unit, &label)
                .map_err(|error| at(error, file, *line))?;
            for mut reading in readings {
                reading.label.clone_from(&label);
                notebook.survey.readings.push(reading);
                notebook.lines.push(*line);
            }
        }
        Ok(notebook)
    }

    /// The readings of a line.
    ///
    /// # Errors
    /// A line without readings.
    pub fn at_line(&self, line: u64) -> Result<Vec<usize>, ScriptError> {
        let found: Vec<usize> = (0..self.lines.len())
            .filter(|index| self.lines[*index] == line)
            .collect();
        if found.is_empty() {
            return Err(ScriptError::new(format!(
                "{} has no reading in line {line}",
                self.file
            )));
        }
        Ok(found)
    }
}

/// An error with the line it is about.
fn at(error: ScriptError, file: &str, line: u64) -> ScriptError {
    ScriptError {
        what: format!("{file}, line {line}: {}", error.what),
        key: None,
        ..error
    }
}

/// For each column of the file its place among the known ones.
fn columns(header: &csv::StringRecord) -> Result<Vec<usize>, ScriptError> {
    let mut found = Vec::new();
    for cell in header {
        let name = cell.to_ascii_lowercase().replace([' ', '-'], "_");
        let known = COLUMNS
            .iter()
            .position(|(column, others)| *column == name || others.contains(&name.as_str()));
        let Some(known) = known else {
            let error = ScriptError::new(format!("there is no column {cell:?}"));
            let names = COLUMNS.iter().map(|(column, _)| *column);
            return Err(match suggest(&name, names.clone()) {
                Some(nearest) => error.with_help(format!("did you mean {nearest:?}?")),
                None => error.with_help(format!(
                    "the first line names the columns: {}",
                    names.collect::<Vec<_>>().join(",")
                )),
            });
        };
        if found.contains(&known) {
            return Err(ScriptError::new(format!(
                "there are two columns {:?}",
                COLUMNS[known].0
            )));
        }
        found.push(known);
    }
    for needed in [0, 1, 3] {
        if !found.contains(&needed) {
            return Err(
                ScriptError::new(format!("the column {:?} is missing", COLUMNS[needed].0)).with_help(
                    "the first line names the columns: kind,point,to,reading,deviation,offset,note",
                ),
            );
        }
    }
    Ok(found)
}

fn cells(record: &csv::StringRecord, columns: &[usize]) -> Result<Cells, ScriptError> {
    if record.len() > columns.len() {
        return Err(ScriptError::new(format!(
            "{} cells stand under {} columns",
            record.len(),
            columns.len()
        ))
        .with_help(
            "a number has a decimal point, not a comma, and a cell that holds a comma stands in quotes",
        ));
    }
    let cell = |known: usize| {
        let place = columns.iter().position(|column| *column == known);
        place.and_then(|place| record.get(place)).unwrap_or("").to_owned()
    };
    Ok(Cells {
        kind: cell(0).to_ascii_lowercase().replace([' ', '-'], "_"),
        point: cell(1),
        to: cell(2),
        reading: cell(3),
        deviation: cell(4),
        offset: cell(5),
    })
}

/// The unit of numbers without one: that of the row `unit`, or the one asked for.
fn stated_unit(
    rows: &[(u64, Cells)],
    file: &str,
    asked: Option<LengthUnit>,
) -> Result<LengthUnit, ScriptError> {
    let mut stated = asked;
    for (line, cells) in rows.iter().filter(|(_, cells)| cells.kind == "unit") {
        let unit = match cells.reading.to_ascii_lowercase().as_str() {
            "mm" | "millimetre" | "millimetres" => LengthUnit::Millimetre,
            "in" | "inch" | "inches" => LengthUnit::Inch,
            other => {
                let error = ScriptError::new(format!("the unit {other:?} is neither \"mm\" nor \"inch\""));
                return Err(at(error, file, *line));
            }
        };
        if asked.is_some_and(|asked| asked != unit) {
            let error = ScriptError::new("the unit here is another than the script asks for");
            return Err(at(error, file, *line));
        }
        stated = Some(unit);
    }
    stated.ok_or_else(|| {
        ScriptError::new(format!("{file} does not state its unit")).with_help(
            "add a row such as `unit,,,mm` or `unit,,,inch`, or give #{ unit: \"mm\" } in the script",
        )
    })
}
