//! A live axle and its positions.

use super::{AxleGeometry, AxleNumbers, Mounted};
use crate::Error;
use crate::linkage::{Command, Drive, Linkage};
use crate::numeric::real::{Moving, Over, Real, moving, value};
use crate::pickups::{AxleSides, LiveAxle, Point};
use crate::pose::{
    CarrierMotion, Motion, Pose, PoseError, Reach, Solved, Track, Twist, first_rates, reach, second_rates,
};
use indexmap::IndexMap;
use nalgebra::{Matrix3, Vector3};
use num_dual::Dual64;
use std::sync::OnceLock;

/// Both wheels up together.
pub(crate) const HEAVE: Command = Drive::Heave.direction();
/// Left wheel up, right wheel down.
pub(crate) const ROLL: Command = Drive::HalfDifference.direction();

/// Travel of both wheel centres from the pickups as measured (mm), bump positive.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct AxleTravel {
    /// Travel of the left wheel centre.
    pub left: f64,
    /// Travel of the right wheel centre.
    pub right: f64,
}

impl AxleTravel {
    /// Both wheels by the same travel.
    #[must_use]
    pub fn both(travel: f64) -> Self {
        Self {
            left: travel,
            right: travel,
        }
    }

    /// The mean travel of both wheels (mm).
    #[must_use]
    pub fn heave(&self) -> f64 {
        0.5 * (self.left + self.right)
    }

    /// Half of left minus right (mm): positive with the left wheel up.
    #[must_use]
    pub fn half_difference(&self) -> f64 {
        0.5 * (self.left - self.right)
    }

    /// From heave and half difference (mm).
    #[must_use]
    pub fn from_heave(heave: f64, half_difference: f64) -> Self {
        Self {
            left: heave + half_difference,
            right: heave - half_difference,
        }
    }
}

/// The motion along which a rate of an axle is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AxleAlong {
    /// Per mm of travel of both wheels together.
    Heave,
    /// Per mm of travel of the left wheel up, with the right wheel down by as much.
    Roll,
}

/// A live axle ready to be moved.
#[derive(Debug, Clone)]
pub struct Axle {
    pub(crate) pickups: LiveAxle,
    pub(crate) linkage: Linkage,
    pub(crate) geometry: AxleGeometry,
    pub(crate) straps: Vec<Mounted>,
    /// Left wheel centre from the origin; the right one is its negative.
    pub(crate) half_axle: Vector3<f64>,
    /// Found once, when it is first asked for.
    reach: OnceLock<Reach>,
    /// Travels that can be searched, found once as well.
    pub(super) searchable: OnceLock<(f64, f64)>,
}

impl Axle {
    /// Writes out the right side where it is the mirror, validates, and freezes the linkage.
    ///
    /// # Errors
    /// Pickups that cannot be right, or links that do not hold the axle.
    pub fn new(pickups: &LiveAxle) -> Result<Self, Error> {
        let pickups = pickups.with_both_sides();
        pickups.validate()?;
        let linkage = Linkage::of_axle(&pickups)?;
        let geometry = AxleGeometry::new(&AxleNumbers::of(&pickups), pickups.springs.is_some());
        let straps = pickups.stops.straps.iter();
        let straps = straps
            .map(|part| Mounted::on_axle(&linkage, &part.upper_mount, &part.lower_mount, &part.rides_on))
            .collect();
        let half_axle = pickups.wheels.left - linkage.origin;
        Ok(Self {
            pickups,
            linkage,
            geometry,
            straps,
            half_axle,
            reach: OnceLock::new(),
            searchable: OnceLock::new(),
        })
    }

    /// The description that the axle was built from, both sides written out.
    #[must_use]
    pub fn pickups(&self) -> &LiveAxle {
        &self.pickups
    }

    /// Whether there are more links than the axle needs, so that roll stretches them.
    #[must_use]
    pub fn is_held_too_much(&self) -> bool {
        self.linkage.held_too_much
    }

    /// Where the linkage itself ends with both wheels moving together (mm of travel from the pickups as measured).
    /// Stops and dampers are not considered; an axle that is held too much ends about where its bushings no
    /// longer balance.
    #[must_use]
    pub fn reach(&self) -> Reach {
        *self
            .reach
            .get_or_init(|| reach(&self.linkage, &self.linkage.as_measured, &HEAVE))
    }

