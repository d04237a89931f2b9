//! One live axle on four links in two mirror-symmetric pairs (triangulated or not), with two coilovers.
//!
//! # Derivation
//!
//! The origin is the mid point of the wheel centres, `a = half track`. Wheel heights are prescribed, so two of the six
//! freedoms are known at once: with `R = Rz(ψ) Rx(ε) Ry(τ)`, heave `h` and half the roll difference `r`
//! (`z_left = h + r`, `z_right = h - r`), the origin rises by `z = h` and `sin ε = r/a`. Four unknowns remain: the
//! origin's level position `X, Y` in axes turned by ψ with the axle, the axle steer ψ and the pitch τ.
//!
//! **A pair** has body points `(bx, ±by, bz)` and axle points `(ax, ±ay, az)`. In the axes turned by ψ the two links
//! are `u ± v`, where with `w = (ax cos τ + az sin τ, q sin ε, -q cos ε)`, `q = ax sin τ - az cos τ`,
//!
//! * `u = (X + wx - bx cos ψ, Y + wy + bx sin ψ, z + wz - bz)`,
//! * `v = (-by sin ψ, ay cos ε - by cos ψ, ay sin ε)`,
//!
//! so both lengths hold when `F = (u² + v²)/2 = length²/2` and `G = u·v = 0`. The coilovers are such a pair too:
//! their lengths are `√(2 (F ± G))`, and the same partial derivatives give their rates.
//!
//! **Newton.** Of the 4 × 4 matrix, rows (F lower, F upper | G lower, G upper), columns (X, τ | Y, ψ), the
//! off-diagonal 2 × 2 blocks vanish without roll and stay small with it, so it is eliminated block by block with no
//! pivot search: two divisions. The same factors serve three right-hand sides: the correction, d/dh and d/dr.
//!
//! **Predictor.** The grid is solved line by line outward from no roll. A position is extrapolated from the same heave
//! in the three lines before, which leaves the positions of a line independent of each other; only the first three
//! lines are extrapolated along the heave. One factorisation a position is then enough.
//!
//! **Curves.** Pinion angle (nose up positive) is `-asin(cos ε sin τ)` and roll is `atan2(sin ε, cos ε cos τ)`, the
//! angles of `R = Rz(yaw) Ry(pitch) Rx(roll)`; axle steer is ψ itself, `-atan2(R01, R11)`, positive to the left.

mod blocks;
mod pair;
mod position;

use super::predictor::{self, Sample};
use super::{FIRST_ORDER_LIMIT, MOST_ITERATIONS, OutOfReach};
use blocks::Blocks;
pub(crate) use pair::MirroredPair;
use pair::{Roll, Turn, sin_cos};
pub(crate) use position::Position;

/// Heave positions of the grid.
pub(crate) const HEAVE_POSITIONS: usize = 41;
/// Roll positions of the grid.
pub(crate) const ROLL_POSITIONS: usize = 21;
/// All positions of the grid.
pub(crate) const POSITIONS: usize = HEAVE_POSITIONS * ROLL_POSITIONS;

const MIDDLE_HEAVE: usize = HEAVE_POSITIONS / 2;
const MIDDLE_ROLL: usize = ROLL_POSITIONS / 2;

/// Pickups of the axle as measured (mm, vehicle axes: forward, left, up) and the spacing of the grid.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Axle {
    /// Left wheel centre; the right one is its mirror.
    pub(crate) wheel_centre: [f64; 3],
    /// Lower links.
    pub(crate) lower: MirroredPair,
    /// Upper links.
    pub(crate) upper: MirroredPair,
    /// Coilovers.
    pub(crate) damper: MirroredPair,
    /// Distance between two heave positions (mm of both wheels).
    pub(crate) heave_step: f64,
    /// Distance between two roll positions (mm: left wheel up by this, right wheel down by this).
    pub(crate) roll_step: f64,
}

/// The four unknowns and their exact rates by heave and by half the roll difference.
#[derive(Debug, Clone, Copy, Default)]
struct Solved {
    /// X, τ, Y, ψ.
    value: [f64; 4],
    by_heave: [f64; 4],
    by_roll: [f64; 4],
}

