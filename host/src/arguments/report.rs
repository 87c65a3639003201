//! What `report` takes.

use std::path::PathBuf;

use clap::Args;

use super::{Against, Control, InUnits};

#[derive(Debug, Args)]
pub(crate) struct Report {
    /// Records, by their numbers or ids, each judged by the limits and what was told then; or captures, for which what is
    /// told of the run counts as with `judge`
    #[arg(value_name = "RECORD|FILE", required_unless_present = "all_of_job")]
    pub(crate) of: Vec<PathBuf>,

    /// All records of this job that are not void, the oldest first
    #[arg(long, value_name = "TEXT", conflicts_with = "of")]
    pub(crate) all_of_job: Option<String>,

    /// The same run before: what changed since
    #[arg(long, value_name = "RECORD|FILE", conflicts_with = "all_of_job")]
    pub(crate) before: Option<PathBuf>,

    /// As a PDF instead of a page for a browser: one sheet for each result, of US Letter or A4
    #[arg(long)]
    pub(crate) pdf: bool,

    /// The new file; report-….html here unless given, or report-….pdf. A name that ends in .pdf makes a PDF
    #[arg(long, value_name = "FILE")]
    pub(crate) to: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) against: Against,

    #[command(flatten)]
    pub(crate) control: Control,

    #[command(flatten)]
    pub(crate) in_units: InUnits,
}
