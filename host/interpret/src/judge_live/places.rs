//! Which posts hold what a live run is judged by, by the sheet.

use runproof_protocol::Post;

use crate::limits::{ConductorName, LimitSheet};

/// Data+ and data−; of two wires, the one and the other.
pub(super) fn pair(sheet: &LimitSheet) -> Option<(Post, Post)> {
    let both = |a, b| Some((sheet.post_of(a)?, sheet.post_of(b)?));
    both(ConductorName::DataPlus, ConductorName::DataMinus)
        .or_else(|| both(ConductorName::Wire1, ConductorName::Wire2))
}

/// Supply and common, where the sheet has both.
pub(super) fn supply(sheet: &LimitSheet) -> Option<(Post, Post)> {
    Some((sheet.post_of(ConductorName::Supply)?, sheet.post_of(ConductorName::Common)?))
}

/// The conductor that the others are told against.
pub(super) fn against(sheet: &LimitSheet) -> Option<Post> {
    sheet.post_of(ConductorName::Common).or_else(|| sheet.post_of(ConductorName::Wire2))
}

/// Whether two differences have a post in common.
pub(super) fn share_one(one: (Post, Post), other: (Post, Post)) -> bool {
    [one.0, one.1].iter().any(|post| *post == other.0 || *post == other.1)
}
