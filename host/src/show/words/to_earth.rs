//! The test to earth, in words.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{
    Bonded, Cause, Finding, FindingKind, Isolation, Severity, ToEarth, Verdict,
};
use runproof_interpret::limits::Limit;
use runproof_interpret::to_earth::{CORES, METAL, SHIELD};
use runproof_protocol::Post;

use super::between::ohms;
use super::names;

pub(super) fn name_of(post: Post) -> String {
    match post {
        CORES => "the cores".into(),
        METAL => "the metal".into(),
        SHIELD => "the shield".into(),
        other => format!("post {other}"),
    }
}

/// What a row of the table is of.
pub(crate) fn row_name(post: Post) -> &'static str {
    if post == SHIELD { "cores to shield" } else { "cores to metal" }
}

pub(super) fn all_right(judgement: &Judgement) -> &'static str {
    match judgement.to_earth.as_ref().and_then(|told| told.to_shield) {
        None => "no core meets the metal, within the limit",
        Some(_) => "no core meets the metal or the shield, within the limit",
    }
}

/// For the headline; none for what is told as in any other test.
pub(super) fn short(kind: FindingKind, posts: &[Post]) -> Option<&'static str> {
    let which = (posts.contains(&METAL), posts.contains(&SHIELD));
    Some(match (kind, which) {
        (FindingKind::ShortToMetal, (true, true)) => "a core touches metal and shield",
        (FindingKind::ShortToMetal, (false, true)) => "a core touches the shield",
        (FindingKind::ShortToMetal, _) => "a core touches metal",
        (FindingKind::LeakToMetal, (true, true)) => {
            "there is a path from the cores to metal and shield"
        }
        (FindingKind::LeakToMetal, (false, true)) => "there is a path from the cores to the shield",
        (FindingKind::LeakToMetal, _) => "there is a path from the cores to metal",
        (FindingKind::ShieldBondedTwice, _) => "the shield is bonded at both ends",
        (FindingKind::ShieldNotBonded, _) => "the shield is bonded at neither end",
        (FindingKind::ShieldPoorlyBonded, _) => "there is a poor path from the shield to metal",
        _ => return None,
    })
}

/// None for what is told as in any other test.
pub(super) fn finding(finding: &Finding, judgement: &Judgement) -> Option<String> {
    judgement.to_earth.as_ref()?;
    let others: Vec<Post> = finding.posts.iter().copied().filter(|one| *one != CORES).collect();
    let (to, ohm) = (names(&others, judgement), ohms(finding.value));
    // One cannot tell through which of two that are joined.
    let joined = if others.len() > 1 {
        " Those two meet each other: which of them it is cannot be told."
    } else {
        ""
    };
    Some(match (finding.kind, finding.cause) {
        (FindingKind::ShortToMetal, _) => format!(
            "{ohm} between the cores and {to}: a nicked core at a staple, a conduit's edge or a bushing, \
             or bare ends that touch.{joined}"
        ),
        (FindingKind::LeakToMetal, _) => format!(
            "{ohm} between the cores and {to}: damp in a splice or in conduit, or a damaged \
             jacket.{joined}"
        ),
        (FindingKind::ShieldBondedTwice, _) => format!(
            "{ohm} between shield and metal with the drain lifted here: bonded at the far end, or it touches \
             metal on the way; and here it was landed. Bonded at both ends it may carry current, which \
             is noise to data (common practice, no source)."
        ),
        (FindingKind::ShieldNotBonded, _) => {
            "nothing between shield and metal, and here the drain was on nothing: a \
             shield that is bonded nowhere screens little (common practice, no source)."
                .into()
        }
        (FindingKind::ShieldPoorlyBonded, _) => format!(
            "{ohm} between shield and metal with the drain lifted here: neither a bond nor nothing. \
             A poor bond at the far end, or damp where the jacket is damaged."
        ),
        (_, Some(Cause::ContactNotShown)) => format!(
            "contact to {} was not shown, before and after the measurement: a clip that does not touch \
             reads like perfect insulation.",
            names(&finding.posts, judgement)
        ),
        (_, Some(Cause::OtherPosts)) => format!(
            "{} meet, and one of them should hold nothing.",
            names(&finding.posts, judgement)
        ),
        (FindingKind::Hazard, _) => format!(
            "at least {:.1} V (peak) between cores, metal and shield.",
            finding.value.unwrap_or_default()
        ),
        _ => return None,
    })
}

