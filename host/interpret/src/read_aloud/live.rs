//! What a code carries of a live run.

use serde::Serialize;

use super::CodeError;
use super::level::Signed;
use super::numbers::Known;
use super::order::{Posts, Wires};
use super::outcome::LiveOutcome;
use super::packing::Walk;
use super::sheet::SpokenSheet;
use crate::judgement::{
    Activity, At, LiveCause, LiveFinding, LiveFindingKind, LiveJudgement, LivePair, LiveSupply,
    LiveUnit, Measured, PairSign, Severity, SupplyKind, Verdict,
};

/// From 1 to 489 V, 48 steps a factor of ten: within 2.5 %.
pub type SupplyVolt = Signed<1000, 48, 130>;
/// From 0.02 to 55 V, 32 steps a factor of ten: within 3.7 %.
pub type BiasVolt = Signed<20, 32, 111>;
/// From 0.05 to 886 of the finding's unit, 24 steps a factor of ten: within 5 %.
pub type LiveAmount = Signed<50, 24, 103>;

/// A live run.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SpokenLive {
    /// Of all.
    pub verdict: Verdict,
    /// The limit sheet.
    pub sheet: SpokenSheet,
    /// The jig, and with it the run, was simulated.
    pub simulated: bool,
    /// Where the jig was clipped on, as it was told.
    pub at: Option<At>,
    /// What is on which post.
    pub wires: Wires,
    /// What the supply is; absent where the sheet has none.
    pub supply: Option<Known<SupplyKind>>,
    /// Of what alternates rms, of what is direct the mean.
    pub supply_v: Option<SupplyVolt>,
    /// What the supply came to; without meaning where there is none.
    pub supply_outcome: LiveOutcome,
    /// Which way round the data pair is; absent where there is none.
    pub pair: Option<PairSign>,
    /// Data+ against data−.
    pub bias_v: Option<BiasVolt>,
    /// Whether someone sends.
    pub activity: Activity,
    /// What the pair came to; without meaning where there is none.
    pub pair_outcome: LiveOutcome,
    /// One of the findings is a hazard, whether it is the first or not.
    pub hazard: bool,
    /// By one of the findings all conductors may be live to earth.
    pub all_may_be_live: bool,
    /// What is wrong, or could not be told.
    pub finding: SpokenLiveFinding,
}

/// The gravest finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct SpokenLiveFinding {
    /// What; absent where nothing was found.
    pub kind: Option<Known<LiveFindingKind>>,
    /// Why it could not be told.
    pub cause: Option<Known<LiveCause>>,
    /// What it means.
    pub severity: Severity,
    /// Whom it concerns.
    pub posts: Posts,
    /// Its number.
    pub amount: LiveAmount,
    /// Of the number; absent where there is none.
    pub unit: Option<LiveUnit>,
    /// There was at least so much.
    pub at_least: bool,
    /// There are more findings than this one.
    pub more: bool,
}

impl SpokenLive {
    pub(super) fn of(judgement: &LiveJudgement, simulated: bool) -> Self {
        let named: Vec<_> = judgement.conductors.iter().map(|one| (one.name, one.post)).collect();
        let (supply, pair) = (judgement.supply.as_ref(), judgement.pair.as_ref());
        Self {
            verdict: judgement.verdict,
            sheet: SpokenSheet::of(&judgement.sheet),
            simulated,
            at: judgement.at,
            wires: Wires::of(&named),
            supply: supply.map(|one| Known::Value(one.kind)),
            supply_v: supply.and_then(volts).map(|volts| Signed::of(volts.value)),
            supply_outcome: supply.map_or(NO_OUTCOME, |one| LiveOutcome {
                verdict: one.verdict,
                reason: Known::Value(one.reason),
            }),
            pair: pair.map(|one| one.sign),
            bias_v: pair.and_then(|one| one.bias_v).map(|volts| Signed::of(volts.value)),
            activity: pair.map_or(Activity::Unknown, |one| one.activity),
            pair_outcome: pair.map_or(NO_OUTCOME, |one: &LivePair| LiveOutcome {
                verdict: one.verdict,
                reason: Known::Value(one.reason),
            }),
            hazard: judgement.found(LiveFindingKind::Hazard),
            all_may_be_live: judgement.found(LiveFindingKind::AllMoveTogether),
            finding: SpokenLiveFinding::of(&judgement.findings),
        }
    }

