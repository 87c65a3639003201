//! What one conductor came to, verdict and reason in one number.

use serde::Serialize;

use super::packing::Numbered;
use crate::judgement::Reason::{
    ArrivesElsewhere, BeyondLimit, Disturbed, LimitUnknown, MapUnknown, NotLifted, NotMeasured,
    Open, Shorted, TooCloseToLimit, WithinLimit,
};
use crate::judgement::Verdict::{self, CannotTell, Fail, Pass};
use crate::judgement::{LiveReason, Reason};

use super::numbers::{Known, Table};

/// What one conductor, or a loop of two wires, came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Outcome {
    /// Of it alone.
    pub verdict: Verdict,
    /// Why; absent for a reason that has no number with this verdict.
    pub reason: Option<Reason>,
}

/// By their numbers. None of them is ever given another meaning.
const OUTCOMES: [(Verdict, Option<Reason>); 18] = [
    (Pass, Some(WithinLimit)),
    (Pass, Some(BeyondLimit)),
    (Pass, Some(TooCloseToLimit)),
    (Pass, None),
    (Fail, Some(BeyondLimit)),
    (Fail, Some(Open)),
    (Fail, Some(Shorted)),
    (Fail, Some(ArrivesElsewhere)),
    (Fail, None),
    (CannotTell, Some(TooCloseToLimit)),
    (CannotTell, Some(MapUnknown)),
    (CannotTell, Some(Disturbed)),
    (CannotTell, Some(NotLifted)),
    (CannotTell, Some(NotMeasured)),
    (CannotTell, Some(LimitUnknown)),
    (CannotTell, Some(BeyondLimit)),
    (CannotTell, Some(Shorted)),
    (CannotTell, None),
];

impl Outcome {
    /// Of a conductor that there is not.
    pub(super) const NONE: Self = Self { verdict: CannotTell, reason: Some(NotMeasured) };
}

impl Numbered for Outcome {
    const RADIX: u32 = OUTCOMES.len() as u32;
    fn number(&self) -> u32 {
        let exact = OUTCOMES.iter().position(|one| *one == (self.verdict, self.reason));
        let its = exact.or_else(|| OUTCOMES.iter().position(|one| *one == (self.verdict, None)));
        its.map_or(Self::RADIX - 1, |its| its as u32)
    }
    fn numbered(number: u32) -> Option<Self> {
        let (verdict, reason) = *OUTCOMES.get(number as usize)?;
        Some(Self { verdict, reason })
    }
}

/// What the supply or the pair of a live run came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct LiveOutcome {
    /// Of it alone.
    pub verdict: Verdict,
    /// Why.
    pub reason: Known<LiveReason>,
}

/// The reason's number thrice, and the verdict's.
impl Numbered for LiveOutcome {
    const RADIX: u32 = 3 * <LiveReason as Table>::RADIX;
    fn number(&self) -> u32 {
        3 * self.reason.number() + self.verdict.number()
    }
    fn numbered(number: u32) -> Option<Self> {
        let (verdict, reason) = (Verdict::numbered(number % 3)?, Known::numbered(number / 3)?);
        Some(Self { verdict, reason })
    }
}

#[test]
fn each_outcome_comes_back_and_a_verdict_is_never_lost() {
    for (number, (verdict, reason)) in OUTCOMES.into_iter().enumerate() {
        let outcome = Outcome { verdict, reason };
        assert_eq!(
            (outcome.number(), Outcome::numbered(number as u32)),
            (number as u32, Some(outcome))
        );
    }
    for verdict in [Pass, Fail, CannotTell] {
        for (reason, _) in Reason::TABLE {
            let number = Outcome { verdict, reason: Some(*reason) }.number();
            let told = Outcome::numbered(number).expect("a number of the table");
            assert_eq!(told.verdict, verdict);
            assert!(told.reason.is_none_or(|told| told == *reason));
        }
    }
}
