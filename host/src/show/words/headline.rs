//! The verdict's reason, in a sentence.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{ExplainsComplaint, Finding, FindingKind, Severity, Verdict};
use runproof_protocol::Post;

use super::{exchanged, names, to_earth};

/// It can be read aloud.
pub(crate) fn headline(judgement: &Judgement) -> String {
    let all_right = match judgement.conductors.as_slice() {
        [] if judgement.to_earth.is_some() => to_earth::all_right(judgement),
        [] => "the loop is within its limit",
        _ => "all four conductors arrive where they should, within their limits",
    };
    match judgement.findings.first() {
        None if judgement.verdict == Verdict::Pass => format!("{all_right}."),
        None => "the readings do not decide it.".into(),
        Some(_) if judgement.verdict == Verdict::Pass => format!("{all_right}; with a remark."),
        Some(first) => {
            let told = told_together(first, judgement);
            if judgement.verdict == Verdict::Fail
                && first.explains_complaint == ExplainsComplaint::Unlikely
            {
                format!("{told} — {WORKMANSHIP}.")
            } else {
                format!("{told}.")
            }
        }
    }
}

/// What is as grave as the first, each kind once: "supply is open; the data pair is reversed".
fn told_together(first: &Finding, judgement: &Judgement) -> String {
    let grave = judgement.findings.iter().filter(|one| {
        (one.severity, one.explains_complaint) == (first.severity, first.explains_complaint)
            && (first.severity == Severity::Fail || one.kind == first.kind)
    });
    let mut kinds: Vec<(FindingKind, Vec<Vec<Post>>)> = vec![];
    for one in grave {
        match kinds.iter_mut().find(|(kind, _)| *kind == one.kind) {
            Some((_, posts)) => posts.push(one.posts.clone()),
            None => kinds.push((one.kind, vec![one.posts.clone()])),
        }
    }
    let told = kinds.iter().map(|(kind, groups)| {
        let groups: Vec<&[Post]> = groups.iter().map(Vec::as_slice).collect();
        short(*kind, &groups, judgement)
    });
    told.collect::<Vec<_>>().join("; ")
}

/// Of a fail that is none of what stops data.
const WORKMANSHIP: &str = "workmanship; it hardly explains a communication error";

/// One kind of finding, on each of these groups of posts.
fn short(kind: FindingKind, groups: &[&[Post]], judgement: &Judgement) -> String {
    let posts = groups.concat();
    let who = names(&posts, judgement);
    let several = groups.len() > 1;
    let two_wires = judgement.conductors.is_empty();
    let (is, has) = if posts.len() > 1 { ("are", "have") } else { ("is", "has") };
    if let Some(told) = to_earth::short(kind, &posts) {
        return told.into();
    }
    match kind {
        FindingKind::Hazard => "there is voltage on the run".into(),
        FindingKind::AllMoveTogether => "all conductors may be live to earth".into(),
        FindingKind::Open => format!("{who} {is} open"),
        FindingKind::Short if several => {
            let each: Vec<String> = groups.iter().map(|posts| names(posts, judgement)).collect();
            format!("{}, are shorted", each.join(", and "))
        }
        FindingKind::Short => format!("{who} are shorted"),
        FindingKind::Leakage if several => {
            let each: Vec<String> = groups.iter().map(|posts| names(posts, judgement)).collect();
            format!("there are paths between {}", each.join(", and between "))
        }
        FindingKind::Leakage => format!("there is a path between {who}"),
        FindingKind::CoupledVoltage => "a cable alongside couples voltage in".into(),
        FindingKind::Hum => "the run picks up mains hum".into(),
        FindingKind::ReversedPair => "the data pair is reversed".into(),
        FindingKind::Crossed if !exchanged::is_whole(&posts, judgement) => {
            exchanged::arrivals(&posts, judgement, " and ")
        }
        FindingKind::Crossed => format!("{who} are crossed"),
        FindingKind::ClipsExchanged => "clips were exchanged".into(),
        FindingKind::HighResistance => format!("{who} {has} too much resistance"),
        FindingKind::UnevenResistance => format!("{who} {has} more resistance than the others"),
        FindingKind::TooCloseToLimit => format!("{who} {is} too close to the limit"),
        FindingKind::SiblingDifference => {
            format!("{who} {has} more resistance than the others, beyond what is allowed")
        }
        FindingKind::TooCloseToSiblingDifference => {
            format!("{who} {has} more resistance than the others, near what is allowed")
        }
        FindingKind::HighLoopResistance if two_wires => "the loop has too much resistance".into(),
        FindingKind::HighLoopResistance if several => "both loops have too much resistance".into(),
        FindingKind::HighLoopResistance => format!("the loop of {who} has too much resistance"),
        FindingKind::TooCloseToLoopLimit if two_wires => {
            "the loop is too close to its limit".into()
        }
        FindingKind::TooCloseToLoopLimit if several => {
            "both loops are too close to their limits".into()
        }
        FindingKind::TooCloseToLoopLimit => format!("the loop of {who} is too close to its limit"),
        FindingKind::TooLong => "the run is longer than the limit sheet allows".into(),
        FindingKind::LengthUnlikely => "the length is not what was told".into(),
        FindingKind::ThickWire => "the wire that was told is none of a control run".into(),
        FindingKind::LessThanWire => "the wire is not what was told".into(),
        FindingKind::LimitUnknown => "the limits need the wire's gauge and length".into(),
        FindingKind::NoEndPlug => "no end plug was found at the far end".into(),
        FindingKind::AmbiguousMap => "more than one wire map fits the readings".into(),
        FindingKind::Unexplained => "no single fault explains the readings".into(),
        FindingKind::SomethingConnected => "something is still connected to the run".into(),
        FindingKind::ForeignVoltage => "there is a small voltage on the run".into(),
        FindingKind::Unsteady => "the readings are not steady".into(),
        FindingKind::NotLifted => "one end is not lifted".into(),
        FindingKind::ColoursDisagree => "colours and conductors go different ways".into(),
        FindingKind::Incomplete => "the test is not complete".into(),
        _ => "the readings do not decide it".into(),
    }
}
