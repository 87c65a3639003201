//! Is a phase complete? Nothing can pass on one that is not.

use std::collections::BTreeSet;

use runproof_protocol::Phase;

use crate::capture::{Capture, Ending};
use crate::judgement::{Cause, FindingKind, Unit};
use crate::obstacle::Obstacle;

/// Something of this phase was measured, or tried.
pub(crate) fn begun(capture: &Capture, phase: Phase) -> bool {
    capture.readings(phase).next().is_some() || capture.ends(phase).next().is_some()
}

/// The phase was measured once, to its end, and nothing was lost on the way.
pub(crate) fn check(capture: &Capture, phase: Phase) -> Result<(), Obstacle> {
    if !begun(capture, phase) {
        return Err(Obstacle::incomplete(Cause::NotMeasured));
    }
    for ending in capture.ends(phase) {
        match ending {
            Ending::Done { .. } => {}
            Ending::Stopped { .. } => return Err(Obstacle::incomplete(Cause::Stopped)),
            Ending::Lost { .. } => return Err(Obstacle::incomplete(Cause::Lost)),
            Ending::Hazard { largest_v, .. } => {
                return Err(Obstacle::new(FindingKind::Hazard)
                    .cause(Cause::Hazard)
                    .value(*largest_v, Unit::Volt));
            }
        }
    }
    let mut ends = capture.ends(phase);
    let Some(Ending::Done { patterns }) = ends.next() else {
        return Err(Obstacle::incomplete(Cause::NoEnd));
    };
    if ends.next().is_some() {
        return Err(Obstacle::incomplete(Cause::SeveralEnds));
    }
    let seen: BTreeSet<u32> = capture.readings(phase).map(|reading| reading.pattern).collect();
    let seen = seen.range(..patterns).count();
    let missing = f64::from(*patterns) - seen as f64;
    if missing > 0.0 {
        let obstacle = Obstacle::incomplete(Cause::PatternsMissing);
        return Err(obstacle.value(missing, Unit::Count));
    }
    Ok(())
}
