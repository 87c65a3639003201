//! What a judgement says of a run, against what is true: is it named, is it wrong, and is it flagged?

mod named;
mod untrue;

use runproof_interpret::judgement::{FindingKind, Severity, Verdict};
use runproof_interpret::{Judgement, LimitSheet};

use crate::truth::{Fault, Truth, limit_ohm};

/// What became of one run.
#[derive(Clone, Debug)]
pub(crate) struct Answer {
    pub(crate) verdict: Verdict,
    pub(crate) naming: Naming,
    /// Why something cannot be told, where it says so.
    pub(crate) flagged: Option<String>,
    /// Statements that do not hold.
    pub(crate) untrue: Vec<String>,
    /// A conductor is called uneven on which no joint was put: a remark.
    pub(crate) spurious_remark: bool,
    pub(crate) false_pass: bool,
    pub(crate) false_fail: bool,
    /// Of a joint: its conductor's true resistance is so many expanded uncertainties beyond its limit.
    pub(crate) joint_beyond: Option<f64>,
    /// What was found, to be read.
    pub(crate) said: String,
}

/// How what was put on the run is named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Naming {
    /// All of it, and nothing that is not true.
    Right,
    /// One fault of two, and nothing that is not true.
    InPart,
    /// Ambiguous, unexplained, or not told for another reason that is given.
    NotTold,
    /// Nothing is said of it, and nothing that is not true.
    NotMentioned,
    /// Something is said that is not true.
    Other,
}

/// Where a conductor's uncertainty is not stated.
const TYPICAL_EXPANDED_OHM: f64 = 0.1;

impl Answer {
    pub(crate) fn of(judgement: &Judgement, truth: &Truth, sheet: &LimitSheet) -> Self {
        let untrue = untrue::statements(judgement, truth, sheet);
        let needed = || truth.faults.iter().filter(|fault| named::is_due(fault, sheet));
        let named = needed().filter(|fault| named::is_named(fault, judgement, truth)).count();
        let (all_named, any_due) = (named == needed().count(), needed().next().is_some());
        let flagged = flagged(judgement);
        let naming = if !untrue.is_empty() {
            Naming::Other
        } else if all_named && (any_due || flagged.is_none()) {
            Naming::Right
        } else if named > 0 {
            Naming::InPart
        } else if flagged.is_some() {
            Naming::NotTold
        } else {
            Naming::NotMentioned
        };
        let verdict = judgement.verdict;
        Self {
            verdict,
            naming,
            flagged,
            untrue,
            spurious_remark: untrue::spurious_remark(judgement, truth),
            false_pass: verdict == Verdict::Pass && truth.must_not_pass(sheet),
            false_fail: verdict == Verdict::Fail && !truth.is_faulty(sheet),
            joint_beyond: joint_beyond(judgement, truth, sheet),
            said: said(judgement),
        }
    }

    /// It misleads, and nothing in it warns of that.
    pub(crate) fn is_wrong_unflagged(&self) -> bool {
        self.false_pass || self.false_fail || !self.untrue.is_empty() && self.flagged.is_none()
    }

    /// It does not tell what it ought to.
    pub(crate) fn is_wrong_or_not_told(&self) -> bool {
        self.is_wrong_unflagged() || matches!(self.naming, Naming::Other | Naming::NotTold)
    }
}

fn joint_beyond(judgement: &Judgement, truth: &Truth, sheet: &LimitSheet) -> Option<f64> {
    let [Fault::Joint { post }] = *truth.faults.as_slice() else {
        return None;
    };
    let index = usize::from(post) - 1;
    let stated_ohm = judgement.conductors[index].expanded_uncertainty_ohm;
    let beyond_ohm = truth.ohm[index] - limit_ohm(post, sheet);
    Some(beyond_ohm / stated_ohm.unwrap_or(TYPICAL_EXPANDED_OHM))
}

/// The gravest finding that tells so.
fn flagged(judgement: &Judgement) -> Option<String> {
    let mut cannot_tell =
        judgement.findings.iter().filter(|one| one.severity == Severity::CannotTell);
    cannot_tell.next().map(|one| match one.cause {
        Some(cause) => format!("{:?}, {cause:?}", one.kind),
        None => format!("{:?}", one.kind),
    })
}

fn said(judgement: &Judgement) -> String {
    let findings = judgement.findings.iter().map(|one| {
        let posts: Vec<u8> = one.posts.iter().map(|post| post.number()).collect();
        let value = one.value.map(|value| format!(" {value:.3}")).unwrap_or_default();
        let cause = one.cause.map(|cause| format!(" {cause:?}")).unwrap_or_default();
        format!("{:?}{cause} {posts:?}{value}", one.kind)
    });
    let reaches = judgement.conductors.iter().map(|one| match one.reaches {
        Some(post) => post.number().to_string(),
        None => "-".into(),
    });
    let reaches = reaches.collect::<Vec<_>>().join("");
    let findings = findings.collect::<Vec<_>>().join(", ");
    format!("{:?}, map {reaches}; {findings}", judgement.verdict)
}

fn has(judgement: &Judgement, kinds: &[FindingKind], posts: &[u8]) -> bool {
    judgement.findings.iter().any(|one| {
        let is = kinds.contains(&one.kind);
        is && one.posts.iter().map(|post| post.number()).eq(posts.iter().copied())
    })
}
