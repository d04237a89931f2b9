//! Descriptions checked before anything is solved, in sentences that name the pickup.

use super::{Damper, DoubleWishbone, LiveAxle, Point, RideHeight, Side, Spring, Stops, Wanted};

/// A rod or arm shorter than this (mm) is taken for a wrong unit: no road car has one.
const SHORTEST_ROD_MM: f64 = 30.0;
/// A rod or arm longer than this (mm) is taken for a wrong unit.
const LONGEST_ROD_MM: f64 = 5_000.0;
/// Wheel radii outside this range (mm) are taken for a wrong unit.
const TYRE_RADIUS_MM: (f64, f64) = (50.0, 1_500.0);
/// A damper shorter than this compressed (mm) is taken for a wrong unit.
const SHORTEST_DAMPER_MM: f64 = 50.0;
/// Coordinates beyond this (mm) are taken for a wrong unit or a slip of the pen.
const FARTHEST_MM: f64 = 20_000.0;
/// Static camber and toe beyond this (deg) are taken for a slip of the pen.
const LARGEST_WHEEL_ANGLE_DEG: f64 = 15.0;

/// Something in a description cannot be right.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PickupError {
    /// A number is not finite.
    #[error("`{field}` is {value}: give a finite number")]
    NotFinite {
        /// Path of the field.
        field: String,
        /// The value found.
        value: f64,
    },
    /// A number lies outside what is possible.
    #[error("`{field}` is {value}, but it must be {requirement}: {advice}")]
    OutOfRange {
        /// Path of the field.
        field: String,
        /// The value found (mm, deg or N/mm).
        value: f64,
        /// What it must be, in words with the limit.
        requirement: String,
        /// What to do.
        advice: &'static str,
    },
    /// Two joints of one part coincide, or nearly.
    #[error("`{first}` and `{second}` are {distance_mm:.3} mm apart: {advice}")]
    TooClose {
        /// One joint.
        first: String,
        /// The other joint.
        second: String,
        /// Their distance (mm).
        distance_mm: f64,
        /// What to do.
        advice: &'static str,
    },
    /// Two joints of one part are farther apart than any car is long.
    #[error("`{first}` and `{second}` are {distance_mm:.0} mm apart: {advice}")]
    TooFar {
        /// One joint.
        first: String,
        /// The other joint.
        second: String,
        /// Their distance (mm).
        distance_mm: f64,
        /// What to do.
        advice: &'static str,
    },
    /// A point lies on the wrong side of the car.
    #[error(
        "`{field}` has y = {value} mm, but a {side} corner lies at y {sign} 0 (Y points left): \
         turn the sign round, or say `side: \"{other}\"`"
    )]
    WrongSide {
        /// Path of the point.
        field: String,
        /// Its y (mm).
        value: f64,
        /// The side described.
        side: &'static str,
        /// The comparison that holds on that side.
        sign: &'static str,
        /// The other side.
        other: &'static str,
    },
    /// Points that must lie in an order do not.
    #[error("{problem}: {advice}")]
    WrongOrder {
        /// What is the wrong way round, with the numbers.
        problem: String,
        /// What to do.
        advice: &'static str,
    },
    /// A part is said to ride on something that is not there.
    #[error("`{field}` says `{value}`, which is not a part here; it can be one of: {known}{suggestion}")]
    UnknownPart {
        /// Path of the field.
        field: String,
        /// The name found.
        value: String,
        /// The names that exist.
        known: String,
        /// The nearest of them, as the end of the sentence.
        suggestion: String,
    },
    /// Something needed is missing, or two things exclude each other.
    #[error("`{field}`: {problem}")]
    Incomplete {
        /// Path of the field.
        field: String,
        /// What is missing or doubled, and what to do.
        problem: String,
    },
}

const UNIT_ADVICE: &str = "is the unit right (inches given as millimetres, or the other way round)?";

