//! Statements of a judgement that do not hold.

use runproof_interpret::judgement::{Conductor, Finding, FindingKind, Reason};
use runproof_interpret::{Judgement, LimitSheet};

use crate::truth::{Fault, Truth};

pub(super) fn statements(judgement: &Judgement, truth: &Truth, sheet: &LimitSheet) -> Vec<String> {
    let conductors = judgement.conductors.iter().filter_map(|one| of_conductor(one, truth, sheet));
    let findings = judgement.findings.iter().filter(|one| !holds(one, truth, sheet));
    let findings = findings.map(|one| format!("{:?} {:?}", one.kind, numbers(one)));
    conductors.chain(findings).collect()
}

fn of_conductor(one: &Conductor, truth: &Truth, sheet: &LimitSheet) -> Option<String> {
    let post = one.post.number();
    let is = truth.reaches[one.post.index()];
    let stated = one.reaches.map(|terminal| terminal.number());
    if stated.is_some() && stated != is {
        return Some(format!("post {post} reaches {stated:?}, not {is:?}"));
    }
    let within = one.reason == Reason::WithinLimit;
    (within && truth.beyond_limit(post, sheet)).then(|| format!("post {post} within its limit"))
}

fn holds(finding: &Finding, truth: &Truth, sheet: &LimitSheet) -> bool {
    let posts = numbers(finding);
    match finding.kind {
        FindingKind::Open => posts.iter().all(|post| {
            truth.has(|one| matches!(one, Fault::Open { post: open, .. } if open == post))
        }),
        FindingKind::Short => truth.has(|one| one.is_short() && is_between(one, &posts)),
        FindingKind::Leakage => truth.has(|one| one.is_leak() && is_between(one, &posts)),
        FindingKind::HighResistance => posts.iter().all(|post| truth.beyond_limit(*post, sheet)),
        _ => true,
    }
}

/// A remark on a conductor that has no joint, though it may well have more than its siblings.
pub(super) fn spurious_remark(judgement: &Judgement, truth: &Truth) -> bool {
    let remarks = judgement.findings.iter().filter(|one| one.kind == FindingKind::UnevenResistance);
    remarks
        .flat_map(numbers)
        .any(|post| !truth.has(|one| matches!(one, Fault::Joint { post: joint } if *joint == post)))
}

fn is_between(fault: &Fault, posts: &[u8]) -> bool {
    matches!(fault, Fault::Path { posts: between, .. } if posts == between)
}

fn numbers(finding: &Finding) -> Vec<u8> {
    finding.posts.iter().map(|post| post.number()).collect()
}
