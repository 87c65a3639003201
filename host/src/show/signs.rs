//! A judgement on the jig's own lamps and sounder, for whoever stands beside it.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{Conductor, FindingKind, Reason, Verdict};
use runproof_protocol::{Lamp, Post, Signs, Tune};

/// Lamps by post; a post that no conductor of the sheet is on stays dark.
pub(crate) fn of(judgement: &Judgement) -> Signs {
    if judgement.findings.iter().any(|finding| finding.kind == FindingKind::Hazard) {
        return Signs::HAZARD;
    }
    let tune = match judgement.verdict {
        Verdict::Pass => Tune::Pass,
        Verdict::Fail => Tune::Fail,
        Verdict::CannotTell => Tune::CannotTell,
    };
    let mut signs = Signs::all(Lamp::DARK, tune);
    for conductor in &judgement.conductors {
        signs.lamps[conductor.post.index()] = lamp(conductor);
    }
    signs.exchanged(Post::ALL.map(|post| arrives(&judgement.conductors, post)));
    let mut joined = judgement
        .findings
        .iter()
        .filter(|finding| [FindingKind::Short, FindingKind::Leakage].contains(&finding.kind))
        .filter(|finding| {
            judgement.conductors.is_empty() || finding_fails(judgement, &finding.posts)
        });
    for (finding, lamp) in joined.by_ref().zip([Lamp::BLINK, Lamp::QUICK_BLINK]) {
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

/// A path that a sheet allows is none for the lamps.
fn finding_fails(judgement: &Judgement, posts: &[Post]) -> bool {
    judgement.verdict != Verdict::Pass && posts.len() > 1
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
