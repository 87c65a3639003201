//! What `next` is told.

use std::path::PathBuf;

use clap::Args;

use super::Against;

#[derive(Debug, Args)]
pub(crate) struct Next {
    /// A capture that `check --save` wrote, conductor by conductor or to metal; of two of a kind the one that is
    /// given later counts
    #[arg(long, value_name = "FILE")]
    pub(crate) check: Vec<PathBuf>,

    /// A capture that `live --at plate --save` or `live --at adapter --save` wrote
    #[arg(long, value_name = "FILE")]
    pub(crate) live: Vec<PathBuf>,

    /// What somebody says over the phone, such as supply-plate=24.1 or temporary-cable=works; it is marked
    /// as told, and what was measured counts before it
    #[arg(long, value_name = "KEY=VALUE", value_parser = of_key)]
    pub(crate) told: Vec<(String, String)>,

    /// What answers a question: yes, no or unknown
    #[arg(long, value_name = "KEY=ANSWER", value_parser = of_key)]
    pub(crate) answer: Vec<(String, String)>,

    /// List all that can be told or asked, with what it can be
    #[arg(long, conflicts_with = "json")]
    pub(crate) questions: bool,

    /// Follow the steps in this file, instead of those that come with the program
    #[arg(long, value_name = "FILE")]
    pub(crate) steps: Option<PathBuf>,

    /// Check a file of steps: can it be used, does it end whatever is answered, and if not, where and why
    #[arg(long, value_name = "FILE", conflicts_with_all = ["steps", "questions", "json"])]
    pub(crate) check_steps: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) against: Against,

    /// Print the step as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,
}

fn of_key(text: &str) -> Result<(String, String), String> {
    let (key, value) = text.split_once('=').ok_or("a key and what it is, such as power=yes")?;
    Ok((key.trim().to_owned(), value.trim().to_owned()))
}
