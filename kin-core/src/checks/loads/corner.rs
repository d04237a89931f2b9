//! The forces in a double-wishbone corner at one position.

use super::arm::{ArmForces, PlacedArm};
use super::balance::{Member, SupportForces, member_forces, wrench};
use super::part_force::PartForce;
use crate::pickups::{DoubleWishbone, Point, Side, Spring, mirrored};
use crate::{CornerPosition, Error};
use indexmap::IndexMap;
use nalgebra::{Vector3, Vector6};

/// What loads a corner.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CornerLoad {
    /// Force of the ground on the tyre at the contact point, in vehicle axes (N). The brake is taken as locked to the
    /// upright, so that a force along the car acts there as it does with brakes at the wheel.
    pub at_contact_point: Vector3<f64>,
    /// Force on the upright at the wheel centre, in vehicle axes (N): weight of the unsprung parts, or the thrust of a
    /// wheel that is driven or braked through a shaft.
    pub at_wheel_centre: Vector3<f64>,
    /// Other forces on moving parts.
    pub part_forces: Vec<PartForce>,
}

/// The forces in a corner, in vehicle axes.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerForces {
    /// Where the ground pushes (mm).
    pub contact_point: Point,
    /// Force of the ground on the tyre (N).
    pub force_at_contact_point: Vector3<f64>,
    /// The upper arm.
    pub upper_arm: ArmForces,
    /// The lower arm.
    pub lower_arm: ArmForces,
    /// Axial force in the tie rod (N), tension positive.
    pub tie_rod_tension: f64,
    /// Force of the tie rod on the upright (N).
    pub tie_rod_on_upright: Vector3<f64>,
    /// What carries the load, by its name in the description: `coilover` or `spring`.
    pub support_name: &'static str,
    /// The force of the spring or coilover.
    pub support: SupportForces,
}

impl CornerForces {
    /// Every force by name (N): rods with tension positive, the spring or coilover with compression positive, joints
    /// by their size. A pivot is given the most it can see, see [`ArmForces::most_at_pivots`].
    #[must_use]
    pub fn by_name(&self) -> IndexMap<String, f64> {
        let mut forces = IndexMap::new();
        for (name, arm) in [("upper_arm", &self.upper_arm), ("lower_arm", &self.lower_arm)] {
            let [front, rear] = arm.most_at_pivots();
            forces.insert(format!("{name}.front_leg"), arm.legs[0]);
            forces.insert(format!("{name}.rear_leg"), arm.legs[1]);
            forces.insert(format!("{name}.ball_joint"), arm.ball_joint_on_upright.norm());
            forces.insert(format!("{name}.front_pivot"), front);
            forces.insert(format!("{name}.rear_pivot"), rear);
        }
        forces.insert("tie_rod".to_owned(), self.tie_rod_tension);
        forces.insert(self.support_name.to_owned(), self.support.compression);
        forces
    }
}

/// The spring of a corner as the balance needs it: its name and the part that it pushes.
pub(super) fn support_of(pickups: &DoubleWishbone) -> Option<(&'static str, &str)> {
    match (&pickups.spring, &pickups.coilover) {
        (
            Some(Spring {
                rides_on: Some(part), ..
            }),
            _,
        ) => Some(("spring", part)),
        (_, Some(coilover)) => Some(("coilover", &coilover.rides_on)),
        _ => None,
    }
}

pub(super) fn no_support(field: &'static str) -> Error {
    Error::Missing {
        question: "static loads",
        field,
        advice: "something must carry the wheel: give a coilover, or a spring with its mounts",
    }
}