impl DoubleWishbone {
    /// Checks that the description can be a corner of a car.
    ///
    /// # Errors
    /// A [`PickupError`] that names the first field found wrong.
    pub fn validate(&self) -> Result<(), PickupError> {
        for (arm, name) in [(&self.upper_arm, "upper_arm"), (&self.lower_arm, "lower_arm")] {
            for (point, field) in [
                (&arm.front_pivot, "front_pivot"),
                (&arm.rear_pivot, "rear_pivot"),
                (&arm.ball_joint, "ball_joint"),
            ] {
                coordinates(point, &format!("{name}.{field}"))?;
            }
        }
        coordinates(&self.tie_rod.inner, "tie_rod.inner")?;
        coordinates(&self.tie_rod.outer, "tie_rod.outer")?;
        coordinates(&self.wheel.centre, "wheel.centre")?;
        within(
            self.wheel.tyre_radius,
            "wheel.tyre_radius",
            TYRE_RADIUS_MM,
            UNIT_ADVICE,
        )?;
        let angles = (-LARGEST_WHEEL_ANGLE_DEG, LARGEST_WHEEL_ANGLE_DEG);
        within(
            self.wheel.camber,
            "wheel.camber",
            angles,
            "give degrees, positive with the top leaning outboard",
        )?;
        within(
            self.wheel.toe,
            "wheel.toe",
            angles,
            "give degrees per wheel, positive toe-in",
        )?;
        self.sides()?;
        for (arm, name) in [(&self.upper_arm, "upper_arm"), (&self.lower_arm, "lower_arm")] {
            for (pivot, field) in [(&arm.front_pivot, "front_pivot"), (&arm.rear_pivot, "rear_pivot")] {
                rod(
                    (pivot, &format!("{name}.{field}")),
                    (&arm.ball_joint, &format!("{name}.ball_joint")),
                )?;
            }
            arm_shape(arm, name)?;
        }
        rod(
            (&self.tie_rod.inner, "tie_rod.inner"),
            (&self.tie_rod.outer, "tie_rod.outer"),
        )?;
        rod(
            (&self.lower_arm.ball_joint, "lower_arm.ball_joint"),
            (&self.upper_arm.ball_joint, "upper_arm.ball_joint"),
        )?;
        let (upper, lower) = (self.upper_arm.ball_joint.z, self.lower_arm.ball_joint.z);
        if upper <= lower {
            return Err(PickupError::WrongOrder {
                problem: format!(
                    "the upper ball joint (z = {upper} mm) is not above the lower one (z = {lower} mm)"
                ),
                advice: "are `upper_arm` and `lower_arm` swapped?",
            });
        }
        self.steering_arm()?;
        self.mounts()
    }

    fn sides(&self) -> Result<(), PickupError> {
        let (sign, side, comparison, other) = match self.side {
            Side::Left => (1.0, "left", ">", "right"),
            Side::Right => (-1.0, "right", "<", "left"),
        };
        for (point, field) in [
            (&self.wheel.centre, "wheel.centre"),
            (&self.upper_arm.ball_joint, "upper_arm.ball_joint"),
            (&self.lower_arm.ball_joint, "lower_arm.ball_joint"),
            (&self.tie_rod.outer, "tie_rod.outer"),
        ] {
            if point.y * sign <= 0.0 {
                let field = field.to_owned();
                return Err(PickupError::WrongSide {
                    field,
                    value: point.y,
                    side,
                    sign: comparison,
                    other,
                });
            }
        }
        for (arm, name) in [(&self.upper_arm, "upper_arm"), (&self.lower_arm, "lower_arm")] {
            for (pivot, field) in [(&arm.front_pivot, "front_pivot"), (&arm.rear_pivot, "rear_pivot")] {
                if (arm.ball_joint.y - pivot.y) * sign <= 0.0 {
                    return Err(PickupError::WrongOrder {
                        problem: format!(
                            "`{name}.ball_joint` (y = {} mm) is not outboard of `{name}.{field}` (y = {} mm)",
                            arm.ball_joint.y, pivot.y
                        ),
                        advice: "check the sign of y, and that pivot and ball joint are not swapped",
                    });
                }
            }
        }
        Ok(())
    }

