//! One conductor of a live run, against common.

use runproof_protocol::Post;
use serde::Serialize;

use super::{LiveLimit, LiveReason, Measured};
use crate::judgement::{Verdict, post_number};
use crate::limits::ConductorName;

/// One conductor against common; of two wires, the first against the second.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LiveConductor {
    /// Which, by the limit sheet.
    pub name: ConductorName,
    /// The post it is clipped to.
    #[serde(serialize_with = "post_number::one")]
    pub post: Post,
    /// The post that it is told against; absent for that one itself.
    #[serde(serialize_with = "post_number::maybe")]
    pub against: Option<Post>,
    /// Its mean.
    pub direct_v: Option<Measured>,
    /// What alternates with the mains, rms: on a data line, what couples in.
    pub alternating_rms_v: Option<Measured>,
    /// Its mean, with 47 kΩ across.
    pub loaded_direct_v: Option<Measured>,
    /// What alternates, rms, with 47 kΩ across.
    pub loaded_alternating_rms_v: Option<Measured>,
    /// What alternates collapses under the load: it couples in; absent where nothing alternates or it is not known.
    pub couples_in: Option<bool>,
    /// The ranges it is held to: of the mean first, then of what alternates.
    pub limits: Vec<LiveLimit>,
    /// Its mean alone; absent where the supply or the pair decides.
    pub direct: Option<LiveHeld>,
    /// What alternates on it alone; likewise.
    pub alternating: Option<LiveHeld>,
    /// Of this conductor, all together.
    pub verdict: Verdict,
    /// Why.
    pub reason: LiveReason,
}

/// How one number stands to its range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct LiveHeld {
    /// Of this number.
    pub verdict: Verdict,
    /// Why.
    pub reason: LiveReason,
}
