//! From numbers to a description.

use kin_core::pickups::{Arm, Damper, DoubleWishbone, Point, Side, Spring, Stops, TieRod, Wheel};

/// Numbers read one after the other.
struct Reader<'a>(std::slice::Iter<'a, f64>);

impl Reader<'_> {
    fn number(&mut self) -> f64 {
        self.0.next().copied().unwrap_or(f64::NAN)
    }

    fn point(&mut self) -> Point {
        let (x, y, z) = (self.number(), self.number(), self.number());
        Point::new(x, y, z)
    }

    fn arm(&mut self) -> Arm {
        Arm {
            front_pivot: self.point(),
            rear_pivot: self.point(),
            ball_joint: self.point(),
        }
    }

    fn carrier(&mut self) -> String {
        let code = self.number();
        let name = if code == 0.0 {
            "lower_arm"
        } else if code == 1.0 {
            "upper_arm"
        } else {
            "upright"
        };
        name.to_owned()
    }
}

fn given(value: f64) -> Option<f64> {
    (!value.is_nan()).then_some(value)
}

/// Reads a description in the order of [`DESCRIPTION`](crate::layout::DESCRIPTION).
pub(crate) fn description(numbers: &[f64]) -> DoubleWishbone {
    let mut read = Reader(numbers.iter());
    let upper_arm = read.arm();
    let lower_arm = read.arm();
    let tie_rod = TieRod {
        inner: read.point(),
        outer: read.point(),
    };
    let wheel = Wheel {
        centre: read.point(),
        tyre_radius: read.number(),
        camber: read.number(),
        toe: read.number(),
    };
    let damper = Damper {
        upper_mount: read.point(),
        lower_mount: read.point(),
        rides_on: read.carrier(),
        extended: read.number(),
        compressed: read.number(),
        bump_stop: read.number(),
        upper_stud: None,
        lower_stud: None,
    };
    let (rate, free_length) = (read.number(), given(read.number()));
    let (upper_seat, lower_seat) = (read.number(), read.number());
    let (upper, lower, carrier) = (read.point(), read.point(), read.carrier());
    let apart = !upper.x.is_nan();
    let spring = Spring {
        rate,
        free_length,
        upper_seat,
        lower_seat,
        upper_mount: apart.then_some(upper),
        lower_mount: apart.then_some(lower),
        rides_on: apart.then_some(carrier),
    };
    let (damper, spring) = (
        given(damper.extended).map(|_| damper),
        given(rate).map(|_| spring),
    );
    // A spring without mounts of its own sits on the damper, which is then a coilover.
    let (coilover, damper) = if apart { (None, damper) } else { (damper, None) };
    DoubleWishbone {
        side: Side::Left,
        upper_arm,
        lower_arm,
        tie_rod,
        wheel,
        coilover,
        damper,
        spring,
        ride_height: None,
        stops: Stops::default(),
        wanted: None,
    }
}
