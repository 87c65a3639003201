//! `reel`: tests a reel of cable on the bench, or shows how its length went.

mod history;

use runproof_interpret::judgement::ReelJudgement;
use runproof_interpret::{Capture, RunKnowledge, judge_reel};
use runproof_records::{Kept, Kind};

use super::check::{begin, waits};
use crate::arguments;
use crate::error::{Error, ReelError};
use crate::exit::Exit;
use crate::files;
use crate::guide::{Guide, Keys};
use crate::jig::Jig;
use crate::recording::{Recorded, of_reel};
use crate::show::progress::{Prompts, Screen};
use crate::show::{reel as show, signs, terminal};
use crate::zeros;

pub(super) fn run(arguments: arguments::Reel) -> Result<Exit, Error> {
    if let Some(reel) = &arguments.history {
        return history::shown(reel, arguments.output);
    }
    let unit = arguments.about.unit_of_lot();
    let (sheet, sheet_used) =
        super::lot::sheet_of(unit, arguments.sheet.as_deref(), "reel", Kind::Reel)?;
    super::has_terminals("reel", &sheet)?;
    let mut declared = arguments.label.declared();
    if let Some(source) = declared.impossible() {
        return Err(ReelError::NoReel { source }.into());
    }
    if let Some(id) = &declared.id {
        declared.before = history::last(id)?;
    }
    let is_simulated = arguments.jig.simulate.is_some();
    let wait_micros = waits(arguments.wait, is_simulated);
    let jig = Jig::meet(begin(arguments.jig)?)?;
    let jig = jig.with(super::now_unix_s(), arguments.plug.name)?;
    super::lot::before(unit, &jig.head().jig.serial)?;
    let zero = zeros::of_plug(&jig, arguments.zero.file.as_deref())?;
    let save = arguments.keep.save.map(files::new).transpose()?;
    let keys = Keys::listen();
    let prompts = Prompts {
        is_simulated,
        enter: keys.any(),
        short: arguments.output.json,
        thick_wire: false,
        ..Prompts::default()
    };
    let mut screen = Screen::of_reel(prompts, declared.buried);
    let mut tell = |told| screen.tell(told);
    let mut guide = Guide::new(&jig, &mut tell);
    let buried = declared.buried;
    guide.declare(declared);
    guide.zeroed(zero);
    match (buried, arguments.yes) {
        (true, yes) => guide.open_alone((!yes).then_some(wait_micros), &keys),
        (false, true) => guide.both(),
        (false, false) => guide.trip(wait_micros, &keys),
    }
    let apart_micros = u64::try_from(arguments.apart.as_micros()).unwrap_or(u64::MAX);
    if !buried && apart_micros > 0 {
        guide.again(apart_micros);
    }
    let capture = guide.done();
    screen.clear();
    let saved = save.map(|(path, file)| files::write(path, file, &capture.write())).transpose();
    let judgement = judge_reel(&capture, &sheet);
    jig.show(signs::of_reel(&judgement));
    let recorded = super::recorded(arguments.keep.no_record, || {
        of_reel(&capture, &judgement, &sheet_used, &arguments.about.details())
    });
    let kept = recorded.as_ref().ok().and_then(Option::as_ref).and_then(Recorded::kept);
    shown(&capture, &judgement, arguments.output, kept)?;
    super::told_where(recorded?.as_ref());
    super::lot::after(unit)?;
    saved?;
    Ok(judgement.verdict.into())
}

/// What was declared of a reel is in its capture: nothing is told beside.
pub(super) fn takes(known: &RunKnowledge) -> Result<(), Error> {
    if *known == RunKnowledge::default() { Ok(()) } else { Err(ReelError::ToldOfReel.into()) }
}

/// Shows what was judged.
pub(super) fn shown(
    capture: &Capture,
    judgement: &ReelJudgement,
    output: arguments::Output,
    kept: Option<&Kept>,
) -> Result<(), Error> {
    let text = match output.json {
        true => show::json::result(capture, judgement, kept),
        false => terminal::text(&show::described(capture, judgement, output.in_units.units, kept)),
    };
    super::print(&text)
}
