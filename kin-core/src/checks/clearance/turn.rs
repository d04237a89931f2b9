//! First guesses at where a gap turns round.

use super::meeting::Look;

/// Where the cubic through both gaps with their rates has its least.
pub(super) fn cubic_turn(left: &Look, right: &Look) -> f64 {
    let width = right.place - left.place;
    let chord = (right.gap - left.gap) / width;
    // Slope along the interval: a s^2 + b s + c, rising through its root.
    let a = 3.0 * (left.rate + right.rate - 2.0 * chord);
    let b = 2.0 * (3.0 * chord - 2.0 * left.rate - right.rate);
    let root = (b * b - 4.0 * a * left.rate).max(0.0).sqrt();
    let share = -2.0 * left.rate / (b + root);
    let share = if share.is_finite() { share } else { 0.5 };
    left.place + width * share.clamp(0.02, 0.98)
}

/// Where the straight line between two rates of opposite sign is zero, inside `from` to `to`.
pub(super) fn chord(from: f64, to: f64, rates: [f64; 2]) -> f64 {
    let next = from + (to - from) * (rates[0] / (rates[0] - rates[1]));
    if next > from && next < to {
        next
    } else {
        0.5 * (from + to)
    }
}
