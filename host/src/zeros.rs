//! Where zeros are kept on this computer: a file each, in the platform's folder for a program's data;
//! none is ever overwritten.

use std::fs;
use std::path::{Path, PathBuf};

use runproof_interpret::capture::{Entry, Head, LiveZero, Zero};
use runproof_interpret::{Capture, zero};
use runproof_protocol::Key;
use runproof_protocol::records::{self, KeptZero};

use crate::data_folder::data_folder;
use crate::error::{Error, FileError, ZeroError};
use crate::jig::Jig;
use crate::{captures, files};

const EXTENSION: &str = "jsonl";

/// Where a zero of this jig and plug goes that was taken then.
pub(crate) fn new_path(head: &Head, taken_unix_s: u64) -> Result<PathBuf, Error> {
    if head.jig.serial.is_empty() {
        return Err(ZeroError::NoSerial.into());
    }
    let folder = folder().ok_or(ZeroError::NoDataFolder)?;
    fs::create_dir_all(&folder)
        .map_err(|source| FileError::NotSaved { path: folder.clone(), source })?;
    Ok(folder.join(format!("{} {taken_unix_s}.{EXTENSION}", plain(&head.jig.serial))))
}

/// What a check is held against: the zero of this file, none, or this jig's and plug's newest one.
pub(crate) fn of_plug(jig: &Jig, told: Option<&Path>) -> Result<Option<Zero>, Error> {
    told_or(told, || newest(jig), |path| in_file(path, jig.head()))
}

/// Of the file that is told, or none; what is newest, where nothing is told.
fn told_or<T>(
    told: Option<&Path>,
    newest: impl FnOnce() -> Option<T>,
    read: impl FnOnce(&Path) -> Result<T, Error>,
) -> Result<Option<T>, Error> {
    match told {
        None => Ok(newest()),
        Some(path) if path == Path::new("none") => Ok(None),
        Some(path) => read(path).map(Some),
    }
}

/// The newest one of this jig and plug, on the jig or on this computer. What is none is passed over, and a
/// jig that does not tell is one that keeps none.
pub(crate) fn newest(jig: &Jig) -> Option<Zero> {
    let on_jig = jig.conversation().recall(Key::Zero).unwrap_or_default();
    let on_jig = records::read::<KeptZero>(&on_jig).filter(|kept| jig.head().is_of(kept));
    let on_jig = on_jig.and_then(|kept| Zero::kept(&kept));
    // Of two that are the same one, that with more digits.
    on_jig.into_iter().chain(in_folder(jig.head())).max_by_key(|zero| zero.taken_unix_s)
}

/// What a live reading is held against: the live zero of this file, none, or this jig's newest one on this
/// computer.
pub(crate) fn live(jig: &Jig, told: Option<&Path>) -> Result<Option<Entry>, Error> {
    let head = jig.head();
    let in_file = |path: &Path| {
        let capture = captures::read_any(path)?;
        if !has_dividers_of(&capture.head, head) {
            return Err(of_another_jig(path, head, &capture.head));
        }
        LiveZero::from_capture(&capture)
            .map_err(|source| Error::Zero(ZeroError::NotALiveZero { path: path.into(), source }))
    };
    let zero = told_or(told, || in_folder_live(head), in_file)?;
    Ok(zero.map(Entry::LiveZero))
}

fn in_folder_live(head: &Head) -> Option<LiveZero> {
    let kept = captures(head)?.filter(|capture| has_dividers_of(&capture.head, head));
    let kept = kept.filter_map(|capture| LiveZero::from_capture(&capture).ok());
    kept.max_by_key(|zero| zero.taken_unix_s)
}

/// Whatever its end plug.
fn has_dividers_of(zero: &Head, now: &Head) -> bool {
    (&zero.jig.serial, zero.jig.divider_ohm) == (&now.jig.serial, now.jig.divider_ohm)
}

/// The newest one in this computer's folder.
fn in_folder(head: &Head) -> Option<Zero> {
    let kept = captures(head)?.filter(|capture| is_of(&capture.head, head));
    kept.filter_map(|capture| zero(&capture).ok()).max_by_key(|zero| zero.taken_unix_s)
}

/// All that can be read there; none for a jig without a serial, which no file is known to be of.
fn captures(head: &Head) -> Option<impl Iterator<Item = Capture>> {
    if head.jig.serial.is_empty() {
        return None;
    }
    let files = fs::read_dir(folder()?).ok()?.filter_map(Result::ok).map(|file| file.path());
    Some(files.filter_map(|path| files::read_capture(&path).ok()))
}

/// The captures of the zeros of this serial that are kept on this computer, the oldest first.
pub(crate) fn kept_of(serial: &str) -> Vec<Capture> {
    let folder = folder().and_then(|folder| fs::read_dir(folder).ok());
    let files = folder.into_iter().flatten().filter_map(Result::ok).map(|file| file.path());
    let kept = files.filter_map(|path| files::read_capture(&path).ok());
    let mut all: Vec<Capture> = kept.filter(|one| one.head.jig.serial == serial).collect();
    all.sort_by_key(|one| one.head.taken_unix_s);
    all
}

/// The one in this file, if it is of this jig and plug.
fn in_file(path: &Path, head: &Head) -> Result<Zero, Error> {
    let capture = captures::read_any(path)?;
    if !is_of(&capture.head, head) {
        return Err(of_another_jig(path, head, &capture.head));
    }
    zero(&capture).map_err(|source| Error::Zero(ZeroError::NotAZero { path: path.into(), source }))
}

fn of_another_jig(path: &Path, now: &Head, theirs: &Head) -> Error {
    let or_none =
        |text: &str| if text.is_empty() { "without a name".to_owned() } else { text.to_owned() };
    Error::Zero(ZeroError::OtherJig {
        path: path.into(),
        jig: or_none(&now.jig.serial),
        theirs: or_none(&theirs.jig.serial),
        plug: or_none(&now.plug.id),
        their_plug: or_none(&theirs.plug.id),
    })
}

/// Parts of other values are other parts.
fn is_of(zero: &Head, now: &Head) -> bool {
    (&zero.jig.serial, zero.jig.series_ohm) == (&now.jig.serial, now.jig.series_ohm)
        && zero.plug == now.plug
}

fn folder() -> Option<PathBuf> {
    Some(data_folder()?.join("zeros"))
}

/// A serial comes from a jig: it must not steer where its file goes.
fn plain(serial: &str) -> String {
    let letter = |c: char| if c.is_ascii_alphanumeric() || c == '-' { c } else { '_' };
    serial.chars().map(letter).collect()
}

#[test]
fn no_serial_leaves_the_folder() {
    assert_eq!(plain("seed-1"), "seed-1");
    assert_eq!(plain("../../etc/x y"), "______etc_x_y");
}
