//! The order in which positions are visited: outward from zero, so that each is reached from its neighbour.

/// Indices of the values at or above zero in rising order, and of those below in falling order.
pub(crate) fn outward(values: &[f64]) -> (Vec<usize>, Vec<usize>) {
    let (mut up, mut down): (Vec<usize>, Vec<usize>) =
        (0..values.len()).partition(|&place| values.get(place).is_none_or(|value| *value >= 0.0));
    up.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    down.sort_by(|a, b| values[*b].total_cmp(&values[*a]));
    (up, down)
}

#[cfg(test)]
mod tests {
    use super::outward;

    #[test]
    fn both_ways_start_next_to_zero() {
        let (up, down) = outward(&[3.0, -1.0, 0.0, -2.0, 1.0]);
        assert_eq!(up, [2, 4, 0]);
        assert_eq!(down, [1, 3]);
    }
}
