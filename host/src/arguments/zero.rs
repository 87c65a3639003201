//! What `zero` takes.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::{About, WhichJig, WhichPlug, duration};

#[derive(Debug, Args)]
pub(crate) struct Zero {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    #[command(flatten)]
    pub(crate) plug: WhichPlug,

    /// Measure at once, without waiting for the end plug to be seen
    #[arg(long, short, conflicts_with = "wait")]
    pub(crate) yes: bool,

    /// How long to wait for the end plug: 30s, 10min. 10min unless given; of a simulated jig's own time 20s
    #[arg(long, value_name = "DURATION", value_parser = duration::read)]
    pub(crate) wait: Option<Duration>,

    /// Save the zero to this new file, for `check --zero`, instead of where `check` finds it by itself
    #[arg(long, value_name = "FILE")]
    pub(crate) save: Option<PathBuf>,

    /// Keep no record of this
    #[arg(long)]
    pub(crate) no_record: bool,

    #[command(flatten)]
    pub(crate) about: About,
}