pub(super) const NOTHING_FOUND: &str = "take the clips apart and land the run again as it was; for its \
    conductors one by one, check it from end to end.";

/// None for what takes the same step as in any other test.
pub(super) fn next_step(first: &Finding, judgement: &Judgement) -> Option<&'static str> {
    judgement.to_earth.as_ref()?;
    Some(match (first.kind, first.cause) {
        (FindingKind::ShortToMetal, _) => {
            "see that no bare end touches, and measure again; if it stays, look for staples, conduit edges \
             and bushings. To learn which core it is, take one core at a time off post 1."
        }
        (FindingKind::LeakToMetal, _) if first.severity == Severity::Note => {
            "worth a look when it is wet: splices, terminals, conduit that holds water."
        }
        (FindingKind::LeakToMetal, _) => {
            "dry and look at splices, terminals and conduit, and measure again; if it stays, the jacket is \
             damaged where the run meets metal. To learn which core it is, take one core at a time off \
             post 1."
        }
        (FindingKind::ShieldBondedTwice, _) => {
            "lift the drain at one end for good, tape it back, and see whether the complaint goes."
        }
        (FindingKind::ShieldNotBonded, _) => {
            "bond the drain at one end, the one that the equipment's maker names."
        }
        (FindingKind::ShieldPoorlyBonded, _) => {
            "look at the drain's far end: make it a bond, or lift it and tape it back; then measure again."
        }
        (_, Some(Cause::ContactNotShown)) => {
            "clip post 2 on bare, bright metal and the others as told, and measure again; hold the cores \
             to the metal when it is asked for, before and after."
        }
        (_, Some(Cause::OtherPosts)) => {
            "leave the posts empty that should hold nothing: all cores are on post 1, metal on 2, a drain \
             wire on 3 with --shield; then measure again."
        }
        (FindingKind::SomethingConnected | FindingKind::Unexplained, _) => {
            "lift all cores at both ends, take the end plug off, lift the drain here, and measure again."
        }
        _ => return None,
    })
}

/// Where the shield is bonded; its drain is lifted here.
pub(crate) fn bonded(told: &ToEarth) -> Option<&'static str> {
    told.drain?;
    Some(match told.bonded {
        None => "whether it is bonded at the far end cannot be told.",
        Some(Bonded::HereOnly) => {
            "bonded at one end: here, once its drain is landed again as it was."
        }
        Some(Bonded::ElsewhereOnly) => {
            "bonded at one end: the far one, or it touches metal on the way. Here its drain was on nothing."
        }
        Some(Bonded::Twice) => {
            "bonded at both ends: here, as its drain was landed, and at the far end or on the way."
        }
        Some(Bonded::Nowhere) => "bonded at neither end.",
        Some(Bonded::Elsewhere) => {
            "bonded at the far end, or it touches metal on the way. If its drain was landed here as well, it \
             is bonded at both ends."
        }
        Some(Bonded::NotElsewhere) => {
            "not bonded at the far end. If its drain was landed here, it is bonded at this end only; if \
             not, at neither."
        }
    })
}

/// What a pass does not rule out.
pub(super) fn could_miss(judgement: &Judgement) -> Option<String> {
    let leak = ohms(Some(judgement.misses.leak_ohm?));
    Some(format!(
        "a path of more than {leak}; a core that the clip on post 1 did not hold; whatever lies beyond a break in a \
         core; and what comes and goes."
    ))
}

