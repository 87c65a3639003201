//! Where zeros are kept on this computer: a file each, in the platform's folder for a program's data;
//! none is ever overwritten.

use std::fs;
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;
use runproof_interpret::capture::{Head, Zero};
use runproof_interpret::zero;

use crate::error::Error;
use crate::files;

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

/// The newest one that was kept of this jig and plug; files that are none are passed over.
pub(crate) fn newest(head: &Head) -> Option<(PathBuf, Zero)> {
    if head.jig.serial.is_empty() {
        return None;
    }
    let files = fs::read_dir(folder()?).ok()?.filter_map(Result::ok).map(|file| file.path());
    let kept = files.filter_map(|path| {
        let capture =
            files::read_capture(&path).ok().filter(|capture| is_of(&capture.head, head))?;
        Some((path, zero(&capture).ok()?))
    });
    kept.max_by_key(|(_, zero)| zero.taken_unix_s)
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
