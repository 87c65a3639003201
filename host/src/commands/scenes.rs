//! `scenes`: lists the simulated runs.

use runproof_firmware::boards::simulated::{BUILT_IN, Scene};

use crate::error::Error;
use crate::exit::Exit;

pub(super) fn run() -> Result<Exit, Error> {
    for (name, text) in BUILT_IN {
        let scene = Scene::read(text)?;
        super::print(&format!("{name:<15} {}\n", scene.about))?;
    }
    Ok(Exit::Pass)
}
