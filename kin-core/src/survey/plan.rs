//! What to measure on the car, in an order that makes sense lying under it, and how well it will be known.

use super::adjustment::Adjustment;
use super::error::SurveyError;
use super::notebook::{DefaultDeviations, Survey};
use super::reading::{Axis, Observed, Reading};
use crate::pickups::{Damper, DoubleWishbone, LiveAxle, Point, Side};
use indexmap::IndexMap;

/// Readings that are taken in one go.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanStep {
    /// Where one lies or stands.
    pub heading: String,
    /// What to mind there.
    pub advice: &'static str,
    /// What to read there; the values are those of the approximate geometry.
    pub readings: Vec<Reading>,
}

/// The readings to take of a layout, with the accuracy to expect.
#[derive(Debug, Clone)]
pub struct MeasurementPlan {
    /// The steps in the order of the work.
    pub steps: Vec<PlanStep>,
    /// The survey of the approximate geometry: its standard deviations are those to expect before anything is measured.
    pub expected: Adjustment,
}

/// The places that a plan knows so far.
struct Draft {
    steps: Vec<PlanStep>,
    places: IndexMap<String, Point>,
}

impl MeasurementPlan {
    /// The plan of a corner with double wishbones. Its points have the names of the model's keys.
    ///
    /// # Errors
    /// A geometry whose readings make no survey, such as two points in one place.
    pub fn double_wishbone(
        corner: &DoubleWishbone,
        deviations: DefaultDeviations,
    ) -> Result<Self, SurveyError> {
        let mut draft = Draft::new();
        let (upper, lower) = (&corner.upper_arm, &corner.lower_arm);
        draft.step(
            "Under the car: lower arm",
            "Pivots to the middle of the bolt, ball joint to the middle of the ball.",
            &[
                ("lower_arm.front_pivot", lower.front_pivot),
                ("lower_arm.rear_pivot", lower.rear_pivot),
                ("lower_arm.ball_joint", lower.ball_joint),
            ],
            &[
                ["lower_arm.front_pivot", "lower_arm.rear_pivot"],
                ["lower_arm.front_pivot", "lower_arm.ball_joint"],
                ["lower_arm.rear_pivot", "lower_arm.ball_joint"],
            ],
        );
        draft.step(
            "Under the car: tie rod",
            "Steering straight ahead. To the middle of each ball.",
            &[
                ("tie_rod.inner", corner.tie_rod.inner),
                ("tie_rod.outer", corner.tie_rod.outer),
            ],
            &[
                ["tie_rod.inner", "tie_rod.outer"],
                ["tie_rod.inner", "lower_arm.front_pivot"],
                ["tie_rod.inner", "lower_arm.rear_pivot"],
                ["tie_rod.outer", "lower_arm.ball_joint"],
            ],
        );
        let damper = [("coilover", &corner.coilover), ("damper", &corner.damper)];
        let damper = damper
            .into_iter()
            .find_map(|(key, damper)| damper.as_ref().map(|damper| (key, damper)));
        if let Some((key, damper)) = damper {
            let at = format!("{key}.lower_mount");
            draft.step(
                "Under the car: lower mount of the damper",
                "To the middle of the bolt.",
                &[(&at, damper.lower_mount)],
                &[
                    [&at, "lower_arm.ball_joint"],
                    [&at, "lower_arm.front_pivot"],
                    [&at, "lower_arm.rear_pivot"],
                ],
            );
        }
        draft.step(
            "At the wheel arch: upper arm",
            "Diagonals to the lower pivots tie both arms together: take them all.",
            &[
                ("upper_arm.front_pivot", upper.front_pivot),
                ("upper_arm.rear_pivot", upper.rear_pivot),
                ("upper_arm.ball_joint", upper.ball_joint),
            ],
            &[
                ["upper_arm.front_pivot", "upper_arm.rear_pivot"],
                ["upper_arm.front_pivot", "upper_arm.ball_joint"],
                ["upper_arm.rear_pivot", "upper_arm.ball_joint"],
                ["lower_arm.front_pivot", "upper_arm.front_pivot"],
                ["lower_arm.rear_pivot", "upper_arm.rear_pivot"],
                ["lower_arm.front_pivot", "upper_arm.rear_pivot"],
                ["lower_arm.rear_pivot", "upper_arm.front_pivot"],
                ["lower_arm.ball_joint", "upper_arm.ball_joint"],
                ["tie_rod.outer", "upper_arm.ball_joint"],
                ["tie_rod.inner", "upper_arm.rear_pivot"],
            ],
        );
        if let Some((key, damper)) = damper {
            let (at, below) = (format!("{key}.upper_mount"), format!("{key}.lower_mount"));
            draft.step(
                "At the wheel arch: upper mount of the damper",
                "To the turning point: the middle of the eye or of the bushing stack.",
                &[(&at, damper.upper_mount)],
                &[
                    [&at, &below],
                    [&at, "upper_arm.front_pivot"],
                    [&at, "upper_arm.rear_pivot"],
                    [&at, "lower_arm.front_pivot"],
                ],
            );
        }
        draft.step(
            "At the wheel",
            "Spin axis where it meets the middle of the wheel. Read tyre radius, camber and toe here as well: they go straight \
             into the model.",
            &[("wheel.centre", corner.wheel.centre)],
            &[
                ["wheel.centre", "lower_arm.ball_joint"],
                ["wheel.centre", "upper_arm.ball_joint"],
                ["wheel.centre", "tie_rod.outer"],
            ],
        );
        draft.finish(Some(corner.side), deviations)
    }

