//! A live run, as it was said.

use runproof_protocol::Post;

use super::{finer, plain};
use crate::judgement::{
    LIVE_COVERAGE, Largest, LiveConductor, LiveFinding, LiveFindingKind, LiveJudgement, LivePair,
    LiveReason, LiveSupply, LiveZeroStatus, LiveZeroed, Measured, Severity, SheetName, SupplyKind,
};
use crate::limits::{ConductorName, DecisionRule};
use crate::read_aloud::{
    BiasVolt, Bound, Known, LiveAmount, Rounded, SpokenLive, SpokenLiveFinding, SupplyVolt, Wires,
};

impl SpokenLive {
    /// With what was said, and nothing else.
    #[must_use]
    pub fn judgement(&self, sheet: SheetName) -> LiveJudgement {
        LiveJudgement {
            verdict: self.verdict,
            at: self.at,
            supply: self.supply(),
            supply_load: None,
            pair: self.pair(),
            conductors: self.conductors(),
            largest: Largest {
                peak_v: None,
                alternating_rms_v: None,
                direct_v: None,
                beyond_range: false,
            },
            moves_together_v: None,
            findings: finding(&self.finding, self).into_iter().collect(),
            zero: LiveZeroed {
                status: LiveZeroStatus::None,
                age_days: None,
                warmer_k: None,
                again: false,
            },
            coverage: LIVE_COVERAGE,
            decision_rule: DecisionRule::Guarded,
            sheet,
            not_tested: vec![],
        }
    }

    /// Findings that are not the first, of which only the danger was said.
    #[must_use]
    pub fn beside(&self) -> Vec<LiveFinding> {
        let first = self.finding.kind.and_then(|kind| kind.value());
        let told = [
            (self.hazard, LiveFindingKind::Hazard),
            (self.all_may_be_live, LiveFindingKind::AllMoveTogether),
        ];
        let beside = told.into_iter().filter(|(is_told, kind)| *is_told && first != Some(*kind));
        beside.map(|(_, kind)| LiveFinding::new(kind, Severity::CannotTell)).collect()
    }

    fn supply(&self) -> Option<LiveSupply> {
        let kind = self.supply?.value().unwrap_or(SupplyKind::Unknown);
        let volts =
            self.supply_v.map(|volts| measured(volts.rounded(), SupplyVolt::within_percent()));
        let is_direct = kind == SupplyKind::Direct;
        Some(LiveSupply {
            kind,
            nominal_hertz: None,
            rms_v: volts.filter(|_| !is_direct),
            direct_v: volts.filter(|_| is_direct),
            alternating_rms_v: None,
            hertz: None,
            loaded_rms_v: None,
            limits: vec![],
            verdict: self.supply_outcome.verdict,
            reason: reason(self.supply_outcome.reason),
        })
    }

    fn pair(&self) -> Option<LivePair> {
        let bias = self.bias_v.map(|volts| measured(volts.rounded(), BiasVolt::within_percent()));
        let on = |name| self.wires.named().find(|(its, _)| *its == name).map(|(_, post)| post);
        Some(LivePair {
            posts: [
                on(ConductorName::DataPlus).unwrap_or(Post::P1),
                on(ConductorName::DataMinus).unwrap_or(Post::P2),
            ],
            bias_v: bias,
            loaded_bias_v: None,
            sign: self.pair?,
            activity: self.activity,
            spread_v: None,
            between_messages: false,
            decided_beyond_v: None,
            limits: vec![],
            verdict: self.pair_outcome.verdict,
            reason: reason(self.pair_outcome.reason),
        })
    }

    /// For their names alone: nothing is said of them one by one.
    fn conductors(&self) -> Vec<LiveConductor> {
        let two = [(ConductorName::Wire1, Post::P1), (ConductorName::Wire2, Post::P2)];
        let named: Vec<_> = match self.wires {
            Wires::Four(_) => self.wires.named().collect(),
            Wires::Nameless => two.to_vec(),
        };
        let each = named.into_iter().map(|(name, post)| LiveConductor {
            name,
            post,
            against: None,
            direct_v: None,
            alternating_rms_v: None,
            loaded_direct_v: None,
            loaded_alternating_rms_v: None,
            couples_in: None,
            limits: vec![],
            direct: None,
            alternating: None,
            verdict: crate::judgement::Verdict::CannotTell,
            reason: LiveReason::NotMeasured,
        });
        each.collect()
    }
}

fn finding(told: &SpokenLiveFinding, live: &SpokenLive) -> Option<LiveFinding> {
    let mut finding = LiveFinding::new(told.kind?.value()?, told.severity);
    finding.cause = told.cause.and_then(|cause| cause.value());
    finding.posts = told.posts.all();
    let on = |post: &Post| live.wires.named().find(|(_, its)| its == post).map(|(name, _)| name);
    finding.conductors = finding.posts.iter().filter_map(on).collect();
    let rounded = told.amount.rounded();
    finding.unit = told.unit;
    match (told.unit, told.at_least) {
        (None, _) => {}
        (Some(_), true) => finding.at_least = Some(rounded.value),
        (Some(_), false) => {
            let Measured { value, u } = measured(rounded, LiveAmount::within_percent());
            let within = LiveAmount::within_percent();
            finding.value = finer(Some(value), within, elsewhere(finding.kind, live));
            finding.u = Some(u);
        }
    }
    Some(finding)
}

/// The row that a finding of this kind is of.
fn elsewhere(kind: LiveFindingKind, live: &SpokenLive) -> Option<f64> {
    use LiveFindingKind as Kind;
    let volts = match kind {
        Kind::ReversedPair | Kind::PairNotBiased | Kind::PairLoaded | Kind::PairAboveRange => {
            live.bias_v?.rounded()
        }
        Kind::NoSupply | Kind::OtherSupply | Kind::LowSupply | Kind::HighSupply => {
            live.supply_v?.rounded()
        }
        _ => return None,
    };
    Some(plain(volts)).filter(|_| volts.bound == Bound::About)
}

/// What is less than a scale's first step is told as nothing.
fn measured(rounded: Rounded, within_percent: f64) -> Measured {
    let value = plain(rounded);
    match rounded.bound {
        Bound::Less => Measured { value: 0.0, u: value.abs() },
        Bound::About | Bound::More => Measured { value, u: value.abs() * within_percent / 100.0 },
    }
}

fn reason(told: Known<LiveReason>) -> LiveReason {
    told.value().unwrap_or(LiveReason::NotMeasured)
}
