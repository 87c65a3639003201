//! What `next` is told.

mod given;

use std::path::PathBuf;

use clap::Args;

pub(crate) use given::{AllGiven, Given};

use super::Against;

#[derive(Debug, Args)]
pub(crate) struct Next {
    #[command(flatten)]
    pub(crate) given: AllGiven,

    /// List all that can be told or asked, with what it can be
    #[arg(long, conflicts_with = "json")]
    pub(crate) questions: bool,

    /// Follow the steps in this file, instead of those that come with the program
    #[arg(long, value_name = "FILE")]
    pub(crate) steps: Option<PathBuf>,

    /// Check a file of steps: can it be used, does it end whatever is answered, does it say every caution that it
    /// must, is there each limit sheet that it names (one of your own: --sheet FILE); if not, where and why
    #[arg(long, value_name = "FILE", conflicts_with_all = ["steps", "questions", "json"])]
    pub(crate) check_steps: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) against: Against,

    /// Print the step as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,
}
