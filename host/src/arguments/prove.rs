//! Arguments of `prove` and `proofs`.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::{About, duration};

#[derive(Debug, Args)]
pub(crate) struct Prove {
    /// The piece that is measured: good, crossed, open; unless told, each of them in turn
    #[arg(value_name = "PIECE")]
    pub(crate) piece: Option<String>,

    /// Use a simulated jig: `pieces` are sound ones, a folder holds a scene file for each piece, such as good.toml
    #[arg(long, value_name = "pieces|FOLDER")]
    pub(crate) simulate: Option<PathBuf>,

    /// Use the jig on this serial port; without it, the one that is attached
    #[arg(long, value_name = "PATH", conflicts_with = "simulate")]
    pub(crate) port: Option<String>,

    /// Seed of the simulated jig's part tolerances and noise
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "simulate")]
    pub(crate) seed: u64,

    /// Pieces of your own, and what is stated of them; unless told, those that firmware/jig/check-pieces.md says how to
    /// make
    #[arg(long, value_name = "FILE")]
    pub(crate) pieces: Option<PathBuf>,

    /// How long to wait until a piece is ready for a phase before it is measured all the same: 30s, 10min. 10min
    /// unless given; of a simulated jig's own time 20s
    #[arg(long, value_name = "DURATION", value_parser = duration::read)]
    pub(crate) wait: Option<Duration>,

    /// Print how the jig stands as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,

    #[command(flatten)]
    pub(crate) about: About,
}

#[derive(Debug, Args)]
pub(crate) struct Proofs {
    /// Of the jig of this serial; unless told, of every jig that was proved
    #[arg(long, value_name = "SERIAL")]
    pub(crate) jig: Option<String>,

    /// The pieces, if they are of your own
    #[arg(long, value_name = "FILE")]
    pub(crate) pieces: Option<PathBuf>,

    /// Print it as JSON instead of words, a line for each jig
    #[arg(long, conflicts_with = "to")]
    pub(crate) json: bool,

    /// Write a page with the charts to this new file; a PDF, where its name ends in .pdf
    #[arg(long, value_name = "FILE", requires = "jig")]
    pub(crate) to: Option<PathBuf>,
}
