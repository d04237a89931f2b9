//! How an exactly held carrier answers: the Newton step and the twists along its drives, from one factorisation.
//!
//! A drive's row of the constraint Jacobian is nearly empty: a height says `v_z` at once, and the line through both
//! wheel centres of an axle says `w_x` in terms of `w_y`. With these put into the rods' rows, one equation for each rod
//! is left: five for a corner, four for an axle.

use super::{Command, Drive, Linkage, Rod};
use crate::numeric::elimination::eliminate;
use crate::pose::{Pose, Twist};
use nalgebra::Vector3;

/// What one factorisation at a pose gives.
pub(crate) struct Response {
    /// The Newton step.
    pub(crate) step: Twist,
    /// Whether the determinant is positive: it tells the assembly.
    pub(crate) positive: bool,
}

/// The rods of a carrier coordinate by coordinate, so that one operation serves two rods at once on any processor.
#[derive(Debug, Clone)]
pub(crate) struct Bars<const LANES: usize> {
    /// See [`Rod::carrier`].
    carrier: [[f64; LANES]; 3],
    /// See [`Rod::span`].
    span: [[f64; LANES]; 3],
    /// See [`Rod::rack`].
    rack: [f64; LANES],
}

/// One rod in place, as an equation is made of it.
struct Bar {
    /// From the body joint to the carrier joint.
    span: Vector3<f64>,
    /// Its moment about the carrier's origin.
    moment: Vector3<f64>,
    /// Half of what the squared length lacks.
    miss: f64,
    /// See [`Rod::rack`].
    rack: f64,
}

impl<const LANES: usize> Bars<LANES> {
    /// The first rods; what is left over is filled with rods of no length.
    pub(crate) fn of(rods: &[Rod]) -> Self {
        let coordinates = |part: fn(&Rod) -> Vector3<f64>| {
            [0, 1, 2]
                .map(|axis| std::array::from_fn(|lane| rods.get(lane).map_or(0.0, |rod| part(rod)[axis])))
        };
        Self {
            carrier: coordinates(|rod| rod.carrier),
            span: coordinates(|rod| rod.span),
            rack: std::array::from_fn(|lane| rods.get(lane).map_or(0.0, |rod| rod.rack)),
        }
    }

    /// Places the rods and writes an equation for each: coefficients and right-hand sides.
    #[inline(always)]
    fn equations<const WIDTH: usize>(
        &self,
        pose: &Pose,
        rack: f64,
        equation: impl Fn(&Bar) -> [f64; WIDTH],
    ) -> [[f64; LANES]; WIDTH] {
        let mut columns = [[0.0; LANES]; WIDTH];
        for lane in 0..LANES {
            let at =
                |points: &[[f64; LANES]; 3]| Vector3::new(points[0][lane], points[1][lane], points[2][lane]);
            let (carrier, as_measured) = (at(&self.carrier), at(&self.span));
            // As in `Rod::place`.
            let turned = pose.turn * carrier;
            let mut shift = pose.displacement + turned;
            shift.y -= self.rack[lane] * rack;
            let span = as_measured + shift;
            let bar = Bar {
                moment: (carrier + turned).cross(&span),
                miss: -0.5 * shift.dot(&(as_measured + span)),
                span,
                rack: self.rack[lane],
            };
            for (column, value) in columns.iter_mut().zip(equation(&bar)) {
                column[lane] = value;
            }
        }
        columns
    }
}

/// The rods of an exactly held carrier.
#[derive(Debug, Clone)]
pub(crate) enum Held {
    /// Five rods, and a sixth of no length that makes pairs.
    Corner(Bars<6>),
    /// Four rods, and the left wheel centre seen from the middle.
    Axle(Bars<4>, Vector3<f64>),
}

impl Linkage {
    /// Step and twists at a pose whose origin is at the commanded height; none where the constraints are singular.
    ///
    /// * `drive`: the drive that a corner's twist is asked for; an axle answers to both of its drives
    /// * `twists`: receives the twists, see [`Solved::twists`](crate::pose::Solved::twists)
    #[inline]
    pub(crate) fn respond(
        &self,
        pose: &Pose,
        command: &Command,
        drive: Drive,
        twists: &mut [Twist; 2],
    ) -> Option<Response> {
        match (&self.held, drive) {
            (Held::Axle(bars, half_axle), _) => axle_response(bars, half_axle, pose, command[1], twists),
            (Held::Corner(bars), Drive::Rack) => corner_response(
                bars,
                pose,
                command[2],
                0.0,
                |bar| bar.rack * bar.span.y,
                &mut twists[0],
            ),
            (Held::Corner(bars), _) => {
                corner_response(bars, pose, command[2], 1.0, |bar| -bar.span.z, &mut twists[0])
            }
        }
    }
}

