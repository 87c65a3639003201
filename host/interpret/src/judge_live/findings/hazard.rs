//! More voltage than a control run may have: between conductors, or to earth.

use runproof_protocol::Post;

use super::super::largest::hazards;
use super::super::supply::COUPLED;
use super::{Held, told};
use crate::judgement::{LiveFinding, LiveFindingKind as Kind, LiveUnit};
use crate::limits::Severity;
use crate::live::TOGETHER_V;

impl Held<'_> {
    pub(super) fn hazard(&self, found: &mut Vec<LiveFinding>) {
        let hazards = hazards(self.seen);
        let Some(most) = hazards.first() else { return };
        let alone_v = most.alternating_v.zip(most.direct_v).map(|(a, d)| a.hypot(d));
        let collapses =
            most.loaded_v.zip(alone_v).is_some_and(|(loaded, alone)| loaded <= COUPLED * alone);
        let severity = if collapses { Severity::CannotTell } else { Severity::Fail };
        let mut finding = LiveFinding::new(Kind::Hazard, severity);
        let mut posts: Vec<Post> =
            hazards.iter().flat_map(|one| [one.posts.0, one.posts.1]).collect();
        posts.sort();
        posts.dedup();
        finding.conductors = posts.iter().filter_map(|post| self.name_of(*post)).collect();
        finding.posts = posts;
        let alternates = most.alternating_v.zip(most.direct_v).map(|(a, d)| a >= d);
        finding.unit =
            alternates.map(|ac| if ac { LiveUnit::VoltRms } else { LiveUnit::VoltDirect });
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
