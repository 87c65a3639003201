//! The limit sheet: what a good run must show, each limit with its source.

mod built_in;
mod error;
mod gravity;
mod limit;
mod live;
mod read;
mod text;

pub use built_in::BUILT_IN;
pub use error::SheetError;
pub use gravity::{ExplainsComplaint, Severity};
pub use limit::{Bounds, Leakage, Limit, LimitUnit, Quantity, SiblingDifference};
pub use live::{LiveRanges, SupplyForm};
use runproof_protocol::Post;
use serde::{Deserialize, Serialize};

use crate::map::Map;

/// A longer text is refused. A built-in sheet takes about 2 kB.
pub const BYTES_MAX: usize = 256 << 10;

/// What is expected of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitSheet {
    /// Its name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// What it is for, in a sentence.
    pub about: String,
    /// How the run is made up.
    pub arrangement: Arrangement,
    /// How resistances are held against their limits.
    pub decision_rule: DecisionRule,
    /// The least and the most that contacts add to one conductor; every value between is as likely.
    pub contact_mohm: [f64; 2],
    /// Standard deviation of one cable's conductors from their mean, as a fraction of it.
    pub sibling_spread: f64,
    /// In the order of their posts: four, or the two on posts 1 and 2.
    pub conductors: Vec<ConductorLimits>,
    /// The most that a conductor may have beyond its calculated wire, in ohms.
    pub beyond_wire: Option<Limit>,
    /// The most resistance of two conductors in series, in ohms.
    pub loop_resistance: Option<Limit>,
    /// The most resistance of two conductors in series, in percent of what is calculated.
    pub loop_of_calculated: Option<Limit>,
    /// How much more one conductor may have than another.
    pub sibling_difference: Option<SiblingDifference>,
    /// How well the conductors must be insulated from each other.
    pub leakage: Leakage,
    /// What a metre of one conductor has to all the others, in picofarads.
    pub capacitance: Option<Bounds>,
    /// The longest run, in metres: held against the length that is told.
    pub maximum_length: Option<Limit>,
    /// What a powered run must show.
    pub live: LiveRanges,
}

/// When a resistance is said to be within its limit, or beyond it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DecisionRule {
    /// When it is so by more than its expanded uncertainty; else it cannot be told.
    Guarded,
    /// As it was read, whatever its uncertainty.
    Simple,
}

/// How a run is made up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Arrangement {
    /// Four conductors between a control and its unit.
    FourConductor,
    /// Two, on posts 1 and 2, that may be exchanged: only their loop is measured.
    TwoWire,
    /// Four, in a lead that was made up: held against its wire.
    Lead,
}

/// What is expected of one conductor.
#[derive(Clone, Debug, PartialEq)]
pub struct ConductorLimits {
    /// Which.
    pub name: ConductorName,
    /// The terminal that it belongs on at both ends, numbered as the post that it should be clipped to.
    pub terminal: Post,
    /// The post it is clipped to: the same, unless its clips are known to be on other wires.
    pub post: Post,
    /// The most resistance it may have, in ohms.
    pub resistance: Option<Limit>,
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
    /// The supply.
    #[serde(rename = "supply")]
    Supply,
    /// One of two that may be exchanged.
    #[serde(rename = "wire-1")]
    Wire1,
    /// The other of two that may be exchanged.
    #[serde(rename = "wire-2")]
    Wire2,
}

impl ConductorName {
    /// Those of a run of four.
    pub const FOUR: [Self; 4] = [Self::DataPlus, Self::DataMinus, Self::Common, Self::Supply];
}

impl LimitSheet {
    /// Reads a sheet from TOML.
    pub fn read(text: &str) -> Result<Self, SheetError> {
        read::read(text)
    }

    /// The sheet of this name that comes with the program.
    #[must_use]
    pub fn built_in(name: &str) -> Option<Self> {
        let (_, text) = BUILT_IN.iter().find(|(known, _)| *known == name)?;
        Some(Self::read(text).expect("built-in sheets are read by a test"))
    }

    /// The sheet that is used where none is named: a data pair beside a 24 VAC supply.
    #[must_use]
    pub fn service_24vac() -> Self {
        Self::built_in("service-24vac").expect("a test reads all built-in sheets by their names")
    }

    /// The sheet that reels are held to where none is named.
    #[must_use]
    pub fn reel() -> Self {
        Self::built_in("reel").expect("a test reads all built-in sheets by their names")
    }

    /// As the clips really are: by terminal, the post that its wire is on.
    pub(crate) fn clipped(&self, on: &Map) -> Self {
        let mut sheet = self.clone();
        for conductor in &mut sheet.conductors {
            conductor.post = on.reaches(conductor.terminal);
        }
        sheet
    }

    /// The post that holds the conductor of this name.
    #[must_use]
    pub fn post_of(&self, name: ConductorName) -> Option<Post> {
        self.conductors.iter().find(|conductor| conductor.name == name).map(|found| found.post)
    }
}
