//! The forces in a live axle at one position.

use super::balance::{Member, SupportForces, member_forces, wrench};
use super::link::PlacedLink;
use super::part_force::PartForce;
use crate::pickups::{LiveAxle, Point};
use crate::{AxlePosition, Error};
use indexmap::IndexMap;
use nalgebra::{Vector3, Vector6};

/// What loads an axle. Left comes before right in every pair.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AxleLoad {
    /// Forces of the ground on the tyres at their contact points, in vehicle axes (N). Brake and drive are taken as
    /// reacted by the axle's own housing, as they are.
    pub at_contact_points: [Vector3<f64>; 2],
    /// Forces on the axle at the wheel centres, in vehicle axes (N): weight of the axle and all that hangs on it.
    pub at_wheel_centres: [Vector3<f64>; 2],
    /// Other forces on the axle or its links.
    pub part_forces: Vec<PartForce>,
}

/// The forces on one link, in vehicle axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinkForces {
    /// Axial force at the joint on the axle (N), tension positive.
    pub tension: f64,
    /// Force of the link on the axle (N).
    pub on_axle: Vector3<f64>,
    /// Force of the link on the body (N).
    pub on_body: Vector3<f64>,
    /// Moment about the link's own axis of what it carries (N mm), which its bushings must take: ball joints cannot.
    pub twist: f64,
}

/// The forces in an axle, in vehicle axes.
#[derive(Debug, Clone, PartialEq)]
pub struct AxleForces {
    /// Where the ground pushes, left and right (mm).
    pub contact_points: [Point; 2],
    /// Forces of the ground on the tyres (N).
    pub forces_at_contact_points: [Vector3<f64>; 2],
    /// The links by name.
    pub links: IndexMap<String, LinkForces>,
    /// What carries the load, by its name in the description: `coilovers` or `springs`.
    pub support_name: &'static str,
    /// The force of the left and the right spring or coilover.
    pub supports: [SupportForces; 2],
    /// Whether more links hold the axle than it needs, so that their stiffness decides how they share.
    pub shared_by_stiffness: bool,
}

impl AxleForces {
    /// Every force by name (N): links with tension positive, springs or coilovers with compression positive.
    #[must_use]
    pub fn by_name(&self) -> IndexMap<String, f64> {
        let links = self.links.iter().map(|(name, link)| (name.clone(), link.tension));
        let mut forces: IndexMap<String, f64> = links.collect();
        for (side, support) in ["left", "right"].into_iter().zip(&self.supports) {
            forces.insert(format!("{}.{side}", self.support_name), support.compression);
        }
        forces
    }
}

/// What carries the axle: its name, and the parts that the left and the right one push.
pub(super) fn supports_of(axle: &LiveAxle) -> Option<(&'static str, [&str; 2])> {
    if let Some(springs) = &axle.springs
        && let (Some(left), Some(right)) = (
            springs.left.rides_on.as_deref(),
            springs.right.as_ref().and_then(|right| right.rides_on.as_deref()),
        )
    {
        return Some(("springs", [left, right]));
    }
    let coilovers = axle.coilovers.as_ref()?;
    let right = coilovers.right.as_ref()?;
    Some(("coilovers", [&coilovers.left.rides_on, &right.rides_on]))
}

pub(super) fn no_supports() -> Error {
    Error::Missing {
        question: "static loads",
        field: "coilovers",
        advice: "something must carry the axle: give coilovers, or springs with their mounts",
    }
}

