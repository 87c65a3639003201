//! Where findings become sentences: the only place, so that every face says the same.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{
    Cause, Conductor, Finding, FindingKind, NotTested, Reason, Verdict,
};
use runproof_interpret::limits::ConductorName;
use runproof_protocol::Post;

pub(super) const CAUTION: &str = "prove the run dead with a rated meter before you touch it; this \
    jig is never the device that proves it. Local codes and licensed practice come first.";

/// What must not be done with a run like this. Whatever is crossed beyond the data pair has the
/// supply or its return in it.
pub(super) fn danger(finding: &Finding) -> Option<&'static str> {
    match finding.kind {
        _ if finding.supply_reaches_data => {
            Some("do not power up: landed by these clips, the supply would reach a data terminal.")
        }
        FindingKind::Crossed => Some(
            "do not power up: landed by these clips, the supply would stand across terminals that \
             are not meant for it.",
        ),
        _ => None,
    }
}

pub(super) fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "PASS",
        Verdict::Fail => "FAIL",
        Verdict::CannotTell => "CANNOT TELL",
    }
}

pub(super) fn conductor(name: ConductorName) -> &'static str {
    match name {
        ConductorName::DataPlus => "data+",
        ConductorName::DataMinus => "data−",
        ConductorName::Common => "common",
        ConductorName::Supply => "supply",
    }
}

/// The verdict's reason in one sentence that can be read aloud.
pub(super) fn headline(judgement: &Judgement) -> String {
    match judgement.findings.first() {
        None if judgement.verdict == Verdict::Pass => {
            "all four conductors arrive where they should, within their limits.".into()
        }
        None => "the readings do not decide it.".into(),
        Some(first) => short(first, judgement),
    }
}

fn short(finding: &Finding, judgement: &Judgement) -> String {
    let who = names(&finding.posts, judgement);
    match finding.kind {
        FindingKind::Hazard => "there is voltage on the run; nothing was driven.".into(),
        FindingKind::Open => format!("{who} is open."),
        FindingKind::ReversedPair => "the data pair is reversed.".into(),
        FindingKind::Crossed => format!("{who} are crossed."),
        FindingKind::HighResistance => format!("{who} has too much resistance."),
        FindingKind::UnevenResistance => format!("{who} has more resistance than the others."),
        FindingKind::TooCloseToLimit => format!("{who} is too close to its limit."),
        FindingKind::NoEndPlug => "nothing was found at the far end.".into(),
        FindingKind::AmbiguousMap => "more than one wire map fits the readings.".into(),
        FindingKind::Unexplained => "no single fault explains the readings.".into(),
        FindingKind::SomethingConnected => "something is still connected to the run.".into(),
        FindingKind::Unsteady => "the readings are not steady.".into(),
        FindingKind::Incomplete => "the test is not complete.".into(),
        _ => "the readings do not decide it.".into(),
    }
}

/// What was found, with its number.
pub(super) fn finding(finding: &Finding, judgement: &Judgement) -> String {
    let who = names(&finding.posts, judgement);
    match finding.kind {
        FindingKind::Hazard => format!(
            "at least {} between two conductors, with nothing driven. The relays stayed open.",
            value(finding)
        ),
        FindingKind::Open => format!(
            "{who} reaches nothing at the far end: a break in the run, or a clip that does not \
             touch."
        ),
        FindingKind::ReversedPair => "data+ and data− arrive exchanged; supply and common arrive \
             right. Not yet placed: at the clips, in the run, or at the far end."
            .into(),
        FindingKind::Crossed => format!(
            "{who} arrive at each other's terminals. Not yet placed: at the clips, in the run, or \
             at the far end."
        ),
        FindingKind::HighResistance => format!(
            "{who} reads {}: a clip, screw, splice or nicked core, or too long a run for its \
             gauge.",
            value(finding)
        ),
        FindingKind::UnevenResistance => format!(
            "{who} reads {} more than the others: a clip, screw, splice or nicked core. Its limit \
             allows it.",
            value(finding)
        ),
        FindingKind::TooCloseToLimit => {
            format!("{who} reads {}, nearer to its limit than the uncertainty.", value(finding))
        }
        FindingKind::NoEndPlug => {
            "no conductor meets another: the end plug is not in, this is the \
             wrong cable, or it is cut through."
                .into()
        }
        FindingKind::AmbiguousMap => format!(
            "{} other wire maps explain the readings nearly as well.",
            finding.alternatives.len()
        ),
        FindingKind::Unexplained => "a short, several faults at once, or something still \
             connected."
            .into(),
        FindingKind::SomethingConnected => "the two polarities do not agree, as they do on bare \
             copper: a device, a charged capacitor or a voltage is on the run."
            .into(),
        FindingKind::Unsteady => "repeats of one reading differ by more than noise: hum from a \
             cable alongside, or a contact that moves."
            .into(),
        FindingKind::Incomplete => cause(finding.cause).into(),
        _ => "the readings do not decide it.".into(),
    }
}