    /// The tie rod can hold the upright only if its outer joint stands off the steering axis.
    fn steering_arm(&self) -> Result<(), PickupError> {
        let axis = (self.upper_arm.ball_joint - self.lower_arm.ball_joint).normalize();
        let offset = self.tie_rod.outer - self.lower_arm.ball_joint;
        let distance_mm = (offset - axis * axis.dot(&offset)).norm();
        if distance_mm < 5.0 {
            return Err(PickupError::TooClose {
                first: "tie_rod.outer".into(),
                second: "steering axis".into(),
                distance_mm,
                advice: "a tie rod on the line through both ball joints cannot hold the wheel from steering",
            });
        }
        Ok(())
    }

    fn mounts(&self) -> Result<(), PickupError> {
        let parts = ["lower_arm", "upper_arm", "upright"];
        one_damper(
            self.coilover.is_some(),
            self.damper.is_some(),
            "coilover",
            "damper",
        )?;
        for (damper, field) in [(&self.coilover, "coilover"), (&self.damper, "damper")] {
            if let Some(damper) = damper {
                check_damper(damper, field, &parts)?;
            }
        }
        if let Some(spring) = &self.spring {
            check_spring(spring, "spring", &parts, self.coilover.is_some())?;
        }
        check_surroundings(
            self.ride_height,
            &self.stops,
            self.wanted,
            &parts,
            self.any_damper().is_some(),
        )
    }
}

impl LiveAxle {
    /// Checks that the description can be an axle; the right side must be written out.
    ///
    /// # Errors
    /// A [`PickupError`] that names the first field found wrong.
    pub fn validate(&self) -> Result<(), PickupError> {
        if self.links.is_empty() {
            return Err(incomplete(
                "links",
                "an axle needs links; four of them, or three and a panhard rod",
            ));
        }
        for (name, link) in &self.links {
            let (body, axle) = (format!("links.{name}.body"), format!("links.{name}.axle"));
            coordinates(&link.body, &body)?;
            coordinates(&link.axle, &axle)?;
            rod((&link.body, &body), (&link.axle, &axle))?;
            if let Some(stiffness) = link.stiffness {
                positive(
                    stiffness,
                    &format!("links.{name}.stiffness"),
                    "give the axial stiffness",
                )?;
            }
        }
        coordinates(&self.wheels.left, "wheels.left")?;
        let Some(right) = &self.wheels.right else {
            return Err(incomplete(
                "wheels.right",
                "give the right wheel, or say `right: \"mirror\"` for the axle",
            ));
        };
        coordinates(right, "wheels.right")?;
        within(
            self.wheels.tyre_radius,
            "wheels.tyre_radius",
            TYRE_RADIUS_MM,
            UNIT_ADVICE,
        )?;
        if self.wheels.left.y <= right.y {
            return Err(PickupError::WrongOrder {
                problem: format!(
                    "`wheels.left` (y = {} mm) is not to the left of `wheels.right` (y = {} mm)",
                    self.wheels.left.y, right.y
                ),
                advice: "Y points left: the left wheel has the larger y",
            });
        }
        rod((&self.wheels.left, "wheels.left"), (right, "wheels.right"))?;
        if let Some(pinion) = &self.pinion {
            coordinates(&pinion.point, "pinion.point")?;
            within(
                pinion.nose_up,
                "pinion.nose_up",
                (-45.0, 45.0),
                "give degrees, positive nose up",
            )?;
        }
        self.mounts()
    }

