//! What `records` takes.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use runproof_interpret::judgement::Verdict;
use runproof_records::{Filter, Kind, jiff};

use super::Output;
use super::about::About;

#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true)]
pub(crate) struct Records {
    #[command(subcommand)]
    pub(crate) what: Option<RecordsCommand>,

    #[command(flatten)]
    pub(crate) which: Which,

    /// At most so many, the newest
    #[arg(long, value_name = "NUMBER", default_value_t = 20)]
    pub(crate) limit: u32,
}

#[derive(Debug, Subcommand)]
pub(crate) enum RecordsCommand {
    /// Shows one: its result, judged again from what was measured, and all that was said about it
    Show(Show),
    /// Adds what is said about a record; nothing that was said before is lost
    Add(Add),
    /// Marks a record as void, with the reason; it stays where it is
    Void(Void),
    /// Writes records for other programs: a row each as CSV, or whole as JSON Lines, which `import` reads
    Export(Export),
    /// Takes captures, or records that another computer exported, into the store
    Import(Import),
}

/// Which records are meant: those for which all of it holds.
#[derive(Debug, Args)]
pub(crate) struct Which {
    /// Words that were said about it, found, or are in the jig's or the sheet's name; each must be there
    #[arg(value_name = "WORDS")]
    words: Vec<String>,

    /// Of this kind of test
    #[arg(long, value_enum, value_name = "KIND")]
    kind: Option<WhichKind>,

    /// With this verdict
    #[arg(long, value_enum, value_name = "VERDICT")]
    verdict: Option<WhichVerdict>,

    /// By the jig of this serial
    #[arg(long, value_name = "SERIAL")]
    jig: Option<String>,

    /// Of this job
    #[arg(long, value_name = "TEXT")]
    job: Option<String>,

    /// Not before this day or time, such as 2026-11-01 or 2026-11-01T14:30, by this computer's clock
    #[arg(long, value_name = "TIME", value_parser = begins)]
    since: Option<Timestamp>,

    /// Not after this day or time
    #[arg(long, value_name = "TIME", value_parser = ends)]
    until: Option<Timestamp>,

    /// Of this reel
    #[arg(long, value_name = "ID")]
    reel: Option<String>,

    /// None that is void
    #[arg(long)]
    not_void: bool,

    /// None that a simulated jig measured
    #[arg(long)]
    not_simulated: bool,
}

impl Which {
    pub(crate) fn filter(&self, limit: Option<u32>) -> Filter {
        Filter {
            words: self.words.clone(),
            kind: self.kind.map(|kind| match kind {
                WhichKind::Check => Kind::Check,
                WhichKind::ToEarth => Kind::ToEarth,
                WhichKind::Live => Kind::Live,
                WhichKind::Reel => Kind::Reel,
                WhichKind::Zero => Kind::Zero,
                WhichKind::Proof => Kind::Proof,
                WhichKind::Lot => Kind::Lot,
                WhichKind::Flex => Kind::Flex,
            }),
            verdict: self.verdict.map(|verdict| match verdict {
                WhichVerdict::Pass => Verdict::Pass,
                WhichVerdict::Fail => Verdict::Fail,
                WhichVerdict::CannotTell => Verdict::CannotTell,
            }),
            jig: self.jig.clone(),
            job: self.job.clone(),
            reel: self.reel.clone(),
            since: self.since,
            until: self.until,
            not_void: self.not_void,
            not_simulated: self.not_simulated,
            limit,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum WhichKind {
    Check,
    ToEarth,
    Live,
    Reel,
    Zero,
    Proof,
    Lot,
    Flex,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum WhichVerdict {
    Pass,
    Fail,
    CannotTell,
}

#[derive(Debug, Args)]
pub(crate) struct Show {
    /// Its number here, or the beginning or end of its id
    #[arg(value_name = "RECORD")]
    pub(crate) record: String,

    /// Save its capture, all that was measured, to this new file
    #[arg(long, value_name = "FILE")]
    pub(crate) save: Option<PathBuf>,

    /// Save the limit sheet as it was used to this new file
    #[arg(long, value_name = "FILE")]
    pub(crate) save_sheet: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct Add {
    /// Its number here, or the beginning or end of its id
    #[arg(value_name = "RECORD")]
    pub(crate) record: String,

    #[command(flatten)]
    pub(crate) about: About,
}

#[derive(Debug, Args)]
pub(crate) struct Void {
    /// Its number here, or the beginning or end of its id
    #[arg(value_name = "RECORD")]
    pub(crate) record: String,

    /// Why it no longer counts
    #[arg(long, value_name = "TEXT")]
    pub(crate) reason: String,
}

#[derive(Debug, Args)]
pub(crate) struct Export {
    /// As what
    #[arg(long = "as", value_enum, value_name = "FORMAT", default_value_t = Format::Csv)]
    pub(crate) format: Format,

    /// Into this new file; to standard output unless given
    #[arg(long, value_name = "FILE")]
    pub(crate) to: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) which: Which,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// A row each: who, when, where, verdict (RFC 4180)
    Csv,
    /// A line each: the same, for programs
    Json,
    /// A line each, with capture and limit sheet: for `records import` elsewhere
    Whole,
    /// The columns of the CSV with types, for data tools; needs --to FILE
    Parquet,
}

#[derive(Debug, Args)]
pub(crate) struct Import {
    /// Captures, exported records, or folders of them
    #[arg(value_name = "FILE|FOLDER", required = true)]
    pub(crate) files: Vec<PathBuf>,

    /// Limit sheet that captures are held to: a name from `limits`, or a file of your own
    #[arg(long, value_name = "NAME|FILE", default_value = "service-24vac")]
    pub(crate) sheet: String,

    #[command(flatten)]
    pub(crate) about: About,
}

pub(super) fn begins(text: &str) -> Result<Timestamp, String> {
    moment(text, false)
}

pub(super) fn ends(text: &str) -> Result<Timestamp, String> {
    moment(text, true)
}

/// A day is meant whole.
fn moment(text: &str, is_end: bool) -> Result<Timestamp, String> {
    const WRONG: &str = "give a day such as 2026-11-01, or a time such as 2026-11-01T14:30";
    if let Ok(moment) = text.parse::<Timestamp>() {
        return Ok(moment);
    }
    let day =
        text.parse::<Date>().map(|day| if is_end { day.saturating_add(1.day()) } else { day });
    let time = match text.contains(['T', 't', ' ', ':']) {
        true => text.parse::<DateTime>(),
        false => day.map(|day| day.to_datetime(jiff::civil::Time::midnight())),
    };
    let zoned = time.and_then(|time| time.to_zoned_datetime(TimeZone::system()));
    zoned.map(|zoned| zoned.timestamp()).map_err(|_| WRONG.into())
}

#[test]
fn a_day_ends_with_its_last_moment() {
    let [from, to] = [begins("2026-11-12"), ends("2026-11-12")].map(|read| read.expect("a day"));
    assert_eq!(to.as_second() - from.as_second(), 86_400);
    assert!(begins("2026-11-12T14:30").expect("a time") > from);
    assert_eq!(
        begins("2026-11-01T14:30Z").map(|read| read.to_string()).as_deref(),
        Ok("2026-11-01T14:30:00Z")
    );
    for wrong in ["", "yesterday", "2026-13-01", "01/11/2026", "2026-11-01T25:00"] {
        assert!(begins(wrong).is_err(), "{wrong}");
    }
}
