//! Where a characteristic must lie.

use serde::Serialize;

/// Where a characteristic must lie, in its own unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Limits {
    /// Not above.
    Upper(f64),
    /// Not below.
    Lower(f64),
    /// Neither below the first nor above the second.
    Both(f64, f64),
}

impl Limits {
    /// The lower and the upper one; `None` where they are no numbers or in no order.
    pub(crate) fn ends(self) -> Option<(Option<f64>, Option<f64>)> {
        match self {
            Self::Upper(upper) if upper.is_finite() => Some((None, Some(upper))),
            Self::Lower(lower) if lower.is_finite() => Some((Some(lower), None)),
            Self::Both(lower, upper) if lower.is_finite() && upper.is_finite() && lower < upper => {
                Some((Some(lower), Some(upper)))
            }
            _ => None,
        }
    }
}
