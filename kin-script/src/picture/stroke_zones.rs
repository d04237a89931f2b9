//! Where a damper cannot be, as zones on a picture of its length.

use crate::readings::Reading;
use crate::sheet::plot::{Band, BandKind};
use crate::units::{Measure, Units};
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::pickups::{Damper, DoubleWishbone, LiveAxle};

/// The zones of a corner's damper; none for other readings than its length.
pub(crate) fn stroke_zones(corner: &DoubleWishbone, reading: Reading, units: &Units) -> Vec<Band> {
    let damper = match reading {
        Reading::Corner(CornerCurve::DamperLength, None) => corner.any_damper(),
        _ => None,
    };
    damper.map_or_else(Vec::new, |damper| zones(damper, units))
}

/// The zones of an axle's damper; none for other readings than the length of the one or the other.
pub(crate) fn axle_stroke_zones(axle: &LiveAxle, reading: Reading, units: &Units) -> Vec<Band> {
    let damper = match (reading, axle.any_dampers()) {
        (Reading::Axle(AxleCurve::DamperLengthLeft, None), Some(sides)) => Some(&sides.left),
        (Reading::Axle(AxleCurve::DamperLengthRight, None), Some(sides)) => sides.right.as_ref(),
        _ => None,
    };
    damper.map_or_else(Vec::new, |damper| zones(damper, units))
}

fn zones(damper: &Damper, units: &Units) -> Vec<Band> {
    let shown = |length: f64| units.from_core(length, Measure::LENGTH);
    let text = |length: f64| units.length.given_text(length);
    let (extended, compressed) = (
        damper.extended_between_mounts(),
        damper.compressed_between_mounts(),
    );
    let contact = damper.stop_contact_between_mounts();
    let mut zones = vec![
        Band {
            from: f64::NEG_INFINITY,
            to: shown(compressed),
            label: format!("metal to metal, {}", text(compressed)),
            kind: BandKind::Barred,
        },
        Band {
            from: shown(extended),
            to: f64::INFINITY,
            label: format!("topped out, {}", text(extended)),
            kind: BandKind::Barred,
        },
    ];
    if damper.bump_stop > 0.0 {
        zones.push(Band {
            from: shown(compressed),
            to: shown(contact),
            label: format!("on the bump stop from {}", text(contact)),
            kind: BandKind::Care,
        });
    }
    zones
}
