//! The command line.

mod about;
mod against;
mod audit;
mod check;
mod duration;
mod flex;
mod jig;
mod label;
mod lead;
mod live;
mod lot;
mod mass;
mod next;
mod prove;
mod read_aloud;
mod records;
mod reel;
mod report;
mod studies;
mod sync;
mod zero;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

pub(crate) use self::about::{About, Whose};
pub(crate) use self::against::Against;
pub(crate) use self::audit::Audit;
pub(crate) use self::check::{AskForTouch, Check};
pub(crate) use self::flex::Flex;
pub(crate) use self::jig::Jig;
pub(crate) use self::label::Label;
pub(crate) use self::lead::Lead;
pub(crate) use self::live::{Control, Live};
pub(crate) use self::lot::{Close, LookedAt, Lot, LotCommand, Open, ShowLot};
pub(crate) use self::next::{Given, Next};
pub(crate) use self::prove::{Proofs, Prove};
pub(crate) use self::read_aloud::{Code, Decode};
pub(crate) use self::records::{Add, Export, Format, Import, Records, RecordsCommand, Show, Void};
pub(crate) use self::reel::Reel;
pub(crate) use self::report::Report;
pub(crate) use self::studies::{Capability, Repeatability};
pub(crate) use self::sync::Sync;
pub(crate) use self::zero::Zero;

/// Is it the wiring or not? Measures a low-voltage control run and judges it conductor by conductor.
///
/// Always prove the run dead with a rated meter first: this tool is never the device that proves
/// it.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 80, after_help = crate::exit::HELP)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Measures the run on the jig, first open, then with the end plug in, and judges it
    Check(Box<Check>),
    /// Reads a run that may be powered: supply, data pair, hum. Drives nothing
    Live(Box<Live>),
    /// Watches a run while it is flexed, tugged and tapped: what breaks or touches, for how long, and when
    Flex(Box<Flex>),
    /// Reads the end plug through the jig's own clips, so that later numbers are held against it
    Zero(Box<Zero>),
    /// Tests a reel of cable on the bench: whole, of the declared gauge, of copper, how long; or shows how its
    /// length went
    Reel(Box<Reel>),
    /// Shows who a jig is and what it keeps, and stores there what belongs to it
    Jig(Jig),
    /// Judges a capture that was saved earlier, here or elsewhere, or a whole folder of them
    Judge(Judge),
    /// Says where the uncertainty of each number in a capture comes from, how it was judged, and what
    /// wires that were held together showed
    Explain(Explain),
    /// Writes a page to print, to send or to keep: of one result, of several, or of a run before and after
    Report(Box<Report>),
    /// Draws a label for a lead, a reel or a run that was tested: verdict, name, day, a code for a camera
    Label(Box<Label>),
    /// Gives a capture's result as a code that can be said over the phone
    Code(Code),
    /// Restores a result from a code that was said
    Decode(Decode),
    /// Lists the records that were kept of each test; shows one, adds to it, takes them out and in
    Records(Box<Records>),
    /// Copies records both ways between this computer and a PostgreSQL database: whatever either side lacks
    Sync(Sync),
    /// Proves the jig: measures the known pieces that are kept with it
    Prove(Box<Prove>),
    /// Says how jigs were proved so far, with their charts, and what is in doubt if one is out
    Proofs(Proofs),
    /// Tells an auditor all that is on record of a jig: zeros, proofs, what it judged, rejections, versions, limit sheets
    Audit(Audit),
    /// Tests made-up leads one after the other in a fixture, or several, or by clips: only plug in and out
    Lead(Box<Lead>),
    /// Accepts or rejects a lot of units by a sample, or unit by unit
    Lot(Lot),
    /// Tells what the process that a lot's units come from can do: Cpk, and where most units lie
    Capability(Capability),
    /// Tells how much of what is read is the jig and who uses it: a gauge study by analysis of variance
    Repeatability(Repeatability),
    /// Lists the limit sheets, shows one, or checks one of your own
    Limits(Limits),
    /// Gives the support desk's next step, from what was measured, told and answered so far
    Next(Box<Next>),
    /// Lists the simulated runs that `check --simulate` knows
    Scenes,
}

#[derive(Clone, Debug, Args)]
pub(crate) struct WhichJig {
    /// Use a simulated jig on this run: a name from `scenes`, or a scene file
    #[arg(long, value_name = "SCENE", conflicts_with = "port")]
    pub(crate) simulate: Option<String>,

    /// Use the jig on this serial port; without it, the one that is attached
    #[arg(long, value_name = "PATH")]
    pub(crate) port: Option<String>,

    /// Seed of the simulated jig's part tolerances and noise
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "simulate")]
    pub(crate) seed: u64,
}

#[derive(Clone, Debug, Args)]
pub(crate) struct WhichPlug {
    /// What is written on the end plug, if the jig has several: a zero is of one plug
    #[arg(
        id = "plug",
        long = "plug",
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true
    )]
    pub(crate) name: String,
}

#[derive(Clone, Debug, Args)]
pub(crate) struct WhichZero {
    /// The jig's zero: a file that `zero --save` wrote, or `none`; unless told, the newest one that was
    /// taken of this jig and plug on this computer
    #[arg(id = "zero", long = "zero", value_name = "FILE|none")]
    pub(crate) file: Option<PathBuf>,
}

/// What becomes of what was measured.
#[derive(Clone, Debug, Args)]
pub(crate) struct Keep {
    /// Save all that was measured to this new file, for `judge`
    #[arg(long, value_name = "FILE")]
    pub(crate) save: Option<PathBuf>,

    /// Keep no record of this
    #[arg(long)]
    pub(crate) no_record: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Judge {
    /// The capture; of a folder every file in it, a line each, and nothing can be told that is true of
    /// one run only: colours, --other-end, --lifted, --cannot-lift
    #[arg(value_name = "FILE|FOLDER")]
    pub(crate) capture: PathBuf,

    #[command(flatten)]
    pub(crate) against: Against,

    #[command(flatten)]
    pub(crate) control: Control,

    #[command(flatten)]
    pub(crate) output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct Explain {
    /// The capture
    #[arg(value_name = "FILE")]
    pub(crate) capture: PathBuf,

    #[command(flatten)]
    pub(crate) against: Against,
}

#[derive(Debug, Args)]
pub(crate) struct Limits {
    /// Show this sheet: a name from the list, or a file of your own
    #[arg(value_name = "NAME|FILE")]
    pub(crate) sheet: Option<String>,

    /// Check this one: can it be used, and if not, where and why
    #[arg(long, value_name = "NAME|FILE", conflicts_with = "sheet")]
    pub(crate) check: Option<String>,

    #[command(flatten)]
    pub(crate) in_units: InUnits,
}

#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct Output {
    /// Print the result as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,

    #[command(flatten)]
    pub(crate) in_units: InUnits,
}

#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct InUnits {
    /// Say lengths in feet and temperatures in °F, or in metres and °C
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub(crate) units: Units,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    Us,
    Metric,
}
