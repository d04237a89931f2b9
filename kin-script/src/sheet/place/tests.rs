//! Where labels find room.

use super::*;

#[test]
fn labels_at_one_point_never_overlap() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
    let mut placed: Vec<Rect> = Vec::new();
    while let Some(area) = placer.place((150.0, 100.0), (60.0, 14.0), 7.0) {
        assert!(placed.iter().all(|other| !other.overlaps(&area)));
        placed.push(area);
    }
    assert!(placed.len() >= 20, "only {} labels found room", placed.len());
}

#[test]
fn a_filled_shape_pushes_the_label_off() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
    placer.shade(Shade {
        centre: (220.0, 100.0),
        along: (0.0, 1.0),
        half: (100.0, 70.0),
        round: false,
    });
    let area = placer.place((150.0, 100.0), (60.0, 14.0), 7.0).unwrap();
    assert!(area.right <= 150.0, "{area:?}");
}

#[test]
fn a_label_right_beside_its_point_crosses_nothing_or_is_left_out() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
    placer.name_point((150.0, 100.0));
    assert!(placer.place_beside((150.0, 100.0), (60.0, 14.0), 4.0).is_some());
    // Lines everywhere: whichever way it stood, it would be crossed.
    for height in 0..20 {
        let height = f64::from(height) * 10.0;
        placer.avoid((0.0, height), (300.0, height), 1.0);
    }
    assert_eq!(placer.place_beside((150.0, 100.0), (60.0, 14.0), 4.0), None);
}

#[test]
fn a_line_pushes_the_label_to_its_other_side() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
    placer.avoid((150.0, 100.0), (300.0, 100.0), 1.0);
    let area = placer.place((150.0, 100.0), (60.0, 14.0), 7.0).unwrap();
    assert_eq!(placer.crossing(&area), 0.0);
}

#[test]
fn no_room_is_said() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 50.0, 10.0));
    assert_eq!(placer.place((25.0, 5.0), (60.0, 14.0), 7.0), None);
}

#[test]
fn a_label_of_a_line_hangs_where_along_it_there_is_room() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 400.0, 200.0));
    // The middle of the line from (0, 100) to (400, 100) is taken from top to bottom.
    placer.take(Rect::new(120.0, 0.0, 280.0, 200.0));
    let anchors = [(200.0, 100.0), (60.0, 100.0)];
    let found = placer
        .place_one(&Wish {
            anchors: &anchors,
            shapes: &[(90.0, 14.0)],
            clearance: 5.0,
        })
        .unwrap();
    assert_eq!(found.anchor, anchors[1]);
}

#[test]
fn words_are_wrapped_where_that_finds_them_room() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 80.0, 60.0));
    let found = placer
        .place_one(&Wish {
            anchors: &[(40.0, 58.0)],
            shapes: &[(120.0, 14.0), (70.0, 30.0)],
            clearance: 5.0,
        })
        .unwrap();
    assert_eq!(found.shape, 1);
}

#[test]
fn a_leader_line_does_not_cross_what_lies_between() {
    let mut placer = Placer::new(Rect::new(0.0, 0.0, 300.0, 200.0));
    // No room right at the anchor; the nearest free place lies behind a wall, the next one does not.
    placer.take(Rect::new(60.0, 60.0, 240.0, 140.0));
    for wall in [145.0, 155.0] {
        placer.avoid((0.0, wall), (300.0, wall), 2.0);
    }
    let area = placer.place((150.0, 102.0), (60.0, 14.0), 5.0).unwrap();
    assert!(area.bottom < 60.0, "{area:?}");
}
