//! Lines that a teacher draws: instant centres, roll centre, and the line whose slope is anti-squat or anti-dive.

use super::linkage::{DrawnView, project};
use crate::model::Suspension;
use crate::sheet::drawing::{Construction, Dimension, DimensionPlace, Marker, Shape};
use crate::table::fixed;
use crate::units::LengthUnit;
use kin_core::curves::{AxleCurve, CornerCurve};
use kin_core::nalgebra::Vector3;
use kin_core::pickups::Point;
use kin_core::{AxlePosition, AxleTravel, CornerPosition, PoseError};

/// An arm whose plane stands within this of a view's section plane (sine of the angle) has no line in it.
const PARALLEL_TO_SECTION: f64 = 1e-3;
/// A line that passes the roll centre within this (mm) is drawn to it.
const THROUGH_MM: f64 = 0.5;
/// Beyond this (mm) a distance is told as such.
const FARTHEST_MM: f64 = 1e5;
/// The centreline reaches this much above the roll centre and the ground (mm).
const CENTRELINE_MM: f64 = 60.0;

/// What is added to a view.
#[derive(Debug, Default)]
pub(super) struct Constructed {
    pub(super) shapes: Vec<Shape>,
    pub(super) reaches: Vec<(f64, f64)>,
}

impl Constructed {
    fn line(&mut self, from: (f64, f64), to: (f64, f64), label: Option<&str>) {
        self.shapes.push(Shape::Construction(Construction {
            from,
            to,
            label: label.map(str::to_owned),
        }));
    }

    fn marker(&mut self, at: (f64, f64), label: String) {
        self.shapes.push(Shape::Marker(Marker { at, label }));
    }

    /// The roll centre on the middle of the car, with its height above the ground.
    fn roll_centre(&mut self, ground: f64, height: f64, unit: LengthUnit) -> (f64, f64) {
        let at = (0.0, ground + height);
        let (low, high) = (ground.min(at.1), ground.max(at.1));
        self.line(
            (0.0, low - CENTRELINE_MM),
            (0.0, high + CENTRELINE_MM),
            Some("middle of the car"),
        );
        self.marker(at, format!("roll centre, {}", over_ground(height, unit)));
        self.reaches.extend([(0.0, low), (0.0, high + CENTRELINE_MM)]);
        self.shapes.push(Shape::Dimension(Dimension {
            from: (0.0, ground),
            to: at,
            place: DimensionPlace::Left,
            text: unit.text(height.abs()),
        }));
        at
    }
}

/// The construction of a view at ride height.
///
/// # Errors
/// A ride height that cannot be reached.
pub(super) fn construct(
    view: DrawnView,
    suspension: &Suspension,
    unit: LengthUnit,
) -> Result<Constructed, kin_core::Error> {
    Ok(match suspension {
        Suspension::Corner(corner) => {
            let position = corner.at(corner.ride_travel()?, 0.0)?;
            match view {
                DrawnView::Front => corner_front(&position, unit),
                DrawnView::Side => corner_side(&position, unit),
                DrawnView::Top => Constructed::default(),
            }
        }
        Suspension::Axle(axle) => {
            let position = axle.at(AxleTravel::both(axle.ride_travel()?))?;
            match view {
                DrawnView::Front => axle_rear(&position, unit),
                DrawnView::Side => axle_side(&position, unit)?,
                DrawnView::Top => Constructed::default(),
            }
        }
    })
}

