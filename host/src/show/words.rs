//! Where findings become sentences: the only place, so that every face says the same.

mod finding;
mod next_step;
mod trip;

pub(super) use finding::{danger, finding, headline};
pub(super) use next_step::next_step;
use runproof_interpret::Judgement;
use runproof_interpret::judgement::{Conductor, Misses, NotTested, Reason, Verdict};
use runproof_interpret::limits::ConductorName;
use runproof_protocol::Post;
pub(super) use trip::{
    ENTER, PROVE_DEAD, SIMULATED_TRIP, TAKE_KEY_OUT, THE_TRIP, doing, phase, trip, waiting,
};

pub(super) const CAUTION: &str = "prove the run dead with a rated meter before you touch it; this \
    jig is never the device that proves it. Local codes and licensed practice come first.";

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

pub(super) fn not_tested(what: &[NotTested]) -> String {
    let named = what.iter().map(|one| match one {
        NotTested::ShortsAndLeakage => "shorts and leakage with the end plug out",
        NotTested::HowItWasLanded => "how the conductors were landed before they were lifted",
        NotTested::ToChassisOrShield => "to chassis or shield",
        NotTested::NoiseAndTraffic => "noise and data traffic",
        NotTested::VoltageOnTheRun => "voltage on the run before it was driven",
    });
    format!("{}.", named.collect::<Vec<_>>().join("; "))
}

/// The smallest faults that could be missed.
pub(super) fn misses(misses: Misses) -> Option<String> {
    let ohm = misses.joint_ohm?;
    Some(format!("a bad joint of less than about {ohm:.1} Ω in one conductor."))
}

pub(super) fn reason(reason: Reason) -> &'static str {
    match reason {
        Reason::WithinLimit => "within its limit",
        Reason::BeyondLimit => "beyond its limit",
        Reason::TooCloseToLimit => "near its limit",
        Reason::Open => "open",
        Reason::ArrivesElsewhere => "arrives elsewhere",
        Reason::MapUnknown => "map unknown",
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
