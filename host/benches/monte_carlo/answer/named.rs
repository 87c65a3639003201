//! Whether a fault that was put on a run is named for what it is.

use runproof_interpret::judgement::{Cause, FindingKind};
use runproof_interpret::{Judgement, LimitSheet};

use super::has;
use crate::truth::{Fault, Truth};

/// A leak that the sheet would not even note need not be named.
pub(super) fn is_due(fault: &Fault, sheet: &LimitSheet) -> bool {
    match fault {
        Fault::Path { ohm, .. } => *ohm < sheet.leakage.note_below.value,
        _ => true,
    }
}

pub(super) fn is_named(fault: &Fault, judgement: &Judgement, truth: &Truth) -> bool {
    use FindingKind::{HighResistance, Leakage, NoEndPlug, Short, UnevenResistance};
    match fault {
        Fault::Map => judgement
            .conductors
            .iter()
            .zip(truth.reaches)
            .all(|(one, is)| one.reaches.map(|post| post.number()) == is),
        Fault::Open { post, .. } => has(judgement, &[FindingKind::Open], &[*post]),
        Fault::Joint { post } => has(judgement, &[HighResistance, UnevenResistance], &[*post]),
        Fault::Path { posts, .. } if fault.is_leak() => has(judgement, &[Leakage], posts),
        // Some shorts look like a device until the operator says that both ends are lifted.
        Fault::Path { posts, .. } => {
            has(judgement, &[Short], posts) || may_be_device(judgement, posts)
        }
        Fault::NoPlug => judgement.findings.iter().any(|one| one.kind == NoEndPlug),
        Fault::Device => {
            judgement.findings.iter().any(|one| one.kind == FindingKind::SomethingConnected)
        }
    }
}

fn may_be_device(judgement: &Judgement, posts: &[u8]) -> bool {
    let is_device = |cause| matches!(cause, Some(Cause::Winding | Cause::Terminator));
    has(judgement, &[FindingKind::SomethingConnected], posts)
        && judgement.findings.iter().any(|one| is_device(one.cause))
}