    /// The position at one travel of each wheel.
    ///
    /// # Errors
    /// [`PoseError`] when the position is out of reach.
    pub fn at(&self, travel: AxleTravel) -> Result<AxlePosition<'_>, PoseError> {
        let mut position = self.heaved(travel.heave())?;
        let mut roll = self.rolled_from(&position.solved);
        roll.advance_to(travel.half_difference(), &mut position.solved)?;
        Ok(position)
    }

    /// A walk in heave from the pose as measured.
    pub(super) fn in_heave(&self) -> Track<'_> {
        Track::new(
            &self.linkage,
            &self.linkage.as_measured,
            Drive::Heave,
            "travel of both wheels",
        )
    }

    /// The position with both wheels at one travel.
    pub(super) fn heaved(&self, heave: f64) -> Result<AxlePosition<'_>, PoseError> {
        let mut position = self.as_measured();
        self.in_heave().advance_to(heave, &mut position.solved)?;
        Ok(position)
    }

    /// A walk in roll from a pose in heave.
    pub(super) fn rolled_from(&self, start: &Solved) -> Track<'_> {
        Track::new(
            &self.linkage,
            start,
            Drive::HalfDifference,
            "half the difference of the wheel travels",
        )
    }

    /// The position in which the pickups were measured.
    pub(super) fn as_measured(&self) -> AxlePosition<'_> {
        AxlePosition {
            axle: self,
            solved: self.linkage.as_measured,
        }
    }

    /// Roll angle to half difference of wheel travel (mm): what the line through both wheel centres gives.
    ///
    /// * `roll`: roll of the axle relative to the body (rad), positive with the left wheel up
    #[must_use]
    pub fn half_difference_for_roll(&self, roll: f64) -> f64 {
        // The wheel-to-wheel line keeps its length 2a; its left end rises by 2a sin(roll) over its right end.
        let arm = self.half_axle;
        arm.norm() * (roll + (arm.z / arm.norm()).asin()).sin() - arm.z
    }
}

/// An axle at one travel of each wheel.
#[derive(Debug, Clone, Copy)]
pub struct AxlePosition<'a> {
    pub(crate) axle: &'a Axle,
    pub(crate) solved: Solved,
}

impl AsMut<Solved> for AxlePosition<'_> {
    fn as_mut(&mut self) -> &mut Solved {
        &mut self.solved
    }
}

