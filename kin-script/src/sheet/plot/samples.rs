//! Invented figures for the tests.

use super::*;

/// Invented camber curves, 5 mm apart.
pub(super) fn camber(slope: f64, curvature: f64) -> Vec<(f64, f64)> {
    (-16..=18)
        .map(|step| f64::from(step) * 5.0)
        .map(|z| (z, -0.6 - slope * z - curvature * z * z))
        .collect()
}

fn travel() -> Axis {
    Axis::new("Wheel travel", "mm").with_words("droop", "bump")
}

pub(super) fn two_models() -> Figure {
    let original = Series {
        end_values: true,
        ..Series::new("original arms", camber(0.012, 0.000_02))
    };
    let fresh = Series {
        end_values: true,
        emphasis: Emphasis::Strong,
        ..Series::new("longer upper arm, mount raised 12 mm", camber(0.024, 0.000_03))
    };
    let builds = camber(0.024, 0.000_03)
        .into_iter()
        .map(|(z, value)| (z, value - 0.2, value + 0.25))
        .collect();
    let mut panel = Panel::new(Axis::new("Camber", "deg").with_words("leans in", "leans out"));
    panel.series = vec![original, fresh];
    panel.envelopes = vec![Envelope {
        name: "5 to 95 % of 2000 builds".into(),
        points: builds,
        look: Some(1),
    }];
    Figure {
        title: "Camber over wheel travel".into(),
        subtitle: Some("Front left corner, invented data".into()),
        x: travel(),
        limits: vec![
            Limit {
                at: 0.0,
                label: "ride height".into(),
                kind: LimitKind::Reference,
            },
            Limit {
                at: 62.0,
                label: "stop contact".into(),
                kind: LimitKind::Stop,
            },
        ],
        panels: vec![panel],
        ..Figure::default()
    }
}

pub(super) fn damper_length() -> Figure {
    let length = |z: f64| 331.0 - 0.62 * z - 0.0006 * z * z;
    let points = (-16..=18)
        .map(|step| f64::from(step) * 5.0)
        .map(|z| (z, length(z)))
        .collect();
    let mut panel = Panel::new(Axis::new("Damper length, eye to eye", "mm").with_words("shorter", "longer"));
    panel.series = vec![Series {
        end_values: true,
        ..Series::new("damper", points)
    }];
    panel.bands = vec![
        Band {
            from: f64::NEG_INFINITY,
            to: 270.0,
            label: "beyond compressed".into(),
            kind: BandKind::Barred,
        },
        Band {
            from: 270.0,
            to: 299.0,
            label: "on the bump stop".into(),
            kind: BandKind::Care,
        },
        Band {
            from: 371.0,
            to: f64::INFINITY,
            label: "beyond extended".into(),
            kind: BandKind::Barred,
        },
    ];
    panel.limits = vec![
        Limit {
            at: 371.0,
            label: "extended 371 mm".into(),
            kind: LimitKind::Stop,
        },
        Limit {
            at: 270.0,
            label: "compressed 270 mm".into(),
            kind: LimitKind::Stop,
        },
        Limit {
            at: 331.0,
            label: "ride 331 mm".into(),
            kind: LimitKind::Reference,
        },
    ];
    panel.marks = vec![
        Mark {
            at: (48.7, length(48.7)),
            label: "stop contact at 48.7 mm".into(),
        },
        Mark {
            at: (-68.8, length(-68.8)),
            label: "tops out at −68.8 mm".into(),
        },
    ];
    Figure {
        title: "Does the coilover fit?".into(),
        x: travel(),
        limits: vec![Limit {
            at: 0.0,
            label: "ride height".into(),
            kind: LimitKind::Reference,
        }],
        panels: vec![panel],
        ..Figure::default()
    }
}

pub(super) fn three_panels() -> Figure {
    let over = |f: &dyn Fn(f64) -> f64| -> Vec<(f64, f64)> {
        (-32..=36)
            .map(|step| f64::from(step) * 2.5)
            .map(|z| (z, f(z)))
            .collect()
    };
    let pair = |a: &dyn Fn(f64) -> f64, b: &dyn Fn(f64) -> f64| {
        vec![
            Series::new("original arms", over(a)),
            Series::new("new arms", over(b)),
        ]
    };
    let mut figure = two_models();
    figure.title = "Arm swap: what the wheel does".into();
    let mut camber = Panel::new(Axis::new("Camber", "deg").with_words("leans in", "leans out"));
    camber.series = pair(&|z| -0.6 - 0.012 * z, &|z| -0.6 - 0.024 * z);
    let mut toe = Panel::new(Axis::new("Toe", "deg").with_words("out", "in"));
    toe.series = pair(&|z| 0.1 - 0.0004 * z, &|z| 0.1 + 0.001 * z - 0.000_02 * z * z);
    let mut ratio = Panel::new(Axis::new("Motion ratio, damper over wheel", ""));
    ratio.series = pair(&|z| 0.62 + 0.0004 * z, &|z| 0.6 + 0.0004 * z - 0.000_003 * z * z);
    figure.panels = vec![camber, toe, ratio];
    figure
}
