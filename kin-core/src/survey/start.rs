//! Starting places of all points, found without help: from absolute readings, then from tapes to points that have a place.

use super::network::Network;
use super::notebook::Survey;
use super::placement::{candidates, points_of};
use crate::pickups::Point;

/// Ways of placing all points that are followed at once.
const MOST_WAYS: usize = 24;
/// Ways that are adjusted in the end.
const MOST_STARTS: usize = 8;
/// From so many unknowns on only the likeliest are: many readings hold many points.
const LARGE: usize = 120;
const STARTS_OF_LARGE: usize = 2;
const WAYS_OF_LARGE: usize = 8;

/// One way of placing the points so far.
#[derive(Clone)]
struct Way {
    places: Vec<Point>,
    cost: f64,
}

/// Starting places to adjust from, the likeliest first. Where a sketch was given, the first starts from it.
///
/// Points are placed one after another, those first that most readings hold to points placed before. A point with two possible
/// places (a triangle folded either way) is followed in both: points that are placed later tell which was right. The order goes
/// by readings and names, not by the order in the notebook.
pub(super) fn starts(survey: &Survey, network: &Network) -> Vec<Vec<Point>> {
    let mut starts = Vec::new();
    if !survey.sketch.is_empty() {
        starts.extend(placed(survey, network, true).into_iter().take(1));
    }
    let most = if network.unknowns < LARGE {
        MOST_STARTS
    } else {
        STARTS_OF_LARGE
    };
    starts.extend(placed(survey, network, false).into_iter().take(most));
    starts
}

fn placed(survey: &Survey, network: &Network, by_sketch: bool) -> Vec<Vec<Point>> {
    let count = network.points.len();
    let mut done = vec![false; count];
    let mut first = Way {
        places: network.stated.clone(),
        cost: 0.0,
    };
    for (point, done) in done.iter_mut().enumerate() {
        let stated = network.columns[point].iter().all(Option::is_none);
        let sketched = network
            .points
            .get_index(point)
            .and_then(|name| survey.sketch.get(name));
        if let Some(sketched) = sketched.filter(|_| by_sketch && !stated) {
            for axis in 0..3 {
                if network.columns[point][axis].is_some() {
                    first.places[point][axis] = sketched[axis];
                }
            }
        }
        *done = stated || (by_sketch && sketched.is_some());
    }
    let mut ways = vec![first];
    while let Some((point, rows)) = next(network, &done) {
        let sketch = network
            .points
            .get_index(point)
            .and_then(|name| survey.sketch.get(name));
        let most = if network.unknowns < LARGE {
            MOST_WAYS
        } else {
            WAYS_OF_LARGE
        };
        let mut grown = Vec::new();
        for way in &ways {
            for candidate in candidates(network, point, &rows, &way.places, sketch) {
                let mut places = way.places.clone();
                places[point] = candidate.place;
                grown.push(Way {
                    places,
                    cost: way.cost + candidate.cost,
                });
            }
        }
        if !grown.is_empty() {
            grown.sort_by(|a, b| a.cost.total_cmp(&b.cost));
            grown.truncate(most);
            ways = grown;
        }
        done[point] = true;
    }
    ways.into_iter().map(|way| way.places).collect()
}

/// The point to place next, with the readings that hold it to placed points.
fn next(network: &Network, done: &[bool]) -> Option<(usize, Vec<usize>)> {
    let mut best: Option<(usize, usize, usize, Vec<usize>)> = None;
    for (point, _) in done.iter().enumerate().filter(|(_, done)| !**done) {
        let mut rows = Vec::new();
        let mut all = 0;
        for (place, (row, ..)) in network.rows.iter().enumerate() {
            let points = points_of(*row);
            if !points.contains(&point) {
                continue;
            }
            all += 1;
            if points.iter().all(|other| *other == point || done[*other]) {
                rows.push(place);
            }
        }
        let stated = network.columns[point]
            .iter()
            .filter(|column| column.is_none())
            .count();
        let holds = rows.len() + stated;
        let better = best.as_ref().is_none_or(|(other, holds_other, all_other, _)| {
            let names = [point, *other].map(|point| network.points.get_index(point));
            (holds, all) > (*holds_other, *all_other)
                || ((holds, all) == (*holds_other, *all_other) && names[0] < names[1])
        });
        if better {
            best = Some((point, holds, all, rows));
        }
    }
    best.map(|(point, _, _, rows)| (point, rows))
}
