//! From numbers and names to an axle.

use crate::layout::{AXLE, LINK};
use crate::reader::{Reader, given};
use kin_core::pickups::{AxleSides, AxleWheels, Link, LiveAxle, Pinion, RightSide, Stops};

/// Reads a description in the order of [`AXLE`], and of [`LINK`] for each link.
///
/// * `words`: the names of the links, one behind the other
pub(crate) fn axle_description(numbers: &[f64], words: &[u8]) -> LiveAxle {
    let names = names(numbers, words);
    let carrier = |code: f64| {
        let link = (code >= 0.0).then_some(code as usize);
        link.and_then(|place| names.get(place))
            .map_or_else(|| "axle".to_owned(), Clone::clone)
    };
    let mut read = Reader::new(numbers);
    let (left, right) = (read.point(), Some(read.point()));
    let wheels = AxleWheels {
        left,
        right,
        tyre_radius: read.number(),
    };
    let point = read.point();
    let pinion = given(read.number()).map(|nose_up| Pinion { point, nose_up });
    let dampers = sides([read.damper(&carrier), read.damper(&carrier)]);
    let springs = sides([read.spring(&carrier), read.spring(&carrier)]);
    let links = names.iter().map(|name| {
        let link = Link {
            body: read.point(),
            axle: read.point(),
            stiffness: given(read.number()),
        };
        read.count();
        (name.clone(), link)
    });
    let links = links.collect();
    // Springs without mounts of their own sit on the dampers, which are then coilovers.
    let apart = springs
        .as_ref()
        .is_some_and(|springs| springs.left.upper_mount.is_some());
    let (coilovers, dampers) = if apart { (None, dampers) } else { (dampers, None) };
    LiveAxle {
        right: RightSide::Given,
        links,
        wheels,
        pinion,
        coilovers,
        dampers,
        springs,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}

/// The names of all links, each as long as its link says.
fn names(numbers: &[f64], words: &[u8]) -> Vec<String> {
    let mut words = words.iter();
    let links = numbers.get(AXLE..).unwrap_or_default();
    let lengths = links.chunks(LINK).filter_map(<[f64]>::last);
    lengths
        .map(|length| {
            let name: Vec<u8> = words.by_ref().take(*length as usize).copied().collect();
            String::from_utf8_lossy(&name).into_owned()
        })
        .collect()
}

fn sides<T>([left, right]: [Option<T>; 2]) -> Option<AxleSides<T>> {
    left.map(|left| AxleSides { left, right })
}