impl<'a> AxlePosition<'a> {
    /// The axle that stands here.
    #[must_use]
    pub fn axle(&self) -> &'a Axle {
        self.axle
    }

    /// Travel of both wheels (mm).
    #[must_use]
    pub fn travel(&self) -> AxleTravel {
        AxleTravel::from_heave(self.solved.command[0], self.solved.command[1])
    }

    /// Displacement and rotation of the axle.
    #[must_use]
    pub fn pose(&self) -> &Pose {
        &self.solved.pose
    }

    /// How often the constraints were factored to come here from the position before: what the solver did.
    #[must_use]
    pub fn factorisations(&self) -> u32 {
        self.solved.factorisations
    }

    /// How much each link is longer than it was measured (mm), by name: roll bind.
    ///
    /// Only an axle that is held by more links than it needs stretches them; otherwise this is round-off.
    #[must_use]
    pub fn link_stretch(&self) -> IndexMap<String, f64> {
        let rods = self.axle.linkage.rods.iter();
        rods.map(|rod| (rod.name.clone(), rod.stretch(&rod.place(&self.solved.pose, 0.0))))
            .collect()
    }

    /// The axle in motion in heave and in roll, with first rates found at this very pose.
    pub(crate) fn state(&self) -> AxleState<'a, f64> {
        self.moving(&self.solved.with_exact_twists(&self.axle.linkage))
    }

    /// The same with the rates that came with the solution: as good to 1e-11 of themselves, and free.
    #[inline]
    pub(crate) fn state_as_solved(&self) -> AxleState<'a, f64> {
        self.moving(&self.solved)
    }

    #[inline]
    fn moving(&self, solved: &Solved) -> AxleState<'a, f64> {
        let rates = |drive| first_rates(&self.axle.linkage.origin, &solved.pose, solved.twist(drive));
        AxleState {
            geometry: &self.axle.geometry,
            heave: rates(Drive::Heave),
            roll: rates(Drive::HalfDifference),
        }
    }

    /// The same, with all rates along a second motion as well.
    pub(crate) fn state_along(&self, along: AxleAlong) -> Option<AxleState<'a, Dual64>> {
        let linkage = &self.axle.linkage;
        let motion = Motion::new(linkage, &self.solved)?;
        let second = match along {
            AxleAlong::Heave => HEAVE,
            AxleAlong::Roll => ROLL,
        };
        let rates = |first| second_rates(&linkage.origin, &motion, &self.solved, first, &second);
        Some(AxleState {
            geometry: &self.axle.geometry,
            heave: rates(&HEAVE),
            roll: rates(&ROLL),
        })
    }

    /// The axle with its rates in heave.
    pub(crate) fn in_heave(&self) -> CarrierMotion<f64> {
        self.state().heave
    }

    /// The axle where it stands, without rates.
    fn standing(&self) -> CarrierMotion<f64> {
        first_rates(&self.axle.linkage.origin, &self.solved.pose, &Twist::zero())
    }

    /// A point of the axle, given where it was as measured (mm).
    #[must_use]
    pub fn carried(&self, as_measured: &Point) -> Point {
        value(&self.standing().carried(as_measured))
    }

    /// Centres of the left and the right wheel (mm).
    #[must_use]
    pub fn wheel_centres(&self) -> (Point, Point) {
        let standing = self.standing();
        (
            value(&standing.carried(self.axle.geometry.wheel(1.0))),
            value(&standing.carried(self.axle.geometry.wheel(-1.0))),
        )
    }

    /// Contact points of the left and the right wheel (mm).
    #[must_use]
    pub fn contact_points(&self) -> (Point, Point) {
        let state = AxleState {
            geometry: &self.axle.geometry,
            heave: self.standing(),
            roll: self.standing(),
        };
        (
            value(&state.contact(&state.heave, 1.0)),
            value(&state.contact(&state.heave, -1.0)),
        )
    }

    /// Both ends of the left and the right damper, upper first (mm); none without dampers.
    #[must_use]
    pub fn damper_ends(&self) -> Option<[(Point, Point); 2]> {
        self.ends(self.axle.geometry.dampers.as_ref()?)
    }

    /// Both ends of the left and the right spring, upper first (mm); none without springs.
    #[must_use]
    pub fn spring_ends(&self) -> Option<[(Point, Point); 2]> {
        self.ends(self.axle.geometry.springs.as_ref()?)
    }

    fn ends(&self, parts: &AxleSides<Mounted>) -> Option<[(Point, Point); 2]> {
        let standing = self.standing();
        let ends = |part: &Mounted| (part.upper, value(&part.lower(&standing)));
        Some([ends(&parts.left), ends(parts.right.as_ref()?)])
    }

    /// Both ends of every link by name, body first (mm).
    #[must_use]
    pub fn links(&self) -> IndexMap<String, (Point, Point)> {
        let standing = self.standing();
        let rods = self.axle.linkage.rods.iter();
        rods.map(|rod| (rod.name.clone(), (rod.body, value(&standing.carried(&rod.joint)))))
            .collect()
    }
}

/// An axle in motion, in heave and in roll, in any number type; `F` is that of its geometry.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AxleState<'a, T: Real, F: Real = f64> {
    pub(crate) geometry: &'a AxleGeometry<F>,
    /// Rates per mm of travel of both wheels.
    pub(crate) heave: CarrierMotion<T, F>,
    /// Rates per mm of travel of the left wheel up and the right wheel down.
    pub(crate) roll: CarrierMotion<T, F>,
}

impl<T: Over<F>, F: Real> AxleState<'_, T, F>
where
    Moving<T>: Over<F>,
{
    /// Contact point of the left (`side` = 1) or the right (-1) wheel in one of the motions.
    pub(crate) fn contact(&self, carrier: &CarrierMotion<T, F>, side: f64) -> Vector3<Moving<T>> {
        let outward = Vector3::new(F::from(0.0), F::from(side), F::from(0.0));
        let spin = carrier.direction(&outward);
        let centre = carrier.carried(self.geometry.wheel(side));
        super::contact_point(&centre, &spin, self.geometry.tyre_radius)
    }

    /// The material point of the axle at a wheel's contact point, in roll.
    pub(crate) fn contact_as_material(&self, side: f64) -> Vector3<Moving<T>> {
        let place = value(&self.contact(&self.roll, side));
        moving(&place, &self.roll.rate_at(&place))
    }

    /// Rotation since the pickups were measured.
    pub(crate) fn rotation(&self) -> Matrix3<T> {
        self.heave.rotation().map(|entry| entry.re)
    }
}
