//! What is wrong with the data pair.

use super::{Held, told};
use crate::judgement::{
    LiveCause, LiveFinding, LiveFindingKind as Kind, LivePair, LiveReason, LiveUnit,
};
use crate::limits::Severity;

/// A pair with less bias than this has none. [judgement]
const NO_BIAS_V: f64 = 0.05;
/// Both lines stand so far from common where something biases them, though it be shorted. [judgement]
const STANDS_V: f64 = 0.5;

impl Held<'_> {
    pub(super) fn pair(&self, found: &mut Vec<LiveFinding>) {
        let Some(pair) = self.pair else { return };
        let finding = |kind, severity| {
            let mut finding = LiveFinding::new(kind, severity);
            finding.posts = pair.posts.into();
            finding.conductors = pair.posts.iter().filter_map(|post| self.name_of(*post)).collect();
            finding.loaded = pair.loaded_bias_v.map(|loaded| loaded.value);
            match pair.bias_v {
                Some(bias) => told(finding, bias, LiveUnit::VoltDirect),
                None => finding,
            }
        };
        match pair.reason {
            LiveReason::Reversed => found.push(finding(Kind::ReversedPair, Severity::Fail)),
            // One leg alone is told as such.
            LiveReason::Floats if pair.posts.iter().any(|post| !self.floating.contains(*post)) => {}
            LiveReason::Floats | LiveReason::CouplesIn => {
                found.push(finding(Kind::PairNotBiased, Severity::Fail));
            }
            LiveReason::BelowLimit => {
                let kind = if self.something_biases(pair) {
                    Kind::PairLoaded
                } else {
                    Kind::PairNotBiased
                };
                found.push(finding(kind, Severity::Fail));
            }
            LiveReason::Undecided if self.floating.unsure.is_some() => {}
            LiveReason::Undecided => {
                found.push(finding(Kind::TooCloseToLimit, Severity::CannotTell))
            }
            LiveReason::LimitUnknown => {
                found.push(finding(Kind::LimitUnknown, Severity::CannotTell))
            }
            LiveReason::Busy => found.push(LiveFinding::because(LiveCause::Busy)),
            LiveReason::AboveLimit => {
                found.push(finding(Kind::PairAboveRange, Severity::CannotTell))
            }
            _ => {}
        }
    }

    /// A bias that is too small, or none between the lines while both stand off common: loaded or shorted.
    fn something_biases(&self, pair: &LivePair) -> bool {
        let biased = pair.bias_v.is_some_and(|bias| bias.value.abs() > NO_BIAS_V);
        let stand =
            self.conductors.iter().filter(|one| pair.posts.contains(&one.post)).all(|one| {
                one.loaded_direct_v.is_some_and(|direct| direct.value.abs() - direct.u > STANDS_V)
            });
        biased || stand
    }
}
