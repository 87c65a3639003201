//! What was said as a judgement again, so that it is told in the same words: only what was said is in it.

mod check;
mod live;

use super::level::{Bound, Rounded};

/// Two digits are more than any scale here is worth; a bound keeps its own.
fn plain(rounded: Rounded) -> f64 {
    let Rounded { value, bound } = rounded;
    if bound != Bound::About || value == 0.0 {
        return value;
    }
    let place = libm::pow(10.0, libm::floor(libm::log10(value.abs())) - 1.0);
    (value / place).round() * place
}

/// The same number, where it stands in the code once more and is rounded less there.
fn finer(told: Option<f64>, within_percent: f64, elsewhere: Option<f64>) -> Option<f64> {
    let (told, elsewhere) = (told?, elsewhere.or(told)?);
    // Two digits are as coarse as 5 %.
    let is_alike = (elsewhere / told - 1.0).abs() <= within_percent / 100.0 + 0.05;
    Some(if is_alike { elsewhere } else { told })
}

impl Rounded {
    /// With two digits.
    #[must_use]
    pub fn plain(self) -> f64 {
        plain(self)
    }
}

#[test]
fn two_digits_are_kept() {
    let about = |value| plain(Rounded { value, bound: Bound::About });
    for (value, kept) in [(0.4869, 0.49), (61.42, 61.0), (-0.6149, -0.61), (401_234.0, 400_000.0)] {
        assert!((about(value) - kept).abs() < 1e-9 * kept.abs(), "{value}: {}", about(value));
    }
}
