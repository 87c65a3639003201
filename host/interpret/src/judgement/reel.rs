//! What was proved about a reel of cable: conductor by conductor, its length, its gauge, its metal.

mod conductor;
mod finding;
mod gauge_check;
mod material;
mod per_length;
mod warming;
mod wire;

pub use conductor::{ReelConductor, ReelReason};
pub use finding::{ReelFinding, ReelFindingKind, ReelUnit};
pub use gauge_check::{GaugeCheck, GaugeReason};
pub use material::{Material, MaterialToldBy, Metal};
pub use per_length::{LengthBy, OhmPerLength, ReelResistance};
use serde::Serialize;
pub use warming::Warming;
pub use wire::{Wire, WireBasis};

use super::{Interval, Judgement, Verdict};
use crate::reel::Declared;

/// What follows from a reel's readings, from what was declared of it, and from a limit sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReelJudgement {
    /// Of the reel as a whole: missing data is never a pass.
    pub verdict: Verdict,
    /// What was declared.
    pub declared: Declared,
    /// Each conductor, in the order of the posts.
    pub conductors: Vec<ReelConductor>,
    /// What is wrong with the reel, or could not be told of it, the gravest first; what was found of its conductors
    /// as of any run's is in `run`.
    pub findings: Vec<ReelFinding>,
    /// What a metre of one core must have; absent where neither gauge nor resistance was declared.
    pub wire: Option<Wire>,
    /// The mean of the cores; absent where it was not measured.
    pub resistance: Option<ReelResistance>,
    /// How the two readings differ; absent where there are not two.
    pub warming: Option<Warming>,
    /// How long the reel is by its resistance, in metres, if it is the copper that was declared; absent where that
    /// cannot be told, or is known to be something else.
    pub length_m: Option<Interval>,
    /// By the marks that were declared.
    pub marked_m: Option<Interval>,
    /// By its capacitance.
    pub by_capacitance_m: Option<Interval>,
    /// What a kilometre of one core has at 20 °C, where a length is known beside the resistance.
    pub per_length: Option<OhmPerLength>,
    /// Whether its cores are as thick as declared.
    pub gauge: GaugeCheck,
    /// Of which metal its cores are.
    pub material: Material,
    /// k of expanded uncertainties that stand with no other.
    pub coverage_factor: f64,
    /// The first reading as a run from end to end: isolation, capacitance, and what was found there.
    pub run: Judgement,
}

impl ReelJudgement {
    /// Something of this kind was found.
    #[must_use]
    pub fn found(&self, kind: ReelFindingKind) -> bool {
        self.findings.iter().any(|finding| finding.kind == kind)
    }
}
