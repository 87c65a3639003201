//! What `code` and `decode` take.

use std::path::PathBuf;

use clap::Args;

use super::{Against, Control, Output};

#[derive(Debug, Args)]
pub(crate) struct Code {
    /// A capture of either kind, for which what is told of the run counts as with `judge`; or a record, for which what
    /// was told then does
    #[arg(value_name = "FILE|RECORD")]
    pub(crate) capture: PathBuf,

    #[command(flatten)]
    pub(crate) against: Against,

    #[command(flatten)]
    pub(crate) control: Control,

    #[command(flatten)]
    pub(crate) output: Output,
}

#[derive(Debug, Args)]
pub(crate) struct Decode {
    /// The code as it was said: in groups or not, in capitals or not, I and L for 1, O for 0; or spelled, `alfa bravo
    /// seven`
    #[arg(value_name = "CODE", required = true)]
    pub(crate) code: Vec<String>,

    /// Your limit sheet, if it may be the one that was used: a code names only those that come with the program
    #[arg(long, value_name = "NAME|FILE")]
    pub(crate) sheet: Option<String>,

    #[command(flatten)]
    pub(crate) output: Output,
}
