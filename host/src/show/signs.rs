//! A judgement on the jig's own lamps and sounder, for whoever stands beside it.

use runproof_interpret::Judgement;
use runproof_interpret::flex::FlexLaneOf;
use runproof_interpret::judgement::{
    Conductor, FindingKind, FlexJudgement, LiveFindingKind, LiveJudgement, PairSign, Reason,
    ReelJudgement, Severity, Verdict,
};
use runproof_protocol::{Lamp, Post, Signs, Tune};

/// Lamps by post; a post that no conductor of the sheet is on stays dark.
pub(crate) fn of(judgement: &Judgement) -> Signs {
    if judgement.findings.iter().any(|finding| finding.kind == FindingKind::Hazard) {
        return Signs::HAZARD;
    }
    let mut signs = Signs::all(Lamp::DARK, tune(judgement.verdict));
    for conductor in &judgement.conductors {
        signs.lamps[conductor.post.index()] = lamp(conductor);
    }
    signs.exchanged(Post::ALL.map(|post| arrives(&judgement.conductors, post)));
    let joined = judgement.findings.iter().filter(|finding| {
        let path = [FindingKind::Short, FindingKind::Leakage].contains(&finding.kind);
        path && finding.severity != Severity::Note
    });
    for (finding, lamp) in joined.zip([Lamp::BLINK, Lamp::QUICK_BLINK]) {
        for post in &finding.posts {
            signs.lamps[post.index()] = lamp;
        }
    }
    if judgement.conductors.is_empty() && signs.lamps == [Lamp::DARK; 4] {
        let lamp = if judgement.verdict == Verdict::Pass { Lamp::STEADY } else { Lamp::WINK };
        signs.lamps = [lamp; 4];
    }
    signs
}

/// Of a live run: each conductor's verdict, the pair's on both of its own.
pub(crate) fn of_live(judgement: &LiveJudgement) -> Signs {
    if judgement.found(LiveFindingKind::Hazard) {
        return Signs::HAZARD;
    }
    let mut signs = Signs::all(Lamp::DARK, tune(judgement.verdict));
    let lamp = |verdict| match verdict {
        Verdict::Pass => Lamp::STEADY,
        Verdict::Fail => Lamp::BLINK,
        Verdict::CannotTell => Lamp::WINK,
    };
    for conductor in &judgement.conductors {
        signs.lamps[conductor.post.index()] = lamp(conductor.verdict);
    }
    if let Some(pair) = &judgement.pair {
        for post in pair.posts {
            signs.lamps[post.index()] = lamp(pair.verdict);
        }
        if pair.sign == PairSign::Reversed {
            for (nth, post) in pair.posts.into_iter().enumerate() {
                signs.lamps[post.index()] = Lamp::turn(nth, 2);
            }
        }
    }
    signs
}

/// Of a reel: each core's verdict, in place of the run's.
pub(crate) fn of_reel(judgement: &ReelJudgement) -> Signs {
    let mut signs = of(&judgement.run);
    if signs == Signs::HAZARD {
        return signs;
    }
    for core in judgement.conductors.iter().filter(|core| core.verdict != Verdict::Fail) {
        let of_run = &mut signs.lamps[core.post.index()];
        *of_run = match core.verdict {
            Verdict::Pass => Lamp::STEADY,
            _ => Lamp::WINK,
        };
    }
    signs.tune = tune(judgement.verdict);
    signs
}

/// Of a run that was flexed: what broke or touched blinks.
pub(crate) fn of_flex(judgement: &FlexJudgement) -> Signs {
    let lamp = if judgement.verdict == Verdict::Pass { Lamp::STEADY } else { Lamp::WINK };
    let mut signs = Signs::all(lamp, tune(judgement.verdict));
    for finding in judgement.findings.iter().filter(|one| one.severity == Severity::Fail) {
        let posts = match finding.lane {
            Some(FlexLaneOf::Conductor(post)) => vec![post],
            Some(FlexLaneOf::Pair(a, b)) => vec![a, b],
            Some(FlexLaneOf::Untold) | None => vec![],
        };
        posts.iter().for_each(|post| signs.lamps[post.index()] = Lamp::BLINK);
    }
    signs
}

fn tune(verdict: Verdict) -> Tune {
    match verdict {
        Verdict::Pass => Tune::Pass,
        Verdict::Fail => Tune::Fail,
        Verdict::CannotTell => Tune::CannotTell,
    }
}

fn lamp(conductor: &Conductor) -> Lamp {
    match (conductor.verdict, conductor.reason) {
        (_, Reason::Open) => Lamp::DARK,
        (Verdict::Pass, _) => Lamp::STEADY,
        (Verdict::Fail, _) => Lamp::BLINK,
        (Verdict::CannotTell, _) => Lamp::WINK,
    }
}

/// The post whose conductor belongs where this post's arrives.
fn arrives(conductors: &[Conductor], post: Post) -> Option<Post> {
    let conductor = conductors.iter().find(|one| one.post == post)?;
    let reaches = conductor.reaches?;
    conductors.iter().find(|one| one.terminal == reaches).map(|one| one.post)
}

#[cfg(test)]
mod tests {
    use runproof_firmware::boards::simulated::Scene;
    use runproof_interpret::{LimitSheet, RunKnowledge, judge};

    use super::*;
    use crate::guide::Guide;
    use crate::jig::{Conversation, Jig, SimulatedPort};

    fn shown(name: &str) -> Signs {
        let scene = Scene::built_in(name).expect("built in");
        let begun = Conversation::begin(name, move || Ok(SimulatedPort::new(scene, 1)));
        let jig = begun.and_then(Jig::meet).expect("a jig");
        let mut tell = |_| {};
        let mut guide = Guide::new(&jig, &mut tell);
        guide.both();
        let (sheet, known) = (LimitSheet::service_24vac(), RunKnowledge::default());
        of(&judge(&guide.done(), &sheet, &known))
    }

    #[test]
    fn lamps_say_what_the_words_say() {
        const GOOD: Lamp = Lamp::STEADY;
        let [first, second] = [Lamp::turn(0, 2), Lamp::turn(1, 2)];
        for (name, lamps, tune) in [
            ("good-run", [GOOD; 4], Tune::Pass),
            ("slightly-damp", [GOOD; 4], Tune::Pass),
            ("reversed-pair", [first, second, GOOD, GOOD], Tune::Fail),
            ("crossed-supply", [GOOD, first, GOOD, second], Tune::Fail),
            ("open-supply", [GOOD, GOOD, GOOD, Lamp::DARK], Tune::Fail),
            ("corroded-splice", [GOOD, GOOD, GOOD, Lamp::BLINK], Tune::Fail),
            ("damp-splice", [Lamp::BLINK, GOOD, Lamp::BLINK, GOOD], Tune::Fail),
            ("no-plug", [Lamp::WINK; 4], Tune::CannotTell),
            ("powered-run", [Lamp::FLASH; 4], Tune::Hazard),
        ] {
            assert_eq!(shown(name), Signs { lamps, tune }, "{name}");
        }
        let short = shown("staple-short");
        assert_eq!((short.lamps[1], short.lamps[2]), (Lamp::BLINK, Lamp::BLINK));
        assert_eq!(short.tune, Tune::Fail);
    }
}