fn cause(cause: Option<Cause>) -> &'static str {
    match cause {
        Some(Cause::NotMeasured) => "nothing was measured with the end plug in.",
        Some(Cause::NoEnd) => "the capture breaks off before the measurement ended.",
        Some(Cause::SeveralEnds) => "the capture holds more than one measurement.",
        Some(Cause::Stopped) => "the measurement was stopped.",
        Some(Cause::Hazard) => "the measurement ended because of voltage on the run.",
        Some(Cause::Lost) => "the connection to the jig broke during the measurement.",
        Some(Cause::PatternsMissing | Cause::ReadingsMissing) => {
            "readings that a verdict needs are missing: some were lost on the way."
        }
        Some(Cause::Saturated) => "a reading that a verdict needs was beyond the jig's range.",
        Some(Cause::SelfCalibration) => {
            "the jig does not read alike what is alike: it may be damaged."
        }
        Some(Cause::CurrentLost) => {
            "current that leaves one post does not come back by the others: a path to earth or to \
             another cable."
        }
        Some(Cause::TwoOpen) => {
            "with two conductors open, where the others arrive cannot be verified."
        }
        _ => "the readings do not decide it.",
    }
}

/// What to do now; one thing.
pub(super) fn next_step(judgement: &Judgement) -> &'static str {
    let Some(first) = judgement.findings.first() else {
        return match judgement.verdict {
            Verdict::Pass => {
                "as far as it was tested, the wiring is not the cause: look at what was not \
                 tested, then at set-up and devices."
            }
            _ => "measure again.",
        };
    };
    match first.kind {
        FindingKind::Hazard => {
            "keep off; find and switch off the source, prove the run dead with \
             a rated meter, lift both ends, then measure again."
        }
        FindingKind::Open => {
            "re-clip that conductor at both ends and measure again; if it stays, \
             look for the break at the terminations first, then along the run."
        }
        FindingKind::ReversedPair | FindingKind::Crossed => {
            "check the clips at both ends against \
             the terminals; if they are right, exchange the conductors at one end only, power off."
        }
        FindingKind::HighResistance | FindingKind::UnevenResistance => {
            "re-clip that conductor and \
             measure again; if it stays, look at its screws and splices."
        }
        FindingKind::TooCloseToLimit => "re-clip that conductor and measure again.",
        FindingKind::NoEndPlug => {
            "put the key into the tail at the far end of this cable, and \
             measure again."
        }
        FindingKind::SomethingConnected | FindingKind::Unexplained => {
            "lift both ends of all four \
             conductors, so that nothing but the jig and the end plug is on them, and measure \
             again."
        }
        FindingKind::Incomplete if first.cause == Some(Cause::Stopped) => {
            "put right what broke it off, and measure again; a latched hazard is cleared with \
             --rearm, once its source is found and removed."
        }
        FindingKind::Incomplete if first.cause == Some(Cause::Lost) => {
            "check the cable between the jig and this computer, and measure again."
        }
        FindingKind::Unsteady => {
            "keep the clips still, switch off loads alongside, and measure \
             again."
        }
        _ => "measure again.",
    }
}

pub(super) fn not_tested(what: &[NotTested]) -> String {
    let named = what.iter().map(|one| match one {
        NotTested::ShortsAndLeakage => "shorts and leakage with the end plug out",
        NotTested::HowItWasLanded => "how the conductors were landed before they were lifted",
        NotTested::ToChassisOrShield => "to chassis or shield",
        NotTested::NoiseAndTraffic => "noise and data traffic",
    });
    format!("{}.", named.collect::<Vec<_>>().join("; "))
}

pub(super) fn reason(reason: Reason) -> &'static str {
    match reason {
        Reason::WithinLimit => "within its limit",
        Reason::BeyondLimit => "beyond its limit",
        Reason::TooCloseToLimit => "too close to its limit",
        Reason::Open => "open",
        Reason::ArrivesElsewhere => "arrives elsewhere",
        Reason::MapUnknown => "not known where it arrives",
        Reason::NotMeasured => "not measured",
    }
}

/// The conductor whose terminal this one arrives at.
pub(super) fn arrival(one: &Conductor, judgement: &Judgement) -> String {
    one.reaches.map_or("unknown".into(), |post| name_of(post, judgement).into())
}

pub(super) fn resistance(one: &Conductor) -> String {
    match (one.resistance_ohm, one.expanded_uncertainty_ohm) {
        (Some(ohm), Some(u_ohm)) => format!("{ohm:.2} ± {u_ohm:.2} Ω").replace('-', "−"),
        _ => "unknown".into(),
    }
}

pub(super) fn or_unnamed(text: &str) -> &str {
    if text.is_empty() { "unnamed" } else { text }
}

fn value(finding: &Finding) -> String {
    use runproof_interpret::judgement::Unit;
    match (finding.value, finding.unit) {
        (Some(value), Some(Unit::Ohm)) => format!("{value:.2} Ω"),
        (Some(value), Some(Unit::Volt)) => format!("{value:.1} V"),
        (Some(value), _) => format!("{value}"),
        (None, _) => "an unknown amount".into(),
    }
}

fn name_of(post: Post, judgement: &Judgement) -> &'static str {
    judgement
        .conductors
        .iter()
        .find(|one| one.post == post)
        .map_or("unknown", |one| conductor(one.name))
}

fn names(posts: &[Post], judgement: &Judgement) -> String {
    let names: Vec<_> = posts.iter().map(|post| name_of(*post, judgement)).collect();
    match names.as_slice() {
        [] => "a conductor".into(),
        [one] => (*one).into(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
