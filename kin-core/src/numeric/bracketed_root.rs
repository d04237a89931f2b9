//! A root between two places of opposite sign, with the help of exact slopes.

/// Finds where `function` (value and slope) is zero between `low` and `high`.
///
/// Newton steps that would leave the bracket, or that gain too little, are replaced by bisection. The answer is
/// within `tolerance` of the root, or as close as the numbers allow. The values at the ends must differ in sign.
pub(crate) fn find<E>(
    mut function: impl FnMut(f64) -> Result<(f64, f64), E>,
    low: (f64, f64),
    high: (f64, f64),
    tolerance: f64,
) -> Result<f64, E> {
    let ((mut low, low_value), (mut high, high_value)) = (low, high);
    if low_value == 0.0 {
        return Ok(low);
    }
    if high_value == 0.0 {
        return Ok(high);
    }
    let rising = low_value < 0.0;
    let mut place = low + (high - low) * (low_value / (low_value - high_value)).clamp(0.05, 0.95);
    let mut last_step = high - low;
    // Bisection alone needs 60 halvings for 1000 mm to 1e-15 mm; Newton makes it a handful.
    for _ in 0..200 {
        let (value, slope) = function(place)?;
        if value == 0.0 {
            return Ok(place);
        }
        if (value < 0.0) == rising {
            low = place;
        } else {
            high = place;
        }
        let newton = place - value / slope;
        let inside = newton.is_finite() && newton > low && newton < high;
        let next = if inside && (newton - place).abs() < 0.5 * last_step.abs() {
            newton
        } else {
            0.5 * (low + high)
        };
        last_step = next - place;
        place = next;
        if last_step.abs() <= tolerance || high - low <= tolerance {
            return Ok(place);
        }
    }
    Ok(place)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;

    #[test]
    fn finds_the_root_of_a_cubic() {
        let cubic = |x: f64| Ok::<_, Infallible>((x * x * x - 2.0, 3.0 * x * x));
        let root = find(cubic, (0.0, -2.0), (5.0, 123.0), 1e-14).expect("no error is possible");
        assert!((root - 2.0_f64.cbrt()).abs() < 1e-13);
    }

    #[test]
    fn misleading_slopes_fall_back_to_bisection() {
        let step = |x: f64| Ok::<_, Infallible>((if x < 0.3 { -1.0 } else { 1.0 }, 0.0));
        let root = find(step, (0.0, -1.0), (1.0, 1.0), 1e-9).expect("no error is possible");
        assert!((root - 0.3).abs() < 1e-8);
    }
}