    /// The plan of a live axle on links, both sides by themselves. Its points have the names of the model's keys.
    ///
    /// # Errors
    /// As [`MeasurementPlan::double_wishbone`].
    pub fn live_axle(axle: &LiveAxle, deviations: DefaultDeviations) -> Result<Self, SurveyError> {
        let axle = axle.with_both_sides();
        let mut draft = Draft::new();
        let mut links: Vec<_> = axle.links.iter().collect();
        // Lying under the car, what hangs lowest comes first.
        links.sort_by(|a, b| a.1.body.z.total_cmp(&b.1.body.z));
        for (name, link) in &links {
            let (body, carried) = (format!("links.{name}.body"), format!("links.{name}.axle"));
            let mut tapes = vec![[body.clone(), carried.clone()]];
            // To the joints of the same part measured before, nearest first.
            tapes.extend(draft.nearest(&body, &link.body, "body", 3));
            tapes.extend(draft.nearest(&carried, &link.axle, "axle", 3));
            let tapes: Vec<[&str; 2]> = tapes.iter().map(|[a, b]| [a.as_str(), b.as_str()]).collect();
            draft.step(
                &format!("Under the car: link {}", super::point_words(name)),
                "Joints to the middle of the bolt.",
                &[(&body, link.body), (&carried, link.axle)],
                &tapes,
            );
        }
        for (key, dampers) in [("coilovers", &axle.coilovers), ("dampers", &axle.dampers)] {
            let Some(sides) = dampers else {
                continue;
            };
            let both = [("left", Some(&sides.left)), ("right", sides.right.as_ref())];
            for (side, damper) in both
                .into_iter()
                .filter_map(|(side, damper)| damper.map(|damper| (side, damper)))
            {
                draft.damper(&format!("{key}.{side}"), damper);
            }
        }
        if let Some(pinion) = axle.pinion {
            let tapes = draft.nearest("pinion.point", &pinion.point, "axle", 2);
            let tapes: Vec<[&str; 2]> = tapes.iter().map(|[a, b]| [a.as_str(), b.as_str()]).collect();
            draft.step(
                "Under the car: pinion",
                "To the middle of the joint's cross. Read the angle of the flange as well.",
                &[("pinion.point", pinion.point)],
                &tapes,
            );
        }
        let wheels = [
            ("wheels.left", Some(axle.wheels.left)),
            ("wheels.right", axle.wheels.right),
        ];
        for (name, place) in wheels
            .into_iter()
            .filter_map(|(name, place)| place.map(|place| (name, place)))
        {
            let tapes = draft.nearest(name, &place, "axle", 3);
            let tapes: Vec<[&str; 2]> = tapes.iter().map(|[a, b]| [a.as_str(), b.as_str()]).collect();
            draft.step(
                &format!("At the wheel: {}", super::point_words(name)),
                "Spin axis where it meets the middle of the wheel. Read the tyre radius as well.",
                &[(name, place)],
                &tapes,
            );
        }
        draft.finish(None, deviations)
    }

