//! The verdict's reason, in a sentence that can be read aloud in one breath.

use runproof_interpret::judgement::{
    FlexFinding, FlexFindingKind, FlexJudgement, Severity, Verdict,
};
use runproof_protocol::Phase;

use super::Names;
use super::numbers::{duration, times};

/// What was found that decides, or that none was seen, and in how long.
pub(crate) fn headline(judgement: &FlexJudgement, names: &Names) -> String {
    let wanted = match judgement.verdict {
        Verdict::Pass => return format!("none seen in {}.", watched(judgement)),
        Verdict::Fail => Severity::Fail,
        Verdict::CannotTell => Severity::CannotTell,
    };
    let decisive = super::told(judgement).filter(|one| one.severity == wanted);
    let told: Vec<String> = decisive.map(|one| short(one, judgement, names)).collect();
    // More is not said in one breath.
    match told.as_slice() {
        [] => "what was seen does not decide it.".into(),
        [one] => format!("{one}."),
        [one, other] => format!("{one}; and {other}."),
        [one, rest @ ..] => format!("{one}; and {} things more.", rest.len()),
    }
}

/// How long all of it was watched.
pub(super) fn watched(judgement: &FlexJudgement) -> String {
    duration((judgement.watched_s.max(0.0) * 1e6) as u64)
}

/// "data− broke 14 times, longest 2.1 ms".
fn short(one: &FlexFinding, judgement: &FlexJudgement, names: &Names) -> String {
    use FlexFindingKind as Kind;
    let lane = one.lane.map(|lane| names.lane(lane)).unwrap_or_else(|| "the run".into());
    let often = one.count.map(|count| format!(" {}", times(count))).unwrap_or_default();
    let longest = |us: Option<u64>| match (one.count, us) {
        (_, None) => String::new(),
        (Some(1), Some(us)) => format!(", for {}", duration(us)),
        (_, Some(us)) => format!(", longest {}", duration(us)),
    };
    match one.kind {
        Kind::Breaks if super::from_beginning(one, judgement) => {
            format!("{lane} was broken from the beginning")
        }
        Kind::Touches if super::from_beginning(one, judgement) => {
            format!("{lane} touched from the beginning")
        }
        Kind::Breaks => format!("{lane} broke{often}{}", longest(one.longest_us)),
        Kind::Touches => format!("{lane} touched{often}{}", longest(one.longest_us)),
        Kind::Steps => {
            let most = one.ohm.map(|ohm| format!(", by up to {}", super::ohms(ohm)));
            format!("{lane} rose{often}{}", most.unwrap_or_default())
        }
        Kind::Untold => format!("something moved{often}, and which conductor cannot be told"),
        Kind::NotWatched => "the run was not watched".into(),
        Kind::NotWhole => "part of what was kept of the watch is missing".into(),
        Kind::NeverGood => match one.phase {
            Some(Phase::Flex) => format!("{lane} was broken from the beginning"),
            Some(_) => format!("{lane} touched from the beginning"),
            None => format!("{lane} was never as it should be"),
        },
        Kind::CatcherContradicts => "the jig contradicts itself".into(),
        Kind::Gaps => format!("not all of the {} was watched", watched(judgement)),
        Kind::Hum => "hum hides small rises".into(),
        _ => "what was seen does not decide it".into(),
    }
}
