//! The balance of forces and moments on a carrier.

use crate::Error;
use crate::linkage::LEVER_MM;
use crate::pickups::Point;
use nalgebra::{DMatrix, DVector, Matrix6, Vector3, Vector6};

/// Standard acceleration of free fall (m/s^2), ISO 80000-3.
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// What the spring, or the coilover, does to the parts between which it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SupportForces {
    /// Force along it (N), compression positive.
    pub compression: f64,
    /// Where its upper mount is (mm).
    pub upper_mount: Point,
    /// Where its lower mount is (mm).
    pub lower_mount: Point,
    /// Force on the body at its upper mount, in vehicle axes (N).
    pub force_on_body: Vector3<f64>,
    /// Force on the moving part at its lower mount, in vehicle axes (N).
    pub force_on_moving_part: Vector3<f64>,
}

impl SupportForces {
    pub(super) fn new(compression: f64, (upper, lower): (Point, Point)) -> Self {
        let pushed = (lower - upper).normalize() * compression;
        Self {
            compression,
            upper_mount: upper,
            lower_mount: lower,
            force_on_body: -pushed,
            force_on_moving_part: pushed,
        }
    }

    pub(super) fn mapped(&self, image: impl Fn(&Vector3<f64>) -> Vector3<f64>) -> Self {
        Self {
            compression: self.compression,
            upper_mount: image(&self.upper_mount),
            lower_mount: image(&self.lower_mount),
            force_on_body: image(&self.force_on_body),
            force_on_moving_part: image(&self.force_on_moving_part),
        }
    }
}

/// A force at a point as six numbers: the force (N), and its moment about the carrier's origin over a lever (N).
pub(super) fn wrench(force: &Vector3<f64>, at: &Point, origin: &Point) -> Vector6<f64> {
    let moment = (at - origin).cross(force) / LEVER_MM;
    Vector6::new(force.x, force.y, force.z, moment.x, moment.y, moment.z)
}

/// A rod or a coilover as the balance sees it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Member {
    /// What a unit force of it does to the carrier.
    pub(super) wrench: Vector6<f64>,
    /// Axial stiffness (N/mm); a member without one is rigid beside those that have one.
    pub(super) stiffness: Option<f64>,
    /// Its force in the given position before any load (N): a link stretched by roll bind.
    pub(super) at_rest: f64,
}

/// A balance whose matrix is this close to singular is not determined by the geometry: with a share of one part in ten
/// million, a millimetre of measuring error would change forces without limit.
const SINGULAR: f64 = 1e-7;

/// The force of every member (N), given the sum of all other wrenches on the carrier.
///
/// Six members are determined by the balance alone. With more, the carrier shifts by a small displacement that
/// stretches the elastic members and leaves the rigid ones as long as they are:
/// `f = f0 - k w . shift`, `sum of f w + loads = 0`, `w . shift = 0` for the rigid ones.
pub(super) fn member_forces(members: &[Member], loads: &Vector6<f64>) -> Result<Vec<f64>, Error> {
    if let Ok(columns) = <[Vector6<f64>; 6]>::try_from(
        members
            .iter()
            .map(|member| member.wrench)
            .collect::<Vec<_>>()
            .as_slice(),
    ) {
        let matrix = Matrix6::from_columns(&columns);
        held(matrix.singular_values().as_slice())?;
        let forces = matrix.lu().solve(&-loads).ok_or_else(undetermined)?;
        return Ok(forces.iter().copied().collect());
    }
    let rigid: Vec<&Member> = members
        .iter()
        .filter(|member| member.stiffness.is_none())
        .collect();
    let size = 6 + rigid.len();
    let mut matrix = DMatrix::<f64>::zeros(size, size);
    let mut side = DVector::<f64>::zeros(size);
    // In units of the stiffest member, so that the matrix is well scaled.
    let unit = members
        .iter()
        .filter_map(|member| member.stiffness)
        .fold(0.0, f64::max);
    if unit <= 0.0 {
        return Err(undetermined());
    }
    side.rows_mut(0, 6).copy_from(&-loads);
    for member in members {
        if let Some(stiffness) = member.stiffness {
            let share = member.wrench * member.wrench.transpose() * (stiffness / unit);
            let mut block = matrix.view_mut((0, 0), (6, 6));
            block -= share;
            let mut balance = side.rows_mut(0, 6);
            balance -= member.wrench * member.at_rest;
        }
    }
    for (place, member) in rigid.iter().enumerate() {
        matrix.view_mut((0, 6 + place), (6, 1)).copy_from(&member.wrench);
        matrix
            .view_mut((6 + place, 0), (1, 6))
            .copy_from(&member.wrench.transpose());
    }
    held(matrix.singular_values().as_slice())?;
    let solution = matrix.lu().solve(&side).ok_or_else(undetermined)?;
    let shift = Vector6::from_iterator(solution.iter().copied());
    let mut rigid_forces = solution.iter().skip(6);
    members
        .iter()
        .map(|member| match member.stiffness {
            Some(stiffness) => Ok(member.at_rest - stiffness / unit * member.wrench.dot(&shift)),
            None => rigid_forces.next().copied().ok_or_else(undetermined),
        })
        .collect()
}

fn held(singular_values: &[f64]) -> Result<(), Error> {
    let strongest = singular_values.iter().copied().fold(0.0, f64::max);
    let weakest = singular_values.iter().copied().fold(f64::INFINITY, f64::min);
    if weakest > SINGULAR * strongest && strongest.is_finite() {
        Ok(())
    } else {
        Err(undetermined())
    }
}

fn undetermined() -> Error {
    Error::NotForThisLayout {
        question: "static loads".to_owned(),
        reason: "here the spring or coilover does not move with the wheel, or the linkage is at its dead point, so \
                 that no finite force of it can hold the load; check its mounts, or ask at another travel"
            .into(),
    }
}
