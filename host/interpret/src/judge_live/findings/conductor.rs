//! What is wrong with one data conductor: its mean, and what alternates on it.

use super::{Held, told};
use crate::judgement::{
    LiveConductor, LiveFinding, LiveFindingKind as Kind, LiveHeld, LiveReason, LiveUnit, Verdict,
};
use crate::limits::Severity;

impl Held<'_> {
    pub(super) fn conductor(&self, found: &mut Vec<LiveFinding>, conductor: &LiveConductor) {
        let (Some(direct), Some(alternating)) = (conductor.direct, conductor.alternating) else {
            return;
        };
        // That the supply stands there says it all.
        if Self::is_told(found, Kind::SupplyOnData, conductor)
            || Self::is_told(found, Kind::SupplyElsewhere, conductor)
            || found.iter().any(|one| one.kind == Kind::SupplyCrossedWithCommon)
        {
            return;
        }
        self.direct(found, conductor, direct);
        self.alternating(found, conductor, alternating);
    }

    fn direct(
        &self,
        found: &mut Vec<LiveFinding>,
        conductor: &LiveConductor,
        LiveHeld { verdict, reason }: LiveHeld,
    ) {
        let (kind, severity) = match (verdict, reason) {
            (Verdict::Fail, LiveReason::AboveLimit | LiveReason::BelowLimit) => {
                (Kind::BeyondReceiver, Severity::Fail)
            }
            (_, LiveReason::TooCloseToLimit) => (Kind::TooCloseToLimit, Severity::CannotTell),
            (_, LiveReason::LimitUnknown) => (Kind::LimitUnknown, Severity::CannotTell),
            _ => return,
        };
        let finding = of(conductor, kind, severity);
        found.push(match conductor.direct_v {
            Some(volts) => told(finding, volts, LiveUnit::VoltDirect),
            None => finding,
        });
    }

    fn alternating(
        &self,
        found: &mut Vec<LiveFinding>,
        conductor: &LiveConductor,
        LiveHeld { reason, .. }: LiveHeld,
    ) {
        let (kind, severity) = match reason {
            LiveReason::AboveLimit if self.is_hum(conductor) => (Kind::Hum, Severity::Fail),
            // Of another frequency.
            LiveReason::AboveLimit if Self::is_told(found, Kind::SecondSource, conductor) => return,
            LiveReason::AboveLimit if self.turned(conductor.post) => {
                (Kind::SecondSource, Severity::Fail)
            }
            // It follows the other one, through what lies between the two.
            LiveReason::AboveLimit if found.iter().any(|one| one.kind == Kind::SupplyOnData) => {
                return;
            }
            LiveReason::AboveLimit => (Kind::ForeignVoltage, Severity::Fail),
            LiveReason::TooCloseToLimit => (Kind::TooCloseToLimit, Severity::CannotTell),
            LiveReason::LimitUnknown => (Kind::LimitUnknown, Severity::CannotTell),
            _ => return,
        };
        let mut finding = of(conductor, kind, severity);
        if let Some(alone) = conductor.alternating_rms_v {
            finding = told(finding, alone, LiveUnit::VoltRms);
        }
        finding.loaded = conductor.loaded_alternating_rms_v.map(|loaded| loaded.value);
        found.push(finding);
    }

    /// It collapses under the load, or the load's star moves it.
    fn is_hum(&self, conductor: &LiveConductor) -> bool {
        let limit = self.sheet.live.data_alternating.as_ref();
        let loaded = conductor.loaded_alternating_rms_v.zip(limit);
        let collapses = loaded.is_some_and(|(loaded, limit)| loaded.most() <= limit.most);
        collapses || conductor.couples_in == Some(true)
    }

    fn is_told(found: &[LiveFinding], kind: Kind, conductor: &LiveConductor) -> bool {
        found.iter().any(|one| {
            one.kind == kind
                && one.severity == Severity::Fail
                && one.conductors.contains(&conductor.name)
        })
    }
}

fn of(conductor: &LiveConductor, kind: Kind, severity: Severity) -> LiveFinding {
    let mut finding = LiveFinding::new(kind, severity);
    finding.conductors = vec![conductor.name];
    finding.posts = vec![conductor.post];
    finding
}
