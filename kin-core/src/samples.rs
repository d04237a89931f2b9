//! Invented vehicles, shared by documentation, tests and benches. No real car is meant, and nothing was measured.

use crate::pickups::{
    Arm, AxleSides, AxleWheels, Damper, DoubleWishbone, Link, LiveAxle, Pinion, Point, RightSide, Side,
    Spring, Stops, TieRod, Wanted, Wheel,
};

/// The left front corner of an older wagon with replacement arms and a coilover on the lower arm (invented).
#[must_use]
pub fn wagon_front() -> DoubleWishbone {
    DoubleWishbone {
        side: Side::Left,
        upper_arm: Arm {
            front_pivot: Point::new(150.0, 400.0, 449.0),
            rear_pivot: Point::new(-170.0, 395.0, 433.0),
            ball_joint: Point::new(-16.0, 652.0, 462.0),
        },
        lower_arm: Arm {
            front_pivot: Point::new(150.0, 275.0, 205.0),
            rear_pivot: Point::new(-165.0, 265.0, 200.0),
            ball_joint: Point::new(6.0, 690.0, 190.0),
        },
        tie_rod: TieRod {
            inner: Point::new(-120.0, 302.0, 214.0),
            outer: Point::new(-140.0, 668.0, 211.0),
        },
        wheel: Wheel {
            centre: Point::new(0.0, 757.0, 320.0),
            tyre_radius: 320.0,
            camber: -0.5,
            toe: 0.1,
        },
        coilover: Some(Damper {
            upper_mount: Point::new(-4.0, 478.0, 492.0),
            lower_mount: Point::new(0.0, 540.0, 182.0),
            rides_on: "lower_arm".into(),
            extended: 349.25,
            compressed: 254.0,
            bump_stop: 20.0,
            upper_stud: None,
            lower_stud: None,
        }),
        damper: None,
        spring: Some(Spring {
            // 550 lb/in
            rate: 96.32,
            free_length: Some(254.0),
            upper_seat: 55.0,
            lower_seat: 75.46,
            upper_mount: None,
            lower_mount: None,
            rides_on: None,
        }),
        ride_height: None,
        stops: Stops {
            droop: Some(50.0),
            ..Stops::default()
        },
        wanted: Some(Wanted {
            bump: Some(65.0),
            droop: Some(50.0),
            margin: None,
        }),
    }
}

/// The rear axle of the same wagon: triangulated four-link with coilovers (invented).
#[must_use]
pub fn wagon_rear() -> LiveAxle {
    let link = |body: Point, axle: Point| Link {
        body,
        axle,
        stiffness: None,
    };
    LiveAxle {
        right: RightSide::Mirror,
        links: [
            (
                "lower_left".to_owned(),
                link(
                    Point::new(-2330.0, 455.0, 262.0),
                    Point::new(-2850.0, 497.0, 248.0),
                ),
            ),
            (
                "upper_left".to_owned(),
                link(
                    Point::new(-2455.0, 420.0, 440.0),
                    Point::new(-2795.0, 125.0, 474.0),
                ),
            ),
        ]
        .into_iter()
        .collect(),
        wheels: AxleWheels {
            left: Point::new(-2860.0, 752.0, 324.0),
            right: None,
            tyre_radius: 324.0,
        },
        pinion: Some(Pinion {
            point: Point::new(-2580.0, 0.0, 339.0),
            nose_up: 2.0,
        }),
        coilovers: Some(AxleSides {
            left: Damper {
                upper_mount: Point::new(-2898.0, 452.0, 553.0),
                lower_mount: Point::new(-2912.0, 548.0, 226.0),
                rides_on: "axle".into(),
                extended: 381.0,
                compressed: 269.24,
                bump_stop: 20.0,
                upper_stud: None,
                lower_stud: None,
            },
            right: None,
        }),
        dampers: None,
        springs: Some(AxleSides {
            left: Spring {
                rate: 35.025,
                free_length: Some(304.8),
                upper_seat: 55.0,
                lower_seat: 72.88,
                upper_mount: None,
                lower_mount: None,
                rides_on: None,
            },
            right: None,
        }),
        ride_height: None,
        stops: Stops::default(),
        wanted: Some(Wanted {
            bump: Some(50.0),
            droop: Some(38.0),
            margin: None,
        }),
    }
}

