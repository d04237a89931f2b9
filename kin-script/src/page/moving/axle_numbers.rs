//! An axle as the list of numbers that the browser's solver reads, and what its right side mirrors.

use super::part_numbers::{Numbers, damper, points, spring};
use kin_core::pickups::{AxleSides, LiveAxle, RightSide};
use serde::Serialize;

/// A link by name.
#[derive(Serialize)]
pub(super) struct NamedLink {
    name: String,
    /// The place of the link on the right that is its mirror image, where the description says so.
    mirror: Option<usize>,
}

/// Whether the right one is the mirror image of the left one.
#[derive(Serialize)]
pub(super) struct MirroredParts {
    dampers: bool,
    springs: bool,
}

/// The list; none where there is no number, such as the stiffness of a link that has none of its own.
///
/// * `axle`: both sides written out
pub(super) fn of_axle(axle: &LiveAxle) -> Numbers {
    let mut list = Vec::new();
    let wheels = &axle.wheels;
    points(
        &mut list,
        [&wheels.left, wheels.right.as_ref().unwrap_or(&wheels.left)],
    );
    list.push(Some(wheels.tyre_radius));
    match &axle.pinion {
        Some(pinion) => {
            points(&mut list, [&pinion.point]);
            list.push(Some(pinion.nose_up));
        }
        None => list.extend([None; 4]),
    }
    let carrier = |rides_on: &str| {
        axle.links
            .get_index_of(rides_on)
            .map_or(-1.0, |place| place as f64)
    };
    for one in both(axle.any_dampers()) {
        damper(&mut list, one, &carrier);
    }
    for one in both(axle.springs.as_ref()) {
        spring(&mut list, one, &carrier);
    }
    for (name, link) in &axle.links {
        points(&mut list, [&link.body, &link.axle]);
        list.extend([link.stiffness, Some(name.len() as f64)]);
    }
    list
}

/// The links of an axle, and which of them follow another.
///
/// * `described`: as written, where the right side may be left out
/// * `whole`: both sides written out
pub(super) fn links(described: &LiveAxle, whole: &LiveAxle) -> Vec<NamedLink> {
    let links = whole.links.keys().map(|name| NamedLink {
        name: name.clone(),
        mirror: name
            .strip_suffix("_left")
            .map(|stem| format!("{stem}_right"))
            .filter(|partner| !described.links.contains_key(partner))
            .and_then(|partner| whole.links.get_index_of(&partner)),
    });
    links.collect()
}

/// Which parts stand on the right as the mirror image of the left.
pub(super) fn mirrored(described: &LiveAxle) -> MirroredParts {
    let is_mirror = described.right == RightSide::Mirror;
    MirroredParts {
        dampers: is_mirror && described.any_dampers().is_some_and(|sides| sides.right.is_none()),
        springs: is_mirror
            && described
                .springs
                .as_ref()
                .is_some_and(|sides| sides.right.is_none()),
    }
}

fn both<T>(sides: Option<&AxleSides<T>>) -> [Option<&T>; 2] {
    [
        sides.map(|sides| &sides.left),
        sides.and_then(|sides| sides.right.as_ref()),
    ]
}