/// Why a row has its verdict.
pub(crate) fn why(post: Post, verdict: Verdict, read: bool, told: &ToEarth) -> &'static str {
    match verdict {
        Verdict::Pass => "within the limit",
        Verdict::Fail => "beyond the limit",
        Verdict::CannotTell if !read => "not measured",
        Verdict::CannotTell if !told.contact_shown.contains(&post) => "contact not shown",
        Verdict::CannotTell => "near the limit",
    }
}

/// "over 9.0 MΩ", or what was read.
pub(crate) fn path(path: Option<&Isolation>) -> String {
    match path {
        None => "unknown".into(),
        Some(path) if path.at_least => format!("over {}", ohms(Some(path.resistance_ohm))),
        Some(path) => ohms(Some(path.resistance_ohm)),
    }
}

pub(crate) fn at_least_ohm(ohm: f64) -> String {
    format!("≥ {}", ohms(Some(ohm)))
}

/// One path with its uncertainty.
pub(crate) fn path_explained(path: &Isolation, judgement: &Judgement) -> String {
    let who = names(&path.posts, judgement);
    let ohm = ohms(Some(path.resistance_ohm));
    match path.expanded_uncertainty_ohm {
        None => format!("between {who} nothing; a path of less than {ohm} would have been seen."),
        u_ohm => format!("between {who} {ohm}, ± {} (95 %).", ohms(u_ohm)),
    }
}

pub(crate) fn leakage_limit(what: &str, limit: &Limit) -> String {
    format!("{what} {}: {}.", ohms(Some(limit.value)), limit.source)
}

pub(crate) const LEAKAGE_RULE: &str = "fails when reading and uncertainty are below the limit; where only \
    the reading less its uncertainty is, it cannot be told. Below 1 kΩ it is metal that touches (a rule of this \
    house).";

pub(crate) fn contact(shown: &[Post], judgement: &Judgement) -> String {
    if shown.is_empty() {
        return "was not shown: no good path passes.".into();
    }
    let who = names(shown, judgement);
    format!(
        "to {who} was shown before and after, by less than 1 kΩ while the cores were held there."
    )
}

/// The steps, each with its place.
pub(crate) fn steps(shield: bool, simulated: bool) -> Vec<(String, String)> {
    let trip = if simulated { super::SIMULATED_TRIP } else { "to metal, not from end to end:" };
    let (drain, on_3, with) = if shield {
        (
            "; lift the drain wire here only",
            ", the drain wire on 3",
            ", and the drain's bare end with them,",
        )
    } else {
        ("", "", "")
    };
    let all = [
        ("first", super::PROVE_DEAD.to_owned()),
        ("to earth", trip.to_owned()),
        (
            "1 both ends",
            format!(
                "lift all cores at both ends before you bunch any, and bend them clear of metal{drain}. The \
                 end plug is not used: take it off."
            ),
        ),
        (
            "2 here",
            format!(
                "twist the bare ends of all cores together and put clip 1 on the twist. Clip 2 goes on bare, bright \
                 chassis, conduit or equipment earth{on_3}. The other clips hold nothing."
            ),
        ),
        (
            "3 here",
            format!(
                "hold the twist{with} against the metal beside clip 2, not against the clip, until this screen \
                 has it: only so is a clip told from one that does not touch. Then let go, hands \
                 off: it measures after 3 s."
            ),
        ),
        ("4 here", "when it has measured, hold them there once more.".to_owned()),
    ];
    all.into_iter().map(|(label, step)| (label.to_owned(), step)).collect()
}

pub(crate) fn hold(again: bool) -> &'static str {
    match again {
        false => "hold the twist to the metal beside clip 2 …",
        true => "measured; hold the twist to the metal once more …",
    }
}

pub(crate) fn held(again: bool) -> &'static str {
    match again {
        false => "the clips touch: let go now, hands off.",
        true => "the clips touch still: let go.",
    }
}

pub(crate) const LET_GO: &str =
    "let go; waiting until it stands apart for 3 s, or joined for 10 s …";

pub(crate) const NOT_HELD: &str = "that the clips touch was not shown: without it nothing passes.";
