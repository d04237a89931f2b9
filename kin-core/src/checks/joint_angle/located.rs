//! Which parts meet in a joint, found by the joint's name.

use crate::Error;
use crate::checks::moving_parts::{Anchor, Mover, Standing, Turning};
use crate::pickups::{Damper, PickupError, Point, Side, incomplete, known_part};
use crate::suspension::{Axle, Corner};
use nalgebra::Vector3;

/// What stands in a joint, in the frame that is solved in.
pub(super) enum Located {
    /// A pin or stud across a two-ended part: an eye, a rod end, a tie-rod end.
    Across {
        /// The part that the pin is fixed to.
        holder: Turning,
        /// Both ends of the two-ended part.
        ends: Box<[Anchor; 2]>,
    },
    /// A stud along a two-ended part, its socket on the holder.
    Along { holder: Turning, ends: Box<[Anchor; 2]> },
    /// A stud fixed to the upright in a socket on an arm.
    Arm {
        arm: Turning,
        upright: Turning,
        /// The line through both ball joints, from the lower to the upper one, as measured.
        steering_axis: Vector3<f64>,
    },
}

impl Located {
    /// The direction of a two-ended part.
    pub(super) fn direction(ends: &[Anchor; 2], standing: &Standing) -> Vector3<f64> {
        (standing.place(&ends[1]) - standing.place(&ends[0])).normalize()
    }
}

/// Finds a joint by its name.
pub(super) fn locate(mover: &Mover<'_>, joint: &str, axial: bool, field: &str) -> Result<Located, Error> {
    match mover {
        Mover::Corner(corner) => of_corner(mover, corner, joint, axial, field),
        Mover::Axle(axle) => of_axle(mover, axle, joint, axial, field),
    }
}

/// The names of the joints that are there.
pub(super) fn names(mover: &Mover<'_>) -> Vec<String> {
    let mounts = |damper: &str| ["upper_mount", "lower_mount"].map(|end| format!("{damper}.{end}"));
    match mover {
        Mover::Corner(corner) => {
            let pickups = corner.pickups();
            let joints = [
                "upper_arm.ball_joint",
                "lower_arm.ball_joint",
                "tie_rod.inner",
                "tie_rod.outer",
            ];
            let mut names: Vec<String> = joints.map(str::to_owned).into();
            names.extend(pickups.coilover.iter().flat_map(|_| mounts("coilover")));
            names.extend(pickups.damper.iter().flat_map(|_| mounts("damper")));
            names
        }
        Mover::Axle(axle) => {
            let pickups = axle.pickups();
            let ends = |name: &String| ["body", "axle"].map(|end| format!("links.{name}.{end}"));
            let mut names: Vec<String> = pickups.links.keys().flat_map(ends).collect();
            for (sides, name) in [(&pickups.coilovers, "coilovers"), (&pickups.dampers, "dampers")] {
                if sides.is_some() {
                    names.extend(
                        ["left", "right"]
                            .iter()
                            .flat_map(|side| mounts(&format!("{name}.{side}"))),
                    );
                }
            }
            names
        }
    }
}

fn known(mover: &Mover<'_>, joint: &str, field: &str) -> Result<(), PickupError> {
    let names = names(mover);
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    known_part(joint, field, &names)
}

fn of_corner(
    mover: &Mover<'_>,
    corner: &Corner,
    joint: &str,
    axial: bool,
    field: &str,
) -> Result<Located, Error> {
    known(mover, joint, field)?;
    let pickups = corner.pickups();
    let (upper, lower) = (pickups.upper_arm.ball_joint, pickups.lower_arm.ball_joint);
    let arm = |ball_joint: &Point, part: &str| -> Result<Located, Error> {
        if axial {
            let problem = "`axial` is for a joint on the end of a rod; an arm's ball joint has its own stud";
            return Err(incomplete(field, problem).into());
        }
        Ok(Located::Arm {
            arm: mover.turning(ball_joint, part, field)?,
            upright: mover.turning(ball_joint, "upright", field)?,
            steering_axis: (upper - lower).normalize(),
        })
    };
    let tie_rod = pickups.tie_rod;
    match joint {
        "upper_arm.ball_joint" => arm(&upper, "upper_arm"),
        "lower_arm.ball_joint" => arm(&lower, "lower_arm"),
        "tie_rod.inner" => two_ended(
            mover,
            (&tie_rod.inner, "rack"),
            (&tie_rod.outer, "upright"),
            true,
            axial,
            field,
        ),
        "tie_rod.outer" => two_ended(
            mover,
            (&tie_rod.inner, "rack"),
            (&tie_rod.outer, "upright"),
            false,
            axial,
            field,
        ),
        _ => match pickups.any_damper() {
            Some(damper) => of_damper(mover, damper, joint.ends_with("upper_mount"), axial, field),
            None => Err(incomplete(field, "there is no damper here").into()),
        },
    }
}

fn of_axle(mover: &Mover<'_>, axle: &Axle, joint: &str, axial: bool, field: &str) -> Result<Located, Error> {
    known(mover, joint, field)?;
    let pickups = axle.pickups();
    let link = joint
        .strip_prefix("links.")
        .and_then(|rest| rest.rsplit_once('.'));
    if let Some((name, end)) = link
        && let Some(link) = pickups.links.get(name)
    {
        let first = end == "body";
        return two_ended(
            mover,
            (&link.body, "body"),
            (&link.axle, "axle"),
            first,
            axial,
            field,
        );
    }
    let side = if joint.contains(".right.") {
        Side::Right
    } else {
        Side::Left
    };
    let damper = pickups.any_dampers().and_then(|sides| match side {
        Side::Left => Some(&sides.left),
        Side::Right => sides.right.as_ref(),
    });
    match damper {
        Some(damper) => of_damper(mover, damper, joint.ends_with("upper_mount"), axial, field),
        None => Err(incomplete(field, "there is no damper here").into()),
    }
}

fn of_damper(
    mover: &Mover<'_>,
    damper: &Damper,
    upper: bool,
    axial: bool,
    field: &str,
) -> Result<Located, Error> {
    let ends = (
        (&damper.upper_mount, "body"),
        (&damper.lower_mount, damper.rides_on.as_str()),
    );
    two_ended(mover, ends.0, ends.1, upper, axial, field)
}

fn two_ended(
    mover: &Mover<'_>,
    first: (&Point, &str),
    second: (&Point, &str),
    joint_at_first: bool,
    axial: bool,
    field: &str,
) -> Result<Located, Error> {
    let ends = Box::new([
        mover.anchor(first.0, first.1, field)?,
        mover.anchor(second.0, second.1, field)?,
    ]);
    let (point, part) = if joint_at_first { first } else { second };
    let holder = mover.turning(point, part, field)?;
    Ok(if axial {
        Located::Along { holder, ends }
    } else {
        Located::Across { holder, ends }
    })
}
