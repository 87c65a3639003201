//! Arguments of `lot`.

use std::path::PathBuf;

use clap::{ArgGroup, Args, Subcommand, ValueEnum};
use runproof_quality::lot::{Mark, Ranges};
use runproof_quality::sampling::{Aql, Level, Severity};
use runproof_quality::{Chance, Fraction};
use runproof_records::Kind;

#[derive(Debug, Args)]
pub(crate) struct Lot {
    #[command(subcommand)]
    pub(crate) what: Option<LotCommand>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum LotCommand {
    /// Declares a lot before anything is tested: how many units, how it is decided; draws the units to test
    Open(Box<Open>),
    /// Keeps that units were looked at, each of them, before any is tested: label, print, weight, scrape
    Identity(LookedAt),
    /// Says how a lot stands: accept, reject, hold, or what is left to do
    Show(ShowLot),
    /// Decides a lot for good: the next one of its series is inspected by that
    Close(Close),
}

#[derive(Debug, Args)]
#[command(group = ArgGroup::new("plan").required(true))]
pub(crate) struct Open {
    /// What the lot is called; `--lot` of a test then says the same
    #[arg(value_name = "LOT", value_parser = name)]
    pub(crate) lot: String,

    /// How many units it has; they are numbered from 1
    #[arg(long, value_name = "COUNT")]
    pub(crate) units: u32,

    /// Decide by a sample from the tables of MIL-STD-105E, with this acceptance quality limit, in percent of
    /// units that fail: 0.65, 1.0, 2.5
    #[arg(long, value_name = "PERCENT", group = "plan", value_parser = aql)]
    pub(crate) aql: Option<Aql>,

    /// Reject with the first unit that fails, and test so many that a lot with this much that fails is found, in
    /// percent: 5%
    #[arg(long, value_name = "PERCENT", group = "plan", value_parser = fraction)]
    pub(crate) limit: Option<Fraction>,

    /// Decide by what a sample's conductors have of their resistance limit, by mean and standard deviation: a smaller
    /// sample than by counting, where units are spread normally. A unit with any other fault rejects the lot
    #[arg(long, group = "plan", requires_all = ["good", "bad"])]
    pub(crate) by_resistance: bool,

    /// With --by-resistance: a lot with so much beyond its limit is good, in percent: 1%
    #[arg(long, value_name = "PERCENT", requires = "by_resistance", value_parser = chance)]
    pub(crate) good: Option<Chance>,

    /// With --by-resistance: a lot with so much beyond its limit is bad, in percent: 8%
    #[arg(long, value_name = "PERCENT", requires = "by_resistance", value_parser = chance)]
    pub(crate) bad: Option<Chance>,

    /// With --by-resistance: the chance that a good lot is rejected all the same, in percent; 5% unless told
    #[arg(long, value_name = "PERCENT", conflicts_with_all = ["limit", "aql", "every_unit"], value_parser = chance)]
    pub(crate) producers_risk: Option<Chance>,

    /// Test every unit, and take out those that fail
    #[arg(long, group = "plan")]
    pub(crate) every_unit: bool,

    /// With --aql: the inspection level, S-1 to S-4, I, II, III; II unless told
    #[arg(long, value_name = "LEVEL", conflicts_with_all = ["limit", "by_resistance", "every_unit"])]
    pub(crate) level: Option<Level>,

    /// With --aql: how severely; unless told, what is due by the lots of its series before it
    #[arg(long, value_enum, conflicts_with_all = ["limit", "by_resistance", "every_unit"])]
    pub(crate) severity: Option<WhichSeverity>,

    /// Production is steady, and whoever answers for quality agrees that inspection may be reduced
    #[arg(long, conflicts_with_all = ["limit", "by_resistance", "every_unit"])]
    pub(crate) may_reduce: bool,

    /// The chance that a lot as bad as --limit or --bad is accepted all the same, in percent; 10% unless told
    #[arg(long, value_name = "PERCENT", conflicts_with_all = ["aql", "every_unit"], value_parser = chance)]
    pub(crate) risk: Option<Chance>,

    /// Lots of the same thing from the same source, by a name of yours: "18/4 reels, north mill"
    #[arg(long, value_name = "TEXT", value_parser = name)]
    pub(crate) series: String,

    /// The limit sheet that its units are judged by; a test by another one does not count
    #[arg(long, value_name = "NAME|FILE", default_value = "acceptance-24vac")]
    pub(crate) sheet: String,

