//! Tables as text and as files.

use super::*;

fn sample() -> Table {
    Table {
        columns: vec![
            Column {
                name: "travel_mm".into(),
                decimals: 0,
                cells: vec![Cell::Number(-25.0), Cell::Number(0.0)],
            },
            Column {
                name: "camber_deg".into(),
                decimals: 3,
                cells: vec![Cell::Number(-0.0001), Cell::Empty],
            },
            Column {
                name: "hole".into(),
                decimals: 0,
                cells: vec![Cell::Text("a, \"b\"".into()), Cell::Text("c".into())],
            },
        ],
    }
}

#[test]
fn text_is_aligned_and_rounded() {
    let text = sample().text();
    assert!(text.contains("camber_deg"), "{text}");
    assert!(text.contains("      0.000"), "{text}");
    assert!(!text.contains("-0.000"), "{text}");
}

#[test]
fn wide_tables_keep_to_the_line() {
    let column = |name: &str, cell: Cell| Column {
        name: name.into(),
        decimals: 2,
        cells: vec![cell],
    };
    let number = |name: &str| column(name, Cell::Number(1234.5));
    let names = [
        "damper_length_at_ride_height_mm",
        "bump_to_the_bump_stop_mm",
        "motion_ratio_in_roll",
    ];
    for count in 1..30 {
        let mut columns = vec![column("hole", Cell::Text("outer".into()))];
        columns.extend((0..count).map(|index| number(names[index % names.len()])));
        let table = Table { columns };
        let text = table.text();
        assert!(is_within(&text, LINE_COLUMNS), "{text}");
        assert_eq!(text.matches("1234.50").count(), count, "{text}");
        // The first column says in each part what its rows are.
        assert_eq!(
            text.matches("outer").count(),
            text.split("\n\n").count(),
            "{text}"
        );
    }
    let narrow = sample();
    assert_eq!(narrow.text(), narrow.arranged(None));
}

#[test]
fn a_zero_has_no_sign_in_any_form() {
    let table = Table {
        columns: vec![Column {
            name: "toe_deg".into(),
            decimals: 1,
            cells: vec![Cell::Number(-0.0)],
        }],
    };
    assert_eq!(table.csv().expect("a table"), "toe_deg\n0\n");
    assert!(!table.json().expect("a table").contains('-'));
    assert!(table.text().ends_with("0.0"));
}

#[test]
fn a_decimal_comma_goes_with_semicolons() {
    let table = Table {
        columns: vec![
            Column {
                name: "gap_mm".into(),
                decimals: 1,
                cells: vec![Cell::Number(-1.25), Cell::Number(1e6), Cell::Empty],
            },
            Column {
                name: "where".into(),
                decimals: 0,
                cells: vec![
                    Cell::Text("front; left".into()),
                    Cell::Text("1.5 in".into()),
                    Cell::Empty,
                ],
            },
        ],
    };
    assert_eq!(
        table.csv_with(DecimalMark::Comma).expect("a table"),
        "gap_mm;where\n-1,25;\"front; left\"\n1000000;1.5 in\n;\n"
    );
    // What was written is read back by a reader told of the semicolon.
    let text = table.csv_with(DecimalMark::Comma).expect("a table");
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(b';')
        .from_reader(text.as_bytes());
    let first = reader.records().next().expect("a row").expect("cells");
    assert_eq!(first[0].replace(',', ".").parse(), Ok(-1.25));
    assert_eq!(&first[1], "front; left");
}

#[test]
fn csv_quotes_and_keeps_precision() {
    let csv = sample().csv().expect("a table");
    assert_eq!(
        csv,
        "travel_mm,camber_deg,hole\n-25,-0.0001,\"a, \"\"b\"\"\"\n0,,c\n"
    );
}

#[test]
fn json_is_a_list_of_rows() {
    let json: Value = serde_json::from_str(&sample().json().expect("a table")).expect("JSON");
    assert_eq!(json[1]["camber_deg"], Value::Null);
    assert_eq!(json[0]["travel_mm"], -25.0);
}