    fn mounts(&self) -> Result<(), PickupError> {
        let parts: Vec<&str> = std::iter::once("axle")
            .chain(self.links.keys().map(String::as_str))
            .collect();
        one_damper(
            self.coilovers.is_some(),
            self.dampers.is_some(),
            "coilovers",
            "dampers",
        )?;
        for (sides, field) in [(&self.coilovers, "coilovers"), (&self.dampers, "dampers")] {
            let Some(sides) = sides else { continue };
            check_damper(&sides.left, &format!("{field}.left"), &parts)?;
            let right = sides.right.as_ref().ok_or_else(|| right_missing(field))?;
            check_damper(right, &format!("{field}.right"), &parts)?;
        }
        if let Some(sides) = &self.springs {
            check_spring(&sides.left, "springs.left", &parts, self.coilovers.is_some())?;
            let right = sides.right.as_ref().ok_or_else(|| right_missing("springs"))?;
            check_spring(right, "springs.right", &parts, self.coilovers.is_some())?;
        }
        check_surroundings(
            self.ride_height,
            &self.stops,
            self.wanted,
            &parts,
            self.any_dampers().is_some(),
        )
    }
}

fn right_missing(field: &str) -> PickupError {
    incomplete(
        &format!("{field}.right"),
        "give the right one, or say `right: \"mirror\"` for the axle",
    )
}

pub(crate) fn incomplete(field: &str, problem: &str) -> PickupError {
    PickupError::Incomplete {
        field: field.to_owned(),
        problem: problem.to_owned(),
    }
}

fn one_damper(coilover: bool, damper: bool, first: &str, second: &str) -> Result<(), PickupError> {
    if coilover && damper {
        let problem = format!("give either `{first}` or `{second}`, not both");
        return Err(incomplete(second, &problem));
    }
    Ok(())
}

fn finite(value: f64, field: &str) -> Result<(), PickupError> {
    if value.is_finite() {
        Ok(())
    } else {
        Err(PickupError::NotFinite {
            field: field.to_owned(),
            value,
        })
    }
}

pub(crate) fn within(
    value: f64,
    field: &str,
    range: (f64, f64),
    advice: &'static str,
) -> Result<(), PickupError> {
    finite(value, field)?;
    if value < range.0 || value > range.1 {
        let requirement = format!("between {} and {}", range.0, range.1);
        return Err(PickupError::OutOfRange {
            field: field.to_owned(),
            value,
            requirement,
            advice,
        });
    }
    Ok(())
}

pub(crate) fn positive(value: f64, field: &str, advice: &'static str) -> Result<(), PickupError> {
    finite(value, field)?;
    if value <= 0.0 {
        let requirement = "above 0".to_owned();
        return Err(PickupError::OutOfRange {
            field: field.to_owned(),
            value,
            requirement,
            advice,
        });
    }
    Ok(())
}

pub(crate) fn coordinates(point: &Point, field: &str) -> Result<(), PickupError> {
    for (value, axis) in point.iter().zip(["x", "y", "z"]) {
        within(
            *value,
            &format!("{field} {axis}"),
            (-FARTHEST_MM, FARTHEST_MM),
            UNIT_ADVICE,
        )?;
    }
    Ok(())
}

fn rod(first: (&Point, &str), second: (&Point, &str)) -> Result<(), PickupError> {
    let distance_mm = (first.0 - second.0).norm();
    let (first, second) = (first.1.to_owned(), second.1.to_owned());
    if distance_mm < 1e-3 {
        let advice = "they coincide; give two different points";
        return Err(PickupError::TooClose {
            first,
            second,
            distance_mm,
            advice,
        });
    }
    if distance_mm < SHORTEST_ROD_MM {
        return Err(PickupError::TooClose {
            first,
            second,
            distance_mm,
            advice: UNIT_ADVICE,
        });
    }
    if distance_mm > LONGEST_ROD_MM {
        return Err(PickupError::TooFar {
            first,
            second,
            distance_mm,
            advice: UNIT_ADVICE,
        });
    }
    Ok(())
}

