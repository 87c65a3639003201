//! Where a falling function is nought, to the last digit.

/// Where `falling` becomes negative between `low` and `high`, halving until no number lies between: it is for functions
/// whose value is right to the last digits, and which are never asked often.
pub(crate) fn of_falling(mut low: f64, mut high: f64, falling: impl Fn(f64) -> f64) -> f64 {
    loop {
        let middle = 0.5 * (low + high);
        if !(middle > low && middle < high) {
            return middle;
        }
        if falling(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
}

/// The first power of two times `start` at which `falling` is not positive any more; `None` when that is never.
pub(crate) fn beyond(start: f64, falling: impl Fn(f64) -> f64) -> Option<f64> {
    std::iter::successors(Some(start), |x| Some(2.0 * x))
        .take_while(|x| x.is_finite())
        .find(|x| falling(*x) <= 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_root_is_found_to_the_last_digit() {
        assert!((of_falling(0.0, 2.0, |x| 2.0 - x * x) - 2f64.sqrt()).abs() <= 2.0 * f64::EPSILON);
        assert_eq!(beyond(1.0, |x| 100.0 - x), Some(128.0));
        assert_eq!(beyond(1.0, |_| 1.0), None);
    }
}
