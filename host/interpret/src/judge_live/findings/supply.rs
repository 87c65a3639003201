//! What is wrong with the supply.

use super::super::places;
use super::{Held, told};
use crate::judgement::{
    LiveCause, LiveFinding, LiveFindingKind as Kind, LiveReason, LiveSupply, LiveUnit, SupplyKind,
};
use crate::limits::{ConductorName, Severity};

/// Under the load so much of a supply is left at least: 47 kΩ beside a transformer is nothing. [judgement]
const STAYS: f64 = 0.97;

impl Held<'_> {
    pub(super) fn supply(&self, found: &mut Vec<LiveFinding>) {
        let (Some(supply), Some(posts)) = (self.supply, places::supply(self.sheet)) else { return };
        let finding = |kind, severity| {
            let mut finding = LiveFinding::new(kind, severity);
            finding.conductors = vec![ConductorName::Supply, ConductorName::Common];
            finding.posts = vec![posts.0, posts.1];
            finding.loaded = supply.loaded_rms_v.map(|loaded| loaded.value);
            let direct = supply.kind == SupplyKind::Direct || supply.kind == SupplyKind::FullWave;
            match (supply.direct_v.filter(|_| direct), supply.rms_v) {
                (Some(direct), _) => told(finding, direct, LiveUnit::VoltDirect),
                (None, Some(rms)) => told(finding, rms, LiveUnit::VoltRms),
                (None, None) => finding,
            }
        };
        // Where it is instead is told.
        if found
            .iter()
            .any(|one| matches!(one.kind, Kind::SupplyElsewhere | Kind::SupplyCrossedWithCommon))
        {
            return;
        }
        match supply.reason {
            LiveReason::Nothing | LiveReason::CouplesIn => {
                found.push(finding(Kind::NoSupply, Severity::Fail));
            }
            LiveReason::OtherKind => found.push(finding(Kind::OtherSupply, Severity::Fail)),
            LiveReason::BelowLimit => found.push(finding(Kind::LowSupply, Severity::Fail)),
            LiveReason::AboveLimit => found.push(finding(Kind::HighSupply, Severity::Fail)),
            LiveReason::TooCloseToLimit => {
                found.push(finding(Kind::TooCloseToLimit, Severity::CannotTell));
            }
            LiveReason::LimitUnknown => {
                found.push(finding(Kind::LimitUnknown, Severity::CannotTell))
            }
            LiveReason::NotMeasured if self.floating.contains(posts.1) => {
                found.push(LiveFinding::because(LiveCause::CommonMissing));
            }
            LiveReason::NotMeasured if supply.rms_v.is_some() && supply.loaded_rms_v.is_some() => {
                found.push(LiveFinding::because(LiveCause::Unexplained));
            }
            LiveReason::WithinLimits => self.supply_noted(found, supply, &finding),
            _ => {}
        }
        let gives_way = supply
            .rms_v
            .zip(supply.loaded_rms_v)
            .is_some_and(|(alone, loaded)| loaded.most() < STAYS * alone.least());
        if gives_way && !matches!(supply.kind, SupplyKind::None | SupplyKind::Unknown) {
            found.push(finding(Kind::SupplyGivesWay, Severity::Fail));
        }
    }

    fn supply_noted(
        &self,
        found: &mut Vec<LiveFinding>,
        supply: &LiveSupply,
        finding: &dyn Fn(Kind, Severity) -> LiveFinding,
    ) {
        let (Some(noted), Some(rms)) = (&self.sheet.live.supply_noted, supply.rms_v) else {
            return;
        };
        if rms.value < noted.least {
            found.push(finding(Kind::LowSupply, Severity::Note));
        } else if rms.value > noted.most {
            found.push(finding(Kind::HighSupply, Severity::Note));
        }
    }
}
