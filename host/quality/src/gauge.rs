//! How much of what is measured is the gauge: repeatability and reproducibility of a crossed study, in which every operator
//! measures every part as many times (the methods of AIAG MSA-4).

mod anova;
mod average_and_range;
mod study;

pub use anova::{Anova, Interaction, Source, anova};
pub use average_and_range::{RangeSummary, average_and_range, by_ranges};
pub use study::{NoStudy, Study};

use serde::Serialize;

/// Where variation comes from, as variances in the square of the reading's unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Components {
    /// EV²: one operator measures one part again.
    pub repeatability: f64,
    /// AV²: another operator does, with what only some parts show of it.
    pub reproducibility: f64,
    /// PV²: another part is measured.
    pub part: f64,
}

impl Components {
    /// GRR²: all that is the gauge's.
    #[must_use]
    pub fn gauge(&self) -> f64 {
        self.repeatability + self.reproducibility
    }

    /// TV²: all of it.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.gauge() + self.part
    }

    /// %contribution: what the gauge has of the total variance, in percent. `None` where nothing varies.
    #[must_use]
    pub fn percent_contribution(&self) -> Option<f64> {
        (self.total() > 0.0).then(|| 100.0 * self.gauge() / self.total())
    }

    /// %study variation: what the gauge has of the total standard deviation, in percent. `None` where nothing varies.
    #[must_use]
    pub fn percent_study_variation(&self) -> Option<f64> {
        (self.total() > 0.0).then(|| 100.0 * (self.gauge() / self.total()).sqrt())
    }

    /// %tolerance: six standard deviations of the gauge, in percent of the width of the limits, in the reading's unit.
    /// `None` of a width that is none.
    #[must_use]
    pub fn percent_tolerance(&self, width: f64) -> Option<f64> {
        (width.is_finite() && width > 0.0).then(|| 600.0 * self.gauge().sqrt() / width)
    }

    /// ndc: how many kinds of part the gauge can tell apart, 1.41 PV / GRR cut to a whole number, at least 1. `None` where the
    /// gauge does not vary at all.
    #[must_use]
    pub fn distinct_categories(&self) -> Option<u32> {
        let ratio = 1.41 * (self.part / self.gauge()).sqrt();
        ratio.is_finite().then_some((ratio as u32).max(1))
    }
}
