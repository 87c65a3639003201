//! What was found, in sentences.

use runproof_interpret::Judgement;
use runproof_interpret::copper::Length;
use runproof_interpret::judgement::{Cause, Finding, FindingKind, Reason, Severity, Unit};
use runproof_protocol::Post;

use super::place::place;
use super::units::{about, length, usual_length};
use super::{between, exchanged, names, to_earth};
use crate::arguments::Units;

/// What was found, with its number.
pub(crate) fn finding(finding: &Finding, judgement: &Judgement, units: Units) -> String {
    let who = names(&finding.posts, judgement);
    if let Some(told) = to_earth::finding(finding, judgement) {
        return told;
    }
    if let Some(told) = between::still_landed(finding, judgement) {
        return told;
    }
    match finding.kind {
        FindingKind::Short => {
            between::short(finding, judgement) + &place("it", finding.location, units)
        }
        FindingKind::Leakage => between::leakage(finding, judgement),
        FindingKind::CoupledVoltage => format!(
            "{} (peak) between two conductors by high impedance{}: it only couples in from a cable \
             alongside.",
            value(finding),
            finding.loaded_v.map_or_else(String::new, |loaded_v| format!(
                ", {loaded_v:.1} V under a load of 47 kΩ"
            ))
        ),
        FindingKind::Hum => hum(finding),
        FindingKind::AllMoveTogether => format!(
            "all conductors move together against the jig, by {} rms: one of them may be live to earth, at a \
             voltage that the jig cannot tell, or a cable alongside couples in.",
            value(finding)
        ),
        _ if finding.kind != FindingKind::Hazard && finding.cause.is_some() => {
            cause(finding.cause).into()
        }
        FindingKind::Hazard => {
            format!("at least {} (peak) between two conductors.", value(finding))
        }
        FindingKind::Open => format!(
            "{who} reaches nothing at the far end: a break in the run, or a clip that does not \
             touch.{}",
            place("the break", finding.location, units)
        ),
        FindingKind::ReversedPair => {
            format!("data+ and data− arrive exchanged. {}", exchanged::lies(&finding.places))
        }
        FindingKind::Crossed => exchanged::crossed(finding, judgement),
        FindingKind::ClipsExchanged => exchanged::clips(finding, judgement),
        FindingKind::HighResistance => format!(
            "{who} reads {}: a clip, screw, splice or nicked core{}.",
            value(finding),
            if stands_out(finding, judgement) { "" } else { ", or too long a run for its gauge" }
        ),
        FindingKind::UnevenResistance => format!(
            "{who} reads {} more than the others: a clip, screw, splice or nicked core.{}",
            value(finding),
            if limit_u_ohm(finding, judgement).is_some() { " Its limit allows it." } else { "" }
        ),
        FindingKind::TooCloseToLimit => {
            let limit_u = known_to(limit_u_ohm(finding, judgement));
            format!("{who} reads {}, too near to its limit to tell{limit_u}.", value(finding))
        }
        FindingKind::SiblingDifference => format!(
            "{who} reads {} more than the conductor with the least, beyond what the limit sheet \
             allows between conductors of one cable: look at its terminations.",
            value(finding)
        ),
        FindingKind::TooCloseToSiblingDifference => format!(
            "{who} reads {} more than the conductor with the least: nearer to what is allowed than \
             the uncertainty.",
            value(finding)
        ),
        FindingKind::HighLoopResistance => format!(
            "there and back the loop{} reads {}: a clip, screw, splice or nicked core, or another \
             length or gauge than was told.",
            of_two(&finding.posts, judgement),
            value(finding)
        ),
        FindingKind::TooCloseToLoopLimit => format!(
            "there and back the loop{} reads {}, too near to its limit to tell{}.",
            of_two(&finding.posts, judgement),
            value(finding),
            known_to(loop_u_ohm(finding, judgement))
        ),
        FindingKind::TooLong => {
            let told = finding.value.and_then(Length::from_metres);
            let told = told.map_or("longer".into(), |long| length(long, units));
            format!("the run is {told} by what was told, more than the limit sheet allows.")
        }
        FindingKind::LengthUnlikely => unlikely_length(finding, judgement, units),
        FindingKind::ThickWire => "the gauge that was told is none of a control run.".into(),
        FindingKind::LessThanWire => format!(
            "{who} {} {}, less than such a wire can have: gauge, length or temperature is not what was \
             told, or what is clipped is not this run.",
            if finding.posts.len() > 1 { "read" } else { "reads" },
            value(finding)
        ),
        FindingKind::NotLifted => {
            "one end is still landed: what hangs there may hide a fault, or look like \
             one. Only what it cannot feign is said to fail; nothing passes."
                .into()
        }
        FindingKind::ColoursDisagree => {
            "colours are on unlike terminals at the two ends, and yet the conductors \
             read straight: either cores change colour on the way, or clips went on by colour \
             instead of by terminal, and the run is crossed."
                .into()
        }
        FindingKind::LimitUnknown => "how much resistance a conductor may have follows from its \
             wire, and gauge or length was not told."
            .into(),
        FindingKind::NoEndPlug if finding.posts.is_empty() => nothing_found(judgement, units),
        FindingKind::NoEndPlug => format!(
            "only {who} meet each other, and not as they do through the end plug: it is not in and \
             something else is connected, or this is the wrong cable."
        ),
        FindingKind::AmbiguousMap if finding.alternatives.is_empty() => {
            "several wire maps explain the readings nearly alike.".into()
        }
        FindingKind::AmbiguousMap => {
            format!("{} wire maps explain the readings nearly alike.", finding.alternatives.len())
        }
        FindingKind::Unexplained => "a short, several faults at once, or something still \
             connected."
            .into(),
        FindingKind::SomethingConnected => "the two polarities do not agree, as they do on bare \
             copper: a device, a charged capacitor or a voltage is on the run."
            .into(),
        FindingKind::ForeignVoltage => format!(
            "{} (peak) between two conductors before they were driven: a device, a supply or another \
             cable feeds the run.",
            value(finding)
        ),
        FindingKind::Unsteady => "repeats of one reading differ by more than noise: hum from a \
             cable alongside, or a contact that moves."
            .into(),
        _ => "the readings do not decide it.".into(),
    }
}

