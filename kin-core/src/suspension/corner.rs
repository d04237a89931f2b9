//! A double-wishbone corner and its positions.

use super::{CornerGeometry, CornerNumbers, Mounted};
use crate::Error;
use crate::linkage::{Command, Drive, Linkage};
use crate::numeric::real::{Moving, Over, Real, value};
use crate::pickups::{DoubleWishbone, Point, Side, mirrored};
use crate::pose::{
    CarrierMotion, Motion, Pose, PoseError, Reach, Solved, Track, first_rates, reach, second_rates,
};
use nalgebra::Vector3;
use num_dual::Dual64;
use std::sync::OnceLock;

/// Travel of the wheel centre as a direction of the command.
pub(crate) const TRAVEL: Command = Drive::Heave.direction();
/// Displacement of the rack as a direction of the command.
pub(crate) const RACK: Command = Drive::Rack.direction();

/// The motion along which a rate is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// Per mm of wheel travel.
    Travel,
    /// Per mm of rack displacement (+Y).
    Rack,
}

/// A corner ready to be moved.
///
/// A right corner is solved as its mirror image: curves come out the same, and points come back on the right side.
#[derive(Debug, Clone)]
pub struct Corner {
    pub(crate) pickups: DoubleWishbone,
    pub(crate) side: Side,
    pub(crate) linkage: Linkage,
    pub(crate) geometry: CornerGeometry,
    pub(crate) straps: Vec<Mounted>,
    /// Found once, when it is first asked for.
    reach: OnceLock<Reach>,
    /// Travels that can be searched, found once as well.
    pub(super) searchable: OnceLock<(f64, f64)>,
}

impl Corner {
    /// Validates the pickups and freezes the linkage.
    ///
    /// # Errors
    /// Pickups that cannot be right, or that do not hold the upright.
    pub fn new(pickups: &DoubleWishbone) -> Result<Self, Error> {
        pickups.validate()?;
        let side = pickups.side;
        let pickups = if side == Side::Left {
            pickups.clone()
        } else {
            pickups.mirrored()
        };
        let linkage = Linkage::of_corner(&pickups)?;
        let geometry = CornerGeometry::new(&CornerNumbers::of(&pickups), pickups.spring.is_some());
        let arms = (&pickups.upper_arm, &pickups.lower_arm);
        let straps = pickups.stops.straps.iter();
        let straps = straps
            .map(|part| Mounted::on_corner(arms, &part.upper_mount, &part.lower_mount, &part.rides_on))
            .collect();
        Ok(Self {
            side,
            geometry,
            straps,
            reach: OnceLock::new(),
            searchable: OnceLock::new(),
            linkage,
            pickups,
        })
    }

    /// The description that the corner was built from, as a left corner.
    #[must_use]
    pub fn pickups(&self) -> &DoubleWishbone {
        &self.pickups
    }

    /// The side of the car that the corner is on.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }

    /// Where the linkage itself ends in bump and droop (mm of travel from the pickups as measured), rack straight
    /// ahead. Stops and damper are not considered.
    #[must_use]
    pub fn reach(&self) -> Reach {
        *self
            .reach
            .get_or_init(|| reach(&self.linkage, &self.linkage.as_measured, &TRAVEL))
    }

    /// The position at one travel and rack displacement (mm).
    ///
    /// # Errors
    /// [`PoseError`] when the position is out of reach.
    pub fn at(&self, travel: f64, rack: f64) -> Result<CornerPosition<'_>, PoseError> {
        let mut position = self.steered(rack)?;
        self.in_travel(&position)
            .advance_to(travel, &mut position.solved)?;
        Ok(position)
    }

    /// The position at travel 0 with the rack displaced.
    pub(super) fn steered(&self, rack: f64) -> Result<CornerPosition<'_>, PoseError> {
        let mut solved = self.linkage.as_measured;
        if rack != 0.0 {
            // A right corner is solved mirrored, where the rack moves the other way.
            let rack = if self.side == Side::Left { rack } else { -rack };
            let moved = "rack displacement";
            solved = solved.along(&self.linkage, Drive::Rack, moved)?;
            Track::new(&self.linkage, &solved, Drive::Rack, moved).advance_to(rack, &mut solved)?;
            solved = solved.along(&self.linkage, Drive::Heave, "wheel travel")?;
        }
        Ok(CornerPosition { corner: self, solved })
    }

    /// A walk in travel from a position at travel 0.
    pub(super) fn in_travel(&self, start: &CornerPosition<'_>) -> Track<'_> {
        Track::new(&self.linkage, &start.solved, Drive::Heave, "wheel travel")
    }
}

