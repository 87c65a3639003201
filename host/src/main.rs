//! runproof: is it the wiring or not?

mod arguments;
mod captures;
mod commands;
mod data_folder;
mod error;
mod exit;
mod files;
mod guide;
mod jig;
mod recording;
mod shop;
mod show;
mod signals;
mod zeros;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    let arguments = match arguments::Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(told) => return exit::of_arguments(&told),
    };
    match commands::run(arguments.command) {
        Ok(exit) => exit.into(),
        Err(error) => {
            let next = error.next_step();
            eprintln!(
                "{}",
                show::terminal::complaint(&[
                    ("runproof: ", &error.to_string()),
                    ("  next: ", &next)
                ])
            );
            error.exit().into()
        }
    }
}
