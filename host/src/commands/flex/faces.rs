//! By what a watch is shown: JSON, lines, or the screen where there is a terminal for it.

use std::io::{self, IsTerminal};

use crate::arguments::Flex;
use crate::error::Error;
use crate::guide::Typed;
#[cfg(not(feature = "screen"))]
use crate::show::flex::NO_SCREEN;
use crate::show::flex::face::Face;
use crate::show::flex::json::Json;
use crate::show::flex::lines::Lines;
#[cfg(feature = "screen")]
use crate::show::flex::screen::Screen;
use crate::show::flex::{HOW_TO_END, Names};
use crate::show::progress;

/// Whether there is a terminal for the screen, and it is wanted.
pub(super) fn is_screen(arguments: &Flex) -> bool {
    cfg!(feature = "screen") && at_terminal(arguments)
}

fn at_terminal(arguments: &Flex) -> bool {
    let dumb = std::env::var_os("TERM").is_none_or(|term| term == "dumb");
    let both = io::stdin().is_terminal() && io::stdout().is_terminal();
    both && !dumb && !arguments.plain && !arguments.output.json
}

/// What shows it, which hears what is typed as well.
pub(super) fn face(
    arguments: &Flex,
    names: Names,
    typed: Typed,
    told: &mut progress::Screen,
) -> Result<Box<dyn Face>, Error> {
    #[cfg(feature = "screen")]
    if at_terminal(arguments) {
        let mut typed = typed;
        typed.stop();
        return Ok(Box::new(Screen::new(names, !arguments.tone).map_err(Error::NotPrinted)?));
    }
    let typed = move || typed.line();
    if arguments.output.json {
        return Ok(Box::new(Json::new(typed)));
    }
    #[cfg(not(feature = "screen"))]
    if at_terminal(arguments) {
        told.remark("screen", NO_SCREEN);
    }
    if io::stdin().is_terminal() {
        told.remark("marks", HOW_TO_END);
    }
    Ok(Box::new(Lines::new(names, typed)))
}
