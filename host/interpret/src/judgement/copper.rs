//! What the resistance of its copper tells of a run: how long it is, or how thick; and how even its data
//! pair is.

use runproof_protocol::Post;
use serde::{Serialize, Serializer};

use super::{Interval, post_number};
use crate::copper::Gauge;

/// What the conductors' resistance tells of the run as a whole.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Copper {
    /// Of one conductor: the mean of all without a joint, or half the loop of two wires.
    pub ohm: f64,
    /// Of that, with the judgement's coverage factor.
    pub expanded_uncertainty_ohm: f64,
    /// What was told of the wire: of length and gauge the one gives the other.
    pub basis: Basis,
    /// How long the run looks; absent where no gauge was told, or where it is too short to tell.
    pub metres: Option<Interval>,
    /// Sizes that a run of the length that was told may have; empty where the gauge was told or the
    /// length was not, and where none fits.
    #[serde(serialize_with = "texts")]
    pub gauges: Vec<Gauge>,
    /// How long copper of any usual size is that has this resistance; absent where no length was told.
    pub usual_metres: Option<Interval>,
    /// Something was told, but so little resistance is not known well enough to tell the other.
    pub too_short: bool,
    /// Surely more resistance than the wire that was told can have.
    pub more_than_wire: bool,
    /// Its length is one that its capacitance allows; absent where either is not known.
    pub agrees_with_capacitance: Option<bool>,
    /// Of the data pair; absent for two wires, of which only the loop is known.
    pub unbalance: Option<Unbalance>,
}

/// What was told of the wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// Neither gauge nor length: resistance does not tell the one from the other.
    Nothing,
    /// How thick.
    Gauge,
    /// How long.
    Length,
    /// Both.
    GaugeAndLength,
}

/// How unlike the two conductors of a pair are.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Unbalance {
    /// The post of the one with more resistance.
    #[serde(serialize_with = "post_number::one")]
    pub post: Post,
    /// How much more.
    pub ohm: f64,
    /// Of that, with the judgement's coverage factor.
    pub expanded_uncertainty_ohm: f64,
    /// The difference as a part of both together; absent where both have next to nothing.
    pub percent: Option<f64>,
    /// Of that, with the judgement's coverage factor.
    pub expanded_uncertainty_percent: Option<f64>,
}

fn texts<S: Serializer>(gauges: &[Gauge], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(gauges.iter().map(Gauge::to_string))
}
