//! What may be said of a share that was counted, and of errors that were collected.

use statrs::distribution::{Beta, ContinuousCDF};

/// So many of so many.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Share {
    pub(crate) of: u64,
    pub(crate) are: u64,
}

impl Share {
    pub(crate) fn of_all(all: impl IntoIterator<Item = bool>) -> Self {
        let mut share = Self::default();
        for is in all {
            share.of += 1;
            share.are += u64::from(is);
        }
        share
    }

    pub(crate) fn fraction(self) -> f64 {
        self.are as f64 / self.of as f64
    }

    /// Between what the true share lies, 95 %: Clopper and Pearson's interval, which is exact.
    pub(crate) fn interval(self) -> [f64; 2] {
        let Self { of, are } = self;
        let others = of - are;
        let quantile = |a: u64, b: u64, p| {
            Beta::new(a as f64, b as f64).expect("both are above 0").inverse_cdf(p)
        };
        let least = if are == 0 { 0.0 } else { quantile(are, others + 1, 0.025) };
        let most = if others == 0 { 1.0 } else { quantile(are + 1, others, 0.975) };
        [least, most]
    }
}

/// Median, 95th percentile and the largest.
pub(crate) fn quantiles(mut values: Vec<f64>) -> Option<[f64; 3]> {
    values.sort_by(f64::total_cmp);
    let last = values.len().checked_sub(1)?;
    let at = |part: f64| values[(part * last as f64).round() as usize];
    Some([at(0.5), at(0.95), at(1.0)])
}
