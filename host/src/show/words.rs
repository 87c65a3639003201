//! Where findings become sentences: the only place, so that every face says the same.

pub(super) mod audit;
mod between;
mod budget;
mod copper;
mod exchanged;
mod far_lights;
mod finding;
pub(super) mod flex;
mod headline;
pub(super) mod label;
mod landing;
pub(super) mod lead;
mod limit;
pub(super) mod live;
pub(super) mod lot;
mod next;
mod next_step;
pub(super) mod picture;
mod place;
mod placed;
pub(super) mod proof;
pub(super) mod read_aloud;
pub(super) mod records;
pub(super) mod reel;
pub(super) mod report;
pub(super) mod studies;
mod to_earth;
mod touch;
mod trip;
mod units;
mod zero;

pub(super) use between::isolation;
pub(super) use budget::{METHOD, causes, decision_rule, probability};
pub(super) use copper::{copper, unbalance};
pub(crate) use far_lights::NotAtFarEnd;
pub(super) use far_lights::{FAR_LIT, WAITS_FOR_TURNED_KEY, far_end, far_shown};
pub(super) use finding::{caution, danger, finding};
pub(super) use headline::headline;
pub(super) use landing::{landing, landing_again};
pub(super) use limit::{arrangement, explains, limit_value, severity};
pub(super) use next::{
    contradiction, evidence, impossible, next_cautions, next_closing, next_first, next_head, taken,
    wiring,
};
pub(super) use next_step::next_step;
pub(super) use place::other_end;
pub(super) use placed::{placed, touch_seen};
use runproof_interpret::Judgement;
use runproof_interpret::capture::JigConstants;
use runproof_interpret::judgement::{Conductor, Loop, NotTested, Reason, SheetName, Verdict};
use runproof_interpret::limits::ConductorName;
use runproof_protocol::Post;
pub(super) use to_earth::{
    LEAKAGE_RULE, LET_GO, NOT_HELD, at_least_ohm, bonded, contact, held, hold, leakage_limit, path,
    path_explained, row_name, steps as to_earth_steps, why,
};
pub(super) use touch::{NOT_TOUCHED, touch, touched, touches};
pub(super) use trip::{
    ENTER, PROVE_DEAD, SIMULATED_TRIP, THE_TRIP, did_not_come, doing, phase, take_key_out, trip,
    waiting,
};
pub(super) use units::{told, wire};
pub(super) use zero::{zero, zero_steps};

pub(super) const CAUTION: &str = "prove the run dead with a rated meter before you touch it; this \
    jig is never the device that proves it. Local codes and licensed practice come first.";

pub(super) const LIFTED: &str = "both ends were seen to be lifted: what joins two conductors is taken \
    for a fault, not for a device.";

pub(super) const THICK_WIRE: &str = "a control run has no cores of 14 AWG (2.08 mm²) or thicker. Keep \
    this jig off any cable that carries mains legs: an indoor/outdoor interconnect, any core of 14 AWG, or an \
    earth core in the same jacket. Where that is not sure, do not clip on, or take the clips off with the \
    supply off. Local codes and licensed practice come first.";

/// A jig that started anew by itself has forgotten what it had not stored.
pub(super) fn restarted(why: &str) -> String {
    format!(
        "this jig has started anew by itself since it was switched on: {why}. Where that comes again, do not rely \
         on this jig."
    )
}

/// By which limits, and by whom it was measured.
pub(super) fn made(sheet: &SheetName, jig: &JigConstants) -> String {
    format!(
        "limits {} {}; jig {} ({}, firmware {}); ± is 95 %",
        sheet.name,
        sheet.version,
        or_unnamed(&jig.serial),
        or_unnamed(&jig.board),
        or_unnamed(&jig.firmware)
    )
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
        ConductorName::Wire1 => "wire 1",
        ConductorName::Wire2 => "wire 2",
    }
}

pub(super) fn not_tested(what: &[NotTested]) -> String {
    let named = what.iter().map(|one| match one {
        NotTested::ShortsAndLeakage => "shorts and leakage with the end plug out",
        NotTested::HowItWasLanded => "how the conductors were landed before they were lifted",
        NotTested::ToChassisOrShield => "to chassis or shield",
        NotTested::ToShield => "to a shield (say --shield, if the cable has one)",
        NotTested::EachConductor => {
            "conductor by conductor: continuity, crossings, and between any two"
        }
        NotTested::NoiseAndTraffic => "noise and data traffic",
        NotTested::LoopAgainstLength => {
            "the loops against the cable's length (give --gauge and --length)"
        }
        NotTested::VoltageOnTheRun => "voltage on the run before it was driven",
    });
    format!("{}.", named.collect::<Vec<_>>().join("; "))
}