/// Unknowns `v_x, v_y, w_y, w_z, w_x`; answers to the misses, and to a drive that raises the carrier by `height` and
/// takes `relief` from each rod.
// Always in line, so that neither the pose nor the step goes through memory on the way from one position to the next.
#[inline(always)]
fn corner_response(
    bars: &Bars<6>,
    pose: &Pose,
    rack: f64,
    height: f64,
    relief: impl Fn(&Bar) -> f64,
    along: &mut Twist,
) -> Option<Response> {
    let mut columns = bars.equations(pose, rack, |bar| {
        let (span, moment) = (&bar.span, &bar.moment);
        [
            span.x,
            span.y,
            moment.y,
            moment.z,
            moment.x,
            bar.miss,
            relief(bar),
        ]
    });
    let determinant = eliminate::<5, 6, 7>(&mut columns)?;
    let twist = |[vx, vy, wy, wz, wx, _]: [f64; 6], height: f64| Twist {
        linear: Vector3::new(vx, vy, height),
        angular: Vector3::new(wx, wy, wz),
    };
    *along = twist(columns[6], height);
    Some(Response {
        step: twist(columns[5], 0.0),
        positive: determinant > 0.0,
    })
}

/// Unknowns `v_x, v_y, w_y, w_z`; answers to the misses, to heave and to roll.
#[inline(always)]
fn axle_response(
    bars: &Bars<4>,
    half_axle: &Vector3<f64>,
    pose: &Pose,
    half_difference: f64,
    twists: &mut [Twist; 2],
) -> Option<Response> {
    let turned = pose.turn * half_axle;
    let arm = half_axle + turned;
    // The left wheel rises over the middle at the rate w_x y - w_y x.
    let per_rise = 1.0 / arm.y;
    let slope = arm.x * per_rise;
    let tilt = (half_difference - turned.z) * per_rise;
    let mut columns = bars.equations(pose, 0.0, |bar| {
        let (span, moment) = (&bar.span, &bar.moment);
        [
            span.x,
            span.y,
            moment.y + moment.x * slope,
            moment.z,
            bar.miss - moment.x * tilt,
            -span.z,
            -moment.x * per_rise,
        ]
    });
    let determinant = eliminate::<4, 4, 7>(&mut columns)?;
    let twist = |[vx, vy, wy, wz]: [f64; 4], height: f64, tilt: f64| Twist {
        linear: Vector3::new(vx, vy, height),
        angular: Vector3::new(tilt + wy * slope, wy, wz),
    };
    *twists = [twist(columns[5], 1.0, 0.0), twist(columns[6], 0.0, per_rise)];
    Some(Response {
        step: twist(columns[4], 0.0, tilt),
        positive: determinant > 0.0,
    })
}

#[cfg(test)]
mod tests {
    use crate::pose::Motion;
    use crate::samples::{wagon_front, wagon_rear};
    use crate::{Axle, AxleTravel, Corner};

    /// The full 6 x 6 constraint Jacobian, factored at the same pose, gives the same twists.
    #[test]
    fn twists_are_those_of_the_full_jacobian() {
        let corner = Corner::new(&wagon_front()).expect("a corner");
        let position = corner.at(-37.0, 5.0).expect("within reach");
        let motion = Motion::new(&corner.linkage, &position.solved).expect("regular");
        let twist = motion.twist(&[1.0, 0.0, 0.0]);
        assert!((position.solved.twists[0].linear - twist.linear).amax() < 1e-10);
        assert!((position.solved.twists[0].angular - twist.angular).amax() < 1e-12);

        let axle = Axle::new(&wagon_rear()).expect("an axle");
        let travel = AxleTravel::from_heave(20.0, -30.0);
        let position = axle.at(travel).expect("within reach");
        let motion = Motion::new(&axle.linkage, &position.solved).expect("regular");
        for (found, direction) in position
            .solved
            .twists
            .iter()
            .zip([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
        {
            let twist = motion.twist(&direction);
            assert!((found.linear - twist.linear).amax() < 1e-10);
            assert!((found.angular - twist.angular).amax() < 1e-12);
        }
    }
}