/// One line of the grid: all heave positions at one roll.
type Line = [Solved; HEAVE_POSITIONS];

/// The constants of one axle.
#[derive(Debug, Clone, Copy)]
struct Layout {
    lower: MirroredPair,
    upper: MirroredPair,
    damper: MirroredPair,
    lower_half_square: f64,
    upper_half_square: f64,
    half_track: f64,
    heave_step: f64,
}

impl Layout {
    fn new(axle: &Axle) -> Self {
        let lower = axle.lower.relative_to(&axle.wheel_centre);
        let upper = axle.upper.relative_to(&axle.wheel_centre);
        Self {
            lower,
            upper,
            damper: axle.damper.relative_to(&axle.wheel_centre),
            lower_half_square: lower.half_square(),
            upper_half_square: upper.half_square(),
            half_track: axle.wheel_centre[1],
            heave_step: axle.heave_step,
        }
    }

    fn roll(&self, half_difference: f64) -> Roll {
        let sin = half_difference / self.half_track;
        let cos = (1.0 - sin * sin).sqrt();
        Roll {
            half_difference,
            sin,
            cos,
            angle_rate: 1.0 / (self.half_track * cos),
        }
    }

    /// Newton from the predicted unknowns; writes the position, and unknowns and rates for the predictor.
    #[inline(always)]
    fn solve(
        &self,
        heave: f64,
        roll: &Roll,
        predicted: [f64; 4],
        solved: &mut Solved,
        position: &mut Position,
    ) -> Result<(), OutOfReach> {
        let mut value = predicted;
        for _ in 0..MOST_ITERATIONS {
            let (sin_pitch, cos_pitch) = sin_cos(value[1]);
            let (sin_steer, cos_steer) = sin_cos(value[3]);
            let turn = Turn {
                sin_pitch,
                cos_pitch,
                sin_steer,
                cos_steer,
            };
            let lower = self.lower.at(value[0], value[2], heave, &turn, roll);
            let upper = self.upper.at(value[0], value[2], heave, &turn, roll);
            let blocks = Blocks::new(&lower, &upper);
            let step = blocks.solve(
                [self.lower_half_square - lower.f, self.upper_half_square - upper.f],
                [-lower.g, -upper.g],
            );
            value = [
                value[0] + step[0],
                value[1] + step[1],
                value[2] + step[2],
                value[3] + step[3],
            ];
            // Millimetres, and angles as the millimetres they make at 1 m.
            let size = step[0].abs() + step[2].abs() + 1000.0 * (step[1].abs() + step[3].abs());
            if size <= FIRST_ORDER_LIMIT {
                *solved = Solved {
                    value,
                    by_heave: blocks.solve(
                        [-lower.f_by_heave, -upper.f_by_heave],
                        [-lower.g_by_heave, -upper.g_by_heave],
                    ),
                    by_roll: blocks.solve(
                        [-lower.f_by_roll, -upper.f_by_roll],
                        [-lower.g_by_roll, -upper.g_by_roll],
                    ),
                };
                // Turned on by the last correction: to first order, as it is below the limit.
                let turn = Turn {
                    sin_pitch: sin_pitch + cos_pitch * step[1],
                    cos_pitch: cos_pitch - sin_pitch * step[1],
                    sin_steer: sin_steer + cos_steer * step[3],
                    cos_steer: cos_steer - sin_steer * step[3],
                };
                position.read(heave, roll, &turn, solved, &self.damper);
                return Ok(());
            }
        }
        Err(OutOfReach {
            travel: heave,
            half_roll: roll.half_difference,
        })
    }
}

impl Solved {
    fn by_heave(&self, unknown: usize) -> Sample {
        Sample {
            value: self.value[unknown],
            slope: self.by_heave[unknown],
        }
    }

    fn by_roll(&self, unknown: usize) -> Sample {
        Sample {
            value: self.value[unknown],
            slope: self.by_roll[unknown],
        }
    }
}

