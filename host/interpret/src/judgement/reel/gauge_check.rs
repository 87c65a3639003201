//! Whether a reel's cores are as thick as declared.

use serde::{Serialize, Serializer};

use crate::copper::Gauge;
use crate::judgement::Verdict;

/// Measured resistance per length, against what was declared.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GaugeCheck {
    /// Of the size alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: GaugeReason,
    /// Sizes of copper that have what was measured, of the declared make; empty where it was not measured per length.
    #[serde(serialize_with = "texts")]
    pub fits: Vec<Gauge>,
    /// More is beyond what the declared size may have, in Ω/km at 20 °C.
    pub fails_above_ohm_per_km: Option<f64>,
    /// Up to here it is taken for the declared size, not for the next thinner one.
    pub passes_to_ohm_per_km: Option<f64>,
}

/// Why the size has its verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum GaugeReason {
    /// Nearer to the declared size than to the next thinner one.
    AsDeclared,
    /// More resistance than the declared size may have.
    MoreThanDeclared,
    /// Surely less than it can have.
    LessThanDeclared,
    /// A limit lies within the uncertainty.
    TooClose,
    /// Nothing but the resistance tells how long it is.
    LengthNotKnown,
    /// Neither size nor resistance was declared.
    NotDeclared,
    /// Its resistance is not known, or not at 20 °C.
    NotMeasured,
}

fn texts<S: Serializer>(gauges: &[Gauge], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(gauges.iter().map(Gauge::to_string))
}
