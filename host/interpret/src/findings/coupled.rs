//! Voltage that only couples in, seen before the relays closed; hum, where it is the mains'; and what all conductors do
//! together.

use runproof_protocol::Phase;

use crate::capture::Capture;
use crate::judgement::{ExplainsComplaint, Finding, FindingKind, Severity, Unit};
use crate::live::{self, Hum};

/// Less than this is not worth a word. [judgement]
const WORTH_TELLING_V: f64 = 1.0;

/// Where the mains is seen, it is why repeats scatter, and a remark on it would say nothing more.
pub(crate) fn add_coupled(findings: &mut Vec<Finding>, capture: &Capture) {
    findings.extend(together(capture));
    let hum = live::hum(capture);
    let scatters = |one: &&mut Finding| one.kind == FindingKind::Unsteady && one.cause.is_none();
    let mut scattered = findings.iter_mut().filter(scatters).peekable();
    match hum.filter(|_| scattered.peek().is_some()) {
        Some(hum) => scattered.for_each(|one| call_hum(one, hum)),
        None => findings.extend(coupled(capture, hum)),
    }
}

fn coupled(capture: &Capture, hum: Option<Hum>) -> Option<Finding> {
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
    if let Some(hum) = hum {
        call_hum(&mut finding, hum);
    }
    Some(finding)
}

/// What may be live to earth does not show between the conductors.
fn together(capture: &Capture) -> Option<Finding> {
    // What is no number is no comfort either.
    let together_v = live::together_v(capture).filter(|volts| !(*volts <= live::TOGETHER_V))?;
    let mut finding = Finding::new(FindingKind::AllMoveTogether, Severity::CannotTell);
    finding.value = Some(together_v);
    finding.unit = Some(Unit::Volt);
    Some(finding)
}

fn call_hum(finding: &mut Finding, hum: Hum) {
    finding.kind = FindingKind::Hum;
    finding.value = Some(hum.rms_v);
    finding.unit = Some(Unit::Volt);
    finding.hertz = Some(hum.hertz);
}
