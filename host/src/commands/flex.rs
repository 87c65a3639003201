//! `flex`: watches a run while it is flexed, tugged and tapped.

mod before;
mod faces;
mod watching;

use std::time::Duration;

use runproof_interpret::capture::{Ending, PhaseEnd};
use runproof_interpret::flex::FlexSetup;
use runproof_interpret::{Capture, LimitSheet, RunKnowledge, judge_flex};
use runproof_protocol::Phase;
use runproof_records::{Kept, Kind};
use signal_hook::consts::signal::{SIGHUP, SIGINT};

use self::before::Before;
use self::watching::{Plan, Watch, Why};
use super::check::{begin, waits};
use crate::arguments::{Flex, Output};
use crate::error::{Error, FlexError};
use crate::exit::Exit;
use crate::guide::{Guide, Typed};
use crate::jig::{Jig, JigError};
use crate::recording::{Meanwhile, Recorded, of_flex};
use crate::show::flex::sounding::Sounding;
use crate::show::flex::{self as show, Seen};
use crate::show::progress::{Prompts, Screen};
use crate::show::tone::Tone;
use crate::show::{signs, terminal};
use crate::signals::Signals;
use crate::{files, zeros};

/// How long a simulated run is watched. (judgement)
const SIMULATED_WATCH: Duration = Duration::from_secs(20);

pub(super) fn run(arguments: Flex) -> Result<Exit, Error> {
    let signals = Signals::default();
    let (sheet, sheet_used) = super::limits::sheet_used(&arguments.sheet)?;
    super::lot::takes(arguments.about.unit_of_lot(), Kind::Flex)?;
    let tone = arguments.tone.then(Tone::begin).transpose().map_err(FlexError::NoTone)?;
    let phase = arguments.phase();
    let is_simulated = arguments.jig.simulate.is_some();
    let meet = || -> Result<Jig, Error> {
        let jig = Jig::meet(begin(arguments.jig.clone())?)?;
        Ok(jig.with(super::now_unix_s(), arguments.plug.name.clone())?)
    };
    let jig = meet()?;
    if !jig.watches_flexing() {
        return Err(JigError::WatchesNoFlexing.into());
    }
    if arguments.rearm {
        jig.rearm()?;
    }
    let save = arguments.keep.save.clone().map(files::new).transpose()?;
    let meanwhile = Meanwhile::begin(arguments.keep.no_record);
    let mut typed = Typed::listen();
    let keys = typed.keys();
    let prompts = Prompts {
        is_simulated,
        enter: keys.any() && !arguments.yes,
        short: arguments.output.json,
        ..Prompts::default()
    };
    let mut screen = Screen::of_flex(prompts, sheet.clone(), phase);
    if let Some(restart) = &jig.conversation().restart {
        screen.restarted(&restart.to_string());
    }
    for path in meanwhile.left_over() {
        screen.remark("record", &show::left_over(&path.display().to_string()));
    }
    let mut tell = |told| screen.tell(told);
    let mut guide = Guide::new(&jig, &mut tell);
    guide.zeroed(zeros::newest(&jig));
    let wait_micros = (!arguments.yes).then(|| waits(arguments.wait, is_simulated));
    match (phase, wait_micros) {
        (Phase::Flex, wait_micros) => guide.zero(wait_micros, &keys),
        (_, Some(wait_micros)) => guide.without_plug(wait_micros, &keys),
        (_, None) => {}
    }
    let mut capture = guide.done();
    screen.clear();
    let before = Before::of(&capture, &sheet, phase);
    let setup = FlexSetup {
        phase,
        parts: jig.parts(),
        plug: jig.plug(),
        baseline_ohm: before.baseline_ohm,
        step_ohm: arguments.step,
    };
    let paced = is_simulated && (faces::is_screen(&arguments) || arguments.tone);
    let during = arguments.during.or(is_simulated.then_some(SIMULATED_WATCH));
    let (mut jig, mut why) = (Some(jig), Why::Over);
    if let Some(here) = jig.take_if(|_| before.may_be_flexed) {
        while typed.line().is_some() {} // Enter, pressed for the plug
        let mut face = faces::face(&arguments, show::Names::of(&sheet), typed, &mut screen)?;
        if let Some(tone) = tone {
            face = Box::new(Sounding::new(face, tone));
        }
        let plan = Plan { setup, during, paced, signals: &signals, meet: &meet };
        signals.arm();
        let details = arguments.about.details();
        let mut minutes = |mut capture: Capture| {
            // It is read only where this program never came to its end.
            let reason = "the program was cut off".to_owned();
            capture.end(PhaseEnd { phase, ending: Ending::Lost { reason } });
            meanwhile.keep(of_flex(&capture, &seen(&capture, &sheet), &sheet_used, &details));
        };
        (jig, why) = Watch::new(plan, &mut *face).go(here, &mut capture, &mut minutes);
    }
    if let Some(ending) = ending(&why) {
        capture.end(PhaseEnd { phase, ending });
    }
    let seen = seen(&capture, &sheet);
    if let Some(jig) = &jig {
        jig.show(signs::of_flex(&seen.judgement));
    }
    let saved = save.map(|(path, file)| files::write(path, file, &capture.write())).transpose();
    let recorded = super::recorded(arguments.keep.no_record, || {
        let record = of_flex(&capture, &seen, &sheet_used, &arguments.about.details());
        meanwhile.same_as(record)
    });
    if matches!(recorded, Ok(Some(Recorded::Kept(_)))) {
        meanwhile.is_kept();
    }
    let kept = recorded.as_ref().ok().and_then(Option::as_ref).and_then(Recorded::kept);
    let shown = shown_last(&capture, &seen, arguments.output, kept);
    super::told_where(recorded?.as_ref());
    saved?;
    // Where nobody reads any more there is nobody to tell so.
    if !matches!(why, Why::NobodyReads | Why::Asked(SIGHUP)) {
        shown?;
    }
    Ok(seen.judgement.verdict.into())
}

