//! A record: one test, whole.

use std::str::FromStr;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use runproof_interpret::judgement::Verdict;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use uuid::Uuid;

use crate::Detail;

/// One test: what was measured, what was told, what followed from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// The same in every store: a UUIDv7.
    pub id: Uuid,
    /// What kind of test it was.
    pub kind: Kind,
    /// When it was measured; absent where that was not kept.
    pub taken: Option<Timestamp>,
    /// The time zone of the computer that saved it: an IANA name, or `±hh:mm`.
    pub zone: String,
    /// Of the run as a whole; a zero has none.
    pub verdict: Option<Verdict>,
    /// The verdict's reason, as it was said then.
    pub said: String,
    /// The kinds of what was found, the gravest first; words without spaces.
    pub found: Vec<String>,
    /// No real jig measured it.
    pub simulated: bool,
    /// The jig's serial; may be empty.
    pub jig: String,
    /// The jig's board; may be empty.
    pub board: String,
    /// The jig's firmware; may be empty.
    pub firmware: String,
    /// The program that judged.
    pub program: String,
    /// The limit sheet as it was used; a zero is held to none.
    pub sheet: Option<Sheet>,
    /// What was told of the run: a JSON value, as text.
    pub told: String,
    /// What followed from it, as it was printed for programs: a JSON value, as text.
    pub result: String,
    /// All that was measured, as text.
    pub capture: String,
    /// What was said about it, in the order it was said.
    pub details: Vec<Detail>,
}

/// A limit sheet as it was used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sheet {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// The sheet itself, TOML.
    pub text: String,
}

/// What kind of test a record is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A run from end to end, power off.
    Check,
    /// A run against bare metal, power off.
    ToEarth,
    /// A run that may be powered.
    Live,
    /// A reel of cable, both ends on the bench.
    Reel,
    /// The jig's own end plug, no run between.
    Zero,
    /// A known piece, by which the jig is proved.
    Proof,
    /// A lot of units, as it was declared; it has no capture, its units' tests are records of their own.
    Lot,
    /// A run that was watched while it was flexed.
    Flex,
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Check,
        Self::ToEarth,
        Self::Live,
        Self::Reel,
        Self::Zero,
        Self::Proof,
        Self::Lot,
        Self::Flex,
    ];

    /// A run was measured, and judged.
    #[must_use]
    pub fn is_of_a_run(self) -> bool {
        matches!(self, Self::Check | Self::ToEarth | Self::Live | Self::Reel | Self::Flex)
    }

    /// As it is stored.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Check => "check",
            Self::ToEarth => "to-earth",
            Self::Live => "live",
            Self::Reel => "reel",
            Self::Zero => "zero",
            Self::Proof => "proof",
            Self::Lot => "lot",
            Self::Flex => "flex",
        }
    }
}

impl FromStr for Kind {
    type Err = ();

    fn from_str(text: &str) -> Result<Self, ()> {
        Self::ALL.into_iter().find(|kind| kind.name() == text).ok_or(())
    }
}

/// A verdict as it is stored.
#[must_use]
pub fn verdict_name(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "pass",
        Verdict::Fail => "fail",
        Verdict::CannotTell => "cannot-tell",
    }
}

/// The verdict that is stored by this name.
#[must_use]
pub fn verdict_of(name: &str) -> Option<Verdict> {
    let all = [Verdict::Pass, Verdict::Fail, Verdict::CannotTell];
    all.into_iter().find(|verdict| verdict_name(*verdict) == name)
}

impl Record {
    /// A new record's id: later ones are larger.
    #[must_use]
    pub fn new_id() -> Uuid {
        Uuid::now_v7()
    }

    /// This computer's time zone, as records have it.
    #[must_use]
    pub fn zone_here() -> String {
        let zone = TimeZone::system();
        let offset = || jiff::tz::Offset::to_string(&zone.to_offset(Timestamp::now()));
        zone.iana_name().map_or_else(offset, str::to_owned)
    }

    /// The SHA-256 of its capture, hexadecimal.
    #[must_use]
    pub fn capture_sha256(&self) -> String {
        sha256(&self.capture)
    }
}

/// Of a text, hexadecimal.
#[must_use]
pub fn sha256(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}
