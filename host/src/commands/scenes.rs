//! `scenes`: lists the simulated runs.

use runproof_firmware::boards::simulated::{BUILT_IN, FLEXED, LIVE, REELS, Scene};

use crate::error::Error;
use crate::exit::Exit;
use crate::show::terminal;

pub(super) fn run() -> Result<Exit, Error> {
    let mut lines = vec![];
    lines.push("Runs to be tested:".into());
    listed(&mut lines, &BUILT_IN)?;
    lines.extend(["".into(), "Powered runs, to be read:".into()]);
    listed(&mut lines, &LIVE)?;
    lines.extend(["".into(), "Reels, for `reel`:".into()]);
    listed(&mut lines, &REELS)?;
    lines.extend([
        "".into(),
        "Runs to be flexed, for `flex`; flex-staple for `flex --shorts`:".into(),
    ]);
    listed(&mut lines, &FLEXED)?;
    lines.push(String::new());
    super::print(&lines.join("\n"))?;
    Ok(Exit::Pass)
}

fn listed(lines: &mut Vec<String>, scenes: &[(&str, &str)]) -> Result<(), Error> {
    for (name, text) in scenes {
        terminal::indented(lines, 25, name, &Scene::read(text)?.about);
    }
    Ok(())
}
