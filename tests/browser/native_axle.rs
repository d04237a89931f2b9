//! The numbers that the page shows of an axle, from the native solver.

use crate::native::{CLOSE, CLOSE_MM, SMALL, near, point};
use kin_core::curves::AxleCurve as Curve;
use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Damper, LiveAxle, Point, Side, Spring};
use kin_core::{Axle, AxleAlong, AxlePosition, AxleTravel};

/// Where the links begin in the page's list, and how many numbers each has.
pub(crate) const LINKS: usize = 53;
pub(crate) const LINK: usize = 8;

/// Puts the pickups of the page's list into a description, both sides written out.
fn moved(axle: &mut LiveAxle, list: &[f64]) {
    let damper = |damper: &mut Damper, place: usize| {
        damper.upper_mount = point(list, place);
        damper.lower_mount = point(list, place + 3);
    };
    if let Some(dampers) = axle.coilovers.as_mut().or(axle.dampers.as_mut()) {
        damper(&mut dampers.left, 11);
        damper(dampers.right.as_mut().unwrap(), 21);
    }
    let spring = |spring: &mut Spring, place: usize| {
        if spring.upper_mount.is_some() {
            spring.upper_mount = Some(point(list, place));
            spring.lower_mount = Some(point(list, place + 3));
        }
    };
    if let Some(springs) = &mut axle.springs {
        spring(&mut springs.left, 35);
        spring(springs.right.as_mut().unwrap(), 46);
    }
    for (place, link) in axle.links.values_mut().enumerate() {
        link.body = point(list, LINKS + LINK * place);
        link.axle = point(list, LINKS + LINK * place + 3);
    }
}

/// Holds what the page shows of its position to the native solver's numbers there.
///
/// * `described`: the axle that the page was made from, in millimetres, both sides written out
/// * `pickups`, `travel`, `answer`: what the page says it shows
/// * `cells`: the numbers of its table by name, in core units
pub(crate) fn compare(
    described: &LiveAxle,
    pickups: &[f64],
    travel: [f64; 2],
    answer: &[f64],
    cells: &[(String, f64)],
) {
    let mut description = described.clone();
    moved(&mut description, pickups);
    let axle = Axle::new(&description).unwrap();
    let [left, right] = travel;
    let at = axle.at(AxleTravel { left, right }).unwrap();
    let (wheels, contacts) = (at.wheel_centres(), at.contact_points());
    let pinion = description.pinion.map(|pinion| at.carried(&pinion.point));
    let ends = |ends: Option<[(Point, Point); 2]>| match ends {
        Some([left, right]) => [left.0, left.1, right.0, right.1].map(Some),
        None => [None; 4],
    };
    let places = [
        Some(wheels.0),
        Some(wheels.1),
        Some(contacts.0),
        Some(contacts.1),
        Some(at.pose().rotation() * Vector3::y()),
        pinion,
    ];
    let places: Vec<Option<Point>> = places
        .into_iter()
        .chain(ends(at.damper_ends()))
        .chain(ends(at.spring_ends()))
        .collect();
    for (index, place) in places.iter().enumerate() {
        same_place(&format!("place {index}"), &answer[3 * index..], *place);
    }
    // Behind the points: both travels, 19 curves and three numbers of each spring.
    let links = 3 * places.len() + 2 + 19 + 6;
    let stretch = at.link_stretch();
    for (index, (name, (body, end))) in at.links().into_iter().enumerate() {
        let first = links + 7 * index;
        same_place(&name, &answer[first..], Some(body));
        same_place(&name, &answer[first + 3..], Some(end));
        near(&name, answer[first + 6], stretch[&name], CLOSE_MM);
    }
    assert_eq!(answer.len(), links + 7 * at.links().len());
    assert!(cells.len() >= 6, "{cells:?}");
    for (name, shown) in cells {
        let expected = expected(name, &at).unwrap_or_else(|| panic!("{name} has no native value"));
        let within = if name == "largest_stretch" {
            CLOSE_MM
        } else {
            CLOSE * expected.abs().max(SMALL)
        };
        near(name, *shown, expected, within);
    }
}

fn same_place(what: &str, shown: &[f64], expected: Option<Point>) {
    for (axis, shown) in shown.iter().take(3).enumerate() {
        match expected {
            Some(place) => near(what, *shown, place[axis], CLOSE_MM),
            None => assert!(shown.is_nan(), "{what}: {shown}"),
        }
    }
}

fn expected(name: &str, at: &AxlePosition<'_>) -> Option<f64> {
    let spring = |side| at.spring(side, AxleAlong::Heave);
    match name {
        "spring_force_left" => spring(Side::Left)?.force,
        "spring_force_right" => spring(Side::Right)?.force,
        "wheel_force_left" => spring(Side::Left)?.wheel_force(),
        "wheel_force_right" => spring(Side::Right)?.wheel_force(),
        "largest_stretch" => Some(
            at.link_stretch()
                .values()
                .fold(0.0, |most: f64, one| most.max(one.abs())),
        ),
        curve => Curve::from_key(curve)?.value(at),
    }
}