impl Layout {
    /// Solves a line outward from its middle, which starts at `predicted`; every other position follows along the heave.
    fn solve_along_heave(
        &self,
        roll: &Roll,
        predicted: [f64; 4],
        line: &mut Line,
        positions: &mut [Position],
    ) -> Result<(), OutOfReach> {
        let step = self.heave_step;
        for index in MIDDLE_HEAVE..HEAVE_POSITIONS {
            let predicted = std::array::from_fn(|i| match index - MIDDLE_HEAVE {
                0 => predicted[i],
                1 => predictor::from_one(step, line[index - 1].by_heave(i)),
                2 => predictor::from_two(step, line[index - 1].by_heave(i), line[index - 2].by_heave(i)),
                _ => predictor::from_three(
                    step,
                    line[index - 1].by_heave(i),
                    line[index - 2].by_heave(i),
                    line[index - 3].by_heave(i),
                ),
            });
            self.solve(
                self.heave(index),
                roll,
                predicted,
                &mut line[index],
                &mut positions[index],
            )?;
        }
        for index in (0..MIDDLE_HEAVE).rev() {
            let predicted = std::array::from_fn(|i| {
                predictor::from_three(
                    -step,
                    line[index + 1].by_heave(i),
                    line[index + 2].by_heave(i),
                    line[index + 3].by_heave(i),
                )
            });
            self.solve(
                self.heave(index),
                roll,
                predicted,
                &mut line[index],
                &mut positions[index],
            )?;
        }
        Ok(())
    }

    fn heave(&self, index: usize) -> f64 {
        (index as f64 - MIDDLE_HEAVE as f64) * self.heave_step
    }

    /// Solves the lines that follow three solved ones (newest first), each from the three before it.
    fn solve_along_roll<'a>(
        &self,
        step: f64,
        mut newest_roll: f64,
        mut solved: [Line; 3],
        lines: impl Iterator<Item = &'a mut [Position]>,
    ) -> Result<(), OutOfReach> {
        for positions in lines {
            newest_roll += step;
            let roll = self.roll(newest_roll);
            let [newest, before, oldest] = &mut solved;
            for (index, position) in positions.iter_mut().enumerate() {
                let predicted = std::array::from_fn(|i| {
                    predictor::from_three(
                        step,
                        newest[index].by_roll(i),
                        before[index].by_roll(i),
                        oldest[index].by_roll(i),
                    )
                });
                // The oldest line is not needed again: it makes room for the new one.
                self.solve(self.heave(index), &roll, predicted, &mut oldest[index], position)?;
            }
            solved.rotate_right(1);
        }
        Ok(())
    }
}

/// Solves the grid into `positions`: line by line of equal roll from right to left wheel up, each from droop to bump.
///
/// It goes outward from the static position, so that every position continues the assembly as measured.
///
/// # Errors
/// [`OutOfReach`] where the links do not meet or Newton does not settle.
pub(crate) fn sweep(axle: &Axle, positions: &mut [Position; POSITIONS]) -> Result<(), OutOfReach> {
    let layout = Layout::new(axle);
    let step = axle.roll_step;
    let (right_up, left_up) = positions.split_at_mut(MIDDLE_ROLL * HEAVE_POSITIONS);
    let mut left_up = left_up.chunks_exact_mut(HEAVE_POSITIONS);
    let mut central = [[Solved::default(); HEAVE_POSITIONS]; 3];
    for index in 0..central.len() {
        let middle = |back: usize, i: usize| central[index - back][MIDDLE_HEAVE].by_roll(i);
        let predicted = std::array::from_fn(|i| match index {
            0 => 0.0,
            1 => predictor::from_one(step, middle(1, i)),
            _ => predictor::from_two(step, middle(1, i), middle(2, i)),
        });
        let roll = layout.roll(index as f64 * step);
        if let Some(line) = left_up.next() {
            layout.solve_along_heave(&roll, predicted, &mut central[index], line)?;
        }
    }
    let [level, first, second] = central;
    layout.solve_along_roll(step, 2.0 * step, [second, first, level], left_up)?;
    layout.solve_along_roll(
        -step,
        0.0,
        central,
        right_up.chunks_exact_mut(HEAVE_POSITIONS).rev(),
    )
}