/// The smallest faults that could be missed.
pub(super) fn misses(judgement: &Judgement) -> Option<String> {
    if judgement.to_earth.is_some() {
        return to_earth::could_miss(judgement);
    }
    let misses = judgement.misses;
    let joint = misses.joint_ohm.map(|ohm| {
        format!("a joint of less than about {} in one conductor", between::ohms(Some(ohm)))
    });
    let leak = misses.leak_ohm.map(|ohm| {
        format!("a path of more than {} between two conductors", between::ohms(Some(ohm)))
    });
    let both: Vec<String> = joint.into_iter().chain(leak).collect();
    let undone = if judgement.conductors.is_empty() || judgement.placed.run.is_some() {
        ""
    } else {
        "; an exchange that clips on wrong wires undo"
    };
    (!both.is_empty()).then(|| format!("{}{undone}; and what comes and goes.", both.join(", or ")))
}

pub(super) fn reason(reason: Reason) -> &'static str {
    match reason {
        Reason::WithinLimit => "within its limit",
        Reason::BeyondLimit => "beyond its limit",
        Reason::TooCloseToLimit => "near limit",
        Reason::Open => "open",
        Reason::Shorted => "shorted",
        Reason::ArrivesElsewhere => "arrives elsewhere",
        Reason::MapUnknown => "map unknown",
        Reason::Disturbed => "disturbed",
        Reason::NotMeasured => "not measured",
        Reason::NotLifted => "not lifted",
        Reason::LimitUnknown => "no limit",
    }
}

/// The conductor whose terminal this one arrives at.
pub(super) fn arrival(one: &Conductor, judgement: &Judgement) -> &'static str {
    one.reaches.map_or("unknown", |reached| terminal(reached, judgement))
}

/// Whose terminal this is.
fn at(terminal: Post, judgement: &Judgement) -> Option<&Conductor> {
    judgement.conductors.iter().find(|one| one.terminal == terminal)
}

fn terminal(terminal: Post, judgement: &Judgement) -> &'static str {
    at(terminal, judgement).map_or("unknown", |one| conductor(one.name))
}

/// What comes from a file must not steer the terminal.
pub(super) fn printable(text: &str) -> String {
    text.replace(|c: char| c.is_control() && c != '\n', "?")
}

/// "data loop", "power loop"; of two wires just "loop".
pub(super) fn loop_name(one: &Loop, judgement: &Judgement) -> &'static str {
    match judgement.conductors.iter().find(|conductor| conductor.post == one.posts[0]) {
        None => "loop",
        Some(first) if first.name == ConductorName::DataPlus => "data loop",
        Some(_) => "power loop",
    }
}

/// A limit has as many digits as it was given, and no more than are told of a resistance.
pub(super) fn at_most_ohm(ohm: f64) -> String {
    format!("≤ {} Ω", (ohm * 100.0).round() / 100.0)
}

pub(super) fn resistance(ohm: Option<f64>, expanded_uncertainty_ohm: Option<f64>) -> String {
    match (ohm, expanded_uncertainty_ohm) {
        (Some(ohm), Some(u_ohm)) => format!("{ohm:.2} ± {u_ohm:.2} Ω").replace('-', "−"),
        _ => "unknown".into(),
    }
}

pub(super) fn or_unnamed(text: &str) -> &str {
    if text.is_empty() { "unnamed" } else { text }
}

/// Of two wires, which have no names, the post.
pub(super) fn name_of(post: Post, judgement: &Judgement) -> String {
    if judgement.to_earth.is_some() {
        return to_earth::name_of(post);
    }
    judgement
        .conductors
        .iter()
        .find(|one| one.post == post)
        .map_or_else(|| format!("post {post}"), |one| conductor(one.name).to_owned())
}

fn names(posts: &[Post], judgement: &Judgement) -> String {
    let names: Vec<_> = posts.iter().map(|post| name_of(*post, judgement)).collect();
    match names.as_slice() {
        [] => "a conductor".into(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
