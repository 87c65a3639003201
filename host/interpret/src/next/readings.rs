//! What captures tell that a fact can be measured by.

use serde::{Deserialize, Serialize};

/// What kind of capture gives a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Source {
    /// A check of the dead run.
    Check,
    /// A check of the dead run to metal.
    ToEarth,
    /// A live look at the unit's end.
    LiveAdapter,
    /// A live look at the wall plate.
    LivePlate,
}

/// What a reading says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// One of its words.
    Word(&'static str),
    /// A number, and half of the interval that holds it with 95 %.
    Number {
        /// The number.
        value: f64,
        /// Half of the interval.
        u: f64,
    },
}

/// All that a capture tells: a name each, and what it says where that can be told.
pub type Readings = Vec<(&'static str, Option<Reading>)>;

/// What a reading can be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Can {
    Words(&'static [&'static str]),
    Volts,
}

const YES_NO: Can = Can::Words(&["yes", "no"]);
const VERDICT: Can = Can::Words(&["pass", "fail", "cannot-tell"]);
const FOUND: Can = Can::Words(&[
    "reversed-pair",
    "crossed",
    "open",
    "short",
    "leakage",
    "resistance",
    "other",
    "nothing",
]);
const CHECK: [(&str, Can); 3] = [("verdict", VERDICT), ("found", FOUND), ("hazard", YES_NO)];
const TO_EARTH: [(&str, Can); 1] = [("verdict", VERDICT)];
const SUPPLY_KIND: Can = Can::Words(&["ac", "dc", "other"]);
const FAULT: Can =
    Can::Words(&["common-missing", "floats", "gives-way", "beyond-receiver", "other", "nothing"]);
const LIVE: [(&str, Can); 8] = [
    ("hazard", YES_NO),
    ("second-source", YES_NO),
    ("foreign", YES_NO),
    ("fault", FAULT),
    ("supply-v", Can::Volts),
    ("supply-kind", SUPPLY_KIND),
    ("pair-v", Can::Volts),
    ("traffic", YES_NO),
];

impl Source {
    /// Every one.
    pub const ALL: [Self; 4] = [Self::Check, Self::ToEarth, Self::LiveAdapter, Self::LivePlate];

    /// What it is called in a file of steps.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Check => "check",
            Self::ToEarth => "to-earth",
            Self::LiveAdapter => "live-adapter",
            Self::LivePlate => "live-plate",
        }
    }

    fn readings(self) -> &'static [(&'static str, Can)] {
        match self {
            Self::Check => &CHECK,
            Self::ToEarth => &TO_EARTH,
            Self::LiveAdapter | Self::LivePlate => &LIVE,
        }
    }

    /// What "live-plate.supply-v" stands for.
    pub(super) fn reading(text: &str) -> Option<(Self, &'static str, Can)> {
        let (source, name) = text.split_once('.')?;
        let source = Self::ALL.into_iter().find(|one| one.name() == source)?;
        let (name, can) = source.readings().iter().find(|(known, _)| *known == name)?;
        Some((source, name, *can))
    }

    /// Everything that can be measured, as it is written in a file of steps.
    pub(super) fn all_readings() -> Vec<String> {
        let each = Self::ALL.into_iter().flat_map(|source| {
            source.readings().iter().map(move |(name, _)| format!("{}.{name}", source.name()))
        });
        each.collect()
    }
}
