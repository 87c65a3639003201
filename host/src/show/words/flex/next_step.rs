//! What to do next: of the gravest finding.

use runproof_interpret::judgement::{FlexFindingKind, FlexJudgement, Verdict};
use runproof_protocol::Phase;

pub(crate) fn next_step(judgement: &FlexJudgement) -> String {
    use FlexFindingKind as Kind;
    let phase = judgement.watches.first().map(|watch| watch.head.phase);
    let first = super::found(judgement).next().map(|one| one.kind);
    let marked = judgement.watches.iter().any(|watch| !watch.marks.is_empty());
    match first {
        Some(Kind::Breaks | Kind::Steps) => {
            let narrow = if marked {
                "begin where the marks count most. "
            } else {
                "flex again and mark each place as you come to it. "
            };
            format!(
                "{narrow}Tug one termination at a time, near and far, then splices and bends: the place at which it answers is \
                 the bad one. At a termination cut back past the nick, strip anew, land it again; in the cable \
                 replace that part. Then watch again for as long."
            )
        }
        Some(Kind::Touches) => {
            "press and bend the run piece by piece, and mark each place: staples, edges, the knockout, stripped ends \
             that are too long. Part them, or replace that part; then watch again for as long."
                .into()
        }
        Some(Kind::Untold) => {
            "look at the end plug and the clips first: seat them, keep them still, and watch again. If it stays, two \
             conductors break together: a bend or a connector that both go through."
                .into()
        }
        Some(Kind::NotWatched) => {
            "see that the run is dead and lifted, the clips on, the key as it was asked for; then watch again.".into()
        }
        Some(Kind::NotWhole) => "judge the whole file, or watch again.".into(),
        Some(Kind::NeverGood) => {
            "`runproof check` first: it says where that conductor is open, or what it touches. Flex again once it is \
             put right."
                .into()
        }
        Some(Kind::CatcherContradicts) => {
            "unplug the jig, plug it in, and watch again; if it stays, prove it with `runproof prove`.".into()
        }
        Some(Kind::Gaps) => {
            "watch again with the jig on another USB cable, and nothing else busy on this computer.".into()
        }
        _ if judgement.verdict == Verdict::Pass => match phase {
            Some(Phase::Flex) => {
                "what does not show while it is watched may come later: flex each termination, splice and bend once \
                 more, and with the doors and the blower as when the fault comes; `runproof flex --shorts` with the \
                 end plug out sees what touches."
                    .into()
            }
            _ => {
                "what does not show while it is watched may come later: press and bend the run along its way once more; \
                 `runproof flex` with the end plug in sees what breaks."
                    .into()
            }
        },
        _ => "watch again.".into(),
    }
}