/// The rear axle of a half-ton pickup: triangulated four-link, coilovers in the lowest bracket hole (invented).
#[must_use]
pub fn pickup_rear() -> LiveAxle {
    let link = |body: Point, axle: Point| Link {
        body,
        axle,
        stiffness: None,
    };
    LiveAxle {
        right: RightSide::Mirror,
        links: [
            (
                "lower_left".to_owned(),
                link(
                    Point::new(-2290.0, 430.0, 330.0),
                    Point::new(-2905.0, 512.0, 288.0),
                ),
            ),
            (
                "upper_left".to_owned(),
                link(
                    Point::new(-2480.0, 432.0, 497.0),
                    Point::new(-2868.0, 150.0, 524.0),
                ),
            ),
        ]
        .into_iter()
        .collect(),
        wheels: AxleWheels {
            left: Point::new(-2920.0, 770.0, 358.0),
            right: None,
            tyre_radius: 358.0,
        },
        pinion: Some(Pinion {
            point: Point::new(-2640.0, 0.0, 373.0),
            nose_up: 3.0,
        }),
        coilovers: Some(AxleSides {
            left: Damper {
                upper_mount: Point::new(-2966.0, 438.0, 540.0),
                lower_mount: Point::new(-2988.0, 528.0, 262.0),
                rides_on: "axle".into(),
                extended: 370.84,
                compressed: 259.08,
                bump_stop: 22.0,
                upper_stud: None,
                lower_stud: None,
            },
            right: None,
        }),
        dampers: None,
        springs: Some(AxleSides {
            left: Spring {
                rate: 30.647,
                free_length: Some(304.8),
                upper_seat: 0.0,
                lower_seat: 0.0,
                upper_mount: None,
                lower_mount: None,
                rides_on: None,
            },
            right: None,
        }),
        ride_height: None,
        stops: Stops::default(),
        wanted: Some(Wanted {
            bump: Some(45.0),
            droop: Some(38.0),
            margin: None,
        }),
    }
}

/// A peg-board double wishbone for showing motion ratio, spring in the middle hole on the middle peg (invented).
#[must_use]
pub fn bench_rig() -> DoubleWishbone {
    DoubleWishbone {
        side: Side::Left,
        upper_arm: Arm {
            front_pivot: Point::new(38.0, 112.0, 196.0),
            rear_pivot: Point::new(-38.0, 112.0, 196.0),
            ball_joint: Point::new(-6.0, 262.0, 208.0),
        },
        lower_arm: Arm {
            front_pivot: Point::new(45.0, 60.0, 84.0),
            rear_pivot: Point::new(-45.0, 60.0, 84.0),
            ball_joint: Point::new(4.0, 280.0, 72.0),
        },
        tie_rod: TieRod {
            inner: Point::new(-60.0, 78.0, 104.0),
            outer: Point::new(-60.0, 284.0, 98.0),
        },
        wheel: Wheel {
            centre: Point::new(0.0, 322.0, 140.0),
            tyre_radius: 110.0,
            camber: 0.0,
            toe: 0.0,
        },
        coilover: Some(Damper {
            upper_mount: Point::new(0.0, 160.0, 330.0),
            lower_mount: Point::new(0.0, 200.0, 86.36),
            rides_on: "lower_arm".into(),
            extended: 275.0,
            compressed: 215.0,
            bump_stop: 0.0,
            upper_stud: None,
            lower_stud: None,
        }),
        damper: None,
        spring: Some(Spring {
            rate: 1.0,
            free_length: None,
            upper_seat: 0.0,
            lower_seat: 0.0,
            upper_mount: None,
            lower_mount: None,
            rides_on: None,
        }),
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}
