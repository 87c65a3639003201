//! What is on a powered run: the supply, the data pair, each conductor, and what is wrong with them.

mod between;
mod conductor;
mod finding;
mod largest;
mod measured;
mod pair;
mod supply;
mod supply_load;
mod zeroed;

pub use between::{LostBetween, NotCompared, PairBetween, SupplyBetween};
pub use conductor::{LiveConductor, LiveHeld};
pub use finding::{LiveCause, LiveFinding, LiveFindingKind, LiveUnit};
pub use largest::{AtMost, Largest};
pub use measured::{LiveLimit, LiveReason, Measured};
pub use pair::{Activity, LivePair, PairSign};
use serde::{Deserialize, Serialize};
pub use supply::{LiveSupply, SupplyKind};
pub use supply_load::{AtControl, LoadUnknown, SupplyLoad};
pub use zeroed::{LiveZeroStatus, LiveZeroed};

use super::{SheetName, Verdict};
use crate::limits::{DecisionRule, Severity};

/// How likely the true value lies within `u` of what is told.
pub const LIVE_COVERAGE: f64 = 0.95;

/// What follows from the live phase of a capture and a limit sheet. Nothing in it says that a run is without
/// voltage: only what was seen.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LiveJudgement {
    /// Of all: missing data is never a pass, nor is a voltage that has no limit.
    pub verdict: Verdict,
    /// Where the jig was clipped on, as it was told.
    pub at: Option<At>,
    /// Supply against common; absent by a sheet that has none (two wires).
    pub supply: Option<LiveSupply>,
    /// The supply under a load of the jig's own; absent where none was put on.
    pub supply_load: Option<SupplyLoad>,
    /// Data+ against data−; of two wires, the one against the other.
    pub pair: Option<LivePair>,
    /// Each conductor against common, in the order of the posts.
    pub conductors: Vec<LiveConductor>,
    /// The most that can be between any two posts.
    pub largest: Largest,
    /// What all conductors do together against the jig, alternating, rms, under the load: from D4 alone. Against
    /// earth it may be more, the jig being as free as its host.
    pub moves_together_v: Option<Measured>,
    /// What is wrong, or could not be told; the gravest first.
    pub findings: Vec<LiveFinding>,
    /// How the jig's live zero served.
    pub zero: LiveZeroed,
    /// How likely the true value lies within each `u`.
    pub coverage: f64,
    /// How voltages were held against their limits.
    pub decision_rule: DecisionRule,
    /// The limit sheet that was used.
    pub sheet: SheetName,
    /// What this capture says nothing about.
    pub not_tested: Vec<LiveNotTested>,
}

impl LiveJudgement {
    /// Whether this is among its findings.
    #[must_use]
    pub fn found(&self, kind: LiveFindingKind) -> bool {
        self.findings.iter().any(|finding| finding.kind == kind)
    }

    /// What is told of a conductor that may as well hang on nothing as be held just there.
    #[must_use]
    pub fn may_float(&self) -> Option<&LiveFinding> {
        let unsure = |one: &&LiveFinding| {
            one.kind == LiveFindingKind::Floats && one.severity == Severity::CannotTell
        };
        self.findings.iter().find(unsure)
    }

    /// What a control is left with, where that is known.
    #[must_use]
    pub fn at_control(&self) -> Option<&AtControl> {
        self.supply_load.as_ref()?.control.as_ref()
    }
}

/// Where the jig is clipped on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum At {
    /// At the unit's end, where the supply comes from.
    Adapter,
    /// At the wall plate, where the control is.
    Plate,
}

/// What a live run says nothing about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LiveNotTested {
    /// Voltage against earth or chassis: the jig has no post for them.
    AgainstEarth,
    /// The run under the current that a control takes: the load is 47 kΩ.
    UnderTheControlsLoad,
    /// What comes and goes: the look is a third of a second.
    ComesAndGoes,
    /// What the pair says, and whether anyone understands it.
    TheData,
    /// Voltage under the load: this capture has no such readings.
    UnderTheLoad,
    /// The wiring itself: resistance, insulation, where conductors arrive.
    TheWiring,
}
