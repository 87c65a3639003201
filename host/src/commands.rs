//! One file a command: reads arguments, calls the rooms, picks the exit status.

mod check;
mod judge;
mod scenes;

use std::io::{self, Write};

use runproof_interpret::{Capture, LimitSheet};

use crate::arguments::{Command, Output};
use crate::error::Error;
use crate::exit::Exit;
use crate::show::{json, terminal};

pub(crate) fn run(command: Command) -> Result<Exit, Error> {
    match command {
        Command::Check(arguments) => check::run(arguments),
        Command::Judge(arguments) => judge::run(arguments),
        Command::Scenes => scenes::run(),
    }
}

/// Judges a capture and shows the result.
fn judged(capture: &Capture, output: Output) -> Result<Exit, Error> {
    let sheet = LimitSheet::service_24vac();
    let judgement = runproof_interpret::judge(capture, &sheet);
    let text = if output.json {
        json::result(capture, &judgement)
    } else {
        terminal::result(capture, &judgement)
    };
    print(&text)?;
    Ok(judgement.verdict.into())
}

fn print(text: &str) -> Result<(), Error> {
    io::stdout().write_all(text.as_bytes()).map_err(Error::NotPrinted)
}
