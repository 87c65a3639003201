//! What the exit status says: the whole contract with scripts.

use std::process::ExitCode;

use runproof_interpret::judgement::Verdict;

/// How the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Exit {
    /// The run passes, or what was asked for was done.
    Pass = 0,
    /// The run fails.
    Fail = 1,
    /// The run cannot be told: something was not measured, or does not decide it.
    CannotTell = 2,
    /// There is no jig to talk to: no port, no permission, in use, or no answer.
    NoJig = 3,
    /// The jig speaks another version of the contract.
    OtherVersion = 4,
    /// A file cannot be used: capture, scene or limit sheet.
    BadFile = 5,
    /// The result could not be saved or printed.
    NotSaved = 6,
    /// The command line is wrong.
    Usage = 64,
}

/// For `--help`.
pub(crate) const HELP: &str = "\
Exit status: 0 pass · 1 fail · 2 cannot tell · 3 no jig to talk to · 4 jig of another version · \
5 a name or a file that cannot be used · 6 the result could not be saved or printed · 64 wrong arguments";

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

impl From<Verdict> for Exit {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Pass => Self::Pass,
            Verdict::Fail => Self::Fail,
            Verdict::CannotTell => Self::CannotTell,
        }
    }
}

/// Prints what the argument parser has to say: help is no error.
pub(crate) fn of_arguments(told: &clap::Error) -> ExitCode {
    let _closed = told.print();
    if told.use_stderr() { Exit::Usage.into() } else { Exit::Pass.into() }
}
