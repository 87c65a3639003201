//! Where a shield is bonded: here by what was told, at the far end or on the way by what was read.

use super::{METAL, SHIELD};
use crate::capture::Drain;
use crate::findings::{beyond, valued};
use crate::isolation::Path;
use crate::judgement::{Bonded, ExplainsComplaint, Finding, FindingKind, Severity};
use crate::limits::LimitSheet;

/// By the path from metal to shield, its drain lifted here. Bonding at one end is common practice, no source: a
/// shield that is bonded otherwise is a remark.
pub(super) fn shield(
    path: &Path,
    drain: Drain,
    contact_shown: bool,
    sheet: &LimitSheet,
) -> (Option<Bonded>, Option<Finding>) {
    let elsewhere = if path.is_short() {
        true
    } else if path.at_least || beyond(path, sheet).is_none() {
        if !contact_shown {
            return (None, None);
        }
        false
    } else {
        return (None, Some(remark(FindingKind::ShieldPoorlyBonded, path)));
    };
    let bonded = match (drain, elsewhere) {
        (Drain::Landed, true) => Bonded::Twice,
        (Drain::Landed, false) => Bonded::HereOnly,
        (Drain::Free, true) => Bonded::ElsewhereOnly,
        (Drain::Free, false) => Bonded::Nowhere,
        (Drain::Unsure, true) => Bonded::Elsewhere,
        (Drain::Unsure, false) => Bonded::NotElsewhere,
    };
    let kind = match bonded {
        Bonded::Twice => Some(FindingKind::ShieldBondedTwice),
        Bonded::Nowhere => Some(FindingKind::ShieldNotBonded),
        _ => None,
    };
    (Some(bonded), kind.map(|kind| remark(kind, path)))
}

fn remark(kind: FindingKind, path: &Path) -> Finding {
    let mut finding = Finding::new(kind, Severity::Note);
    finding.explains_complaint = ExplainsComplaint::Possibly;
    finding.posts = vec![METAL, SHIELD];
    match path.at_least {
        true => finding,
        false => valued(finding, vec![METAL, SHIELD], path.ohm, Some(path.u_ohm)),
    }
}
