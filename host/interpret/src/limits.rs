//! The limit sheet: what a good run must show, each limit with its source.

mod error;
mod read;

pub use error::SheetError;
use runproof_protocol::Post;
use serde::{Deserialize, Serialize};

use crate::judgement::{ExplainsComplaint, Severity};

/// A longer text is refused. The built-in sheet takes about 2 kB.
pub const BYTES_MAX: usize = 256 << 10;

/// What is expected of the four conductors of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitSheet {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// What it is for, in a sentence.
    pub about: String,
    /// The least and the most that contacts add to one conductor; every value between is as likely.
    pub contact_mohm: [f64; 2],
    /// Standard deviation of one cable's conductors from their mean, as a fraction of it.
    pub sibling_spread: f64,
    /// How well the conductors must be insulated from each other.
    pub leakage: Leakage,
    /// In the order of their posts.
    pub conductors: [ConductorLimits; 4],
}

/// How well the conductors must be insulated from each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Leakage {
    /// Below this, in ohms, it is noted.
    pub note_below: Limit,
    /// Below this, in ohms, the run fails; not above the other.
    pub fail_below: Limit,
}

/// One limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// In its unit.
    pub value: f64,
    /// What it means to be beyond it: fail or note.
    pub severity: Severity,
    /// Whether being beyond it would explain why someone was called.
    pub explains_complaint: ExplainsComplaint,
}

/// What is expected of one conductor.
#[derive(Clone, Debug, PartialEq)]
pub struct ConductorLimits {
    /// Which.
    pub name: ConductorName,
    /// The post it is clipped to.
    pub post: Post,
    /// The most resistance it may have.
    pub resistance: ResistanceLimit,
}

/// The most resistance that a conductor may have.
#[derive(Clone, Debug, PartialEq)]
pub struct ResistanceLimit {
    /// So much.
    pub value_ohm: f64,
    /// What it means to be beyond it: fail or note.
    pub severity: Severity,
    /// Whether being beyond it would explain why someone was called.
    pub explains_complaint: ExplainsComplaint,
    /// Where the limit comes from.
    pub source: String,
}

/// The conductors of a control run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum ConductorName {
    /// The data pair's positive conductor.
    #[serde(rename = "data+")]
    DataPlus,
    /// The data pair's negative conductor.
    #[serde(rename = "data-")]
    DataMinus,
    /// The supply's return.
    #[serde(rename = "common")]
    Common,
    /// The 24 V supply.
    #[serde(rename = "supply")]
    Supply,
}

impl LimitSheet {
    /// Reads a sheet from TOML.
    pub fn read(text: &str) -> Result<Self, SheetError> {
        read::read(text)
    }

    /// The built-in sheet: a data pair beside a 24 VAC supply.
    #[must_use]
    pub fn service_24vac() -> Self {
        Self::read(SERVICE_24VAC).expect("the built-in sheet is read by a test")
    }

    /// The post that holds the conductor of this name.
    #[must_use]
    pub fn post_of(&self, name: ConductorName) -> Option<Post> {
        self.conductors.iter().find(|conductor| conductor.name == name).map(|found| found.post)
    }
}

const SERVICE_24VAC: &str = include_str!("sheets/service-24vac.toml");

#[test]
fn the_built_in_sheet_reads() {
    let sheet = LimitSheet::service_24vac();
    assert_eq!(sheet.name, "service-24vac");
    assert_eq!(sheet.conductors.each_ref().map(|conductor| conductor.post), Post::ALL);
    assert_eq!(sheet.post_of(ConductorName::Supply), Some(Post::P4));
    let limits = sheet.conductors.each_ref().map(|conductor| conductor.resistance.value_ohm);
    assert_eq!(limits, [50.0, 50.0, 3.0, 3.0]);
}
