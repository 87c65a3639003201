//! What `audit` takes.

use std::path::PathBuf;

use clap::Args;
use runproof_records::jiff::Timestamp;

use super::records::{begins, ends};

#[derive(Debug, Args)]
pub(crate) struct Audit {
    /// The jig, by its serial
    #[arg(long, value_name = "SERIAL")]
    pub(crate) jig: String,

    /// Not before this day or time, such as 2026-11-01 or 2026-11-01T14:30, by this computer's clock; all of it unless told
    #[arg(long, value_name = "TIME", value_parser = begins)]
    pub(crate) since: Option<Timestamp>,

    /// Not after this day or time
    #[arg(long, value_name = "TIME", value_parser = ends)]
    pub(crate) until: Option<Timestamp>,

    /// The known pieces, if they are of your own
    #[arg(long, value_name = "FILE")]
    pub(crate) pieces: Option<PathBuf>,

    /// Print it as JSON instead of words
    #[arg(long, conflicts_with = "to")]
    pub(crate) json: bool,

    /// Write a page to print, to send or to keep, to this new file; a PDF, where its name ends in .pdf
    #[arg(long, value_name = "FILE")]
    pub(crate) to: Option<PathBuf>,
}
