//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// Is it the wiring or not? Measures a low-voltage control run and judges it conductor by conductor.
///
/// Always prove the run dead with a rated meter first: this tool is never the device that proves
/// it.
#[derive(Debug, Parser)]
#[command(version, after_help = crate::exit::HELP)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Measures the run on the jig, end plug in, and judges it
    Check(Check),
    /// Judges a capture that was saved earlier, here or elsewhere
    Judge(Judge),
    /// Lists the simulated runs that `check --simulate` knows
    Scenes,
}

#[derive(Debug, Args)]
pub(crate) struct Check {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    /// Seed of the simulated jig's part tolerances and noise
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "simulate")]
    pub(crate) seed: u64,

    /// Clear a hazard that the jig has latched; only after you have found its source and removed it
    #[arg(long)]
    pub(crate) rearm: bool,

    /// Save all that was measured to this new file, for `judge`
    #[arg(long, value_name = "FILE")]
    pub(crate) save: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) output: Output,
}

#[derive(Debug, Args)]
#[group(multiple = false)]
pub(crate) struct WhichJig {
    /// Use a simulated jig on this run: a name from `scenes`, or a scene file
    #[arg(long, value_name = "SCENE")]
    pub(crate) simulate: Option<String>,

    /// Use the jig on this serial port; without it, the one that is attached
    #[arg(long, value_name = "PATH")]
    pub(crate) port: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Judge {
    /// The capture
    #[arg(value_name = "FILE")]
    pub(crate) capture: PathBuf,

    #[command(flatten)]
    pub(crate) output: Output,
}

#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct Output {
    /// Print the result as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,
}
