//! What was proved: the verdict, each conductor, each finding, and what was not tested.

mod around;
pub(crate) mod budget;
mod capacitance;
mod conductor;
mod copper;
mod finding;
mod flex;
mod isolation;
mod landing;
mod live;
mod location;
mod misses;
mod not_tested;
mod placed;
mod post_number;
mod reel;
mod to_earth;
mod verdict;
mod zeroed;

pub use around::Loop;
pub use budget::Budget;
pub use capacitance::{Capacitance, LooksLong};
pub use conductor::{Conductor, Reason};
pub use copper::{Basis, Copper, Unbalance};
pub use finding::{Alternative, Cause, Finding, FindingKind, Unit};
pub use flex::{FlexFinding, FlexFindingKind, FlexJudgement};
pub use isolation::Isolation;
pub use landing::Landing;
pub use live::*;
pub use location::{Interval, LocatedBy, Location};
pub use misses::Misses;
pub use not_tested::NotTested;
pub use placed::{Place, Placed};
pub use reel::*;
use serde::Serialize;
pub use to_earth::{Bonded, ToEarth};
pub use verdict::Verdict;
pub use zeroed::Zeroed;

use crate::copper::Calculated;
use crate::limits::DecisionRule;
pub use crate::limits::{ExplainsComplaint, Severity};

/// Expanded uncertainties, but those of conductors, are this many standard uncertainties: about 95 % of a
/// normal distribution (JCGM 100:2008, 6.2.2 and G.6.6).
pub const COVERAGE_FACTOR: f64 = 2.0;

/// What follows from a capture and a limit sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Judgement {
    /// Of the run as a whole: missing data is never a pass.
    pub verdict: Verdict,
    /// Each conductor, in the order of the posts; none where only their loop is measured.
    pub conductors: Vec<Conductor>,
    /// Conductors in series, where the sheet limits that.
    pub loops: Vec<Loop>,
    /// What one conductor of the gauge and the length that were told must have.
    pub calculated: Option<Calculated>,
    /// What is between each two conductors with the end plug out; empty where that is not known.
    pub isolation: Vec<Isolation>,
    /// What hangs on each conductor with the end plug out; empty where that is not known.
    pub capacitance: Vec<Capacitance>,
    /// How long the run looks by that; absent where something joins its conductors, or where the sheet
    /// does not say what a metre has.
    pub looks_long: Option<LooksLong>,
    /// How clips, run and plug end join, where wires were held together.
    pub placed: Placed,
    /// How the run was landed, by the colours that were told.
    pub landing: Landing,
    /// What the conductors' resistance tells of the run's length, gauge and evenness; absent where one of
    /// them is not known.
    pub copper: Option<Copper>,
    /// What is wrong, or could not be told; the gravest first.
    pub findings: Vec<Finding>,
    /// k of expanded uncertainties; each conductor has its own.
    pub coverage_factor: f64,
    /// How the jig's zero served; absent without one.
    pub zero: Option<Zeroed>,
    /// How resistances were held against their limits.
    pub decision_rule: DecisionRule,
    /// The limit sheet that was used.
    pub sheet: SheetName,
    /// What this capture says nothing about.
    pub not_tested: Vec<NotTested>,
    /// The smallest faults that it could miss.
    pub misses: Misses,
    /// Of a test to earth: then all the rest is of that; absent for any other.
    pub to_earth: Option<ToEarth>,
    /// How well the run that was found explains the readings; absent where none was.
    pub fit: Option<Fit>,
}

/// Name and version of a limit sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetName {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
}

/// How well the run that was found explains the readings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Fit {
    /// The jig's ohm in ohms of the end plug: 1 when its series resistors have their nominal mean;
    /// absent where nothing explains the readings.
    pub scale: Option<f64>,
    /// Weighted sum of squares that is left over.
    pub chi_squared: f64,
    /// Pair resistances less fitted quantities.
    pub degrees_of_freedom: usize,
}