/// The forces in a corner at a position.
///
/// Five rods and the spring or coilover hold the upright; their six forces follow from its balance, and from them the
/// forces at ball joints and pivots. No spring law is used: the spring carries what the rods do not.
///
/// # Errors
/// Without a spring or coilover, or where it does not move with the wheel.
pub fn corner_forces(position: &CornerPosition<'_>, load: &CornerLoad) -> Result<CornerForces, Error> {
    let corner = position.corner();
    let pickups = corner.pickups();
    let (support_name, support_on) = support_of(pickups).ok_or_else(|| no_support("coilover"))?;
    let ends = if support_name == "spring" {
        position.spring_ends()
    } else {
        position.damper_ends()
    };
    // A right corner is solved as its mirror image, like its position.
    let image = |vector: &Vector3<f64>| {
        if corner.side() == Side::Left {
            *vector
        } else {
            mirrored(vector)
        }
    };
    let (upper_end, lower_end) = ends.map_or_else(|| Err(no_support("coilover")), Ok)?;
    let (upper_end, lower_end) = (image(&upper_end), image(&lower_end));
    let (centre, contact) = (image(&position.wheel_centre()), image(&position.contact_point()));
    let (tie_inner, tie_outer) = (image(&position.tie_rod_inner()), image(&position.tie_rod_outer()));
    let arms = [
        PlacedArm::new(&pickups.upper_arm, image(&position.upper_ball_joint())),
        PlacedArm::new(&pickups.lower_arm, image(&position.lower_ball_joint())),
    ];
    let [upper, lower] = &arms;

    // The force on the upright of a force on any part, and where it acts there.
    let on_upright = |part: &str, force: &Vector3<f64>, at: &Point| match part {
        "upper_arm" => (upper.passed_on(force, at), upper.ball_joint),
        "lower_arm" => (lower.passed_on(force, at), lower.ball_joint),
        _ => (*force, *at),
    };
    let carried = |part: &str, force: &Vector3<f64>, at: &Point| {
        let (force, at) = on_upright(part, force, at);
        wrench(&force, &at, &centre)
    };

    let (at_contact, at_centre) = (image(&load.at_contact_point), image(&load.at_wheel_centre));
    let mut loads = wrench(&at_contact, &contact, &centre) + wrench(&at_centre, &centre, &centre);
    let rotation = position.pose().rotation();
    let mut on_arms: [Vec<(Vector3<f64>, Point)>; 2] = [Vec::new(), Vec::new()];
    for other in &load.part_forces {
        let (force, then) = (image(&other.force), image(&other.point));
        let now = match other.rides_on.as_str() {
            "upper_arm" => upper.place(&pickups.upper_arm, &then),
            "lower_arm" => lower.place(&pickups.lower_arm, &then),
            _ => centre + rotation * (then - pickups.wheel.centre),
        };
        loads += carried(&other.rides_on, &force, &now);
        keep(&mut on_arms, &other.rides_on, force, now);
    }

    let [upper_front, upper_rear] = upper.legs();
    let [lower_front, lower_rear] = lower.legs();
    let tie_rod = (tie_outer - tie_inner).normalize();
    let push = (lower_end - upper_end).normalize();
    let rod = |along: &Vector3<f64>, at: &Point| wrench(&-along, at, &centre);
    let columns: [Vector6<f64>; 6] = [
        rod(&upper_front, &upper.ball_joint),
        rod(&upper_rear, &upper.ball_joint),
        rod(&lower_front, &lower.ball_joint),
        rod(&lower_rear, &lower.ball_joint),
        rod(&tie_rod, &tie_outer),
        carried(support_on, &push, &lower_end),
    ];
    let members = columns.map(|wrench| Member {
        wrench,
        stiffness: None,
        at_rest: 0.0,
    });
    let forces = member_forces(&members, &loads)?;
    let force = |place: usize| forces.get(place).copied().unwrap_or(0.0);

    let support = SupportForces::new(force(5), (upper_end, lower_end));
    keep(&mut on_arms, support_on, support.force_on_moving_part, lower_end);
    let [on_upper, on_lower] = &on_arms;
    Ok(CornerForces {
        contact_point: position.contact_point(),
        force_at_contact_point: load.at_contact_point,
        upper_arm: upper.forces([force(0), force(1)], on_upper).mapped(image),
        lower_arm: lower.forces([force(2), force(3)], on_lower).mapped(image),
        tie_rod_tension: force(4),
        tie_rod_on_upright: image(&(tie_rod * -force(4))),
        support_name,
        support: support.mapped(image),
    })
}

/// Notes a force that acts on one of the arms.
fn keep(on_arms: &mut [Vec<(Vector3<f64>, Point)>; 2], part: &str, force: Vector3<f64>, at: Point) {
    let [upper, lower] = on_arms;
    match part {
        "upper_arm" => upper.push((force, at)),
        "lower_arm" => lower.push((force, at)),
        _ => {}
    }
}
