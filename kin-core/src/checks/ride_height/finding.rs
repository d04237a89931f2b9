//! Findings on ride height, seat, coil bind and loose springs.

use super::super::sprung_wheel::Mover;
use super::super::{Finding, Sentence, Verdict};
use super::CHECK;
use super::answer::{SpringRide, Standing};
use super::case::Wheel;
use super::room;
use crate::Dimension;
use crate::pickups::Wanted;

/// A spring compressed by less than this at full droop (mm) counts as barely seated, and wheel travel beyond the
/// wanted one by less as tight: about what a tape measure and a rubber bushing are good for.
const USUAL_MARGIN_MM: f64 = 5.0;

/// What a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Topic {
    RideHeight,
    Travel,
    Thread,
    CoilBind,
    Room,
    SeatAtMount,
    Seated,
    Laden,
}

impl Topic {
    const fn subject(self) -> &'static str {
        match self {
            Self::RideHeight => "ride height",
            Self::Travel => "bump travel from where the car sits",
            Self::Thread => "seat on its thread",
            Self::CoilBind => "coil bind at full bump",
            Self::Room => "room for the spring",
            Self::SeatAtMount => "seat beside its mount",
            Self::Seated => "seated at full droop",
            Self::Laden => "bump travel with the added load",
        }
    }
}

/// All findings on one spring.
pub(super) fn all(wheel: &Wheel<'_>, ride: &SpringRide) -> Vec<(Topic, Finding)> {
    let mut findings = vec![ride_height(wheel, ride)];
    findings.extend(travel(wheel, ride));
    findings.extend(thread(wheel));
    findings.extend(coil_bind(wheel, ride));
    findings.extend(room::between_seats(wheel, ride));
    findings.extend(room::beside_mount(wheel));
    findings.extend(seated(wheel, ride));
    findings.extend(laden(wheel, ride));
    findings
}

/// A length found, the limit it is compared with, and what is left.
pub(super) struct Compared {
    pub(super) value: f64,
    pub(super) limit: f64,
    pub(super) margin: f64,
    pub(super) at_travel: Option<f64>,
}

pub(super) fn about(
    wheel: &Wheel<'_>,
    topic: Topic,
    verdict: Verdict,
    compared: &Compared,
    statement: Sentence,
) -> (Topic, Finding) {
    let finding = Finding {
        check: CHECK,
        subject: format!("{}: {}", wheel.name, topic.subject()),
        verdict,
        dimension: Dimension::Length,
        value: compared.value,
        limit: compared.limit,
        margin: compared.margin,
        at_travel: compared.at_travel,
        statement,
        remedies: Vec::new(),
    };
    (topic, finding)
}

fn ride_height(wheel: &Wheel<'_>, ride: &SpringRide) -> (Topic, Finding) {
    let tolerance = wheel.question.tolerance();
    let name = &wheel.name;
    let Some(standing) = &ride.standing else {
        let change = wheel.needed.change;
        let compared = Compared {
            value: change,
            limit: tolerance,
            margin: tolerance - change.abs(),
            at_travel: None,
        };
        let statement = Sentence::new(format!(
            "With the seat of the {name} "
        ))
        .length(wheel.seat)
        .words(" from its mount there is no balance with the weight within the reach of the linkage; the wanted ride height takes ")
        .length(wheel.needed.seat)
        .words(".");
        return about(wheel, Topic::RideHeight, Verdict::Fails, &compared, statement);
    };
    if standing.installed_length <= 0.0 {
        return room::no_spring_holds(wheel, standing);
    }
    let low = standing.low;
    let margin = tolerance - low.abs();
    let verdict = Verdict::from_margin(margin, 0.0);
    let statement = if verdict == Verdict::Holds {
        Sentence::new(format!(
            "The {name} holds the car at the wanted ride height within "
        ))
        .length(tolerance)
        .words(": it is ")
        .length(standing.installed_length)
        .words(" long there and pushes with ")
        .quantity(standing.force, Dimension::Force)
        .words(".")
    } else {
        let start = Sentence::new(format!("On the {name} as it is set the car "));
        let past = |travel: Option<f64>| travel.is_some_and(|left| left < 0.0);
        let start = if past(standing.bump) {
            start.words("goes down to the end of its bump travel: the spring alone would carry it ")
        } else if past(standing.droop) {
            start.words("goes up to the end of its droop travel: the spring alone would carry it ")
        } else {
            start.words("sits ")
        };
        start
            .length(low.abs())
            .words(if low > 0.0 { " lower" } else { " higher" })
            .words(" than wanted.")
    };
    let compared = Compared {
        value: low,
        limit: tolerance,
        margin,
        at_travel: Some(low),
    };
    about(wheel, Topic::RideHeight, verdict, &compared, statement)
}

/// Where the car sits elsewhere than wanted, the travel left from there; at the wanted height the stroke check says it.
fn travel(wheel: &Wheel<'_>, ride: &SpringRide) -> Option<(Topic, Finding)> {
    let standing = ride
        .standing
        .filter(|standing| standing.low.abs() > wheel.question.tolerance())?;
    let wanted = wanted(wheel);
    let found = standing.bump_to_stop?;
    let limit = wanted.bump.unwrap_or(0.0);
    let statement = left(Sentence::new("Sitting there, "), found, limit);
    Some(bump_left(
        wheel,
        Topic::Travel,
        &standing,
        (found, limit),
        statement,
    ))
}

