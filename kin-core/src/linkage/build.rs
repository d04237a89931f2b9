//! From pickups to a linkage: five rods for a corner, the given links for an axle.

use super::freedom::{self, LinkageError};
use super::{Bars, Drive, Held, Linkage, Rod};
use crate::pickups::{DoubleWishbone, LiveAxle};
use crate::pose::{self, Solved};

impl Linkage {
    /// The linkage of a left corner: two rods for each arm, and the tie rod.
    pub(crate) fn of_corner(corner: &DoubleWishbone) -> Result<Self, LinkageError> {
        let origin = corner.wheel.centre;
        let mut rods = Vec::with_capacity(5);
        for (arm, front, rear) in [
            (&corner.upper_arm, "upper_arm front leg", "upper_arm rear leg"),
            (&corner.lower_arm, "lower_arm front leg", "lower_arm rear leg"),
        ] {
            rods.push(Rod::new(front, &arm.front_pivot, &arm.ball_joint, &origin));
            rods.push(Rod::new(rear, &arm.rear_pivot, &arm.ball_joint, &origin));
        }
        let mut tie_rod = Rod::new("tie_rod", &corner.tie_rod.inner, &corner.tie_rod.outer, &origin);
        tie_rod.rack = 1.0;
        rods.push(tie_rod);
        Self {
            origin,
            held: Held::Corner(Bars::of(&rods)),
            size: rods.iter().fold(0.0, |most, rod| rod.carrier.norm().max(most)),
            rods,
            half_axle: None,
            held_too_much: false,
            positive: true,
            as_measured: Solved::at_rest(),
        }
        .oriented()
    }

    /// The linkage of an axle whose right side is written out.
    pub(crate) fn of_axle(axle: &LiveAxle) -> Result<Self, LinkageError> {
        let left = axle.wheels.left;
        let right = axle
            .wheels
            .right
            .unwrap_or_else(|| crate::pickups::mirrored(&left));
        let origin = 0.5 * (left + right);
        let given: Vec<f64> = axle.links.values().filter_map(|link| link.stiffness).collect();
        // Links without a stiffness count as the average of those that have one, so that none is rigid beside them.
        let usual = if given.is_empty() {
            1.0
        } else {
            given.iter().sum::<f64>() / given.len() as f64
        };
        let rods = axle.links.iter().map(|(name, link)| {
            let mut rod = Rod::new(name, &link.body, &link.axle, &origin);
            // Only ratios matter for the pose; near one they keep the equations well scaled.
            rod.stiffness = link.stiffness.unwrap_or(usual) / usual;
            rod
        });
        let rods: Vec<Rod> = rods.collect();
        let held_too_much = rods.len() > 4;
        Self {
            origin,
            held: Held::Axle(Bars::of(&rods), left - origin),
            size: (left - right).norm(),
            rods,
            half_axle: Some(left - origin),
            held_too_much,
            positive: true,
            as_measured: Solved::at_rest(),
        }
        .oriented()
    }

    /// An axle that only doubled links hold too much, with one of each instead: it moves the same, and folds where the
    /// doubled one does. None where no link is doubled, or where links still hold too much.
    pub(crate) fn without_doubles(&self) -> Option<Self> {
        let half_axle = self.half_axle?;
        let mut rods: Vec<Rod> = Vec::with_capacity(self.rods.len());
        for rod in &self.rods {
            if !rods
                .iter()
                .any(|other| other.body == rod.body && other.carrier == rod.carrier)
            {
                rods.push(rod.clone());
            }
        }
        if rods.len() == self.rods.len() || rods.len() > 4 {
            return None;
        }
        Self {
            held: Held::Axle(Bars::of(&rods), half_axle),
            rods,
            held_too_much: false,
            positive: true,
            as_measured: Solved::at_rest(),
            ..self.clone()
        }
        .oriented()
        .ok()
    }

    /// Checks that the carrier is held, and notes which assembly the pickups are in.
    fn oriented(mut self) -> Result<Self, LinkageError> {
        freedom::held(&self)?;
        let start = Solved::at_rest();
        let mut twists = start.twists;
        let positive = if self.held_too_much {
            pose::balance_twists(&self, &start, &mut twists)
        } else {
            self.respond(&start.pose, &start.command, Drive::Heave, &mut twists)
                .map(|response| response.positive)
        }
        .ok_or(LinkageError::Singular)?;
        self.positive = positive;
        self.as_measured = Solved { twists, ..start };
        Ok(self)
    }
}
