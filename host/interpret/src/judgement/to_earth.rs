//! What a test to earth came to.

use runproof_protocol::Post;
use serde::{Deserialize, Serialize};

use super::{Verdict, post_number};
use crate::capture::Drain;

/// What a test to earth came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ToEarth {
    /// From the cores to bare metal.
    pub to_metal: Verdict,
    /// From the cores to the shield; absent where none is on post 3.
    pub to_shield: Option<Verdict>,
    /// How the shield's drain was found here before it was lifted; absent where none is on post 3.
    pub drain: Option<Drain>,
    /// Where the shield is bonded; absent where that cannot be told.
    pub bonded: Option<Bonded>,
    /// The clips of which it was shown, before and after, that they touch what they are on.
    #[serde(serialize_with = "post_number::list")]
    pub contact_shown: Vec<Post>,
    /// The sheet's limit: a path of less fails.
    pub fail_below_ohm: f64,
    /// A path of less is a remark.
    pub note_below_ohm: f64,
}

/// Where a shield is bonded to the metal that post 2 is on: here by what was told, at the far end or on the way
/// by what was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Bonded {
    /// Here, and nowhere else.
    HereOnly,
    /// At the far end or on the way, not here.
    ElsewhereOnly,
    /// Here, and at the far end or on the way.
    Twice,
    /// Nowhere.
    Nowhere,
    /// At the far end or on the way; whether here too was not told.
    Elsewhere,
    /// Not at the far end, nor on the way; whether here was not told.
    NotElsewhere,
}
