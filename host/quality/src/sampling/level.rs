//! Inspection levels and severities.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::NoInspection;

/// How much is tested in proportion to the lot: the general levels, and the special ones for small samples.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Level {
    /// Special, the smallest samples.
    #[serde(rename = "S-1")]
    S1,
    /// Special.
    #[serde(rename = "S-2")]
    S2,
    /// Special.
    #[serde(rename = "S-3")]
    S3,
    /// Special.
    #[serde(rename = "S-4")]
    S4,
    /// General, where less discrimination will do.
    I,
    /// General: the one to be used where nothing else is asked for.
    #[default]
    II,
    /// General, where more discrimination is needed.
    III,
}

impl Level {
    /// All of them, as table I has its columns.
    pub const ALL: [Self; 7] =
        [Self::S1, Self::S2, Self::S3, Self::S4, Self::I, Self::II, Self::III];

    /// As it is written.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        ["S-1", "S-2", "S-3", "S-4", "I", "II", "III"][self as usize]
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// As it is written, in either case.
impl FromStr for Level {
    type Err = NoInspection;

    fn from_str(text: &str) -> Result<Self, NoInspection> {
        Self::ALL
            .into_iter()
            .find(|level| level.as_str().eq_ignore_ascii_case(text))
            .ok_or(NoInspection::NoLevel)
    }
}

/// How severe inspection is at present; the switching rules change it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// While there is no reason to suspect or to trust: where inspection begins.
    #[default]
    Normal,
    /// Fewer nonconforming units are accepted.
    Tightened,
    /// A smaller sample is tested.
    Reduced,
}