/// The two pivots must span an axis, and the ball joint must stand off it.
fn arm_shape(arm: &super::Arm, name: &str) -> Result<(), PickupError> {
    let axis = arm.rear_pivot - arm.front_pivot;
    let distance_mm = axis.norm();
    if distance_mm < 5.0 {
        return Err(PickupError::TooClose {
            first: format!("{name}.front_pivot"),
            second: format!("{name}.rear_pivot"),
            distance_mm,
            advice: "the two pivots must span the axis that the arm turns about",
        });
    }
    let offset = arm.ball_joint - arm.front_pivot;
    let distance_mm = (offset - axis * (axis.dot(&offset) / axis.norm_squared())).norm();
    if distance_mm < SHORTEST_ROD_MM {
        return Err(PickupError::TooClose {
            first: format!("{name}.ball_joint"),
            second: format!("axis of {name}"),
            distance_mm,
            advice: "the ball joint must stand off the line through both pivots",
        });
    }
    Ok(())
}

pub(crate) fn known_part(value: &str, field: &str, parts: &[&str]) -> Result<(), PickupError> {
    if parts.contains(&value) {
        return Ok(());
    }
    let nearest = parts
        .iter()
        .map(|part| (strsim::jaro_winkler(part, value), part))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .filter(|(likeness, _)| *likeness > 0.75);
    Err(PickupError::UnknownPart {
        field: field.to_owned(),
        value: value.to_owned(),
        known: parts
            .iter()
            .map(|part| format!("`{part}`"))
            .collect::<Vec<_>>()
            .join(", "),
        suggestion: nearest.map_or(String::new(), |(_, part)| format!("; did you mean `{part}`?")),
    })
}

fn check_damper(damper: &Damper, field: &str, parts: &[&str]) -> Result<(), PickupError> {
    coordinates(&damper.upper_mount, &format!("{field}.upper_mount"))?;
    coordinates(&damper.lower_mount, &format!("{field}.lower_mount"))?;
    known_part(&damper.rides_on, &format!("{field}.rides_on"), parts)?;
    finite(damper.extended, &format!("{field}.extended"))?;
    for (stud, name) in [
        (damper.upper_stud, "upper_stud"),
        (damper.lower_stud, "lower_stud"),
    ] {
        within(
            stud.unwrap_or(0.0),
            &format!("{field}.{name}"),
            (-150.0, 150.0),
            UNIT_ADVICE,
        )?;
    }
    let compressed = damper.compressed;
    within(
        compressed,
        &format!("{field}.compressed"),
        (SHORTEST_DAMPER_MM, LONGEST_ROD_MM),
        UNIT_ADVICE,
    )?;
    if damper.extended <= compressed {
        return Err(PickupError::WrongOrder {
            problem: format!(
                "`{field}.extended` ({} mm) is not longer than `{field}.compressed` ({compressed} mm)",
                damper.extended
            ),
            advice: "are the two lengths swapped?",
        });
    }
    let stroke = damper.extended - compressed;
    finite(damper.bump_stop, &format!("{field}.bump_stop"))?;
    if damper.bump_stop < 0.0 || damper.bump_stop >= stroke {
        return Err(PickupError::OutOfRange {
            field: format!("{field}.bump_stop"),
            value: damper.bump_stop,
            requirement: format!("at least 0 and less than the stroke of {stroke:.2} mm"),
            advice: "give the length of the bump stop on the shaft",
        });
    }
    mounts_apart(&damper.upper_mount, &damper.lower_mount, field)
}

fn mounts_apart(upper: &Point, lower: &Point, field: &str) -> Result<(), PickupError> {
    rod(
        (upper, &format!("{field}.upper_mount")),
        (lower, &format!("{field}.lower_mount")),
    )
}

