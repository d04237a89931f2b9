//! The order in which positions are visited: outward from zero, so that each is reached from its neighbour.

/// Values at or above zero in rising order, and those below in falling order.
pub(crate) struct Outward {
    /// Places of the values in rising order; none when they are given in that order, as sweeps mostly are.
    rising: Option<Vec<usize>>,
    below_zero: usize,
    count: usize,
}

impl Outward {
    pub(crate) fn of(values: &[f64]) -> Self {
        let rising = (!values.is_sorted_by(|a, b| a.total_cmp(b).is_le())).then(|| {
            let mut places: Vec<usize> = (0..values.len()).collect();
            places.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
            places
        });
        let is_below = |value: &f64| value.total_cmp(&0.0).is_lt();
        let below_zero = match &rising {
            Some(places) => places.partition_point(|place| is_below(&values[*place])),
            None => values.partition_point(is_below),
        };
        Self {
            rising,
            below_zero,
            count: values.len(),
        }
    }

    /// Places of the values at or above zero.
    pub(crate) fn up(&self) -> impl ExactSizeIterator<Item = usize> {
        (self.below_zero..self.count).map(|rank| self.place(rank))
    }

    /// Places of the values below zero.
    pub(crate) fn down(&self) -> impl ExactSizeIterator<Item = usize> {
        (0..self.below_zero).rev().map(|rank| self.place(rank))
    }

    fn place(&self, rank: usize) -> usize {
        self.rising.as_ref().map_or(rank, |places| places[rank])
    }
}

#[cfg(test)]
mod tests {
    use super::Outward;

    fn order(values: &[f64]) -> (Vec<usize>, Vec<usize>) {
        let outward = Outward::of(values);
        (outward.up().collect(), outward.down().collect())
    }

    #[test]
    fn both_ways_start_next_to_zero() {
        assert_eq!(order(&[3.0, -1.0, 0.0, -2.0, 1.0]), (vec![2, 4, 0], vec![1, 3]));
    }

    #[test]
    fn rising_values_need_no_sorting() {
        assert!(Outward::of(&[-2.0, -1.0, 0.0, 1.0]).rising.is_none());
        assert_eq!(order(&[-2.0, -1.0, 0.0, 1.0]), (vec![2, 3], vec![1, 0]));
        assert_eq!(order(&[]), (vec![], vec![]));
    }
}
