//! Changes of seat and spring that mend a finding, each verified by running the balance again.

use super::super::spring::{HelperSpring, SpringStack};
use super::super::{Remedy, RemedyKind, Sentence};
use super::answer::SpringRide;
use super::case::{Case, VERIFIED_MM, Wheel};
use super::finding::Topic;
use super::room::lowest_seat;
use crate::Error;

/// The helper spring that a remedy is verified with: far softer than any main spring, and short.
const HELPER_RATE: f64 = 0.5;
const HELPER_SOLID_MM: f64 = 10.0;

/// The remedies for one finding on one wheel.
pub(super) fn of(
    case: &Case<'_>,
    place: usize,
    topic: Topic,
    ride: &SpringRide,
) -> Result<Vec<Remedy>, Error> {
    let Some(wheel) = case.wheels.get(place) else {
        return Ok(Vec::new());
    };
    let remedy = match topic {
        Topic::RideHeight => seat(case, place, wheel, (case.ride, false), wheel.question.tolerance())?,
        Topic::Laden => {
            let target = wheel
                .ends
                .stop_contact
                .zip(wheel.question.laden)
                .map(|(contact, load)| contact - load.bump);
            match target {
                Some(target) => seat(case, place, wheel, (target, true), 0.0)?,
                None => None,
            }
        }
        Topic::Thread => another_free_length(wheel),
        Topic::CoilBind => another_solid_length(wheel, ride),
        Topic::Seated => helper(wheel, ride),
        Topic::Travel | Topic::Room | Topic::SeatAtMount => None,
    };
    Ok(remedy.into_iter().collect())
}

/// The seat that makes the car sit at a travel, unless its thread ends before.
fn seat(
    case: &Case<'_>,
    place: usize,
    wheel: &Wheel<'_>,
    (target, laden): (f64, bool),
    tolerance: f64,
) -> Result<Option<Remedy>, Error> {
    let reach = wheel.part.spring_curve();
    if reach.within_reach(target + tolerance).is_none() || reach.within_reach(target - tolerance).is_none() {
        return Ok(None);
    }
    let mut moved = case.clone();
    for (wheel, (_, seat)) in moved.wheels.iter_mut().zip(case.seats_at(target, laden)?) {
        wheel.seat = seat;
    }
    let Some(new) = moved.wheels.get(place) else {
        return Ok(None);
    };
    let beyond_thread = wheel
        .question
        .seat_thread
        .is_some_and(|thread| thread.left(new.seat).0 < 0.0);
    let length = wheel.part.spring_curve().at(target)?.re - wheel.fixed - new.seat;
    if beyond_thread || new.seat < lowest_seat(wheel) || length <= wheel.stack.solid.unwrap_or(0.0) {
        return Ok(None);
    }
    let rest = moved.rest(|wheel| wheel.seat, laden)?;
    let lands = |travel: f64| (travel - target).abs() < VERIFIED_MM;
    if !rest.is_some_and(|rest| lands(rest.left) && lands(rest.right)) {
        return Ok(None);
    }
    let at = |travel: f64| -> Result<f64, Error> {
        let seats = case.seats_at(travel, laden)?;
        Ok(seats.get(place).map_or(new.seat, |(_, seat)| *seat) - wheel.seat)
    };
    let change = new.seat - wheel.seat;
    let (sits_high, sits_low) = (at(target - tolerance)?, at(target + tolerance)?);
    let mut sentence = Sentence::new(format!(
        "Move the {} seat of the {} ",
        wheel.question.end().word(),
        wheel.name
    ))
    .length(change.abs())
    .words(if change < 0.0 {
        " away from the spring"
    } else {
        " towards the spring"
    });
    if let Some(turns) = wheel.turns(change) {
        sentence = sentence.words(format!(", {:.2} turns", turns.abs()));
    }
    sentence = sentence.words(", to ").length(new.seat).words(if laden {
        " from its mount, while the load is on board."
    } else {
        " from its mount."
    });
    Ok(Some(Remedy {
        kind: RemedyKind::SeatTowardsSpring,
        change,
        window: (sits_low.min(sits_high), sits_low.max(sits_high)),
        sentence,
    }))
}

/// A spring of the same rate whose free length puts the seat on its thread.
fn another_free_length(wheel: &Wheel<'_>) -> Option<Remedy> {
    let thread = wheel.question.seat_thread?;
    let seat = wheel.needed.seat;
    let (lowest, highest) = (seat - thread.longest, seat - thread.shortest);
    let change = 0.0_f64.clamp(lowest, highest);
    let longer = wheel.stack.longer_by(change);
    let between = seat + wheel.needed.installed_length;
    let left = thread.left(between - longer.length_under(wheel.needed.force)).0;
    let room = !wheel.part.is_coilover() || longer.free <= wheel.ends.lengths.extended;
    (change != 0.0 && left >= -VERIFIED_MM && room).then(|| Remedy {
        kind: RemedyKind::SpringFreeLength,
        change,
        window: (lowest, highest),
        sentence: Sentence::new("Use a spring of the same rate that is ")
            .at_least(change.abs(), highest - lowest)
            .words(if change < 0.0 { " shorter" } else { " longer" })
            .words(" without load, and at most ")
            .at_most(lowest.abs().max(highest.abs()), highest - lowest)
            .words("."),
    })
}

/// A spring whose coils touch later.
fn another_solid_length(wheel: &Wheel<'_>, ride: &SpringRide) -> Option<Remedy> {
    let (solid, state) = (wheel.stack.solid?, ride.at_full_bump.1?);
    let greatest = state.installed_length - wheel.question.allowance();
    let change = greatest - solid;
    (greatest > 0.0 && change < 0.0).then(|| Remedy {
        kind: RemedyKind::SpringSolidLength,
        change,
        window: (-solid, change),
        sentence: Sentence::new("Use a spring of the same rate and free length whose coils touch at ")
            .at_most(greatest, f64::INFINITY)
            .words(" or less, or stop the bump travel earlier."),
    })
}

/// A soft spring in series that opens as much as the stack is loose.
fn helper(wheel: &Wheel<'_>, ride: &SpringRide) -> Option<Remedy> {
    let (droop, spring) = (ride.at_full_droop.1?, wheel.part.spring);
    let loose = -droop.compression;
    if loose <= 0.0 || wheel.question.helper.is_some() {
        return None;
    }
    let helper = HelperSpring {
        rate: HELPER_RATE.min(0.1 * spring.rate),
        free_length: HELPER_SOLID_MM + loose,
        solid_length: HELPER_SOLID_MM,
        divider: 0.0,
    };
    let stack = SpringStack::new(
        spring.rate,
        spring.free_length?,
        wheel.question.solid_length,
        Some(&helper),
    )
    .ok()?;
    // The closed helper takes the room that the seat gives up.
    let at_ride = stack.length_under(wheel.needed.force) - HELPER_SOLID_MM;
    let seated = stack.free - (droop.installed_length + HELPER_SOLID_MM);
    let same_height = (at_ride - wheel.needed.installed_length).abs() < VERIFIED_MM;
    (same_height && seated > -VERIFIED_MM).then(|| Remedy {
        kind: RemedyKind::HelperSpring,
        change: loose,
        window: (loose, f64::INFINITY),
        sentence: Sentence::new("Stack a helper spring that opens by ")
            .at_least(loose, f64::INFINITY)
            .words(" or more, and move the seat away by the helper's closed length; or limit the droop."),
    })
}
