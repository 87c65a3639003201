//! The supply where it does not belong.

use runproof_protocol::Post;

use super::super::displaced::Displaced;
use super::super::places;
use super::{Held, told};
use crate::judgement::{LiveFinding, LiveFindingKind as Kind, LiveUnit, Measured};
use crate::limits::{Severity, SupplyForm};

impl Held<'_> {
    pub(super) fn displaced(&self, found: &mut Vec<LiveFinding>) {
        let Some(displaced) = self.displaced else { return };
        let of_supply = || {
            let supply = self.supply?;
            if self.is_direct() { supply.direct_v } else { supply.rms_v }
        };
        let (kind, posts, volts): (_, Vec<Post>, Option<Measured>) = match displaced {
            Displaced::OnData(posts) => (Kind::SupplyOnData, posts.clone(), of_supply()),
            Displaced::Elsewhere(post, volts) => (Kind::SupplyElsewhere, vec![*post], Some(*volts)),
            Displaced::WithCommon => {
                let posts = places::supply(self.sheet);
                let posts = posts.into_iter().flat_map(|(a, b)| [a, b]).collect();
                (Kind::SupplyCrossedWithCommon, posts, of_supply())
            }
        };
        let mut finding = LiveFinding::new(kind, Severity::Fail);
        finding.conductors = posts.iter().filter_map(|post| self.name_of(*post)).collect();
        finding.posts = posts;
        let unit = if self.is_direct() { LiveUnit::VoltDirect } else { LiveUnit::VoltRms };
        found.push(match volts {
            Some(volts) => told(finding, volts, unit),
            None => finding,
        });
    }

    fn is_direct(&self) -> bool {
        self.sheet.live.supply_kind == Some(SupplyForm::Direct)
    }
}
