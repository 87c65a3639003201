//! What a sync did.

use runproof_records::Record;
use runproof_records::uuid::Uuid;

/// Says of a record that came whether what it says follows from its capture; asked of several at once.
pub type Follows<'a> = dyn Fn(&Record) -> bool + Sync + 'a;

/// What was copied until now, and what could not be.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Synced {
    /// Records that the database lacked.
    pub sent: u64,
    /// Records that this store lacked.
    pub received: u64,
    /// What was said about records that were on both sides, and was only here.
    pub details_sent: u64,
    /// The same, and was only there.
    pub details_received: u64,
    /// What stays on one side.
    pub refused: Vec<Refused>,
}

/// Something that was not copied.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Which record.
    pub record: Uuid,
    /// Which of the things that were said about it; none: the record itself.
    pub detail: Option<Uuid>,
    /// Why.
    pub why: Refusal,
}

/// Why something was not copied.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Refusal {
    /// Both sides have it, and not the same.
    Unlike,
    /// What came is not what was once sent: its digest is another one.
    Changed,
    /// It says otherwise than what follows from its own capture.
    SaysOtherwise,
    /// A later version of the program wrote it; the word that this one does not know.
    Later(String),
    /// The database keeps no text with a zero byte in it.
    ZeroByte,
    /// The database did not take it; what it said.
    NotTaken(String),
}