/// The arms' lines meet in the instant centre; the line from the contact point through it meets the middle of the car in
/// the roll centre.
fn corner_front(position: &CornerPosition<'_>, unit: LengthUnit) -> Constructed {
    let mut drawn = Constructed::default();
    let contact = position.contact_point();
    let centre = CornerCurve::FrontViewInstantCentreY
        .value(position)
        .zip(CornerCurve::FrontViewInstantCentreHeight.value(position))
        .map(|(y, height)| (y, contact.z + height));
    let from = (contact.y, contact.z);
    let roll = CornerCurve::RollCentreHeight
        .value(position)
        .map(|height| drawn.roll_centre(contact.z, height, unit));
    match centre {
        Some(centre) => {
            arms(&mut drawn, position, DrawnView::Front, centre);
            let aside = from.0.signum() * (centre.0 - from.0);
            let way = if aside < 0.0 { "inboard" } else { "outboard" };
            drawn.marker(centre, format!("instant centre, {} {way}", far(aside, unit)));
            let [start, end] = through(from, centre, roll);
            drawn.line(start, end, Some("contact point to instant centre"));
        }
        // Parallel arms: the wheel moves along a line, and the construction line is level with the arms.
        None => drawn.shapes.extend(roll.map(|roll| {
            Shape::Construction(Construction {
                from,
                to: roll,
                label: Some("parallel arms: no instant centre".to_owned()),
            })
        })),
    }
    drawn
}

/// The ends of the line that goes through the contact point and the instant centre and reaches the roll centre, which lies
/// on the other side of the contact point where the instant centre is outboard.
fn through(from: (f64, f64), centre: (f64, f64), roll: Option<(f64, f64)>) -> [(f64, f64); 2] {
    let (mut low, mut high) = (from, from);
    for place in [Some(centre), roll].into_iter().flatten() {
        if place.0 < low.0 {
            low = place;
        }
        if place.0 > high.0 {
            high = place;
        }
    }
    [low, high]
}

/// The line from the contact point to the side-view instant centre: its slope is that of the contact point's path,
/// upright for level.
fn corner_side(position: &CornerPosition<'_>, unit: LengthUnit) -> Constructed {
    let mut drawn = Constructed::default();
    let contact = position.contact_point();
    let slope = CornerCurve::ContactPointSlope.value(position);
    let centre = CornerCurve::SideViewInstantCentreX
        .value(position)
        .zip(CornerCurve::SideViewInstantCentreHeight.value(position))
        .map(|(x, height)| (x, contact.z + height));
    if let Some(centre) = centre {
        arms(&mut drawn, position, DrawnView::Side, centre);
    }
    // The path's slope forward over up is the line's slope up over rearward.
    let words = slope.map(|slope| format!("slope {} up to the rear, brake locked", number(slope, 3)));
    let rise = slope.map(|slope| (-1.0, slope));
    side_line(&mut drawn, (contact.x, contact.z), [centre, rise], words, unit);
    drawn
}

/// A live axle has no instant centre in the view from behind that is not its roll centre. Links that point at it show why.
fn axle_rear(position: &AxlePosition<'_>, unit: LengthUnit) -> Constructed {
    let mut drawn = Constructed::default();
    let (left, right) = position.contact_points();
    let ground = (left.z + right.z) / 2.0;
    let Some(height) = AxleCurve::RollCentreHeight.value(position) else {
        return drawn;
    };
    let roll = drawn.roll_centre(ground, height, unit);
    for (body, end) in position.links().into_values() {
        let (one, two) = (project(DrawnView::Front, &body), project(DrawnView::Front, &end));
        if passes(one, two, roll) {
            drawn.line(one, two, None);
            drawn.line(one, roll, None);
        }
    }
    drawn
}

/// Whether the straight line through two places passes a third, and is no mere point in the view.
fn passes(one: (f64, f64), two: (f64, f64), by: (f64, f64)) -> bool {
    let along = (two.0 - one.0, two.1 - one.1);
    let length = along.0.hypot(along.1);
    length > 1.0 && ((by.0 - one.0) * along.1 - (by.1 - one.1) * along.0).abs() / length < THROUGH_MM
}

