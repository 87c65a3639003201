//! More voltage than a control run may have: between conductors, or to earth.

use super::super::largest::hazard;
use super::super::places;
use super::super::supply::COUPLED;
use super::{Held, told};
use crate::judgement::{LiveFinding, LiveFindingKind as Kind, LiveUnit};
use crate::limits::Severity;
use crate::live::TOGETHER_V;

impl Held<'_> {
    /// Between the two conductors with most, or where nothing lies on one of their posts, between those.
    pub(super) fn hazard(&self, found: &mut Vec<LiveFinding>) {
        let Some(most) = hazard(self.seen, places::against(self.sheet)) else { return };
        let alone_v = most.alternating_v.zip(most.direct_v).map(|(a, d)| a.hypot(d));
        let collapses =
            most.loaded_v.zip(alone_v).is_some_and(|(loaded, alone)| loaded <= COUPLED * alone);
        let severity = if collapses { Severity::CannotTell } else { Severity::Fail };
        let mut finding = LiveFinding::new(Kind::Hazard, severity);
        let mut posts = vec![most.posts.0, most.posts.1];
        posts.dedup();
        finding.conductors = posts.iter().filter_map(|post| self.name_of(*post)).collect();
        finding.posts = posts;
        finding.at_least = most.at_least_v;
        let alternates = most.alternating_v.zip(most.direct_v).map(|(a, d)| a >= d);
        finding.unit = match (alternates, most.at_least_v) {
            (Some(true), _) => Some(LiveUnit::VoltRms),
            (Some(false), _) => Some(LiveUnit::VoltDirect),
            (None, at_least) => at_least.map(|_| LiveUnit::VoltPeak),
        };
        finding.value = alternates
            .and_then(|ac| if ac { most.alternating_v } else { most.direct_v })
            .filter(|value| value.is_finite());
        finding.loaded = most.loaded_v.filter(|value| value.is_finite());
        found.push(finding);
    }

    pub(super) fn all_together(&self, found: &mut Vec<LiveFinding>) {
        let Some(together) = self.seen.together_v.filter(|one| one.value > TOGETHER_V) else {
            return;
        };
        let mut finding = LiveFinding::new(Kind::AllMoveTogether, Severity::CannotTell);
        finding.conductors = self.sheet.conductors.iter().map(|one| one.name).collect();
        finding.posts = self.sheet.conductors.iter().map(|one| one.post).collect();
        finding.loaded = Some(together.value);
        found.push(told(finding, together, LiveUnit::VoltRms));
    }
}
