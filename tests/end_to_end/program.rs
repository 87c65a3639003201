//! The real program, run as a user runs it.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

use serde_json::Value;

/// What one run of the program left.
pub(crate) struct Ran {
    /// Its exit status.
    pub(crate) status: i32,
    /// What it printed.
    pub(crate) out: String,
    /// What it complained of, each in one line.
    pub(crate) err: String,
}

impl Ran {
    /// Its output as JSON.
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.out)
            .unwrap_or_else(|error| panic!("{error} in:\n{}\n{}", self.out, self.err))
    }
}

/// A program that takes longer hangs.
const SECONDS_MAX: &str = "120";

/// Runs the program.
pub(crate) fn runproof(arguments: &[&str]) -> Ran {
    runproof_under(&[], arguments)
}

/// Runs the program where it keeps its data in this folder.
pub(crate) fn runproof_keeping(data: &Path, arguments: &[&str]) -> Ran {
    run(data, &[], arguments)
}

/// The same, begun in this folder.
pub(crate) fn runproof_keeping_in(here: &Path, data: &Path, arguments: &[&str]) -> Ran {
    let here = here.to_str().expect("UTF-8");
    run(data, &["env", "-C", here], arguments)
}

/// Runs the program by another, which gets the program and its arguments behind its own.
///
/// What the person at this computer keeps must not change what is tested, nor what another test keeps: each run has an
/// empty folder of its own.
pub(crate) fn runproof_under(runner: &[&str], arguments: &[&str]) -> Ran {
    static RUNS: AtomicUsize = AtomicUsize::new(0);
    let run_of = format!("data of {}-{}", std::process::id(), RUNS.fetch_add(1, Ordering::Relaxed));
    let data = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(run_of);
    let ran = run(&data, runner, arguments);
    let _kept_nothing = std::fs::remove_dir_all(&data);
    ran
}

fn run(data: &Path, runner: &[&str], arguments: &[&str]) -> Ran {
    let program = [SECONDS_MAX, env!("CARGO_BIN_EXE_runproof")];
    let words = [runner, &["timeout"], &program, arguments].concat();
    let mut command = Command::new(words[0]);
    command.args(&words[1..]).env("XDG_DATA_HOME", data);
    let ran = command.output().expect("the program starts");
    Ran {
        status: ran.status.code().expect("it ends by itself"),
        out: String::from_utf8(ran.stdout).expect("UTF-8"),
        err: unbroken(&String::from_utf8(ran.stderr).expect("UTF-8")),
    }
}

/// A complaint that was broken to fit a terminal, in one line again; all else as it is.
fn unbroken(told: &str) -> String {
    const BEHIND_A_LABEL: &str = "        ";
    let mut whole = String::new();
    let mut complains = false;
    for line in told.split_inclusive('\n') {
        if complains && line.starts_with(BEHIND_A_LABEL) {
            whole.truncate(whole.trim_end().len());
            whole = whole + " " + line.trim_start();
        } else {
            complains = ["runproof: ", "  next: "].iter().any(|label| line.starts_with(label));
            whole += line;
        }
    }
    whole
}

/// A folder of this test's own, empty.
pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _absent = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder to write to");
    folder
}