fn laden(wheel: &Wheel<'_>, ride: &SpringRide) -> Option<(Topic, Finding)> {
    let load = wheel.question.laden?;
    let start = Sentence::new("With ")
        .quantity(load.mass, Dimension::Mass)
        .words(format!(" more on the {}", wheel.name));
    let Some(standing) = ride.laden else {
        let compared = Compared {
            value: 0.0,
            limit: load.bump,
            margin: -load.bump,
            at_travel: None,
        };
        let statement = start.words(" there is no balance within the reach of the linkage.");
        return Some(about(wheel, Topic::Laden, Verdict::Fails, &compared, statement));
    };
    let found = standing.bump_to_stop?;
    let settles = standing.low - ride.standing.map_or(0.0, |unladen| unladen.low);
    let start = start.words(" the car settles by ").length(settles).words("; ");
    let statement = left(start, found, load.bump);
    Some(bump_left(
        wheel,
        Topic::Laden,
        &standing,
        (found, load.bump),
        statement,
    ))
}

/// How much bump is left from where the car stands.
fn left(start: Sentence, found: f64, wanted: f64) -> Sentence {
    let start = if found < 0.0 {
        start
            .words("the bump stop is touched ")
            .length(-found)
            .words(" before the spring alone carries the car")
    } else {
        start
            .length(found)
            .words(" of bump are left before the bump stop")
    };
    start.words("; ").length(wanted).words(" are wanted.")
}

fn bump_left(
    wheel: &Wheel<'_>,
    topic: Topic,
    standing: &Standing,
    (found, limit): (f64, f64),
    statement: Sentence,
) -> (Topic, Finding) {
    let margin = found - limit;
    let compared = Compared {
        value: found,
        limit,
        margin,
        at_travel: Some(standing.low + found),
    };
    let asked = wanted(wheel).margin.unwrap_or(USUAL_MARGIN_MM);
    about(
        wheel,
        topic,
        Verdict::from_margin(margin, asked),
        &compared,
        statement,
    )
}

fn thread(wheel: &Wheel<'_>) -> Option<(Topic, Finding)> {
    let thread = wheel.question.seat_thread?;
    let seat = wheel.needed.seat;
    let (margin, limit) = thread.left(seat);
    let statement = Sentence::new(format!(
        "For the wanted ride height the {} seat of the {} stands ",
        thread.end.word(),
        wheel.name
    ))
    .length(seat)
    .words(" from its mount; its thread runs from ")
    .length(thread.shortest)
    .words(" to ")
    .length(thread.longest)
    .words(": ")
    .length(margin.abs())
    .words(if margin < 0.0 {
        " beyond its end."
    } else {
        " to spare."
    });
    let compared = Compared {
        value: seat,
        limit,
        margin,
        at_travel: None,
    };
    // A turn of thread to spare is as good as ten.
    Some(about(
        wheel,
        Topic::Thread,
        Verdict::from_margin(margin, thread.pitch),
        &compared,
        statement,
    ))
}

fn coil_bind(wheel: &Wheel<'_>, ride: &SpringRide) -> Option<(Topic, Finding)> {
    let solid = wheel.stack.solid?;
    let (stopper, state) = &ride.at_full_bump;
    let state = (*state)?;
    let allowance = wheel.question.allowance();
    let gap = state.installed_length - solid;
    let start = Sentence::new(format!(
        "At full bump, where {stopper} ends the travel, the {} is ",
        wheel.name
    ))
    .length(state.installed_length)
    .words(" long; its coils touch at ")
    .length(solid);
    let statement = if gap < 0.0 {
        start
            .words(": the coils would bind ")
            .length(-gap)
            .words(" of spring travel before that, and the spring would stop the wheel.")
    } else {
        start
            .words(": ")
            .length(gap)
            .words(" of clearance in all, ")
            .length(allowance)
            .words(" wanted.")
    };
    let compared = Compared {
        value: state.installed_length,
        limit: solid,
        margin: gap,
        at_travel: state.travel,
    };
    Some(about(
        wheel,
        Topic::CoilBind,
        Verdict::from_margin(gap, allowance),
        &compared,
        statement,
    ))
}

fn seated(wheel: &Wheel<'_>, ride: &SpringRide) -> Option<(Topic, Finding)> {
    let (stopper, state) = &ride.at_full_droop;
    let state = (*state)?;
    let start = Sentence::new(format!(
        "At full droop, where {stopper} ends the travel, the {} ",
        wheel.name
    ));
    let statement = if state.compression < 0.0 {
        start
            .words("hangs loose: the room between its seats is ")
            .length(-state.compression)
            .words(" more than its free length, and it can leave its seat.")
    } else {
        start
            .words("is still compressed by ")
            .length(state.compression)
            .words(" and pushes with ")
            .quantity(state.force, Dimension::Force)
            .words(".")
    };
    let compared = Compared {
        value: state.compression,
        limit: 0.0,
        margin: state.compression,
        at_travel: state.travel,
    };
    Some(about(
        wheel,
        Topic::Seated,
        Verdict::from_margin(state.compression, USUAL_MARGIN_MM),
        &compared,
        statement,
    ))
}

fn wanted(wheel: &Wheel<'_>) -> Wanted {
    match wheel.part.mover {
        Mover::Corner(corner) => corner.pickups().wanted,
        Mover::Axle(axle) => axle.pickups().wanted,
    }
    .unwrap_or_default()
}
