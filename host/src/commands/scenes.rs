//! `scenes`: lists the simulated runs.

use runproof_firmware::boards::simulated::{BUILT_IN, Scene};

use crate::error::Error;
use crate::exit::Exit;
use crate::show::terminal;

pub(super) fn run() -> Result<Exit, Error> {
    let mut lines = vec![];
    for (name, text) in BUILT_IN {
        terminal::indented(&mut lines, 21, name, &Scene::read(text)?.about);
    }
    lines.push(String::new());
    super::print(&lines.join("\n"))?;
    Ok(Exit::Pass)
}
