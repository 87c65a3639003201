//! What the limit sheet has no range for, in one finding.

use crate::judgement::{LiveFinding, LiveFindingKind as Kind};
use crate::limits::Severity;

/// By a sheet that is not made for powered runs.
pub(super) fn finding() -> LiveFinding {
    LiveFinding::new(Kind::LimitUnknown, Severity::CannotTell)
}

/// Whatever lacks a range, together.
pub(super) fn as_one(found: &mut Vec<LiveFinding>) {
    let mut whom = vec![];
    found.retain(|one| {
        if one.kind == Kind::LimitUnknown {
            whom.extend(one.posts.iter().copied().zip(one.conductors.iter().copied()));
        }
        one.kind != Kind::LimitUnknown
    });
    whom.sort_by_key(|(post, _)| *post);
    whom.dedup();
    if !whom.is_empty() {
        let mut together = finding();
        (together.posts, together.conductors) = whom.into_iter().unzip();
        found.push(together);
    }
}
