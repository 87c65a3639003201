//! The command line.

mod about;
mod audit;
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

use std::path::PathBuf;
use std::time::Duration;

use clap::{Args, Parser, Subcommand, ValueEnum};
use runproof_interpret::RunKnowledge;
use runproof_interpret::capture::{Drain, End};
use runproof_interpret::copper::{CelsiusRange, Gauge, Length};
use runproof_interpret::landing::{Colours, Landed};

pub(crate) use self::about::{About, Whose};
pub(crate) use self::audit::Audit;
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

    /// What is written on the end plug, if the jig has several: a zero is of one plug
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub(crate) plug: String,

    /// The jig's zero: a file that `zero --save` wrote, or `none`; unless told, the newest one that was
    /// taken of this jig and plug on this computer
    #[arg(long, value_name = "FILE|none")]
    pub(crate) zero: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) against: Against,

    #[command(flatten)]
    pub(crate) keep: Keep,

    #[command(flatten)]
    pub(crate) output: Output,

    #[command(flatten)]
    pub(crate) about: About,
}

#[derive(Debug, Args)]
pub(crate) struct Zero {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    /// What is written on the end plug, if the jig has several
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub(crate) plug: String,

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

/// What the run is held against.
#[derive(Debug, Args)]
pub(crate) struct Against {
    /// Limit sheet: a name from `limits`, or a file of your own; service-24vac unless told, or the lot's with --lot
    #[arg(long, value_name = "NAME|FILE")]
    pub(crate) sheet: Option<String>,

    /// Size of the conductors, such as 18awg, 18awg-stranded or 0.75mm2-solid; cable with cores of 14awg
    /// or thicker may carry mains, and the jig is not for it
    #[arg(long, value_name = "SIZE")]
    pub(crate) gauge: Option<Gauge>,

    /// Length of the run, such as 100ft or 30m
    #[arg(long, value_name = "LENGTH")]
    pub(crate) length: Option<Length>,

    /// How warm the cable is, such as 20C, 60..70C or 140..160F; unless told, −20 to 70 °C
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true)]
    pub(crate) cable_temp: Option<CelsiusRange>,

    /// Which colour was on which terminal here, such as
    /// data+=white,data-=green,common=brown,supply=red; no colour stands for anything
    #[arg(long, value_name = "COLOURS")]
    pub(crate) near_colours: Option<Colours>,

    /// The same at the far end
    #[arg(long, value_name = "COLOURS")]
    pub(crate) far_colours: Option<Colours>,

    /// A capture of the same run with the jig at its other end: places a broken conductor by both its
    /// pieces
    #[arg(long, value_name = "FILE")]
    pub(crate) other_end: Option<PathBuf>,

    /// You have seen that both ends are lifted: what joins two conductors is a fault, not a device
    #[arg(long, conflicts_with = "cannot_lift")]
    pub(crate) lifted: bool,

    /// This end cannot be lifted: what hangs there may hide a fault or look like one, so that the run
    /// cannot pass, and only what it cannot feign is said to fail
    #[arg(long, value_enum, value_name = "END")]
    pub(crate) cannot_lift: Option<WhichEnd>,
}

impl Against {
    /// The limit sheet that a run is held against unless another one is told.
    pub(crate) const USUAL_SHEET: &str = "service-24vac";

    /// The limit sheet's name or file.
    pub(crate) fn sheet(&self) -> &str {
        self.sheet.as_deref().unwrap_or(Self::USUAL_SHEET)
    }

    /// What was told that can be true of one run only.
    pub(crate) fn of_one_run(&self) -> Vec<&'static str> {
        let told = [
            (self.near_colours.is_some(), "--near-colours"),
            (self.far_colours.is_some(), "--far-colours"),
            (self.other_end.is_some(), "--other-end"),
            (self.lifted, "--lifted"),
            (self.cannot_lift.is_some(), "--cannot-lift"),
        ];
        told.into_iter().filter_map(|(is_told, option)| is_told.then_some(option)).collect()
    }

    /// What was told of wires by their terminals.
    pub(crate) fn by_terminal(&self) -> Option<&'static str> {
        let near = self.near_colours.as_ref().map(|_| "--near-colours");
        near.or(self.far_colours.as_ref().map(|_| "--far-colours"))
    }

    /// All of it that is not in a file.
    pub(crate) fn told(&self) -> RunKnowledge {
        RunKnowledge {
            gauge: self.gauge,
            length: self.length,
            temperature: self.cable_temp.unwrap_or_default(),
            lifted: self.lifted,
            cannot_lift: self.cannot_lift.map(|end| match end {
                WhichEnd::Near => End::Near,
                WhichEnd::Far => End::Far,
            }),
            landed: Landed { near: self.near_colours.clone(), far: self.far_colours.clone() },
            other_end: None,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhichEnd {
    /// Where the jig is
    Near,
    /// Where the end plug goes
    Far,
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
