//! What is wrong on a live run, or could not be told; the gravest first.

mod conductor;
mod displaced;
mod floating;
mod hazard;
mod hum;
mod pair;
mod second_source;
mod supply;
mod unjudged;

use runproof_protocol::Post;

use super::displaced::Displaced;
use super::floats::Floating;
use super::seen::Seen;
use crate::judgement::{LiveConductor, LiveFinding, LivePair, LiveSupply, LiveUnit, Measured};
use crate::limits::{ConductorName, LimitSheet};

/// What is held, for all findings.
pub(super) struct Held<'a> {
    pub(super) seen: &'a Seen,
    pub(super) sheet: &'a LimitSheet,
    pub(super) floating: &'a Floating,
    pub(super) supply: Option<&'a LiveSupply>,
    pub(super) displaced: Option<&'a Displaced>,
    pub(super) pair: Option<&'a LivePair>,
    pub(super) conductors: &'a [LiveConductor],
}

pub(super) fn findings(held: &Held<'_>) -> Vec<LiveFinding> {
    let mut found = vec![];
    held.hazard(&mut found);
    held.all_together(&mut found);
    held.second_source(&mut found);
    if held.sheet.live.is_empty() {
        found.push(unjudged::finding());
    } else {
        held.displaced(&mut found);
        held.floating(&mut found);
        held.supply(&mut found);
        held.pair(&mut found);
        for conductor in held.conductors {
            held.conductor(&mut found, conductor);
        }
        held.hum(&mut found);
        unjudged::as_one(&mut found);
    }
    if let Err(cause) = held.seen.whole {
        found.push(LiveFinding::because(cause));
    }
    found.sort_by_key(|one| (one.severity, one.kind));
    found
}

impl Held<'_> {
    fn name_of(&self, post: Post) -> Option<ConductorName> {
        self.sheet.conductors.iter().find(|one| one.post == post).map(|one| one.name)
    }
}

fn told(mut finding: LiveFinding, measured: Measured, unit: LiveUnit) -> LiveFinding {
    finding.value = Some(measured.value);
    finding.u = Some(measured.u).filter(|u| u.is_finite());
    finding.unit = Some(unit);
    finding
}
