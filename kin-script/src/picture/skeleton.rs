//! The parts of a suspension at one position, in space.

use kin_core::nalgebra::Vector3;
use kin_core::pickups::{Point, Spring};
use kin_core::{AxlePosition, CornerPosition};

/// What a part is drawn as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum PartKind {
    Link,
    Arm,
    Upright,
    TieRod,
    AxleTube,
    Damper,
    Spring,
}

/// A straight part between two places.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub(super) kind: PartKind,
    pub(super) from: Point,
    pub(super) to: Point,
    /// Name of a link, empty for other parts and for links on the right of the same name.
    pub(super) name: String,
}

/// A wheel in space.
#[derive(Debug, Clone)]
pub(super) struct WheelInSpace {
    pub(super) centre: Point,
    pub(super) spin_axis: Vector3<f64>,
    pub(super) radius: f64,
}

/// All parts at one position.
#[derive(Debug, Clone)]
pub(super) struct Skeleton {
    pub(super) parts: Vec<Part>,
    /// Joints by name. Those on the right of an axle have none: the names on the left are enough to read.
    pub(super) joints: Vec<(String, Point)>,
    pub(super) wheels: Vec<WheelInSpace>,
    pub(super) contacts: Vec<Point>,
    /// Both ends of each damper, upper first.
    pub(super) dampers: Vec<(Point, Point)>,
}

pub(super) fn of_corner(position: &CornerPosition<'_>) -> Skeleton {
    let corner = position.corner();
    let own = corner.pickups();
    let own = if corner.side() == kin_core::pickups::Side::Left {
        own.clone()
    } else {
        own.mirrored()
    };
    let (upper, lower) = (position.upper_ball_joint(), position.lower_ball_joint());
    let outer = position.tie_rod_outer();
    let inner = position.tie_rod_inner();
    let part = |kind, from, to| Part {
        kind,
        from,
        to,
        name: String::new(),
    };
    let mut parts = vec![
        part(PartKind::Upright, lower, upper),
        part(PartKind::Arm, own.upper_arm.front_pivot, upper),
        part(PartKind::Arm, own.upper_arm.rear_pivot, upper),
        part(PartKind::Arm, own.lower_arm.front_pivot, lower),
        part(PartKind::Arm, own.lower_arm.rear_pivot, lower),
        part(PartKind::TieRod, inner, outer),
    ];
    let joints = vec![
        ("upper ball joint".to_owned(), upper),
        ("lower ball joint".to_owned(), lower),
        ("upper front pivot".to_owned(), own.upper_arm.front_pivot),
        ("upper rear pivot".to_owned(), own.upper_arm.rear_pivot),
        ("lower front pivot".to_owned(), own.lower_arm.front_pivot),
        ("lower rear pivot".to_owned(), own.lower_arm.rear_pivot),
        ("tie rod inner".to_owned(), inner),
        ("tie rod outer".to_owned(), outer),
    ];
    let mut skeleton = Skeleton {
        parts: Vec::new(),
        joints,
        wheels: vec![WheelInSpace {
            centre: position.wheel_centre(),
            spin_axis: position.spin_axis(),
            radius: own.wheel.tyre_radius,
        }],
        contacts: vec![position.contact_point()],
        dampers: Vec::new(),
    };
    mount(&mut parts, &mut skeleton, position.damper_ends(), "");
    spring(&mut parts, position.spring_ends(), own.spring.as_ref());
    skeleton.parts = parts;
    skeleton
}

pub(super) fn of_axle(position: &AxlePosition<'_>) -> Skeleton {
    let axle = position.axle();
    let (left, right) = position.wheel_centres();
    let mut parts = vec![Part {
        kind: PartKind::AxleTube,
        from: right,
        to: left,
        name: String::new(),
    }];
    let mut joints = Vec::new();
    for (name, (body, end)) in position.links() {
        let plain = name.strip_suffix("_left").unwrap_or(&name).replace('_', " ");
        let is_right = name.ends_with("_right");
        parts.push(Part {
            kind: PartKind::Link,
            from: body,
            to: end,
            name: if is_right {
                String::new()
            } else {
                link_name(&plain)
            },
        });
        if is_right {
            joints.push((String::new(), body));
            joints.push((String::new(), end));
        } else {
            joints.push((format!("{plain}, body"), body));
            joints.push((format!("{plain}, axle"), end));
        }
    }
    let spin = position.pose().rotation() * Vector3::y();
    let wheel = |centre, spin_axis| WheelInSpace {
        centre,
        spin_axis,
        radius: axle.pickups().wheels.tyre_radius,
    };
    let (contact_left, contact_right) = position.contact_points();
    let mut skeleton = Skeleton {
        parts: Vec::new(),
        joints,
        wheels: vec![wheel(left, spin), wheel(right, -spin)],
        contacts: vec![contact_left, contact_right],
        dampers: Vec::new(),
    };
    if let Some([first, second]) = position.damper_ends() {
        mount(&mut parts, &mut skeleton, Some(first), "left ");
        mount(&mut parts, &mut skeleton, Some(second), "");
    }
    if let (Some([first, second]), Some(springs)) = (position.spring_ends(), &axle.pickups().springs) {
        spring(&mut parts, Some(first), Some(&springs.left));
        spring(&mut parts, Some(second), springs.right.as_ref());
    }
    skeleton.parts = parts;
    skeleton
}

/// `upper` alone says too little on a drawing; `panhard rod` does not.
fn link_name(plain: &str) -> String {
    let says_what = ["link", "rod", "bar", "arm"]
        .iter()
        .any(|word| plain.contains(word));
    if says_what {
        plain.to_owned()
    } else {
        format!("{plain} link")
    }
}

fn mount(parts: &mut Vec<Part>, skeleton: &mut Skeleton, ends: Option<(Point, Point)>, side: &str) {
    let Some((upper, lower)) = ends else { return };
    parts.push(Part {
        kind: PartKind::Damper,
        from: lower,
        to: upper,
        name: String::new(),
    });
    let named = skeleton.dampers.is_empty();
    for (end, place) in [("upper", upper), ("lower", lower)] {
        let name = if named {
            format!("{side}damper, {end} mount")
        } else {
            String::new()
        };
        skeleton.joints.push((name, place));
    }
    skeleton.dampers.push((upper, lower));
}

/// A spring reaches from seat to seat on the line between its mounts.
fn spring(parts: &mut Vec<Part>, ends: Option<(Point, Point)>, described: Option<&Spring>) {
    let (Some((upper, lower)), Some(spring)) = (ends, described) else {
        return;
    };
    let span = upper - lower;
    let along = span / span.norm();
    if spring.upper_seat + spring.lower_seat < span.norm() {
        parts.push(Part {
            kind: PartKind::Spring,
            from: lower + along * spring.lower_seat,
            to: upper - along * spring.upper_seat,
            name: String::new(),
        });
    }
}
