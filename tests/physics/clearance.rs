//! Clearances: distances against brute force, gaps along motions against the independent solution, laws, findings.

mod distances;
mod motions;
mod reference;
mod scenarios;
mod wrong_input;

use kin_core::checks::{
    AlongDamper, Ball, Block, ClearanceQuestion, PairClearance, Place, Plane, Rod, Shape, Solid, Tube,
};
use kin_core::pickups::Point;

pub(crate) fn solid(name: &str, shape: Shape) -> Solid {
    Solid {
        name: name.to_owned(),
        shape,
        fixed_to: None,
        mirror: false,
        gap: None,
    }
}

pub(crate) fn tube(name: &str, points: &[[f64; 3]], radius: f64) -> Solid {
    let points = points.iter().map(|point| Point::from(*point)).collect();
    solid(name, Shape::Tube(Tube { points, radius }))
}

pub(crate) fn block(name: &str, centre: [f64; 3], size: [f64; 3], turns: [f64; 3]) -> Solid {
    let [yaw, pitch, roll] = turns;
    let block = Block {
        centre: centre.into(),
        size: size.into(),
        yaw,
        pitch,
        roll,
    };
    solid(name, Shape::Box(block))
}

pub(crate) fn ball(name: &str, centre: [f64; 3], radius: f64) -> Solid {
    let centre = centre.into();
    solid(name, Shape::Sphere(Ball { centre, radius }))
}

pub(crate) fn plane(name: &str, point: [f64; 3], normal: [f64; 3]) -> Solid {
    let plane = Plane {
        point: point.into(),
        normal: normal.into(),
    };
    solid(name, Shape::Plane(plane))
}

pub(crate) fn rod(name: &str, from: &str, to: &str, short_of_to: f64, radius: f64) -> Solid {
    let rod = Rod {
        from: Place::Named(from.to_owned()),
        to: Place::Named(to.to_owned()),
        short_of_from: 0.0,
        short_of_to,
        radius,
    };
    solid(name, Shape::Rod(rod))
}

/// A spring between seats this far from the lower and the upper mount.
pub(crate) fn spring(from_lower: f64, from_upper: f64, radius: f64) -> Solid {
    let part = AlongDamper {
        from_upper: Some(from_upper),
        from_lower: Some(from_lower),
        radius,
        ..AlongDamper::default()
    };
    solid("spring", Shape::AlongDamper(part))
}

pub(crate) fn question(parts: Vec<Solid>, obstacles: Vec<Solid>, bump: f64, droop: f64) -> ClearanceQuestion {
    ClearanceQuestion {
        parts,
        obstacles,
        bump: Some(bump),
        droop: Some(droop),
        ..ClearanceQuestion::default()
    }
}

pub(crate) fn pair<'a>(pairs: &'a [PairClearance], part: &str, other: &str) -> &'a PairClearance {
    pairs
        .iter()
        .find(|pair| pair.part == part && pair.other == other)
        .unwrap_or_else(|| panic!("no pair of {part} and {other}"))
}
