//! Studies in the program itself: the same bytes on any number of threads, and Ctrl-C.

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use crate::fit::garage;
use crate::support::Garage;

const EVERYTHING: &str = r#"
    fn raised(front, at) { front.coilover.upper_mount[2] += at.by; if at.by == 3.0 { throw "not this one" } front }
    let front = load("front.toml");
    let other = front.swap(#{ upper_arm: #{ longer: -5 } });
    let compared = compare(#{ models: #{ before: front, after: other } });
    let chosen = front.choices(#{ options: [#{ name: "by", of: steps(-6, 6, 1) }, #{ name: "rate", of: [80, 90, 100] }],
        variant: Fn("raised"), outcomes: ["camber", "bump_to_stop", #{ name: "twice", function: |front| 2 * front.coilover.upper_mount[2] }] });
    let mapped = front.grid(#{ over: #{ "coilover.upper_mount.z": steps(480, 504, 4), "coilover.lower_mount.y": steps(520, 560, 8) },
        outcomes: ["motion_ratio", "bump_to_stop"] });
    for study in [#{ name: "compared", study: compared }, #{ name: "chosen", study: chosen }, #{ name: "mapped", study: mapped }] {
        print(study.study);
        for ending in ["txt", "csv", "json"] { save(`${study.name}.${ending}`, study.study); }
    }
    plot("compared.svg", compared);
    plot("map.svg", mapped, "map");
    plot("map_2.svg", mapped, "map_2");
"#;

fn kin(garage: &Garage, script: &str, output: &Path, threads: &str) -> Command {
    garage.file("study.rhai", script);
    let mut command = Command::new(env!("CARGO_BIN_EXE_kin"));
    command
        .current_dir(garage.path(""))
        .args(["run", "study.rhai", "--output"])
        .arg(output)
        .env("RAYON_NUM_THREADS", threads)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

#[test]
fn one_and_two_threads_give_the_same_bytes() {
    let garage = garage();
    let runs = ["1", "2"].map(|threads| {
        let output = tempfile::tempdir().unwrap();
        let done = kin(&garage, EVERYTHING, output.path(), threads).output().unwrap();
        assert_eq!(
            done.status.code(),
            Some(0),
            "{}",
            String::from_utf8_lossy(&done.stderr)
        );
        let mut files: Vec<(String, Vec<u8>)> = std::fs::read_dir(output.path())
            .unwrap()
            .map(|entry| {
                let entry = entry.unwrap();
                (
                    entry.file_name().to_string_lossy().into_owned(),
                    std::fs::read(entry.path()).unwrap(),
                )
            })
            .collect();
        files.sort();
        let printed = String::from_utf8_lossy(&done.stdout).replace(&output.path().display().to_string(), "");
        (printed, files)
    });
    assert_eq!(runs[0].1.len(), 12);
    assert!(runs[0].0.contains("not this one"), "{}", runs[0].0);
    assert!(runs[0] == runs[1], "the bytes depend on the number of threads");
}

/// Waits for a line of its own that begins the study.
fn begun(child: &mut Child) -> BufReader<std::process::ChildStdout> {
    let mut lines = BufReader::new(child.stdout.take().unwrap());
    let mut line = String::new();
    lines.read_line(&mut line).unwrap();
    assert_eq!(line, "begin\n");
    std::thread::sleep(Duration::from_millis(500));
    lines
}

fn interrupt(child: &Child) {
    let sent = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .unwrap();
    assert!(sent.success());
}

/// Every variant takes some milliseconds, so that there are minutes of work.
const LONG: &str = r#"
    let front = load("front.toml");
    let all = [];
    for by in 0..50000 { all.push(by * 0.0001); }
    print("begin");
    let study = front.choices(#{ options: #{ by: all }, variant: |front, at| { for step in 0..STEPS { } let x = 0; for step in 0..STEPS { x += step; } front } });
    print(study.stopped);
    print(study.variants > 0 && study.variants < 50000);
    print(study.ranking.column("rank").len() == study.variants);
    save("study.txt", study);
"#;

#[test]
#[cfg(unix)]
fn the_first_interrupt_ends_the_study_and_the_script_goes_on() {
    let garage = garage();
    let output = tempfile::tempdir().unwrap();
    let script = LONG.replace("STEPS", "3000");
    let mut child = kin(&garage, &script, output.path(), "2").spawn().unwrap();
    let mut lines = begun(&mut child);
    interrupt(&child);
    let mut rest = String::new();
    lines.read_to_string(&mut rest).unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(0), "{rest}");
    assert!(rest.starts_with("true\ntrue\ntrue\n"), "{rest}");
    let sheet = std::fs::read_to_string(output.path().join("study.txt")).unwrap();
    assert!(
        sheet.contains("STOPPED:") && sheet.contains("of 50000 variants were done"),
        "{sheet}"
    );
}

#[test]
#[cfg(unix)]
fn an_interrupt_where_no_study_runs_and_a_second_one_end_the_program() {
    let garage = garage();
    let output = tempfile::tempdir().unwrap();
    let mut child = kin(
        &garage,
        "print(\"begin\"); let x = 0; loop { x += 1; }",
        output.path(),
        "2",
    )
    .spawn()
    .unwrap();
    let _lines = begun(&mut child);
    interrupt(&child);
    assert_eq!(child.wait().unwrap().code(), Some(130));
    // One variant takes far longer than the time between the two.
    let script = LONG.replace("STEPS", "3000000");
    let mut child = kin(&garage, &script, output.path(), "2").spawn().unwrap();
    let _lines = begun(&mut child);
    interrupt(&child);
    std::thread::sleep(Duration::from_millis(200));
    interrupt(&child);
    assert_eq!(child.wait().unwrap().code(), Some(130));
}
