//! The two fixed workloads, read from the independent reference cases in `tests/reference` (invented vehicles).

use super::axle::{Axle, MirroredPair};
use super::wishbone::Wishbone;
use nalgebra::Vector3;
use serde::Deserialize;
use std::collections::BTreeMap;

const WISHBONE: &str = include_str!("../../tests/reference/A_dw_s1_coilover_lower_arm.json");
const AXLE: &str = include_str!("../../tests/reference/B_axle_s1_triangulated_upper.json");

/// Positions of the wishbone sweep: -80 to +80 mm, 1 mm apart.
pub(crate) const WISHBONE_POSITIONS: usize = 161;
/// Spacing of the wishbone sweep (mm).
const TRAVEL_STEP: f64 = 1.0;
/// Spacing of the axle grid in heave (mm): 41 positions are -80 to +80 mm.
const HEAVE_STEP: f64 = 4.0;
/// Spacing of the axle grid in roll (mm, half the difference of the wheels): 21 positions are -50 to +50 mm.
const ROLL_STEP: f64 = 5.0;

/// A reference file of one case.
#[derive(Debug, Deserialize)]
struct Case<Geometry, Step> {
    geometry: Geometry,
    steps: Vec<Step>,
}

#[derive(Debug, Deserialize)]
struct WishboneGeometry {
    upper_front: [f64; 3],
    upper_rear: [f64; 3],
    upper_ball: [f64; 3],
    lower_front: [f64; 3],
    lower_rear: [f64; 3],
    lower_ball: [f64; 3],
    tie_inner: [f64; 3],
    tie_outer: [f64; 3],
    wheel_centre: [f64; 3],
    static_camber_deg: f64,
    static_toe_deg: f64,
    damper_body: [f64; 3],
    damper_moving: [f64; 3],
}

/// One position of the double-wishbone reference case; field names and units as in `tests/reference/README.md`.
#[derive(Debug, Deserialize)]
pub(crate) struct WishboneStep {
    pub(crate) travel: f64,
    pub(crate) wheel_centre: [f64; 3],
    pub(crate) upper_ball: [f64; 3],
    pub(crate) lower_ball: [f64; 3],
    pub(crate) tie_outer: [f64; 3],
    pub(crate) damper_moving: [f64; 3],
    pub(crate) camber_deg: f64,
    pub(crate) toe_deg: f64,
    pub(crate) caster_deg: f64,
    pub(crate) damper_length: f64,
    pub(crate) motion_ratio: f64,
    pub(crate) dcamber_dtravel_deg_per_mm: f64,
    pub(crate) dtoe_dtravel_deg_per_mm: f64,
    pub(crate) dcaster_dtravel_deg_per_mm: f64,
}

#[derive(Debug, Deserialize)]
struct AxleGeometry {
    wheel_centre_left: [f64; 3],
    links: BTreeMap<String, Ends>,
    dampers: BTreeMap<String, Ends>,
}

#[derive(Debug, Clone, Copy, Deserialize)]
struct Ends {
    body: [f64; 3],
    axle: [f64; 3],
}

/// One position of the live-axle reference case; field names and units as in `tests/reference/README.md`.
#[derive(Debug, Deserialize)]
#[allow(non_snake_case, reason = "the names of the reference file")]
pub(crate) struct AxleStep {
    pub(crate) zL: f64,
    pub(crate) zR: f64,
    pub(crate) origin_displacement: [f64; 3],
    pub(crate) R: [[f64; 3]; 3],
    pub(crate) roll_deg: f64,
    pub(crate) pinion_nose_up_deg: f64,
    pub(crate) damper_length_left: f64,
    pub(crate) damper_length_right: f64,
    pub(crate) dcomp_L_dzL: f64,
    pub(crate) dcomp_L_dzR: f64,
    pub(crate) dcomp_R_dzL: f64,
    pub(crate) dcomp_R_dzR: f64,
    pub(crate) dpinion_nose_up_dtravel_deg_per_mm: f64,
    pub(crate) roll_mode_angular_velocity_rad_per_mm: [f64; 3],
}

/// The corner of the sweep and its reference positions.
///
/// # Errors
/// The reference file cannot be read as such a case.
pub(crate) fn wishbone() -> Result<(Wishbone, Vec<WishboneStep>), String> {
    let case: Case<WishboneGeometry, WishboneStep> =
        serde_json::from_str(WISHBONE).map_err(|error| format!("double-wishbone reference file: {error}"))?;
    let given = case.geometry;
    let pickups = Wishbone {
        upper_front: Vector3::from(given.upper_front),
        upper_rear: Vector3::from(given.upper_rear),
        upper_ball: Vector3::from(given.upper_ball),
        lower_front: Vector3::from(given.lower_front),
        lower_rear: Vector3::from(given.lower_rear),
        lower_ball: Vector3::from(given.lower_ball),
        tie_inner: Vector3::from(given.tie_inner),
        tie_outer: Vector3::from(given.tie_outer),
        wheel_centre: Vector3::from(given.wheel_centre),
        camber: given.static_camber_deg.to_radians(),
        toe: given.static_toe_deg.to_radians(),
        damper_body: Vector3::from(given.damper_body),
        damper_mount: Vector3::from(given.damper_moving),
        travel_step: TRAVEL_STEP,
    };
    Ok((pickups, case.steps))
}

/// The axle of the grid and its reference positions.
///
/// # Errors
/// The reference file cannot be read as such a case, or its links are not mirrored pairs.
pub(crate) fn axle() -> Result<(Axle, Vec<AxleStep>), String> {
    let case: Case<AxleGeometry, AxleStep> =
        serde_json::from_str(AXLE).map_err(|error| format!("live-axle reference file: {error}"))?;
    let AxleGeometry {
        wheel_centre_left,
        links,
        dampers,
    } = case.geometry;
    let pickups = Axle {
        wheel_centre: wheel_centre_left,
        lower: mirrored(&links, "lower_left", "lower_right")?,
        upper: mirrored(&links, "upper_left", "upper_right")?,
        damper: mirrored(&dampers, "left", "right")?,
        heave_step: HEAVE_STEP,
        roll_step: ROLL_STEP,
    };
    Ok((pickups, case.steps))
}

fn mirrored(parts: &BTreeMap<String, Ends>, left: &str, right: &str) -> Result<MirroredPair, String> {
    let end = |name: &str| {
        parts
            .get(name)
            .copied()
            .ok_or_else(|| format!("the axle has no `{name}`"))
    };
    let (left_ends, right_ends) = (end(left)?, end(right)?);
    let mirror = |p: [f64; 3]| [p[0], -p[1], p[2]];
    if mirror(right_ends.body) != left_ends.body || mirror(right_ends.axle) != left_ends.axle {
        return Err(format!(
            "`{left}` and `{right}` do not mirror each other, which this baseline relies on"
        ));
    }
    Ok(MirroredPair {
        body: left_ends.body,
        axle: left_ends.axle,
    })
}
