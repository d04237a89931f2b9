//! What is read from one solved pose of the axle.

use super::Solved;
use super::pair::{MirroredPair, Roll, Turn, dot4};

/// Everything asked of one position (mm, rad; rates per mm of left and of right wheel travel, in this order).
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Position {
    /// Travel of the left and of the right wheel centre (mm), bump positive.
    pub(crate) travel: [f64; 2],
    /// Displacement of the mid point of the wheel centres.
    pub(crate) origin_displacement: [f64; 3],
    /// Rotation of the axle, row by row.
    pub(crate) rotation: [[f64; 3]; 3],
    /// Length of the left and of the right damper.
    pub(crate) damper_length: [f64; 2],
    /// Compression of the left damper, then of the right one, per left and right travel.
    pub(crate) compression_rate: [[f64; 2]; 2],
    /// Axle steer, positive to the left.
    pub(crate) steer: f64,
    /// Roll, positive with the left wheel up.
    pub(crate) roll: f64,
    /// Pinion angle from static, positive nose up.
    pub(crate) pinion: f64,
    /// Rates of axle steer.
    pub(crate) steer_rate: [f64; 2],
    /// Rates of roll.
    pub(crate) roll_rate: [f64; 2],
    /// Rates of the pinion angle.
    pub(crate) pinion_rate: [f64; 2],
}

impl Position {
    /// Reads the outputs from a solved pose.
    #[inline(always)]
    pub(super) fn read(
        &mut self,
        heave: f64,
        roll: &Roll,
        turn: &Turn,
        solved: &Solved,
        damper: &MirroredPair,
    ) {
        let [x, _, y, steer] = solved.value;
        let Turn {
            sin_pitch,
            cos_pitch,
            sin_steer,
            cos_steer,
        } = *turn;
        let r = roll.half_difference;
        self.travel = [heave + r, heave - r];
        self.origin_displacement = [
            x * cos_steer - y * sin_steer,
            x * sin_steer + y * cos_steer,
            heave,
        ];

        // R = Rz(ψ) Rx(ε) Ry(τ), its columns first in the axes turned by ψ.
        let first = [cos_pitch, roll.sin * sin_pitch, -roll.cos * sin_pitch];
        let third = [sin_pitch, -roll.sin * cos_pitch, roll.cos * cos_pitch];
        self.rotation = [
            [
                cos_steer * first[0] - sin_steer * first[1],
                -sin_steer * roll.cos,
                cos_steer * third[0] - sin_steer * third[1],
            ],
            [
                sin_steer * first[0] + cos_steer * first[1],
                cos_steer * roll.cos,
                sin_steer * third[0] + cos_steer * third[1],
            ],
            [first[2], roll.sin, third[2]],
        ];

        let damper = damper.at(x, y, heave, turn, roll);
        let length = [
            (2.0 * (damper.f + damper.g)).sqrt(),
            (2.0 * (damper.f - damper.g)).sqrt(),
        ];
        self.damper_length = length;
        let f = [
            dot4(&damper.f_by, &solved.by_heave) + damper.f_by_heave,
            dot4(&damper.f_by, &solved.by_roll) + damper.f_by_roll,
        ];
        let g = [
            dot4(&damper.g_by, &solved.by_heave) + damper.g_by_heave,
            dot4(&damper.g_by, &solved.by_roll) + damper.g_by_roll,
        ];
        let inverse = [-1.0 / length[0], -1.0 / length[1]];
        self.compression_rate = [
            by_wheel((f[0] + g[0]) * inverse[0], (f[1] + g[1]) * inverse[0]),
            by_wheel((f[0] - g[0]) * inverse[1], (f[1] - g[1]) * inverse[1]),
        ];

        self.steer = steer;
        self.steer_rate = by_wheel(solved.by_heave[3], solved.by_roll[3]);

        let nose_squared = 1.0 - first[2] * first[2];
        let nose = nose_squared.sqrt();
        self.pinion = first[2].atan2(nose);
        let by_pitch = -third[2] / nose;
        let by_roll_angle = roll.sin * sin_pitch / nose;
        self.pinion_rate = by_wheel(
            by_pitch * solved.by_heave[1],
            by_pitch * solved.by_roll[1] + by_roll_angle * roll.angle_rate,
        );

        self.roll = roll.sin.atan2(third[2]);
        let by_pitch = roll.sin * roll.cos * sin_pitch / nose_squared;
        self.roll_rate = by_wheel(
            by_pitch * solved.by_heave[1],
            by_pitch * solved.by_roll[1] + cos_pitch * roll.angle_rate / nose_squared,
        );
    }
}

/// Rates per left and per right wheel from those per heave and per half the roll difference.
#[inline(always)]
fn by_wheel(by_heave: f64, by_roll: f64) -> [f64; 2] {
    [0.5 * (by_heave + by_roll), 0.5 * (by_heave - by_roll)]
}
