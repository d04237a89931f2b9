//! Whether a spring can be what the numbers ask of it: with room between its seats, and its seat on the right side of
//! the mount.

use super::super::{Sentence, Verdict};
use super::answer::{SpringRide, Standing};
use super::case::Wheel;
use super::finding::{Compared, Topic, about};
use crate::checks::Finding;

/// Hardly any coil spring is shorter than this share of its free length when its coils touch (common practice, no
/// source).
const HARDLY_SHORTER: f64 = 0.25;
/// Seats this far beyond their mount (mm) are there but for rounding.
const ROUNDING_MM: f64 = 1e-6;

/// Length of the spring at full bump (mm); where that is beyond the reach of the linkage, at ride height.
fn shortest(wheel: &Wheel<'_>, ride: &SpringRide) -> f64 {
    ride.at_full_bump
        .1
        .map_or(wheel.needed.installed_length, |state| state.installed_length)
}

/// The lowest seat that can be: where the mount is, unless its thread or the description puts it lower.
pub(super) fn lowest_seat(wheel: &Wheel<'_>) -> f64 {
    let stated = wheel
        .question
        .seat_thread
        .map_or(wheel.question.seat_as_set(wheel.part.spring), |thread| {
            thread.shortest
        });
    stated.min(0.0)
}

/// Whether there is such a spring: its coils are apart where the car stands, some length is left at full bump, and its
/// seat is beside its mount.
pub(super) fn possible(wheel: &Wheel<'_>, ride: &SpringRide) -> bool {
    let stands = ride.standing.map_or(wheel.needed.installed_length, |standing| {
        standing.installed_length
    });
    stands > wheel.stack.solid.unwrap_or(0.0)
        && shortest(wheel, ride) > 0.0
        && wheel.seat >= lowest_seat(wheel) - ROUNDING_MM
}

/// Without the solid length, is there any room at all between the seats at full bump?
pub(super) fn between_seats(wheel: &Wheel<'_>, ride: &SpringRide) -> Option<(Topic, Finding)> {
    if wheel.stack.solid.is_some() {
        return None;
    }
    let length = shortest(wheel, ride);
    let free = wheel.stack.free;
    let (place, at_travel) = match &ride.at_full_bump {
        (stopper, Some(state)) => (
            format!("At full bump, where {stopper} ends the travel,"),
            state.travel,
        ),
        _ => ("At ride height,".to_owned(), None),
    };
    let name = &wheel.name;
    let verdict = if length <= 0.0 {
        Verdict::Fails
    } else {
        Verdict::from_margin(length, HARDLY_SHORTER * free)
    };
    let statement = if verdict == Verdict::Fails {
        Sentence::new(format!(
            "{place} no room is left for the {name}: it would be compressed by "
        ))
        .length(free - length)
        .words(", and without load it is only ")
        .length(free)
        .words(" long. There is no such spring: take a stiffer or a shorter one, or move the seats.")
    } else {
        let start = Sentence::new(format!("{place} the {name} is "))
            .length(length)
            .words(" long, of ")
            .length(free)
            .words(" without load");
        let start = if verdict == Verdict::Tight {
            start.words(", where the coils of hardly any spring are still apart")
        } else {
            start
        };
        start.words("; coil bind is not judged without the solid length.")
    };
    let compared = Compared {
        value: length,
        limit: 0.0,
        margin: length,
        at_travel,
    };
    Some(about(wheel, Topic::Room, verdict, &compared, statement))
}

/// A seat that would have to stand beyond its own mount.
pub(super) fn beside_mount(wheel: &Wheel<'_>) -> Option<(Topic, Finding)> {
    let limit = lowest_seat(wheel);
    let margin = wheel.seat - limit;
    if margin >= -ROUNDING_MM {
        return None;
    }
    let word = wheel.question.end().word();
    let statement = Sentence::new(format!("The {word} seat of the {} would have to stand ", wheel.name))
        .length(-wheel.seat)
        .words(format!(
            " beyond its own mount: the {} is too long for the wanted ride height, or the other seat takes its room.",
            wheel.name
        ));
    let compared = Compared {
        value: wheel.seat,
        limit,
        margin,
        at_travel: None,
    };
    Some(about(
        wheel,
        Topic::SeatAtMount,
        Verdict::Fails,
        &compared,
        statement,
    ))
}

/// What is said about ride height where the spring would have no length left there.
pub(super) fn no_spring_holds(wheel: &Wheel<'_>, standing: &Standing) -> (Topic, Finding) {
    let free = wheel.stack.free;
    let statement = Sentence::new(format!("The {} cannot hold the car: for ", wheel.name))
        .quantity(standing.force, crate::Dimension::Force)
        .words(" it would be compressed by ")
        .length(standing.compression)
        .words(", and it is only ")
        .length(free)
        .words(" long without load.");
    let compared = Compared {
        value: standing.compression,
        limit: free,
        margin: standing.installed_length,
        at_travel: Some(standing.low),
    };
    about(wheel, Topic::RideHeight, Verdict::Fails, &compared, statement)
}
