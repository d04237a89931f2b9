//! Motion ratio.

use crate::numeric::real::{Moving, Real};

/// Motion ratio (-): damper travel over wheel travel, taken at the wheel centre, positive when bump compresses the
/// damper.
///
/// The trade also uses its inverse and its square; this is the ratio itself. It comes from the damper's length in
/// three dimensions, so the lean of the damper is already in it.
///
/// * `length`: distance between the mounts with its rate per wheel travel
pub fn motion_ratio<T: Real>(length: &Moving<T>) -> T {
    -length.eps
}
