//! Axes, signs and units: documentation only.
//!
//! # Axes
//! Vehicle axes of ISO 8855: X forward, Y left, Z up. A left corner has y > 0; the right one is its mirror.
//!
//! ```text
//!          Z up
//!          |   X forward (into the page, seen from behind)
//!          |  /
//!  Y left -+-/
//! ```
//!
//! # Units
//! Millimetres, newtons, kilograms, seconds and radians inside. Descriptions of pickups hold angles in degrees, since
//! that is how they are measured and written down.
//!
//! # Travel
//! Vertical movement of the wheel centre relative to the body, bump positive, zero at the pickups as measured. Where
//! the car sits, ride height, is an input of its own. Motion ratio and wheel rate are taken at the wheel centre.
//!
//! # Signs, as one sees them
//! | quantity | positive when |
//! | --- | --- |
//! | travel | the wheel moves up (bump) |
//! | camber | the top of the wheel leans outboard |
//! | toe | the front of the wheel points inboard |
//! | caster | the top of the steering axis leans rearward |
//! | kingpin inclination | the top of the steering axis leans inboard |
//! | scrub radius | the steering axis meets the ground inboard of the contact point |
//! | caster trail | the steering axis meets the ground ahead of the contact point |
//! | half-track change | the contact point has moved outboard |
//! | motion ratio | bump compresses the damper |
//! | rack displacement | the inner tie-rod joint moves to the left of the car |
//! | axle roll | the left wheel is up relative to the body |
//! | axle steer | the axle steers to the left |
//! | pinion angle | the nose of the pinion points up |
//! | anti-squat slope | the contact point, brake locked, moves rearward as it rises |
//! | spring and damper force | compression |
//! | axial force of a rod, link or arm leg | tension |
//!
//! # Definitions
//! * Contact point: the lowest point of the wheel disc of the given radius. Where a side-view slope needs a material
//!   point, it is the point of the carrier that is there now: the brake is locked.
//! * Roll centre of a pair: from the path of the geometric contact point, `y dy/dz`, above the ground under it.
//! * Roll centre of an axle: the height at which the axle, in pure roll, does not move sideways.
//! * Front-view instant centre: in the plane across the car at the x of the contact point; side-view: in the plane
//!   along the car at its y.
//! * Motion ratio: damper travel over wheel travel. Its inverse and its square are also in use in the trade.
//! * Wheel rate: `k m^2 + F dm/dz`; the second term is shown apart.
//!
//! # Symbols in the code
//! v, w: linear and angular rate of a carrier; J: the constraint Jacobian; d: along a rod, from body to carrier; r: from
//! the carrier's origin to a point of it; m: motion ratio; k: rate; F: force.
