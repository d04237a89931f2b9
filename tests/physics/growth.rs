//! What a position costs: nothing is allocated for it, and memory and solver work grow in proportion to the positions.
//!
//! Allocations are counted, so that the figures are exact and the same on every machine; `cargo bench --bench sweep`
//! prints how the time grows. Source: none, these are promises of the library.

use allocation_counter::measure;
use kin_core::curves::{AxleReadings, CornerReadings};
use kin_core::{Axle, AxlePosition, AxleTravel, Corner, CornerPosition, samples};
use std::hint::black_box;
use std::mem::size_of;

/// Even places from `-most` to `most` (mm), 0 among them.
fn places(most: f64, each_way: usize) -> Vec<f64> {
    let way = each_way as f64;
    (0..=2 * each_way)
        .map(|index| (index as f64 - way) / way * most)
        .collect()
}

/// Allocations of something that is done, and the bytes in all of them.
fn allocated(done: impl FnOnce()) -> (u64, u64) {
    let counted = measure(done);
    (counted.count_total, counted.bytes_total)
}

#[test]
fn the_count_of_allocations_sees_them() {
    assert_eq!(allocated(|| drop(black_box(vec![0_u8; 100]))), (1, 100));
}

#[test]
fn a_visited_position_allocates_nothing() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    for each_way in [4, 40, 400] {
        let travels = places(40.0, each_way);
        let mut readings: Vec<Option<CornerReadings>> = vec![None; travels.len()];
        let used = allocated(|| {
            corner
                .follow_travel(&travels, 3.0, |index, position| {
                    readings[index] = Some(position.readings());
                })
                .expect("within reach");
        });
        assert_eq!(used, (0, 0), "{} positions", travels.len());
        assert!(readings.iter().all(Option::is_some));
    }

    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    for each_way in [2, 20] {
        let (heaves, rolls) = (places(40.0, each_way), places(30.0, each_way));
        let mut readings: Vec<Option<AxleReadings>> = vec![None; heaves.len() * rolls.len()];
        let used = allocated(|| {
            axle.follow_grid(&heaves, &rolls, |place, position| {
                readings[place] = Some(position.readings());
            })
            .expect("within reach");
        });
        assert_eq!(used, (0, 0), "{} positions", readings.len());
        assert!(readings.iter().all(Option::is_some));
    }
}

#[test]
fn a_position_asked_for_alone_allocates_nothing() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    let used = allocated(|| {
        for travel in places(45.0, 5) {
            let readings = corner.at(travel, 6.0).map(|position| position.readings());
            black_box(readings.expect("within reach"));
            let both = AxleTravel::from_heave(travel, -20.0);
            let readings = axle.at(both).map(|position| position.readings());
            black_box(readings.expect("within reach"));
        }
    });
    // The list of places.
    assert_eq!(used.0, 1);
}

#[test]
fn a_stored_sweep_takes_the_size_of_its_positions() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    for each_way in [4, 40, 400, 4_000] {
        let travels = places(40.0, each_way);
        let bytes = |position: usize| (travels.len() * position) as u64;
        let used = allocated(|| drop(corner.sweep_travel(&travels, 0.0).expect("within reach")));
        assert_eq!(used, (1, bytes(size_of::<CornerPosition<'_>>())));
        let used = allocated(|| drop(axle.sweep_heave(&travels).expect("within reach")));
        assert_eq!(used, (1, bytes(size_of::<AxlePosition<'_>>())));
        let used = allocated(|| drop(axle.sweep_roll(&travels, 10.0).expect("within reach")));
        assert_eq!(used, (1, bytes(size_of::<AxlePosition<'_>>())));
    }
}

#[test]
fn every_further_position_of_a_sweep_takes_one_factorisation() {
    let corner = Corner::new(&samples::wagon_front()).expect("a corner");
    for each_way in [40, 400, 4_000] {
        let mut all = 0;
        corner
            .follow_travel(&places(40.0, each_way), 0.0, |_, position| {
                all += position.factorisations() as usize;
            })
            .expect("within reach");
        // Travel 0 needs none. The first two steps, of which little is known before them, may need three more.
        assert!(
            all <= 2 * each_way + 3,
            "{all} factorisations, {each_way} steps each way"
        );
    }
}

#[test]
fn every_further_position_of_a_grid_takes_one_factorisation() {
    let axle = Axle::new(&samples::wagon_rear()).expect("an axle");
    for (heaves_each_way, rolls_each_way) in [(20, 10), (40, 10), (20, 40), (80, 40)] {
        let (heaves, rolls) = (places(40.0, heaves_each_way), places(30.0, rolls_each_way));
        let mut all = 0;
        axle.follow_grid(&heaves, &rolls, |_, position| {
            all += position.factorisations() as usize;
        })
        .expect("within reach");
        let positions = heaves.len() * rolls.len();
        // As in a sweep, and two more for each of the three places with which a row starts, in the first two rows.
        assert!(
            all <= positions + 15,
            "{all} factorisations, {positions} positions"
        );
    }
}
