//! What `check` takes.

use std::time::Duration;

use clap::{Args, ValueEnum};
use runproof_interpret::capture::Drain;

use super::{About, Against, Keep, Output, WhichJig, WhichPlug, WhichZero, duration};

#[derive(Debug, Args)]
pub(crate) struct Check {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    /// Clear a hazard that the jig has latched; only after you have found its source and removed it
    #[arg(long)]
    pub(crate) rearm: bool,

    /// Measure both phases at once, first open, then with the end plug in, without waiting for the
    /// run to be ready: for a simulated run, or to see one phase; nobody can put the plug in between
    #[arg(long, short, conflicts_with = "wait")]
    pub(crate) yes: bool,

    /// Judge what the jig measured by itself, when its key was pressed with no computer attached, instead of
    /// measuring now
    #[arg(long, conflicts_with_all = ["yes", "wait", "touch", "to_earth", "rearm"])]
    pub(crate) kept: bool,

    /// How long to wait until the run is ready for a phase before it is measured all the same, and for
    /// wires to be held together:
    /// 30s, 10min. 10min unless given; of a simulated jig's own time 20s
    #[arg(long, value_name = "DURATION", value_parser = duration::read)]
    pub(crate) wait: Option<Duration>,

    /// For how long to look, once the result is printed, whether the end plug's key is turned over, to blink the
    /// verdict there: one long light pass, three fail, two short cannot tell; over and over, until the key is out.
    /// 60s at a terminal unless given, of a simulated run 20s of its own time where its scene turns the key; 0s
    /// not at all
    #[arg(long, value_name = "DURATION", value_parser = duration::read, conflicts_with = "to_earth")]
    pub(crate) far_lights: Option<Duration>,

    /// When to ask for wires to be held together, which tells clips that are on other wires from an
    /// exchange in the run; with --yes, or without a terminal, nothing is asked for unless this says so
    #[arg(long, value_enum, value_name = "WHEN")]
    pub(crate) touch: Option<AskForTouch>,

    /// Test to metal instead, with all cores held together on post 1 and bare chassis, conduit or equipment
    /// earth on post 2: does a core leak or touch there? Both ends lifted, end plug out; not conductor by
    /// conductor
    #[arg(long)]
    pub(crate) to_earth: bool,

    /// With --to-earth: the cable has a shield, its drain wire is lifted here and on post 3. What it was on
    /// here before says whether the shield is bonded at one end or both
    #[arg(long, value_enum, value_name = "WAS", requires = "to_earth")]
    pub(crate) shield: Option<DrainWas>,

    #[command(flatten)]
    pub(crate) plug: WhichPlug,

    #[command(flatten)]
    pub(crate) zero: WhichZero,

    #[command(flatten)]
    pub(crate) against: Against,

    #[command(flatten)]
    pub(crate) keep: Keep,

    #[command(flatten)]
    pub(crate) output: Output,

    #[command(flatten)]
    pub(crate) about: About,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum AskForTouch {
    /// Where conductors arrive at other terminals than their own, or colours say so
    IfCrossed,
    /// Of every run: two errors may undo each other
    Always,
    /// Not at all
    Never,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DrainWas {
    /// On earth or chassis here
    Landed,
    /// On nothing here
    Free,
    /// Nobody saw
    Unsure,
}

impl From<DrainWas> for Drain {
    fn from(was: DrainWas) -> Self {
        match was {
            DrainWas::Landed => Self::Landed,
            DrainWas::Free => Self::Free,
            DrainWas::Unsure => Self::Unsure,
        }
    }
}
