//! Where each number stands in the shared list.
//!
//! The page's scripts hold the same orders by name, `moving/corner.js` and `moving/axle.js`; tests in a browser compare
//! every one of these numbers with those of a native build. Points are x, y, z.

/// Numbers of a damper: upper mount, lower mount; its carrier, extended, compressed and bump-stop length between the mounts.
///
/// NaN as extended length: no damper. Carriers of a corner: 0 lower arm, 1 upper arm, 2 upright. Of an axle: the place of a link, from
/// 0, or -1 for the axle itself.
pub const DAMPER: usize = 2 * 3 + 4;

/// Numbers of a spring: rate, free length, upper and lower seat; upper mount, lower mount and carrier.
///
/// NaN as rate: no spring. NaN as x of the upper mount: it sits on the damper.
pub const SPRING: usize = 4 + 2 * 3 + 1;

/// A corner: `upper_arm` front pivot, rear pivot, ball joint; `lower_arm` the same; `tie_rod` inner, outer; wheel centre; tyre
/// radius, camber, toe (deg); damper; spring.
pub const CORNER: usize = 9 * 3 + 3 + DAMPER + SPRING;

/// What is known of a corner at a position. Points: upper ball joint, lower ball joint, tie-rod inner, outer, wheel centre, contact
/// point, spin axis (a direction, outboard), damper upper and lower mount, spring upper and lower mount. Then: travel, camber,
/// toe, caster, roll centre above ground, damper length, motion ratio, distance between the spring's mounts, motion ratio of the
/// spring, wheel rate from the spring, geometric wheel rate, spring force, front-view instant centre outboard of the middle
/// and above ground.
pub const CORNER_ANSWER: usize = 11 * 3 + 14;

/// What an axle begins with: left and right wheel centre; tyre radius; pinion, its angle (deg, nose up; NaN: no pinion); left damper,
/// right damper; left spring, right spring.
pub const AXLE: usize = 2 * 3 + 1 + 3 + 1 + 2 * DAMPER + 2 * SPRING;

/// Each link after that: joint on the body, joint on the axle, stiffness (NaN: as the others), bytes of its name. The names
/// themselves stand in the shared words, one behind the other.
pub const LINK: usize = 2 * 3 + 2;

/// What is known of an axle at a position. Points: left and right wheel centre, left and right contact point, spin axis (a
/// direction, to the left), pinion, left damper upper and lower mount, right damper, left spring, right spring. Then: left and right
/// travel and the curves of [`AXLE_CURVES`](crate::axle_answer::AXLE_CURVES); then, of the left and of the right spring with both
/// wheels moving together, distance between its mounts, force, and force at the wheel.
pub const AXLE_ANSWER: usize = 14 * 3 + 2 + 19 + 2 * 3;

/// Each link after that: joint on the body, joint on the axle, and how much longer it is than it was measured.
pub const LINK_ANSWER: usize = 2 * 3 + 1;

/// The units that refusals are told in: core units in one unit of length, its decimals, bytes of its symbol; the same of rates. The
/// symbols themselves stand in the shared words, one behind the other.
pub const UNITS: usize = 2 * 3;
