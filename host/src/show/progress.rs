//! What happens meanwhile: on standard error, so that the result alone is on standard output.
//!
//! On a terminal one line is rewritten; anything else gets a few plain lines.

use std::io::{self, IsTerminal, Write};

use runproof_interpret::LimitSheet;
use runproof_interpret::capture::End;
use runproof_interpret::landing::Landed;
use runproof_protocol::Phase;

use super::{terminal, words};
use crate::guide::{FarShown, FarVerdict, Told, ToldToEarth};

/// What the person is told beyond what happens.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Prompts {
    /// Nobody has to do anything.
    pub(crate) is_simulated: bool,
    /// There is an Enter key.
    pub(crate) enter: bool,
    /// A program asked, which knows the trip.
    pub(crate) short: bool,
    /// Nobody is asked to lift this end.
    pub(crate) cannot_lift: Option<End>,
    /// The verdict can be shown at the far end.
    pub(crate) far_lights: bool,
    /// The gauge that was told is as thick as mains cable's.
    pub(crate) thick_wire: bool,
}

/// What the steps are of.
enum Tested {
    Run(Box<LimitSheet>),
    Reel {
        buried: bool,
    },
    /// A run that is flexed, in this phase.
    Flex(Box<LimitSheet>, Phase),
    /// The end plug alone, for a zero.
    Plug,
}

/// Standard error.
pub(crate) struct Screen {
    prompts: Prompts,
    what: Tested,
    landed: Landed,
    /// What happens now.
    now: Rewritten,
}

impl Screen {
    pub(crate) fn new(prompts: Prompts, sheet: LimitSheet, landed: Landed) -> Self {
        Self { prompts, what: Tested::Run(Box::new(sheet)), landed, now: Rewritten::new() }
    }

    /// For a reel, whose inner end may be buried.
    pub(crate) fn of_reel(prompts: Prompts, buried: bool) -> Self {
        let (what, landed) = (Tested::Reel { buried }, Landed::default());
        Self { prompts, what, landed, now: Rewritten::new() }
    }

    /// For a run that is flexed.
    pub(crate) fn of_flex(prompts: Prompts, sheet: LimitSheet, phase: Phase) -> Self {
        let (what, landed) = (Tested::Flex(Box::new(sheet), phase), Landed::default());
        Self { prompts, what, landed, now: Rewritten::new() }
    }

    /// For a zero: nothing but the jig and its end plug.
    pub(crate) fn of_zero(prompts: Prompts) -> Self {
        Self { prompts, what: Tested::Plug, landed: Landed::default(), now: Rewritten::new() }
    }

    /// What must be known before anything is measured.
    pub(crate) fn warn(&mut self) {
        if self.prompts.thick_wire {
            self.steps(&[("CAUTION".into(), words::THICK_WIRE.into())]);
        }
    }

    pub(crate) fn tell(&mut self, told: Told) {
        match told {
            Told::Begins if self.prompts.short => {}
            Told::Begins => self.begin(),
            Told::TakeKeyOut => self.line(&words::take_key_out(self.prompts.cannot_lift)),
            Told::DidNotCome(phase) => self.line(words::did_not_come(phase)),
            Told::WaitsFor(phase) => self.now.write(words::waiting(phase)),
            Told::Measuring(phase, doing, index) => {
                self.now.write(&words::doing(phase, doing, index));
            }
            Told::Measured(phase) => self.line(&format!("measured: {}.", words::phase(phase))),
            Told::TouchesFollow(end) => self.steps(&words::touches(end, &self.landed)),
            Told::Touch(end, wires) => self.now.write(&words::touch(end, wires, &self.landed)),
            Told::Touched(end, wires, posts) => {
                self.line(&words::touched(end, wires, posts, &self.landed));
            }
            Told::NotTouched => self.line(words::NOT_TOUCHED),
            Told::WaitsForTurnedKey => self.now.write(words::WAITS_FOR_TURNED_KEY),
            Told::FarLit => self.now.write(words::FAR_LIT),
            Told::WaitsForDrift => self.now.write(words::reel::WAITS_FOR_DRIFT),
            Told::ToEarth(told) => self.tell_to_earth(told),
        }
    }

