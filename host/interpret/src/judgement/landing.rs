//! How the run was landed, as far as colours and readings tell.

use serde::{Deserialize, Serialize};

/// What the colours at both ends and the readings say together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Landing {
    /// The colours of both ends were not told.
    NotTold,
    /// They were, but where the conductors arrive is not known.
    NotMeasured,
    /// The two ends have not the same colours.
    OtherColours,
    /// Like colours are on like terminals, and the conductors arrive there.
    LikeOnLike,
    /// Colours are on unlike terminals, and the conductors arrive where they should all the same.
    WorksAsLanded,
    /// Conductors are crossed as their colours are: landed on unlike terminals.
    UnlikeTerminals,
    /// Conductors are crossed though like colours are on like terminals.
    CoresChange,
    /// Conductors are crossed, and their colours in another way.
    CoresChangeAndUnlikeTerminals,
}
