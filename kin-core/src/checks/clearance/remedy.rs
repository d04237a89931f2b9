//! The least changes that give the wanted gap, each found and verified by measuring again over all motions.

use super::build::Body;
use super::measure::{Fitted, Lowest, Measured};
use super::report::MoveGain;
use super::scene::{Pair, Scene};
use crate::checks::{Remedy, RemedyKind, Sentence};
use crate::pose::PoseError;
use nalgebra::Vector3;

/// Moves beyond this (mm) are another design, not a remedy.
const FARTHEST_MM: f64 = 150.0;
/// More than enough does no harm.
const WIDE: f64 = f64::INFINITY;
/// Changes are found to this (mm).
const CHANGE_MM: f64 = 1e-7;
/// A gap may fall short of the wanted one by this (mm): what the search for it may leave unfound.
const SHORT_MM: f64 = 1e-6;
/// A part may be made slimmer down to this share of its radius; less is another part.
const SLIMMEST_SHARE: f64 = 0.6;
/// A direction this close to one of the vehicle's axes is not offered beside it.
const ALONG_AXIS: f64 = 0.95;

/// What is changed by one mm.
#[derive(Debug, Clone, Copy)]
enum Change {
    /// The other solid moves along a unit vector.
    Other(Vector3<f64>),
    /// The upper mount of the part's damper moves along a unit vector.
    UpperMount(Vector3<f64>),
    /// The part's radius gets less.
    Slimmer,
}

/// A pair that lacks room, among all pairs.
struct Lacking<'s, 'b, 'a> {
    scene: &'s Scene<'b, 'a>,
    all: &'s [Pair],
    pair: &'s Pair,
    wanted: f64,
}

/// All remedies found for a pair, the smallest of each kind.
///
/// * `mount`: what moving the upper mount of the part's damper gains
pub(super) fn remedies(
    scene: &Scene<'_, '_>,
    all: &[Pair],
    pair: &Pair,
    lowest: &Lowest,
    mount: Option<MoveGain>,
) -> Result<Vec<Remedy>, PoseError> {
    let lacking = Lacking {
        scene,
        all,
        pair,
        wanted: scene.wanted(pair.solids),
    };
    let [part, other] = pair.solids.map(|place| &scene.solids[place].body);
    let missing = lacking.wanted - lowest.look.gap;
    let inboard = if lowest.look.closest.on_first.y >= 0.0 {
        -1.0
    } else {
        1.0
    };
    let mut found = Vec::new();
    if !other.is_part && other.stands() {
        let name = &other.name;
        let phrase = |change: f64, way: &Vector3<f64>| {
            let words = Sentence::new(format!("Move or trim the {name} "));
            towards(words, change, way, inboard).words(" or more.")
        };
        if lowest.look.met() {
            found.extend(lacking.out_of_each_other(phrase)?);
        } else {
            let away = -lowest.look.closest.direction;
            for way in ways(&away) {
                let first = missing / way.dot(&away);
                if let Some(change) = lacking.least_change(Change::Other(way), first)? {
                    found.push(remedy(RemedyKind::ObstacleMoved, change, phrase(change, &way)));
                }
            }
        }
    }
    if let Some(mount) = mount {
        for way in ways(&mount.direction) {
            let first = missing / (mount.gain * way.dot(&mount.direction));
            if let Some(change) = lacking.least_change(Change::UpperMount(way), first)? {
                let words = Sentence::new("Or move the upper mount ");
                let sentence = towards(words, change, &way, inboard);
                let sentence =
                    sentence.words(" or more, and check the stroke and the angle of the mount again.");
                found.push(remedy(RemedyKind::UpperMountMoved, change, sentence));
            }
        }
    }
    if part.on_damper.is_some() && !lowest.look.met() {
        let radius = part
            .pieces
            .get(lowest.pieces[0])
            .map_or(0.0, |piece| piece.radius);
        let slim = radius - missing;
        if slim >= SLIMMEST_SHARE * radius && lacking.serves(Change::Slimmer, missing)? {
            let sentence = Sentence::new(format!("Or fit a {} of at most ", part.name))
                .at_most(2.0 * slim, f64::INFINITY)
                .words(" outside diameter.");
            found.push(remedy(RemedyKind::SlimmerPart, missing, sentence));
        }
    }
    Ok(found)
}

fn remedy(kind: RemedyKind, change: f64, sentence: Sentence) -> Remedy {
    Remedy {
        kind,
        change,
        window: (change, change),
        sentence,
    }
}

/// The vehicle's axis that a direction is nearest to, and the direction itself where that is another.
fn ways(direction: &Vector3<f64>) -> Vec<Vector3<f64>> {
    let axis = direction.iamax();
    let mut along = Vector3::zeros();
    along[axis] = direction[axis].signum();
    if direction[axis].abs() >= ALONG_AXIS {
        vec![along]
    } else {
        vec![along, *direction]
    }
}

