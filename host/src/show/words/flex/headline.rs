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
    let mut decisive = judgement.findings.iter().filter(|one| one.severity == wanted);
    let Some(first) = decisive.next() else { return "what was seen does not decide it.".into() };
    let others = match decisive.count() {
        0 => String::new(),
        1 => "; and one thing more".into(),
        many => format!("; and {many} things more"),
    };
    format!("{}{others}.", short(first, judgement, names))
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
        Kind::Breaks => format!("{lane} broke{often}{}", longest(one.longest_us)),
        Kind::Touches => format!("{lane} touched{often}{}", longest(one.longest_us)),
        Kind::Steps => {
            let most = one.ohm.map(|ohm| format!(", by up to {}", super::ohms(ohm)));
            format!("{lane} rose{often}{}", most.unwrap_or_default())
        }
        Kind::Untold => format!("something moved{often}, and which conductor cannot be told"),
        Kind::NotWatched => "the run was not watched".into(),
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
