//! What hangs on nothing.

use super::super::places;
use super::Held;
use crate::judgement::{LiveFinding, LiveFindingKind as Kind};
use crate::limits::{ConductorName, Severity};

impl Held<'_> {
    pub(super) fn floating(&self, found: &mut Vec<LiveFinding>) {
        let pair = places::pair(self.sheet);
        let both =
            pair.is_some_and(|(a, b)| [a, b].iter().all(|post| self.floating.contains(*post)));
        for post in &self.floating.posts {
            let Some(name) = self.name_of(*post) else { continue };
            let kind = match name {
                ConductorName::Common => Kind::CommonMissing,
                ConductorName::Supply => continue, // no supply
                _ if both => continue,             // the pair is not biased
                _ => Kind::Floats,
            };
            let unsure = self.floating.unsure == Some(*post);
            let severity = if unsure { Severity::CannotTell } else { Severity::Fail };
            let mut finding = LiveFinding::new(kind, severity);
            finding.conductors = vec![name];
            finding.posts = vec![*post];
            found.push(finding);
        }
    }
}