/// The links' lines meet in the side-view instant centre where the axle is the same left and right.
fn axle_side(position: &AxlePosition<'_>, unit: LengthUnit) -> Result<Constructed, PoseError> {
    let mut drawn = Constructed::default();
    let (contact, _) = position.contact_points();
    let centre = AxleCurve::SideViewInstantCentreX
        .value(position)
        .zip(AxleCurve::SideViewInstantCentreHeight.value(position))
        .map(|(x, height)| (x, contact.z + height));
    let slope = AxleCurve::AntiSquatSlope.value(position);
    if let Some(centre) = centre {
        for (name, (body, end)) in position.links() {
            let (one, two) = (project(DrawnView::Side, &end), project(DrawnView::Side, &body));
            if !name.ends_with("_right") && passes(one, two, centre) {
                drawn.line(one, centre, None);
            }
        }
    }
    let words = slope.map(|slope| format!("anti-squat line, slope {} up to the front", number(slope, 3)));
    let rise = slope.map(|slope| (1.0, slope));
    side_line(&mut drawn, (contact.x, contact.z), [centre, rise], words, unit);
    Ok(drawn)
}

/// The line from the contact point to the side-view instant centre, or along its slope where the centre lies at infinity.
fn side_line(
    drawn: &mut Constructed,
    from: (f64, f64),
    [centre, rise]: [Option<(f64, f64)>; 2],
    words: Option<String>,
    unit: LengthUnit,
) {
    let to = match (centre, rise) {
        (Some(centre), _) => {
            let ahead = centre.0 - from.0;
            let way = if ahead < 0.0 { "behind" } else { "ahead" };
            drawn.marker(centre, format!("instant centre, {} {way}", far(ahead, unit)));
            centre
        }
        (None, Some((ahead, up))) => (from.0 + 1e4 * ahead, from.1 + 1e4 * up),
        (None, None) => return,
    };
    drawn.line(from, to, words.as_deref());
}

/// The lines in which the arms' planes cut the plane of the view through the contact point, from the ball joint on.
fn arms(drawn: &mut Constructed, position: &CornerPosition<'_>, view: DrawnView, centre: (f64, f64)) {
    let own = position.corner().pickups();
    let mirrored = position.corner().side() != kin_core::pickups::Side::Left;
    let own = if mirrored { own.mirrored() } else { own.clone() };
    let contact = position.contact_point();
    for (arm, joint) in [
        (&own.upper_arm, position.upper_ball_joint()),
        (&own.lower_arm, position.lower_ball_joint()),
    ] {
        if let Some(start) = in_section(view, &[arm.front_pivot, arm.rear_pivot, joint], &contact) {
            drawn.line(start, centre, None);
        }
    }
}

/// The place nearest to the arm's ball joint where its plane and the plane of the view through the contact point meet.
fn in_section(view: DrawnView, [front, rear, joint]: &[Point; 3], contact: &Point) -> Option<(f64, f64)> {
    let normal: Vector3<f64> = (rear - front).cross(&(joint - front)).try_normalize(1e-9)?;
    // Straight through the section along the arm's plane: the shift is square to the view and as short as can be.
    let square = match view {
        DrawnView::Front => Vector3::x(),
        DrawnView::Side => Vector3::y(),
        DrawnView::Top => Vector3::z(),
    };
    let along = square - normal * normal.dot(&square);
    let steep = along.norm();
    if steep < PARALLEL_TO_SECTION {
        return None;
    }
    let needed = (contact - joint).dot(&square) / (steep * steep);
    Some(project(view, &(joint + along * needed)))
}

/// A distance from the contact point in words: large ones need no tenths, and the largest no number.
fn far(distance: f64, unit: LengthUnit) -> String {
    let distance = distance.abs();
    match unit {
        LengthUnit::Millimetre if distance > FARTHEST_MM => "over 100 m".to_owned(),
        LengthUnit::Inch if distance > FARTHEST_MM => "over 300 ft".to_owned(),
        LengthUnit::Millimetre if distance >= 1000.0 => format!("{} m", number(distance / 1000.0, 2)),
        LengthUnit::Millimetre => format!("{} mm", number(distance, 0)),
        LengthUnit::Inch => format!("{} in", number(distance / unit.millimetres(), 1)),
    }
}

fn over_ground(height: f64, unit: LengthUnit) -> String {
    let way = if height < 0.0 { "below ground" } else { "high" };
    format!("{} {way}", unit.text(height.abs()))
}

/// A number with a true minus sign.
fn number(value: f64, decimals: usize) -> String {
    fixed(value, decimals).replace('-', "\u{2212}")
}
