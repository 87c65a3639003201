//! `zero`: reads the end plug through the jig's own clips, and keeps it for later checks.

use std::fs;

use runproof_interpret::capture::{LiveZero, Zero};
use runproof_interpret::zero;
use runproof_protocol::records;
use runproof_protocol::{Key, Phase};
use runproof_records::Kind;

use super::check::{begin, waits};
use crate::arguments;
use crate::error::{Error, ZeroError};
use crate::exit::Exit;
use crate::files;
use crate::guide::{Guide, Keys};
use crate::jig::{Jig, JigError};
use crate::recording::{Recorded, of_zero};
use crate::show::progress::{Prompts, Screen};
use crate::show::{records as records_words, zero as show};
use crate::zeros;

pub(super) fn run(arguments: arguments::Zero) -> Result<Exit, Error> {
    super::lot::takes(arguments.about.unit_of_lot(), Kind::Zero)?;
    let is_simulated = arguments.jig.simulate.is_some();
    let wait_micros = waits(arguments.wait, is_simulated);
    let taken_unix_s = super::now_unix_s();
    let jig = Jig::meet(begin(arguments.jig)?)?;
    let jig = jig.with(taken_unix_s, arguments.plug.name)?;
    let before = zeros::newest(&jig);
    let in_a_file_alone = arguments.save.is_some();
    let path = match arguments.save {
        Some(path) => path,
        None => zeros::new_path(jig.head(), taken_unix_s)?,
    };
    let (path, file) = files::new(path)?;
    let keys = Keys::listen();
    let prompts = Prompts { is_simulated, enter: keys.any(), ..Prompts::default() };
    let mut screen = Screen::of_zero(prompts);
    let mut tell = |told| screen.tell(told);
    let mut guide = Guide::new(&jig, &mut tell);
    guide.zero((!arguments.yes).then_some(wait_micros), &keys);
    // Nobody is there to take the key out, or nobody would know why.
    if !arguments.yes && jig.reads_live() && zero(guide.capture()).is_ok() {
        guide.live_zero(wait_micros, &keys);
    }
    let capture = guide.done();
    screen.clear();
    let zero = zero(&capture).map_err(|source| {
        let _empty = fs::remove_file(&path);
        Error::Zero(ZeroError::NoZero { source })
    })?;
    let path = files::write(path, file, &capture.write())?;
    let changed_ohm = before.map(|before| most_apart_ohm(&zero, &before));
    let on_jig = (!in_a_file_alone).then(|| keep_on(&jig, &zero));
    let live = capture.ends(Phase::LiveZero).next().map(|_| LiveZero::from_capture(&capture));
    let told = show::Taken { zero: &zero, changed_ohm, live, path: &path, is_simulated };
    super::print(&show::taken(told, on_jig.as_ref()))?;
    let recorded = super::recorded(arguments.no_record, || {
        of_zero(&capture, &zero, &arguments.about.details())
    })?;
    if let Some(kept) = recorded.as_ref().and_then(Recorded::kept) {
        super::print(&records_words::kept_row(kept))?;
    }
    super::told_where(recorded.as_ref());
    Ok(Exit::Pass)
}

/// For any computer.
fn keep_on(jig: &Jig, zero: &Zero) -> Result<(), JigError> {
    let kept = zero.to_keep(jig.head()).as_ref().and_then(records::written);
    jig.conversation().keep(Key::Zero, kept.ok_or(JigError::TooLong)?)
}

fn most_apart_ohm(zero: &Zero, before: &Zero) -> f64 {
    zero.ohm.iter().zip(before.ohm).map(|(one, other)| (one - other).abs()).fold(0.0, f64::max)
}
