//! The verdict's reason, in a sentence.

use runproof_interpret::judgement::{
    FindingKind, ReelFinding, ReelFindingKind, ReelJudgement, Severity, Verdict,
};

/// It can be read aloud.
pub(in crate::show) fn headline(judgement: &ReelJudgement) -> String {
    let remark = judgement.findings.iter().any(|one| one.severity == Severity::Note)
        || !judgement.run.findings.is_empty();
    if judgement.verdict == Verdict::Pass {
        let remark = if remark { "; with a remark" } else { "" };
        return format!(
            "all four conductors are whole, apart, and of the copper that was declared{remark}."
        );
    }
    let run = &judgement.run;
    // What ends or spoils a measurement comes before what then could not be told.
    let of_run = (run.verdict == judgement.verdict)
        .then(|| run.findings.first())
        .flatten()
        .filter(|first| !judgement.declared.buried || first.severity == Severity::Fail);
    if let Some(first) = of_run {
        if first.kind.is_exchange() {
            return "cores are clipped in another order at the other end.".into();
        }
        if first.kind == FindingKind::SiblingDifference {
            return "one core has more resistance than the others.".into();
        }
        return super::super::headline(run);
    }
    let grave = severity_of(judgement.verdict);
    let first = judgement.findings.iter().find(|one| one.severity == grave);
    first.map_or_else(|| "the readings do not decide it.".into(), |one| format!("{}.", short(one)))
}

fn severity_of(verdict: Verdict) -> Severity {
    match verdict {
        Verdict::Fail => Severity::Fail,
        _ => Severity::CannotTell,
    }
}

fn short(one: &ReelFinding) -> &'static str {
    use ReelFindingKind as Kind;
    match one.kind {
        Kind::CopperClad => "not the declared copper: copper-clad aluminium, or thinner",
        Kind::LighterThanCopper => "not the declared copper: too light for it",
        Kind::ThinnerThanDeclared => "its cores are thinner than declared",
        Kind::LessThanDeclared => "it is shorter than its marks say, or thicker than declared",
        Kind::MaterialDisagrees => {
            "what was told of its length and weight does not fit together, or no metal"
        }
        Kind::MaterialNotTold => "length and material cannot be told apart",
        Kind::GaugeNotDeclared => "no gauge was declared",
        Kind::TooCloseToGauge => "its gauge is too close to the next thinner one",
        Kind::TemperatureNotTold => "how warm it is was not told",
        Kind::StillWarming => "still warming; length not given",
        Kind::NotReadTwice => "it was not read twice",
        Kind::TooShort => "too little resistance to tell a length",
        Kind::Buried => "its inner end was not reached",
        Kind::LongerThanBefore => "it is longer than it was",
        _ => "the readings do not decide it",
    }
}
