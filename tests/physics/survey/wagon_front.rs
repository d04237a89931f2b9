//! The invented survey of a front corner: 59 readings, two of them mistaken (`tests/reference/front-tape-survey.json`, answers by
//! an independent weighted least-squares adjustment).

use crate::reference::case::{list, load, number, point};
use kin_core::survey::{Axis, Basis, MirrorImage, Reading, Survey};

/// Demanded of coordinates against the printed answers (mm): these are rounded to 0.01.
const COORDINATES: f64 = 0.02;

pub(super) fn survey() -> Survey {
    let file = load("front-tape-survey");
    let mut survey = Survey::default();
    for seen in list(&file, "readings") {
        let name = |place: usize| seen["of"][place].as_str().expect("a name");
        let value = number(seen, "mm");
        let reading = match seen["axis"].as_str() {
            Some("x") => Reading::coordinate(name(0), Axis::X, value),
            Some("y") => Reading::coordinate(name(0), Axis::Y, value),
            Some(_) => Reading::coordinate(name(0), Axis::Z, value),
            None => Reading::tape(name(0), name(1), value),
        };
        let reading = reading.with_deviation(number(seen, "standard_deviation_mm"));
        survey
            .readings
            .push(reading.with_label(format!("reading {}", seen["id"])));
    }
    survey
}

#[test]
fn both_mistakes_are_found_and_the_coordinates_agree() {
    let answers = load("front-tape-survey-answers");
    let adjusted = survey().adjust_rejecting(3.5).expect("an adjustment");
    let mut rejected: Vec<u64> = adjusted
        .rejected()
        .iter()
        .map(|rejected| rejected.index as u64 + 1)
        .collect();
    rejected.sort_unstable();
    let wanted: Vec<u64> = list(&answers, "rejected_reading_ids")
        .iter()
        .filter_map(|id| id.as_u64())
        .collect();
    assert_eq!(rejected, wanted);
    // Each mistake within three standard deviations of what was planted, by the estimate when it was left out.
    for planted in list(&answers, "blunders") {
        let index = planted["id"].as_u64().expect("a number") as usize - 1;
        let found = adjusted
            .rejected()
            .iter()
            .find(|rejected| rejected.index == index)
            .expect("found");
        let deviation = (found.mistake / found.normalised).abs();
        assert!(
            (found.mistake - number(planted, "error_mm")).abs() < 3.0 * deviation,
            "{found:?}"
        );
    }
    assert_eq!(
        adjusted.unknowns() as u64,
        answers["unknowns"].as_u64().expect("a number")
    );
    assert_eq!(*adjusted.mirror_image(), MirrorImage::ByReadings);
    for name in answers["adjusted"].as_object().expect("points").keys() {
        let wanted = &answers["adjusted"][name];
        let miss = (adjusted.place(name).expect("a place") - point(wanted, "adjusted_mm")).amax();
        assert!(miss <= COORDINATES, "{name} is off by {miss} mm");
        let deviations = adjusted
            .standard_deviations(name, Basis::APriori)
            .expect("deviations");
        let scaled = adjusted
            .standard_deviations(name, Basis::Scaled)
            .expect("deviations");
        let printed = point(wanted, "standard_deviation_mm");
        let near = |found: kin_core::nalgebra::Vector3<f64>| (found - printed).amax() <= 0.02;
        assert!(
            near(deviations) || near(scaled),
            "{name}: {deviations} or {scaled} is not {printed}"
        );
    }
    assert!(adjusted.global_test().expect("surplus").holds());
}

#[test]
fn mistakes_are_told_in_words() {
    let adjusted = survey().adjust_rejecting(3.5).expect("an adjustment");
    let said: Vec<String> = adjusted
        .rejected()
        .iter()
        .map(|rejected| adjusted.rejected_sentence(rejected).to_string())
        .collect();
    let text = said.join("\n");
    assert!(
        text.contains("the height of upper ball joint (reading 16) disagrees with the other"),
        "{text}"
    );
    assert!(text.contains(" too much (by them it reads 46"), "{text}");
    assert!(
        text.contains("the tape from damper lower to lower front pivot (reading 52)"),
        "{text}"
    );
    assert!(text.contains("too short"), "{text}");
}

#[test]
fn an_extra_reading_is_told_and_does_what_it_promises() {
    let mut survey = survey();
    survey
        .readings
        .retain(|reading| !["reading 16", "reading 52"].contains(&reading.label.as_str()));
    let before = survey.adjust().expect("an adjustment");
    let helpful = before.most_helpful().expect("a reading");
    assert!(helpful.worst_after < helpful.worst_before);
    // Taken as it would be read where the points are now, the places stay and the promise is exact.
    let points = helpful.observed.points();
    let places: Vec<_> = points
        .iter()
        .map(|name| before.place(name).expect("a place"))
        .collect();
    let value = match (&helpful.observed, places.as_slice()) {
        (kin_core::survey::Observed::Coordinate { axis, .. }, [place]) => place[axis.index()],
        (_, [from, to]) => (to - from).norm(),
        other => panic!("{other:?}"),
    };
    survey
        .readings
        .push(Reading::new(helpful.observed.clone(), value));
    let after = survey.adjust().expect("an adjustment");
    let worst = after
        .names()
        .filter_map(|name| after.standard_deviations(name, Basis::APriori))
        .map(|deviations| deviations.amax())
        .fold(0.0, f64::max);
    // The curvature of the tapes moves the last digits only.
    assert!(
        (worst - helpful.worst_after).abs() < 1e-6,
        "{worst} is not {}",
        helpful.worst_after
    );
}