    /// That the verdict can be seen at the far end, or why not; once the result is printed.
    pub(crate) fn offer_far(&mut self, verdict: Result<&FarVerdict, words::NotAtFarEnd>) {
        self.steps(&[("far end".into(), words::far_end(verdict, self.prompts.enter))]);
    }

    /// What came of that.
    pub(crate) fn far_shown(&mut self, shown: &FarShown) {
        self.line(&words::far_shown(shown));
    }

    /// Why the jig has started anew by itself.
    pub(crate) fn restarted(&mut self, why: &str) {
        self.steps(&[("jig".into(), words::restarted(why))]);
    }

    /// Something beside.
    pub(crate) fn remark(&mut self, label: &str, text: &str) {
        self.clear();
        write(&terminal::remark(label, text));
    }

    /// Leaves an empty line for whatever is printed next.
    pub(crate) fn clear(&mut self) {
        self.now.clear();
    }

    fn tell_to_earth(&mut self, told: ToldToEarth) {
        match told {
            ToldToEarth::Begins(_) if self.prompts.short => {}
            ToldToEarth::Begins(shield) => {
                self.steps(&words::to_earth_steps(shield.is_some(), self.prompts.is_simulated));
            }
            ToldToEarth::Hold { again } => self.now.write(words::hold(again)),
            ToldToEarth::Held { again } => self.line(words::held(again)),
            ToldToEarth::NotHeld => self.line(words::NOT_HELD),
            ToldToEarth::LetGo => self.now.write(words::LET_GO),
        }
    }

    fn begin(&mut self) {
        let mut lines = vec![];
        let simulated = self.prompts.is_simulated;
        let sheet = match &self.what {
            Tested::Run(sheet) => sheet,
            Tested::Reel { buried } => {
                return self.steps(&words::reel::reel_steps(*buried, simulated));
            }
            Tested::Flex(sheet, phase) => {
                return self.steps(&words::flex::steps(
                    *phase,
                    sheet,
                    simulated,
                    self.prompts.enter,
                ));
            }
            Tested::Plug => return self.steps(&words::zero_steps(simulated)),
        };
        let trip = if self.prompts.is_simulated { words::SIMULATED_TRIP } else { words::THE_TRIP };
        terminal::paragraph(&mut lines, "first", words::PROVE_DEAD);
        terminal::paragraph(&mut lines, "trip", trip);
        for (label, step) in words::trip(sheet, self.prompts.cannot_lift, self.prompts.far_lights) {
            terminal::paragraph(&mut lines, label, &step);
        }
        if self.prompts.enter && !self.prompts.is_simulated {
            terminal::paragraph(&mut lines, "Enter", words::ENTER);
        }
        lines.push(String::new());
        write(&format!("{}\n", lines.join("\n")));
    }

    fn steps(&mut self, steps: &[(String, String)]) {
        self.now.clear();
        let mut lines = vec![String::new()];
        for (label, step) in steps {
            terminal::paragraph(&mut lines, label, step);
        }
        lines.push(String::new());
        write(&format!("{}\n", lines.join("\n")));
    }

    fn line(&mut self, text: &str) {
        self.clear();
        let mut lines = vec![];
        terminal::indented(&mut lines, 2, "", text);
        write(&format!("{}\n", lines.join("\n")));
    }
}

/// Of text on a terminal of 80.
const COLUMNS_MAX: usize = 77;

/// A line of a terminal that is written again and again; nothing anywhere else.
pub(crate) struct Rewritten {
    is_terminal: bool,
    columns: usize,
}

impl Rewritten {
    pub(crate) fn new() -> Self {
        Self { is_terminal: io::stderr().is_terminal(), columns: 0 }
    }

    /// Takes it away: whatever is printed next finds an empty line.
    pub(crate) fn clear(&mut self) {
        if self.columns > 0 {
            write(&format!("\r{:width$}\r", "", width = self.columns));
            self.columns = 0;
        }
    }

    pub(crate) fn write(&mut self, text: &str) {
        if !self.is_terminal {
            return;
        }
        self.clear();
        // A line that wraps could not be taken away.
        let text: String = text.chars().take(COLUMNS_MAX).collect();
        write(&format!("  {text}"));
        self.columns = 2 + text.chars().count();
    }
}

/// What cannot be told is no reason to stop measuring.
fn write(text: &str) {
    let mut to = io::stderr();
    let _unheard = to.write_all(text.as_bytes()).and_then(|()| to.flush());
}
