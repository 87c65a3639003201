//! Voltage that only couples in, seen before the relays closed.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::judgement::{ExplainsComplaint, Finding, FindingKind, Severity, Unit};
use crate::live;

/// Less than this is not worth a word. [judgement]
const WORTH_TELLING_V: f64 = 1.0;

pub(crate) fn of_live(capture: &Capture) -> Option<Finding> {
    let seen = [Phase::Open, Phase::Plug].map(|phase| live::check(capture, phase).ok());
    let largest = seen.into_iter().flatten().max_by(|a, b| a.alone_v.total_cmp(&b.alone_v))?;
    if !(largest.alone_v > WORTH_TELLING_V) {
        return None;
    }
    let mut finding = Finding::new(FindingKind::CoupledVoltage, Severity::Note);
    finding.value = Some(largest.alone_v);
    finding.unit = Some(Unit::Volt);
    finding.loaded_v = Some(largest.loaded_v);
    finding.explains_complaint = ExplainsComplaint::Possibly;
    Some(finding)
}
