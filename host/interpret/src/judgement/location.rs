//! How far along the run something lies.

use serde::{Deserialize, Serialize};

/// A value, and between what it lies: about 95 %.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    /// The most likely.
    pub value: f64,
    /// It is not less.
    pub least: f64,
    /// It is not more.
    pub most: f64,
}

impl Interval {
    /// So many times of it.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        let Self { value, least, most } = self;
        Self { value: value * factor, least: least * factor, most: most * factor }
    }

    /// From the least to the most.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.most - self.least
    }
}

/// How a place was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LocatedBy {
    /// From the resistance between jig and fault, and between fault and plug.
    Resistance,
    /// From a conductor's capacitance, against its siblings'.
    Capacitance,
    /// From the capacitance of both its pieces, each measured from its own end.
    BothEnds,
}

/// How far along the run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Location {
    /// How it was told.
    pub by: LocatedBy,
    /// From the jig, as a fraction of the run's length: 0 at the jig, 1 at the far end.
    pub fraction: Interval,
    /// From the jig; absent where neither length nor gauge was told.
    pub metres: Option<Interval>,
}
