//! The travel budget of a damper: how far the wheel can go before the damper says no.

use crate::Error;
use crate::pickups::Damper;
use crate::suspension::LengthCurve;

/// Lengths of a damper between the turning points of its mounts (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DamperLengths {
    /// Fully extended: topped out.
    pub extended: f64,
    /// Bump stop just touched.
    pub stop_contact: f64,
    /// Fully compressed: metal to metal.
    pub compressed: f64,
}

impl DamperLengths {
    pub(crate) fn of(damper: &Damper) -> Self {
        Self {
            extended: damper.extended_between_mounts(),
            stop_contact: damper.stop_contact_between_mounts(),
            compressed: damper.compressed_between_mounts(),
        }
    }

    /// The same damper, longer by `more` at every point of its stroke (mm).
    pub(crate) fn longer_by(&self, more: f64) -> Self {
        Self {
            extended: self.extended + more,
            stop_contact: self.stop_contact + more,
            compressed: self.compressed + more,
        }
    }
}

/// Where in its stroke a damper sits at ride height, and the wheel travel left to each of its limits.
///
/// Travels are counted from ride height (mm) and positive in their own direction: bump up, droop down. A negative
/// one says that the limit is passed before ride height is reached. None: the linkage ends, or 400 mm are gone,
/// before that limit is met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TravelBudget {
    /// Distance between the mounts at ride height.
    pub length_at_ride: f64,
    /// Motion ratio at ride height.
    pub motion_ratio_at_ride: f64,
    /// Share of the stroke that is used up at ride height: 0 fully extended, 1 metal to metal.
    pub stroke_used_at_ride: f64,
    /// Wheel bump to where the bump stop is touched.
    pub bump_to_stop: Option<f64>,
    /// Wheel bump to metal.
    pub bump_to_metal: Option<f64>,
    /// Wheel droop to topping out.
    pub droop_to_top_out: Option<f64>,
    /// Wheel bump to topping out, where the length turns round and bump makes the damper longer again.
    pub bump_to_top_out: Option<f64>,
    /// Wheel droop to where the bump stop is touched, where the length turns round and droop compresses the damper again.
    pub droop_to_stop: Option<f64>,
    /// Wheel droop to metal, likewise.
    pub droop_to_metal: Option<f64>,
}

/// A damper that sits this near to a limit at ride height (mm) has no turning round ahead of it to speak of.
const AT_LIMIT_MM: f64 = 1e-6;

impl TravelBudget {
    /// Runs the length of the damper through the wheel's travel.
    ///
    /// * `ride`: travel at ride height, from the pickups as measured (mm)
    pub(crate) fn measure(
        curve: &LengthCurve<'_>,
        lengths: &DamperLengths,
        ride: f64,
    ) -> Result<Self, Error> {
        let at_ride = curve.at(ride)?;
        let (lowest, highest) = curve.searchable();
        let to = |length: f64, bump: bool| -> Result<Option<f64>, Error> {
            let passed = if bump {
                at_ride.re < length
            } else {
                at_ride.re > length
            };
            // A limit passed already lies on the other side of ride height.
            let end = if bump == passed { lowest } else { highest };
            let travel = curve.first_travel_at(length, ride, end)?;
            Ok(travel.map(|travel| if bump { travel - ride } else { ride - travel }))
        };
        // The limit on the other end of the stroke is met only where the length turns round.
        let turned = |length: f64, bump: bool| -> Result<Option<f64>, Error> {
            let within = if bump {
                length - at_ride.re
            } else {
                at_ride.re - length
            };
            if within < AT_LIMIT_MM {
                return Ok(None);
            }
            let travel = curve.first_travel_at(length, ride, if bump { highest } else { lowest })?;
            Ok(travel.map(|travel| (travel - ride).abs()))
        };
        Ok(Self {
            length_at_ride: at_ride.re,
            motion_ratio_at_ride: -at_ride.eps,
            stroke_used_at_ride: (lengths.extended - at_ride.re) / (lengths.extended - lengths.compressed),
            bump_to_stop: to(lengths.stop_contact, true)?,
            bump_to_metal: to(lengths.compressed, true)?,
            droop_to_top_out: to(lengths.extended, false)?,
            bump_to_top_out: turned(lengths.extended, true)?,
            droop_to_stop: turned(lengths.stop_contact, false)?,
            droop_to_metal: turned(lengths.compressed, false)?,
        })
    }

    /// Wheel bump to where the damper ends it, and whether it does so topped out.
    pub(crate) fn bump_end(&self) -> (Option<f64>, bool) {
        earlier(self.bump_to_metal, false, self.bump_to_top_out)
    }

    /// Wheel droop to where the damper ends it, and whether it does so topped out.
    pub(crate) fn droop_end(&self) -> (Option<f64>, bool) {
        earlier(self.droop_to_top_out, true, self.droop_to_metal)
    }

    /// Share of the free travel (topping out to stop contact) that is bump, if both ends are known.
    #[must_use]
    pub fn bump_share(&self) -> Option<f64> {
        let (bump, droop) = (self.bump_to_stop?, self.droop_to_top_out?);
        (bump >= 0.0 && droop >= 0.0 && bump + droop > 0.0).then(|| bump / (bump + droop))
    }
}

/// The earlier of the usual end and the one that is met where the length turns round.
fn earlier(usual: Option<f64>, usual_is_top_out: bool, turned: Option<f64>) -> (Option<f64>, bool) {
    match (usual, turned) {
        (Some(first), Some(second)) if second < first => (Some(second), !usual_is_top_out),
        (None, Some(second)) => (Some(second), !usual_is_top_out),
        (first, _) => (first, usual_is_top_out),
    }
}
