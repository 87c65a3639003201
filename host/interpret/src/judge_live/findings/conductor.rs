//! What is wrong with one data conductor.

use super::super::floats;
use super::super::supply::COUPLED;
use super::{Held, told};
use crate::judgement::{LiveConductor, LiveFinding, LiveFindingKind as Kind, LiveReason, LiveUnit};
use crate::limits::{ConductorName, Severity};

impl Held<'_> {
    pub(super) fn conductor(&self, found: &mut Vec<LiveFinding>, conductor: &LiveConductor) {
        if !matches!(conductor.name, ConductorName::DataPlus | ConductorName::DataMinus) {
            return;
        }
        let finding = |kind, severity| {
            let mut finding = LiveFinding::new(kind, severity);
            finding.conductors = vec![conductor.name];
            finding.posts = vec![conductor.post];
            finding
        };
        let alternates = |finding: LiveFinding| {
            let mut finding = match conductor.alternating_rms_v {
                Some(alone) => told(finding, alone, LiveUnit::VoltRms),
                None => finding,
            };
            finding.loaded = conductor.loaded_alternating_rms_v.map(|loaded| loaded.value);
            finding
        };
        let to_common = self.sheet.live.data_to_common.as_ref().zip(conductor.direct_v);
        let beyond = to_common.is_some_and(|(range, direct)| {
            direct.least() > range.most || direct.most() < range.least
        });
        match conductor.reason {
            LiveReason::AboveLimit | LiveReason::BelowLimit if beyond => {
                let finding = finding(Kind::BeyondReceiver, Severity::Fail);
                found.extend(conductor.direct_v.map(|v| told(finding, v, LiveUnit::VoltDirect)));
            }
            // It is told already, by its frequency.
            LiveReason::AboveLimit | LiveReason::BelowLimit
                if Self::is_second(found, conductor) => {}
            LiveReason::AboveLimit | LiveReason::BelowLimit => {
                let turned = self.turned(conductor.post);
                let kind = if turned { Kind::SecondSource } else { Kind::ForeignVoltage };
                found.push(alternates(finding(kind, Severity::Fail)));
            }
            LiveReason::TooCloseToLimit => {
                found.push(alternates(finding(Kind::TooCloseToLimit, Severity::CannotTell)));
            }
            LiveReason::LimitUnknown => {
                found.push(finding(Kind::LimitUnknown, Severity::CannotTell));
            }
            LiveReason::Floats => {
                let limit = self.sheet.live.data_alternating.as_ref().map(|range| range.most);
                let [alone_v, loaded_v] = [&self.seen.alone, &self.seen.loaded]
                    .map(|window| floats::coupled_v(window, self.floating, conductor.post));
                if limit.is_some_and(|most| alone_v > most) && loaded_v <= COUPLED * alone_v {
                    let mut finding = finding(Kind::Hum, Severity::Note);
                    finding.value = Some(alone_v);
                    finding.loaded = Some(loaded_v);
                    finding.unit = Some(LiveUnit::VoltRms);
                    found.push(finding);
                }
            }
            LiveReason::WithinLimits | LiveReason::NotMeasured => {
                let limit = self.sheet.live.data_alternating.as_ref().map(|range| range.most);
                let hums = conductor.alternating_rms_v.zip(limit);
                let hums = hums.is_some_and(|(alone, most)| alone.value > most);
                if hums && conductor.couples_in == Some(true) {
                    found.push(alternates(finding(Kind::Hum, Severity::Note)));
                }
            }
            _ => {}
        }
    }
}