/// A move in words: along one axis, or its length with its parts.
fn towards(sentence: Sentence, change: f64, way: &Vector3<f64>, inboard: f64) -> Sentence {
    let names = |axis: usize, forth: bool| match (axis, forth) {
        (0, true) => " forward",
        (0, false) => " rearward",
        (1, forth) if forth == (inboard > 0.0) => " inboard",
        (1, _) => " outboard",
        (_, true) => " up",
        (_, false) => " down",
    };
    let parts: Vec<(f64, &str)> = (0..3)
        .map(|axis| ((change * way[axis]).abs(), names(axis, way[axis] > 0.0)))
        .filter(|(length, _)| *length >= 0.05)
        .collect();
    let [(length, name)] = parts.as_slice() else {
        let mut sentence = sentence.words("by ").at_least(change, WIDE).words(" (");
        for (place, (length, name)) in parts.iter().enumerate() {
            let comma = if place == 0 { "" } else { ", " };
            sentence = sentence.words(comma).at_least(*length, WIDE).words(*name);
        }
        return sentence.words(")");
    };
    sentence
        .words(name.trim_start())
        .words(" by ")
        .at_least(*length, WIDE)
}

impl<'a> Lacking<'_, '_, 'a> {
    /// Where the cores meet no direction is known: the vehicle's axes are tried both ways.
    fn out_of_each_other(
        &self,
        phrase: impl Fn(f64, &Vector3<f64>) -> Sentence,
    ) -> Result<Option<Remedy>, PoseError> {
        let mut least: Option<(f64, Vector3<f64>)> = None;
        for axis in [Vector3::x(), Vector3::y(), Vector3::z()] {
            for way in [axis, -axis] {
                let found = self.least_change(Change::Other(way), self.wanted.max(1.0))?;
                least = match (least, found) {
                    (Some((change, _)), Some(found)) if found >= change => least,
                    (_, Some(found)) => Some((found, way)),
                    _ => least,
                };
            }
        }
        Ok(least.map(|(change, way)| remedy(RemedyKind::ObstacleMoved, change, phrase(change, &way))))
    }

    /// The least amount of a change that gives the wanted gap and spoils no other pair; none within reason.
    ///
    /// * `first`: what the gain at first sight asks for (mm)
    fn least_change(&self, change: Change, first: f64) -> Result<Option<f64>, PoseError> {
        let lack = |amount: f64| -> Result<f64, PoseError> {
            let solids = self.changed(change, amount);
            Ok(self.gap(self.pair, &solids)? - self.wanted)
        };
        let (mut low, mut at_low) = (0.0, lack(0.0)?);
        let (mut high, mut at_high) = (first, lack(first.min(FARTHEST_MM))?);
        while at_high < 0.0 {
            (low, at_low) = (high, at_high);
            high *= 1.5;
            if high > FARTHEST_MM {
                return Ok(None);
            }
            at_high = lack(high)?;
        }
        if high > FARTHEST_MM {
            return Ok(None);
        }
        for turn in 0..100 {
            if high - low <= CHANGE_MM || at_high <= CHANGE_MM {
                break;
            }
            let chord = low + (high - low) * (at_low / (at_low - at_high));
            // A chord a little beyond the root ends the search from above; every third step halves.
            let chord = chord + 0.1 * CHANGE_MM;
            let next = if turn % 3 == 2 || chord <= low || chord >= high {
                0.5 * (low + high)
            } else {
                chord
            };
            let there = lack(next)?;
            if there < 0.0 {
                (low, at_low) = (next, there);
            } else {
                (high, at_high) = (next, there);
            }
        }
        Ok(self.serves(change, high)?.then_some(high))
    }

    /// Whether the pair has its gap after a change, and no other pair has lost its own.
    fn serves(&self, change: Change, amount: f64) -> Result<bool, PoseError> {
        let solids = self.changed(change, amount);
        if self.gap(self.pair, &solids)? < self.wanted - SHORT_MM {
            return Ok(false);
        }
        for other in self.all.iter().filter(|other| other.solids != self.pair.solids) {
            let touched = other
                .solids
                .iter()
                .any(|place| solids.iter().any(|(changed, _)| changed == place));
            let before = other
                .measured
                .lowest()
                .map_or(f64::INFINITY, |lowest| lowest.look.gap);
            let needed = before.min(self.scene.wanted(other.solids));
            if touched && self.gap(other, &solids)? < needed - SHORT_MM {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// The least gap of a pair with some solids changed (mm).
    fn gap(&self, pair: &Pair, solids: &[(usize, Fitted)]) -> Result<f64, PoseError> {
        let now = pair.solids.map(|place| {
            let changed = solids.iter().find(|(changed, _)| *changed == place);
            changed.map_or(&self.scene.solids[place], |(_, fitted)| fitted)
        });
        let measured = super::measure::measure(self.scene.motions, now)?;
        let lowest = measured.as_ref().and_then(Measured::lowest);
        Ok(lowest.map_or(f64::INFINITY, |lowest| lowest.look.gap))
    }

    /// The solids that a change alters, with their places in the list.
    fn changed(&self, change: Change, amount: f64) -> Vec<(usize, Fitted)> {
        let [part, other] = self.pair.solids;
        let body = |place: usize| &self.scene.solids[place].body;
        let fitted = |place: usize, body: Body| (place, Fitted::new(self.scene.motions, body));
        match change {
            Change::Other(way) => vec![fitted(other, body(other).shifted(&(way * amount)))],
            Change::UpperMount(way) => {
                let on_damper = body(part).on_damper;
                let places = (0..self.scene.solids.len()).filter(|place| body(*place).on_damper == on_damper);
                places
                    .map(|place| fitted(place, body(place).shifted(&(way * amount))))
                    .collect()
            }
            Change::Slimmer => {
                let mut slim = body(part).clone();
                slim.pieces.iter_mut().for_each(|piece| piece.radius -= amount);
                vec![fitted(part, slim)]
            }
        }
    }
}