/// Of a run that was flexed nothing is told beside.
pub(super) fn takes(known: &RunKnowledge) -> Result<(), Error> {
    if *known == RunKnowledge::default() { Ok(()) } else { Err(FlexError::NothingTold.into()) }
}

/// What follows from a capture of a run that was flexed.
pub(super) fn seen(capture: &Capture, sheet: &LimitSheet) -> Seen {
    let before = before::judged(capture, sheet);
    Seen { judgement: judge_flex(capture), before, sheet: sheet.clone() }
}

/// In the words of whoever ended it before its time; nothing of a watch that was ended as it should be.
fn ending(why: &Why) -> Option<Ending> {
    let stopped = |reason: &str| Some(Ending::Stopped { reason: reason.to_owned() });
    match why {
        Why::Over | Why::Said | Why::Asked(SIGINT) => None,
        Why::Asked(SIGHUP) => stopped("the terminal was closed"),
        Why::Asked(_) => stopped("the program was told to end"),
        Why::NobodyReads => stopped("nobody read any more what was told"),
        Why::Jig(ending) => Some(ending.clone()),
        Why::Gone(reason) => Some(Ending::Lost { reason: reason.clone() }),
    }
}

fn shown_last(
    capture: &Capture,
    seen: &Seen,
    output: Output,
    kept: Option<&Kept>,
) -> Result<(), Error> {
    if output.json {
        return super::print(&show::json::last(capture, seen, kept));
    }
    shown(capture, seen, output, kept)
}

/// Shows what was judged.
pub(super) fn shown(
    capture: &Capture,
    seen: &Seen,
    output: Output,
    kept: Option<&Kept>,
) -> Result<(), Error> {
    let text = match output.json {
        true => show::json::result(capture, seen, kept),
        false => terminal::text(&show::described(capture, seen, output.in_units.units, kept)),
    };
    super::print(&text)
}
