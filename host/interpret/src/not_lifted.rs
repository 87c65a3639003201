//! What is left of a judgement where one end could not be lifted: nothing that a path through what
//! hangs there could feign, and no pass.

use crate::judgement::{
    Cause, Conductor, ExplainsComplaint, Finding, FindingKind, Loop, Reason, Severity, Verdict,
};

pub(crate) fn weaken(
    findings: &mut Vec<Finding>,
    conductors: &mut [Conductor],
    loops: &mut [Loop],
) {
    let between = |one: &Finding| matches!(one.kind, FindingKind::Short | FindingKind::Leakage);
    for finding in findings.iter_mut().filter(|one| between(one)) {
        finding.kind = FindingKind::SomethingConnected;
        finding.cause = Some(Cause::NotLifted);
        finding.severity = finding.severity.max(Severity::CannotTell);
    }
    let rows = conductors.iter_mut().map(|row| {
        let Conductor { verdict, reason, conformance, .. } = row;
        (verdict, reason, conformance)
    });
    let rows = rows.chain(loops.iter_mut().map(|row| {
        let Loop { verdict, reason, conformance, .. } = row;
        (verdict, reason, conformance)
    }));
    // A path beside a conductor takes from its resistance: what reads too much has too much, what is
    // within its limit may have more.
    for (verdict, reason, conformance) in rows.filter(|(_, reason, _)| weakened(**reason)) {
        (*verdict, *reason, *conformance) = (Verdict::CannotTell, Reason::NotLifted, None);
    }
    let mut finding = Finding::new(FindingKind::NotLifted, Severity::CannotTell);
    finding.explains_complaint = ExplainsComplaint::Unlikely;
    findings.push(finding);
}

fn weakened(reason: Reason) -> bool {
    matches!(reason, Reason::WithinLimit | Reason::TooCloseToLimit | Reason::Shorted)
}
