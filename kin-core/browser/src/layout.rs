//! Where each number stands in the shared list.
//!
//! The page's script holds the same two lists by name; a test in a browser compares every one of these numbers with those of
//! a native build.

/// Numbers that the shared list holds.
pub const CAPACITY: usize = 64;

/// The description, in this order: points with x, y, z, then single numbers.
///
/// `upper_arm` front pivot, rear pivot, ball joint; `lower_arm` the same; `tie_rod` inner, outer; wheel centre; tyre radius, camber,
/// toe; damper upper mount, lower mount; its carrier (0 lower arm, 1 upper arm, 2 upright), extended, compressed and bump-stop
/// length; spring rate, free length, upper and lower seat; spring upper mount, lower mount and carrier.
///
/// NaN as extended length: no damper. NaN as rate: no spring. NaN as x of the spring's upper mount: it sits on the damper.
pub const DESCRIPTION: usize = 9 * 3 + 3 + 2 * 3 + 4 + 4 + 2 * 3 + 1;

/// The answer, in this order: points with x, y, z, then single numbers.
///
/// Upper ball joint, lower ball joint, tie-rod inner, outer, wheel centre, contact point, spin axis (a direction, outboard),
/// damper upper and lower mount, spring upper and lower mount; travel, camber, toe, caster, roll centre above ground, damper
/// length, motion ratio, distance between the spring's mounts, motion ratio of the spring, wheel rate from the spring, geometric
/// wheel rate, spring force.
pub const ANSWER: usize = 11 * 3 + 12;

const _: () = assert!(DESCRIPTION <= CAPACITY && ANSWER <= CAPACITY);