    /// The test that counts
    #[arg(long, value_enum, default_value_t = WhichTest::Check)]
    pub(crate) test: WhichTest,

    /// What units are drawn from; unless told, a new one, which is recorded
    #[arg(long, value_name = "NUMBER")]
    pub(crate) seed: Option<u64>,

    /// It was rejected before, and sorted: it does not count in its series
    #[arg(long)]
    pub(crate) again: bool,

    /// Print how it stands as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhichSeverity {
    Normal,
    Tightened,
    Reduced,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhichTest {
    /// `runproof check`, from end to end
    Check,
    /// `runproof reel`, of a pulled reel
    Reel,
}

#[derive(Debug, Args)]
pub(crate) struct LookedAt {
    /// The lot
    #[arg(value_name = "LOT")]
    pub(crate) lot: String,

    /// Which units: 17, 1-400 or 1-12,15
    #[arg(value_name = "UNITS")]
    pub(crate) units: Ranges,

    /// What of them is not as it should be, or not there
    #[arg(long, value_enum, value_name = "MARK", value_delimiter = ',')]
    pub(crate) missed: Vec<WhichMark>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhichMark {
    /// The label says what was ordered
    Label,
    /// So does the print on the jacket
    Print,
    /// It weighs what it should
    Weight,
    /// Scraped bare, a conductor is of one colour through
    Scrape,
}

#[derive(Debug, Args)]
pub(crate) struct ShowLot {
    /// The lot
    #[arg(value_name = "LOT")]
    pub(crate) lot: String,

    /// Print it as JSON instead of words
    #[arg(long, conflicts_with = "to")]
    pub(crate) json: bool,

    /// Write a page to print, to send or to keep, to this new file; a PDF, where its name ends in .pdf
    #[arg(long, value_name = "FILE")]
    pub(crate) to: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Close {
    /// The lot
    #[arg(value_name = "LOT")]
    pub(crate) lot: String,

    /// What is done with it: "put into stock", "sent back"
    #[arg(long, value_name = "TEXT", value_parser = name)]
    pub(crate) disposition: String,
}

impl From<WhichSeverity> for Severity {
    fn from(which: WhichSeverity) -> Self {
        match which {
            WhichSeverity::Normal => Self::Normal,
            WhichSeverity::Tightened => Self::Tightened,
            WhichSeverity::Reduced => Self::Reduced,
        }
    }
}

impl From<WhichTest> for Kind {
    fn from(which: WhichTest) -> Self {
        match which {
            WhichTest::Check => Self::Check,
            WhichTest::Reel => Self::Reel,
        }
    }
}

impl From<WhichMark> for Mark {
    fn from(which: WhichMark) -> Self {
        match which {
            WhichMark::Label => Self::Label,
            WhichMark::Print => Self::Print,
            WhichMark::Weight => Self::Weight,
            WhichMark::Scrape => Self::Scrape,
        }
    }
}

const LETTERS_MAX: usize = 200;

fn name(text: &str) -> Result<String, String> {
    let text = text.trim();
    if text.starts_with('-') {
        return Err("it begins with a dash, like an option".into());
    }
    match text.chars().count() {
        0 => Err("it is empty".into()),
        1..=LETTERS_MAX => Ok(text.to_owned()),
        _ => Err(format!("{LETTERS_MAX} letters at most")),
    }
}

fn percent(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let number = text.strip_suffix('%').unwrap_or(text).trim_end();
    let not = || "it is a number of percent, such as 2.5 or 2.5%".to_owned();
    number.parse::<f64>().ok().filter(|percent| percent.is_finite()).ok_or_else(not)
}

fn aql(text: &str) -> Result<Aql, String> {
    Aql::from_percent(percent(text)?).map_err(|error| error.to_string())
}

/// Whoever writes 0.05 may mean 5 % or a twentieth of a percent.
fn sure_percent(text: &str) -> Result<f64, String> {
    let percent = percent(text)?;
    if percent.abs() < 1.0 && !text.trim().ends_with('%') {
        return Err(format!("write {percent}% or {}%, whichever it is", percent * 100.0));
    }
    Ok(percent)
}

fn fraction(text: &str) -> Result<Fraction, String> {
    Fraction::new(sure_percent(text)? / 100.0).map_err(|_| "it is above 0 and at most 100 %".into())
}

pub(super) fn chance(text: &str) -> Result<Chance, String> {
    Chance::new(sure_percent(text)? / 100.0).map_err(|_| "it is between 0 and 100 %".into())
}