/// A corner at one travel and rack displacement.
#[derive(Debug, Clone, Copy)]
pub struct CornerPosition<'a> {
    pub(crate) corner: &'a Corner,
    pub(crate) solved: Solved,
}

impl AsMut<Solved> for CornerPosition<'_> {
    fn as_mut(&mut self) -> &mut Solved {
        &mut self.solved
    }
}

impl<'a> CornerPosition<'a> {
    /// The corner that stands here.
    #[must_use]
    pub fn corner(&self) -> &'a Corner {
        self.corner
    }

    /// Wheel travel from the pickups as measured (mm), bump positive.
    #[must_use]
    pub fn travel(&self) -> f64 {
        self.solved.command[0]
    }

    /// Rack displacement (mm), +Y positive.
    #[must_use]
    pub fn rack(&self) -> f64 {
        if self.corner.side == Side::Left {
            self.solved.command[2]
        } else {
            -self.solved.command[2]
        }
    }

    /// Displacement and rotation of the upright (of the mirror image, for a right corner).
    #[must_use]
    pub fn pose(&self) -> &Pose {
        &self.solved.pose
    }

    /// How often the constraints were factored to come here from the position before: what the solver did.
    #[must_use]
    pub fn factorisations(&self) -> u32 {
        self.solved.factorisations
    }

    /// The largest error of a rod's length here (mm): what the solver left over.
    #[must_use]
    pub fn rod_residual(&self) -> f64 {
        let rods = self.corner.linkage.rods.iter();
        let stretch = rods.map(|rod| {
            rod.stretch(&rod.place(&self.solved.pose, self.solved.command[2]))
                .abs()
        });
        stretch.fold(0.0, f64::max)
    }

    /// The corner in motion along travel, with first rates found at this very pose.
    pub(crate) fn state(&self) -> CornerState<'a, f64> {
        self.moving(&self.solved.with_exact_twists(&self.corner.linkage))
    }

    /// The same with the rates that came with the solution: as good to 1e-11 of themselves, and free.
    #[inline]
    pub(crate) fn state_as_solved(&self) -> CornerState<'a, f64> {
        self.moving(&self.solved)
    }

    #[inline]
    fn moving(&self, solved: &Solved) -> CornerState<'a, f64> {
        let twist = solved.twist(Drive::Heave);
        CornerState {
            geometry: &self.corner.geometry,
            carrier: first_rates(&self.corner.linkage.origin, &solved.pose, twist),
        }
    }

    /// The corner in motion along travel, with all rates along a second motion as well.
    ///
    /// None at the very limit of reach, where rates are infinite.
    pub(crate) fn state_along(&self, along: Along) -> Option<CornerState<'a, Dual64>> {
        let linkage = &self.corner.linkage;
        let motion = Motion::new(linkage, &self.solved)?;
        let second = match (along, self.corner.side) {
            (Along::Travel, _) => TRAVEL,
            (Along::Rack, Side::Left) => RACK,
            (Along::Rack, Side::Right) => [0.0, 0.0, -1.0],
        };
        let carrier = second_rates(&linkage.origin, &motion, &self.solved, &TRAVEL, &second);
        Some(CornerState {
            geometry: &self.corner.geometry,
            carrier,
        })
    }

    #[inline]
    pub(crate) fn on_side(&self, point: Vector3<f64>) -> Point {
        if self.corner.side == Side::Left {
            point
        } else {
            mirrored(&point)
        }
    }

    /// Centre of the upper ball joint (mm).
    #[must_use]
    pub fn upper_ball_joint(&self) -> Point {
        self.on_side(value(&self.state().upper_ball_joint()))
    }

    /// Centre of the lower ball joint (mm).
    #[must_use]
    pub fn lower_ball_joint(&self) -> Point {
        self.on_side(value(&self.state().lower_ball_joint()))
    }

    /// Outer joint of the tie rod (mm).
    #[must_use]
    pub fn tie_rod_outer(&self) -> Point {
        self.on_side(value(&self.state().tie_rod_outer()))
    }

    /// Inner joint of the tie rod, moved by the rack (mm).
    #[must_use]
    pub fn tie_rod_inner(&self) -> Point {
        let inner = self.corner.pickups.tie_rod.inner + Vector3::new(0.0, self.solved.command[2], 0.0);
        self.on_side(inner)
    }

    /// Wheel centre (mm).
    #[must_use]
    pub fn wheel_centre(&self) -> Point {
        self.on_side(value(&self.state().wheel_centre()))
    }

    /// Unit vector along the spin axis, pointing outboard.
    #[must_use]
    pub fn spin_axis(&self) -> Vector3<f64> {
        self.on_side(value(&self.state().spin_axis()))
    }

    /// Contact point: the lowest point of the wheel disc (mm).
    #[must_use]
    pub fn contact_point(&self) -> Point {
        self.on_side(value(&self.state().contact_point()))
    }

    /// Both ends of the damper, upper first (mm); none without a damper.
    #[must_use]
    pub fn damper_ends(&self) -> Option<(Point, Point)> {
        self.ends(self.corner.geometry.damper.as_ref()?)
    }

    /// Both ends of the spring's mounts, upper first (mm); none without a spring.
    #[must_use]
    pub fn spring_ends(&self) -> Option<(Point, Point)> {
        self.ends(self.corner.geometry.spring.as_ref()?)
    }

    fn ends(&self, part: &Mounted) -> Option<(Point, Point)> {
        let lower = value(&part.lower(&self.state().carrier));
        Some((self.on_side(part.upper), self.on_side(lower)))
    }
}

