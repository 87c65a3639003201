//! Where zeros are kept on this computer: a file each, in the platform's folder for a program's data;
//! none is ever overwritten.

use std::fs;
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;
use runproof_interpret::capture::{Entry, Head, Zero};
use runproof_interpret::zero;
use runproof_protocol::Key;
use runproof_protocol::records::{self, KeptZero};

use crate::error::Error;
use crate::files;
use crate::jig::Jig;

const EXTENSION: &str = "jsonl";

/// Where a zero of this jig and plug goes that was taken then.
pub(crate) fn new_path(head: &Head, taken_unix_s: u64) -> Result<PathBuf, Error> {
    if head.jig.serial.is_empty() {
        return Err(Error::NoSerial);
    }
    let folder = folder().ok_or(Error::NoDataFolder)?;
    fs::create_dir_all(&folder)
        .map_err(|source| Error::NotSaved { path: folder.clone(), source })?;
    Ok(folder.join(format!("{} {taken_unix_s}.{EXTENSION}", plain(&head.jig.serial))))
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

/// What a live reading is held against: of this file, of none, or the newest on this computer.
pub(crate) fn live(_jig: &Jig, _told: Option<&Path>) -> Result<Option<Entry>, Error> {
    Ok(None)
}

/// The newest one in this computer's folder.
fn in_folder(head: &Head) -> Option<Zero> {
    if head.jig.serial.is_empty() {
        return None;
    }
    let files = fs::read_dir(folder()?).ok()?.filter_map(Result::ok).map(|file| file.path());
    let kept = files.filter_map(|path| {
        let capture =
            files::read_capture(&path).ok().filter(|capture| is_of(&capture.head, head))?;
        zero(&capture).ok()
    });
    kept.max_by_key(|zero| zero.taken_unix_s)
}

/// The one in this file, if it is of this jig and plug.
pub(crate) fn in_file(path: &Path, head: &Head) -> Result<Zero, Error> {
    let capture = files::read_capture(path)?;
    if !is_of(&capture.head, head) {
        let or_none = |text: &str| {
            if text.is_empty() { "without a name".to_owned() } else { text.to_owned() }
        };
        return Err(Error::OtherJig {
            path: path.into(),
            jig: or_none(&head.jig.serial),
            theirs: or_none(&capture.head.jig.serial),
            plug: or_none(&head.plug.id),
            their_plug: or_none(&capture.head.plug.id),
        });
    }
    zero(&capture).map_err(|source| Error::NotAZero { path: path.into(), source })
}

/// Parts of other values are other parts.
fn is_of(zero: &Head, now: &Head) -> bool {
    (&zero.jig.serial, zero.jig.series_ohm) == (&now.jig.serial, now.jig.series_ohm)
        && zero.plug == now.plug
}

fn folder() -> Option<PathBuf> {
    let platform = etcetera::choose_base_strategy().ok()?;
    Some(platform.data_dir().join("runproof").join("zeros"))
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