    /// The fields, in their order.
    pub(super) fn walk(told: Option<&Self>, walk: &mut impl Walk) -> Result<Self, CodeError> {
        Ok(Self {
            verdict: walk.field("verdict", told.map(|told| &told.verdict))?,
            sheet: walk.field("limit sheet", told.map(|told| &told.sheet))?,
            simulated: walk.field("simulated", told.map(|told| &told.simulated))?,
            at: walk.field("at", told.map(|told| &told.at))?,
            wires: walk.field("conductors", told.map(|told| &told.wires))?,
            supply: walk.field("supply", told.map(|told| &told.supply))?,
            supply_v: walk.field("its volts", told.map(|told| &told.supply_v))?,
            supply_outcome: walk.field("its outcome", told.map(|told| &told.supply_outcome))?,
            pair: walk.field("pair", told.map(|told| &told.pair))?,
            bias_v: walk.field("its bias", told.map(|told| &told.bias_v))?,
            activity: walk.field("its activity", told.map(|told| &told.activity))?,
            pair_outcome: walk.field("its outcome", told.map(|told| &told.pair_outcome))?,
            hazard: walk.field("hazard", told.map(|told| &told.hazard))?,
            all_may_be_live: walk
                .field("all may be live", told.map(|told| &told.all_may_be_live))?,
            finding: SpokenLiveFinding::walk(told.map(|told| &told.finding), walk)?,
        })
    }
}

const NO_OUTCOME: LiveOutcome = LiveOutcome {
    verdict: Verdict::Pass,
    reason: Known::Value(crate::judgement::LiveReason::WithinLimits),
};

/// As a screen has it.
fn volts(supply: &LiveSupply) -> Option<Measured> {
    if supply.kind == SupplyKind::Direct { supply.direct_v } else { supply.rms_v }
}

impl SpokenLiveFinding {
    fn of(findings: &[LiveFinding]) -> Self {
        let first = findings.first();
        let least = first.and_then(|one| one.at_least);
        // Of a hazard the bound counts, where there is one.
        let value = least.or(first.and_then(|one| one.value));
        let at_least = least.is_some();
        Self {
            kind: first.map(|one| Known::Value(one.kind)),
            cause: first.and_then(|one| one.cause).map(Known::Value),
            severity: first.map_or(Severity::Note, |one| one.severity),
            posts: Posts::of(first.map_or(&[], |one| &one.posts)),
            amount: match value {
                Some(value) if at_least => Signed::below(value),
                value => Signed::of(value.unwrap_or_default()),
            },
            unit: first.and_then(|one| one.unit).filter(|_| value.is_some()),
            at_least,
            more: findings.len() > 1,
        }
    }

    fn walk(told: Option<&Self>, walk: &mut impl Walk) -> Result<Self, CodeError> {
        Ok(Self {
            kind: walk.field("finding", told.map(|told| &told.kind))?,
            cause: walk.field("its cause", told.map(|told| &told.cause))?,
            severity: walk.field("its severity", told.map(|told| &told.severity))?,
            posts: walk.field("its posts", told.map(|told| &told.posts))?,
            amount: walk.field("its number", told.map(|told| &told.amount))?,
            unit: walk.field("its unit", told.map(|told| &told.unit))?,
            at_least: walk.field("at least so much", told.map(|told| &told.at_least))?,
            more: walk.field("more findings", told.map(|told| &told.more))?,
        })
    }
}