/// A corner in motion, in any number type; `F` is that of its geometry.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CornerState<'a, T: Real, F: Real = f64> {
    pub(crate) geometry: &'a CornerGeometry<F>,
    pub(crate) carrier: CarrierMotion<T, F>,
}

impl<T: Over<F>, F: Real> CornerState<'_, T, F>
where
    Moving<T>: Over<F>,
{
    #[inline]
    pub(crate) fn upper_ball_joint(&self) -> Vector3<Moving<T>> {
        self.carrier.carried(&self.geometry.upper_ball_joint)
    }

    #[inline]
    pub(crate) fn lower_ball_joint(&self) -> Vector3<Moving<T>> {
        self.carrier.carried(&self.geometry.lower_ball_joint)
    }

    #[inline]
    pub(crate) fn tie_rod_outer(&self) -> Vector3<Moving<T>> {
        self.carrier.carried(&self.geometry.tie_rod_outer)
    }

    #[inline]
    pub(crate) fn wheel_centre(&self) -> Vector3<Moving<T>> {
        self.carrier.carried(&self.geometry.wheel_centre)
    }

    #[inline]
    pub(crate) fn spin_axis(&self) -> Vector3<Moving<T>> {
        self.carrier.direction(&self.geometry.spin_axis)
    }

    /// The geometric contact point: lowest on the disc, whatever rolls there.
    pub(crate) fn contact_point(&self) -> Vector3<Moving<T>> {
        super::contact_point(&self.wheel_centre(), &self.spin_axis(), self.geometry.tyre_radius)
    }

    /// The rate of the upright's material point at the contact point: with the brake locked.
    pub(crate) fn locked_contact_rate(&self) -> Vector3<T> {
        self.carrier.rate_at(&value(&self.contact_point()))
    }
}
