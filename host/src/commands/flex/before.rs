//! How the run is before it is flexed, by one plug phase.

use runproof_interpret::capture::Ending;
use runproof_interpret::{Capture, Judgement, LimitSheet, RunKnowledge, judge};
use runproof_protocol::Phase;

use crate::show::flex::why_not;

/// What it tells of the watch that follows.
pub(super) struct Before {
    /// By post, where it is known.
    pub(super) baseline_ohm: [Option<f64>; 4],
    /// No hazard, no missing plug.
    pub(super) may_be_flexed: bool,
}

impl Before {
    pub(super) fn of(capture: &Capture, sheet: &LimitSheet, phase: Phase) -> Self {
        let ended = [Phase::Glance, Phase::Plug]
            .into_iter()
            .any(|phase| capture.ends(phase).any(|ending| !matches!(ending, Ending::Done { .. })));
        let judged = judged(capture, sheet).filter(|_| phase == Phase::Flex);
        let mut baseline_ohm = [None; 4];
        for one in judged.iter().flat_map(|judged| &judged.conductors) {
            baseline_ohm[one.post.index()] = one.resistance_ohm;
        }
        let stops = judged.as_ref().is_some_and(|judged| why_not(judged).is_some());
        Self { baseline_ohm, may_be_flexed: !ended && !stops }
    }
}

/// The phases before the watch alone; nothing where there were none.
pub(super) fn judged(capture: &Capture, sheet: &LimitSheet) -> Option<Judgement> {
    let measured = [Phase::Plug, Phase::Glance];
    let any = measured.into_iter().any(|phase| {
        capture.readings(phase).next().is_some() || capture.ends(phase).next().is_some()
    });
    let known = RunKnowledge { lifted: true, ..RunKnowledge::default() };
    any.then(|| judge(capture, sheet, &known))
}
