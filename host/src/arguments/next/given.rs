//! What is known of a case, in the order in which it is given: what is given last was done last.

use std::path::PathBuf;

use clap::{ArgMatches, Args, Command, Error, FromArgMatches};

/// One thing that is known.
#[derive(Clone, Debug)]
pub(crate) enum Given {
    Check(PathBuf),
    Live(PathBuf),
    Told(String, String),
    Answer(String, String),
}

/// All of it, in the order of the command line.
#[derive(Debug)]
pub(crate) struct AllGiven(pub(crate) Vec<Given>);

#[derive(Debug, Args)]
struct Options {
    /// A capture that `check --save` wrote, conductor by conductor or to metal; of two of a kind the one that is
    /// given later counts
    #[arg(long, value_name = "FILE")]
    check: Vec<PathBuf>,

    /// A capture that `live --at plate --save` or `live --at adapter --save` wrote
    #[arg(long, value_name = "FILE")]
    live: Vec<PathBuf>,

    /// What somebody says over the phone, such as supply-plate=24.1 or temporary-cable=works; it is marked
    /// as told, and what was measured counts before it
    #[arg(long, value_name = "KEY=VALUE", value_parser = of_key)]
    told: Vec<(String, String)>,

    /// What answers a question: yes, no or unknown. Give all of it in the order in which it was done: how
    /// the bench stands follows from what is given last
    #[arg(long, value_name = "KEY=ANSWER", value_parser = of_key)]
    answer: Vec<(String, String)>,
}

impl Args for AllGiven {
    fn augment_args(command: Command) -> Command {
        Options::augment_args(command)
    }

    fn augment_args_for_update(command: Command) -> Command {
        Options::augment_args_for_update(command)
    }
}

impl FromArgMatches for AllGiven {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        let Options { check, live, told, answer } = Options::from_arg_matches(matches)?;
        let mut all: Vec<(usize, Given)> = vec![];
        let mut put = |id: &str, given: Vec<Given>| {
            let places = matches.indices_of(id).into_iter().flatten();
            all.extend(places.zip(given));
        };
        put("check", check.into_iter().map(Given::Check).collect());
        put("live", live.into_iter().map(Given::Live).collect());
        put("told", told.into_iter().map(|(key, value)| Given::Told(key, value)).collect());
        put("answer", answer.into_iter().map(|(key, value)| Given::Answer(key, value)).collect());
        all.sort_by_key(|(place, _)| *place);
        Ok(Self(all.into_iter().map(|(_, given)| given).collect()))
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

fn of_key(text: &str) -> Result<(String, String), String> {
    let (key, value) = text.split_once('=').ok_or("a key and what it is, such as power=yes")?;
    Ok((key.trim().to_owned(), value.trim().to_owned()))
}
