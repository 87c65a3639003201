//! Why leads cannot be tested one after the other.

use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum LeadError {
    #[error("what a lead may have cannot be told without {missing}")]
    NoWire { missing: &'static str },
    #[error(
        "a lead of {metres:.2} m cannot be told from an empty socket: it adds {picofarads:.0} pF at least, and {needed:.0} pF are needed"
    )]
    TooShort { metres: f64, picofarads: f64, needed: f64 },
    #[error("the limit sheet {sheet} says nothing of what hangs on a metre of a lead")]
    NoCapacitance { sheet: String },
    #[error(
        "the units of the lot `{name}` are judged by the limit sheet {sheet}, which is not of made-up leads"
    )]
    NotOfLeads { name: String, sheet: String },
    #[error("all {units} units of the lot `{name}` have been tested")]
    LotIsFull { name: String, units: u32 },
    #[error("there is no simulated session `{name}`")]
    NoSession { name: String },
    #[error("no lead was tested that could be taken back")]
    NothingToUndo,
    #[error("the jig broke off: {why}")]
    BrokenOff { why: String },
    #[error("the ring at the leads' far ends is seen where the jig has switched it out")]
    RingStays,
    #[error("a post is held with nothing in the sockets: the empty fixture cannot be measured")]
    NeverEmpty,
    #[error("{times} leads in a row were not shown to be in socket A")]
    NeverThere { times: u32 },
}

impl LeadError {
    pub(crate) fn next_step(&self) -> &'static str {
        match self {
            Self::NoWire { .. } => "say both, such as --gauge 18awg --length 5.5ft",
            Self::TooShort { .. } => "test it with `runproof check --sheet made-up-lead`",
            Self::NoCapacitance { .. } => "add its `[capacitance]`, as made-up-lead has it",
            Self::NotOfLeads { .. } => {
                "open a lot with `runproof lot open … --every-unit --sheet made-up-lead`"
            }
            Self::LotIsFull { .. } => "`runproof lot show` with its name says how it stands",
            Self::NoSession { .. } => "there is one: `--simulate leads`",
            Self::NothingToUndo => "list what is kept with `runproof records`",
            Self::BrokenOff { .. } => {
                "take out what is in the sockets, find why, and begin again: all leads that were \
                 counted are kept"
            }
            Self::NeverThere { .. } => {
                "are they shorter than --length says, or not seated? measure one by hand, and begin again: the leads \
                 that were counted are kept"
            }
            Self::RingStays => {
                "is the ring behind the fixture's relays, and are they on this jig's pin? see firmware/jig/fixture.md; \
                 without such a fixture: `runproof check --sheet made-up-lead`, lead by lead"
            }
            Self::NeverEmpty => {
                "take out whatever is in them, dry and clean the sockets, and begin again"
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NoWire { .. } | Self::TooShort { .. } | Self::NotOfLeads { .. } => Exit::Usage,
            Self::NoCapacitance { .. }
            | Self::LotIsFull { .. }
            | Self::NoSession { .. }
            | Self::NothingToUndo => Exit::BadFile,
            Self::BrokenOff { .. }
            | Self::RingStays
            | Self::NeverEmpty
            | Self::NeverThere { .. } => Exit::CannotTell,
        }
    }
}