/// A conductor that is held to the same limit is within it: the run's length is not the cause.
fn stands_out(finding: &Finding, judgement: &Judgement) -> bool {
    let one = judgement.conductors.iter().find(|one| finding.posts.contains(&one.post));
    one.is_some_and(|one| {
        let mut others = judgement.conductors.iter().filter(|other| other.post != one.post);
        others.any(|other| other.limit_ohm == one.limit_ohm && other.reason == Reason::WithinLimit)
    })
}

/// " of common and supply"; of two wires there is but one loop.
fn of_two(posts: &[Post], judgement: &Judgement) -> String {
    if judgement.conductors.is_empty() {
        return String::new();
    }
    format!(" of {}", names(posts, judgement))
}

/// How well the limit of the finding's conductor is known.
fn limit_u_ohm(finding: &Finding, judgement: &Judgement) -> Option<f64> {
    let conductor = judgement.conductors.iter().find(|one| finding.posts.contains(&one.post));
    conductor.and_then(|one| one.limit_expanded_uncertainty_ohm)
}

fn loop_u_ohm(finding: &Finding, judgement: &Judgement) -> Option<f64> {
    let row = judgement.loops.iter().find(|row| row.posts.as_slice() == finding.posts);
    row.map(|row| row.limit_expanded_uncertainty_ohm)
}

/// ", which is known to ± 1.62 Ω" of a limit that was calculated.
fn known_to(limit_u_ohm: Option<f64>) -> String {
    match limit_u_ohm {
        Some(u_ohm) if u_ohm > 0.0 => {
            format!(", which itself is known to ± {u_ohm:.2} Ω by what was told")
        }
        _ => String::new(),
    }
}

fn unlikely_length(finding: &Finding, judgement: &Judgement, units: Units) -> String {
    let told = finding.value.and_then(Length::from_metres);
    let told = told.map_or("another length".into(), |long| length(long, units));
    let usual = judgement.copper.as_ref().and_then(|copper| copper.usual_metres);
    let usual = usual.map_or(String::new(), |usual| usual_length(usual, units));
    format!("{told} was told{usual}.")
}

fn nothing_found(judgement: &Judgement, units: Units) -> String {
    let found = if judgement.conductors.is_empty() {
        "nothing at the far end: no plug, wrong cable, or one wire or both cut through"
    } else {
        "nothing at the far end: no plug, wrong cable, or cut through"
    };
    match judgement.looks_long {
        None => format!("{found}."),
        Some(looks) if looks.most_m < SHORTEST_RUN_M => {
            format!("{found}; hardly anything hangs on the clips: are they on the run?")
        }
        Some(looks) => format!("{found}; the run looks {} long.", about(&looks, units)),
    }
}