/// The forces in an axle at a position.
///
/// Four links and two springs or coilovers follow from the balance of the axle alone. More links share as their
/// stiffness decides, with the springs taken as rigid at this position; where a stiffness in N/mm is given, the force
/// that roll bind puts into the links is included.
///
/// # Errors
/// Without springs or coilovers on both sides, or where these do not move with the wheels.
pub fn axle_forces(position: &AxlePosition<'_>, load: &AxleLoad) -> Result<AxleForces, Error> {
    let pickups = position.axle().pickups();
    let (support_name, supports_on) = supports_of(pickups).ok_or_else(no_supports)?;
    let ends = if support_name == "springs" {
        position.spring_ends()
    } else {
        position.damper_ends()
    };
    let ends = ends.ok_or_else(no_supports)?;
    let (left, right) = position.wheel_centres();
    let origin = 0.5 * (left + right);
    let links: IndexMap<String, PlacedLink> = position
        .links()
        .into_iter()
        .map(|(name, (body, axle))| (name, PlacedLink { body, axle }))
        .collect();

    // The wrench on the axle of a force on any part.
    let carried = |part: &str, force: &Vector3<f64>, at: &Point| match links.get(part) {
        Some(link) => wrench(&link.passed_on(force, at), &link.axle, &origin),
        None => wrench(force, at, &origin),
    };
    let (contact_left, contact_right) = position.contact_points();
    let mut loads = Vector6::zeros();
    for (force, at) in load
        .at_contact_points
        .iter()
        .zip([contact_left, contact_right])
        .chain(load.at_wheel_centres.iter().zip([left, right]))
    {
        loads += wrench(force, &at, &origin);
    }
    let mut on_links: Vec<(&str, Vector3<f64>, Point)> = Vec::new();
    for other in &load.part_forces {
        let now = match (links.get(&other.rides_on), pickups.links.get(&other.rides_on)) {
            (Some(placed), Some(link)) => placed.place(link, &other.point),
            _ => position.carried(&other.point),
        };
        loads += carried(&other.rides_on, &other.force, &now);
        on_links.push((&other.rides_on, other.force, now));
    }

    let mut members = link_members(position, &links, &origin);
    for (part, (upper, lower)) in supports_on.into_iter().zip(ends) {
        members.push(Member {
            wrench: carried(part, &(lower - upper).normalize(), &lower),
            stiffness: None,
            at_rest: 0.0,
        });
    }
    let forces = member_forces(&members, &loads)?;
    let force = |place: usize| forces.get(place).copied().unwrap_or(0.0);
    let [left_ends, right_ends] = ends;
    let supports = [
        SupportForces::new(force(links.len()), left_ends),
        SupportForces::new(force(links.len() + 1), right_ends),
    ];
    for (part, support) in supports_on.into_iter().zip(&supports) {
        on_links.push((part, support.force_on_moving_part, support.lower_mount));
    }
    let links = links.iter().enumerate().map(|(place, (name, link))| {
        let mut on_axle = link.along() * -force(place);
        let mut sum = Vector3::zeros();
        let mut twist = 0.0;
        for (_, carried, at) in on_links.iter().filter(|(part, ..)| part == name) {
            on_axle += link.passed_on(carried, at);
            sum += carried;
            twist += link.twist(carried, at);
        }
        let forces = LinkForces {
            tension: force(place),
            on_axle,
            on_body: sum - on_axle,
            twist,
        };
        (name.clone(), forces)
    });
    Ok(AxleForces {
        contact_points: [contact_left, contact_right],
        forces_at_contact_points: load.at_contact_points,
        links: links.collect(),
        support_name,
        supports,
        shared_by_stiffness: position.axle().is_held_too_much(),
    })
}

/// The links as the balance sees them.
fn link_members(
    position: &AxlePosition<'_>,
    links: &IndexMap<String, PlacedLink>,
    origin: &Point,
) -> Vec<Member> {
    let given: Vec<f64> = position
        .axle()
        .pickups()
        .links
        .values()
        .filter_map(|link| link.stiffness)
        .collect();
    // As for the pose: links without a stiffness count as the average of those that have one.
    let usual = if given.is_empty() {
        1.0
    } else {
        given.iter().sum::<f64>() / given.len() as f64
    };
    let stretch = position.link_stretch();
    let described = &position.axle().pickups().links;
    let members = links.iter().map(|(name, link)| {
        let stiffness = described
            .get(name)
            .and_then(|link| link.stiffness)
            .unwrap_or(usual);
        let stretched = stretch.get(name).copied().unwrap_or(0.0);
        Member {
            wrench: wrench(&-link.along(), &link.axle, origin),
            stiffness: Some(stiffness),
            // Without a stiffness in N/mm the force of a stretch is unknown.
            at_rest: if given.is_empty() {
                0.0
            } else {
                stiffness * stretched
            },
        }
    });
    members.collect()
}