fn check_spring(spring: &Spring, field: &str, parts: &[&str], on_coilover: bool) -> Result<(), PickupError> {
    positive(spring.rate, &format!("{field}.rate"), "give the spring rate")?;
    if let Some(free) = spring.free_length {
        positive(
            free,
            &format!("{field}.free_length"),
            "give the length of the unloaded spring",
        )?;
    }
    finite(spring.upper_seat, &format!("{field}.upper_seat"))?;
    finite(spring.lower_seat, &format!("{field}.lower_seat"))?;
    match (&spring.upper_mount, &spring.lower_mount, &spring.rides_on) {
        (None, None, None) if on_coilover => Ok(()),
        (None, None, None) => Err(incomplete(
            field,
            "without a coilover the spring needs its own `upper_mount`, `lower_mount` and `rides_on`",
        )),
        (Some(upper), Some(lower), Some(part)) => {
            coordinates(upper, &format!("{field}.upper_mount"))?;
            coordinates(lower, &format!("{field}.lower_mount"))?;
            known_part(part, &format!("{field}.rides_on"), parts)?;
            mounts_apart(upper, lower, field)
        }
        _ => Err(incomplete(
            field,
            "a spring that stands apart needs all three of `upper_mount`, `lower_mount` and `rides_on`",
        )),
    }
}

fn check_surroundings(
    ride_height: Option<RideHeight>,
    stops: &Stops,
    wanted: Option<Wanted>,
    parts: &[&str],
    has_damper: bool,
) -> Result<(), PickupError> {
    if let Some(ride) = ride_height {
        check_ride_height(ride, has_damper)?;
    }
    for (value, field) in [(stops.bump, "stops.bump"), (stops.droop, "stops.droop")] {
        if let Some(value) = value {
            within(
                value,
                field,
                (0.0, 1_000.0),
                "count the travel from ride height to the stop, positive",
            )?;
        }
    }
    for (place, strap) in stops.straps.iter().enumerate() {
        let field = format!("stops.straps[{place}]");
        coordinates(&strap.upper_mount, &format!("{field}.upper_mount"))?;
        coordinates(&strap.lower_mount, &format!("{field}.lower_mount"))?;
        known_part(&strap.rides_on, &format!("{field}.rides_on"), parts)?;
        positive(
            strap.length,
            &format!("{field}.length"),
            "give the length of the taut strap",
        )?;
    }
    if let Some(wanted) = wanted {
        let fields = [
            (wanted.bump, "wanted.bump"),
            (wanted.droop, "wanted.droop"),
            (wanted.margin, "wanted.margin"),
        ];
        for (value, field) in fields {
            if let Some(value) = value {
                within(
                    value,
                    field,
                    (0.0, 1_000.0),
                    "count it from ride height, positive",
                )?;
            }
        }
    }
    Ok(())
}

fn check_ride_height(ride: RideHeight, has_damper: bool) -> Result<(), PickupError> {
    for (value, field) in [
        (ride.travel, "ride_height.travel"),
        (ride.damper_length, "ride_height.damper_length"),
        (ride.hub_to_lip, "ride_height.hub_to_lip"),
        (ride.hub_to_lip_as_measured, "ride_height.hub_to_lip_as_measured"),
    ] {
        finite(value.unwrap_or(0.0), field)?;
    }
    match (
        ride.travel,
        ride.damper_length,
        ride.hub_to_lip,
        ride.hub_to_lip_as_measured,
    ) {
        (Some(_), None, None, None) | (None, None, Some(_), Some(_)) => Ok(()),
        (None, Some(_), None, None) if has_damper => Ok(()),
        (None, Some(_), None, None) => Err(incomplete(
            "ride_height.damper_length",
            "there is no damper here that could have this length",
        )),
        (None, None, Some(_), None) => Err(incomplete(
            "ride_height.hub_to_lip_as_measured",
            "say how high the lip stood above the hub when the pickups were measured",
        )),
        (None, None, None, Some(_)) => Err(incomplete(
            "ride_height.hub_to_lip",
            "say how high the lip shall stand above the hub",
        )),
        _ => Err(incomplete(
            "ride_height",
            "give exactly one of `travel`, `damper_length`, or `hub_to_lip` with `hub_to_lip_as_measured`",
        )),
    }
}
