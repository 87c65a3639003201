//! Voltage that only couples in, seen before the relays closed; hum, where it is the mains'.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::judgement::{ExplainsComplaint, Finding, FindingKind, Severity, Unit};
use crate::live::{self, Hum};

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
    if let Some(hum) = live::hum(capture) {
        call_hum(&mut finding, hum);
    }
    Some(finding)
}

/// Where the mains is seen, it is why repeats scatter; then a remark on it says nothing more.
pub(crate) fn name_hum(findings: &mut Vec<Finding>, capture: &Capture) {
    let Some(hum) = live::hum(capture) else { return };
    let scatters = |one: &Finding| one.kind == FindingKind::Unsteady && one.cause.is_none();
    if findings.iter().any(scatters) {
        findings.retain(|one| one.kind != FindingKind::Hum);
    }
    findings.iter_mut().filter(|one| scatters(one)).for_each(|one| call_hum(one, hum));
}

fn call_hum(finding: &mut Finding, hum: Hum) {
    finding.kind = FindingKind::Hum;
    finding.value = Some(hum.rms_v);
    finding.unit = Some(Unit::Volt);
    finding.hertz = Some(hum.hertz);
}