/// A tail or a patch, not a run. (judgement)
const SHORTEST_RUN_M: f64 = 1.0;

fn cause(cause: Option<Cause>) -> &'static str {
    match cause {
        Some(Cause::OpenNotMeasured) => "nothing was measured with the end plug out.",
        Some(Cause::PlugNotOut) => {
            "with the end plug out the conductors must not meet, and they did as they do through it: \
             its key was not out."
        }
        Some(Cause::NotLooked) => "nobody looked for voltage before the run was driven.",
        Some(Cause::NotMeasured) => "nothing was measured with the end plug in.",
        Some(Cause::NoEnd) => "the capture breaks off before the measurement ended.",
        Some(Cause::SeveralEnds) => "the capture holds more than one measurement.",
        Some(Cause::Stopped) => "the measurement was stopped.",
        Some(Cause::Hazard) => "the measurement ended because of voltage on the run.",
        Some(Cause::Lost) => "the connection to the jig broke during the measurement.",
        Some(Cause::PatternsMissing | Cause::ReadingsMissing) => {
            "readings that a verdict needs are missing: some were lost on the way."
        }
        Some(Cause::Saturated) => {
            "a reading that a verdict needs was beyond the jig's range: there may be voltage on the \
             run."
        }
        Some(Cause::SelfCalibration) => {
            "the jig does not read alike what is alike: there is voltage on the run, or the jig is \
             damaged."
        }
        Some(Cause::CurrentLost) => {
            "current that leaves one post does not come back by the others: a path to earth or to \
             another cable."
        }
        Some(Cause::Contradictory) => {
            "the readings contradict each other: they are not of one measurement of one run, or \
             something changed while it was measured."
        }
        Some(Cause::TouchesUnfinished) => {
            "the wires that were touched show that clips or conductors are exchanged, but they are too few \
             to tell which."
        }
        Some(Cause::TouchesDisagree) => {
            "the touches do not fit together: another wire was touched than was asked for, or in another \
             order."
        }
        Some(Cause::TwoOpen) => {
            "with two conductors open, where the others arrive cannot be verified."
        }
        Some(Cause::OtherPosts) => {
            "other clips than those on posts 1 and 2 meet each other; this limit sheet is for a run \
             of two wires."
        }
        _ => "the readings do not decide it.",
    }
}

/// What must not be done with a run like this. Whatever is crossed beyond the data pair has the
/// supply or its return in it.
pub(crate) fn danger(finding: &Finding) -> Option<&'static str> {
    match finding.kind {
        FindingKind::Hazard => Some("keep off: this run is live."),
        FindingKind::AllMoveTogether => Some(
            "do not touch the conductors: all of them may be live to earth, which does not show between them.",
        ),
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

/// What must be known of the cable before anyone touches it.
pub(crate) fn caution(finding: &Finding) -> Option<&'static str> {
    (finding.kind == FindingKind::ThickWire).then_some(super::THICK_WIRE)
}

fn hum(finding: &Finding) -> String {
    let hertz = finding.hertz.map_or("the mains".into(), |hertz| format!("{hertz} Hz"));
    let seen =
        format!("{} rms of {hertz} between two conductors by high impedance", value(finding));
    match (finding.loaded_v, finding.severity) {
        (Some(loaded_v), _) => format!(
            "{seen}, {loaded_v:.1} V (peak) under a load of 47 kΩ: mains hum, picked up from what runs \
             alongside."
        ),
        (None, Severity::Note) => {
            format!("{seen}: mains hum, picked up from what runs alongside.")
        }
        (None, _) => format!(
            "repeats of one reading differ by more than noise, and {seen}: mains hum, picked up from \
             what runs alongside."
        ),
    }
}

fn value(finding: &Finding) -> String {
    match (finding.value, finding.unit) {
        (Some(value), Some(Unit::Ohm)) => format!("{value:.2} Ω"),
        (Some(value), Some(Unit::Volt)) => format!("{value:.1} V"),
        (Some(value), _) => format!("{value}"),
        (None, _) => "an unknown amount".into(),
    }
}