    /// All readings of the plan in order.
    pub fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.steps.iter().flat_map(|step| &step.readings)
    }
}

impl Draft {
    fn new() -> Self {
        Self {
            steps: Vec::new(),
            places: IndexMap::new(),
        }
    }

    /// Height, offset and station of each point, then the tapes.
    fn step(&mut self, heading: &str, advice: &'static str, points: &[(&str, Point)], tapes: &[[&str; 2]]) {
        let mut readings = Vec::new();
        for (name, place) in points {
            self.places.insert((*name).to_owned(), *place);
            for axis in [Axis::Z, Axis::Y, Axis::X] {
                readings.push(Reading::coordinate(name, axis, place[axis.index()]));
            }
        }
        for [from, to] in tapes {
            if let (Some(start), Some(end)) = (self.places.get(*from), self.places.get(*to)) {
                readings.push(Reading::tape(from, to, (end - start).norm()));
            }
        }
        self.steps.push(PlanStep {
            heading: heading.to_owned(),
            advice,
            readings,
        });
    }

    fn damper(&mut self, key: &str, damper: &Damper) {
        let (lower, upper) = (format!("{key}.lower_mount"), format!("{key}.upper_mount"));
        let mut tapes = self.nearest(&lower, &damper.lower_mount, "axle", 2);
        tapes.push([lower.clone(), upper.clone()]);
        tapes.extend(self.nearest(&upper, &damper.upper_mount, "body", 2));
        let tapes: Vec<[&str; 2]> = tapes.iter().map(|[a, b]| [a.as_str(), b.as_str()]).collect();
        self.step(
            &format!("Under the car: {}", super::point_words(key)),
            "To the turning points: the middle of the eye or of the bushing stack.",
            &[(&lower, damper.lower_mount), (&upper, damper.upper_mount)],
            &tapes,
        );
    }

    /// Tapes to the nearest joints of links on this part that are known already.
    fn nearest(&self, name: &str, place: &Point, part: &str, count: usize) -> Vec<[String; 2]> {
        let mut known: Vec<(f64, &String)> = self
            .places
            .iter()
            .filter(|(other, _)| other.starts_with("links.") && other.ends_with(part))
            .map(|(other, there)| ((there - place).norm(), other))
            .filter(|(apart, _)| *apart > 1.0)
            .collect();
        known.sort_by(|a, b| a.0.total_cmp(&b.0));
        known
            .into_iter()
            .take(count)
            .map(|(_, other)| [name.to_owned(), other.clone()])
            .collect()
    }

    fn finish(
        self,
        side: Option<Side>,
        deviations: DefaultDeviations,
    ) -> Result<MeasurementPlan, SurveyError> {
        let readings: Vec<Reading> = self.steps.iter().flat_map(|step| step.readings.clone()).collect();
        let sides = side.map(|side| self.places.keys().map(|name| (name.clone(), side)).collect());
        let survey = Survey {
            readings,
            sketch: self.places,
            sides: sides.unwrap_or_default(),
            deviations,
            ..Survey::default()
        };
        let expected = survey.adjust()?;
        Ok(MeasurementPlan {
            steps: self.steps,
            expected,
        })
    }
}

impl PlanStep {
    /// The points of this step that are new in it.
    #[must_use]
    pub fn points(&self) -> Vec<&str> {
        let of = self
            .readings
            .iter()
            .filter_map(|reading| match &reading.observed {
                Observed::Coordinate {
                    of, axis: Axis::Z, ..
                } => Some(of.as_str()),
                _ => None,
            });
        of.collect()
    }
}
