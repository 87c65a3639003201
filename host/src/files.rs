//! Files that are read, and new ones that are made; none is ever overwritten.

use std::fs::{self, File, OpenOptions};
use std::io::{self, BufRead, BufReader, Read, Write};
use std::iter;
use std::path::{Path, PathBuf};

use runproof_interpret::{Capture, capture};

use crate::error::FileError;

const BYTE_ORDER_MARK: char = '\u{FEFF}';

/// Reads a text file, never more than `limit` bytes, whatever it is. Some editors put a byte-order
/// mark in front; it is no part of the text.
pub(crate) fn read(path: &Path, limit: usize) -> Result<String, FileError> {
    if path.is_dir() {
        return Err(FileError::Folder { path: path.into() });
    }
    let unreadable = |source: io::Error| match source.kind() {
        io::ErrorKind::InvalidData => FileError::NotText { path: path.into() },
        _ => FileError::Unreadable { path: path.into(), source },
    };
    let mut text = String::new();
    let file = File::open(path).map_err(unreadable)?;
    file.take(limit as u64 + 1).read_to_string(&mut text).map_err(unreadable)?;
    if text.len() > limit {
        return Err(FileError::TooLarge { path: path.into(), limit_kib: limit >> 10 });
    }
    if text.starts_with(BYTE_ORDER_MARK) {
        text.drain(..BYTE_ORDER_MARK.len_utf8());
    }
    Ok(text)
}

/// The lines of a text file, one after the other, none longer than `limit` bytes.
pub(crate) fn lines(
    path: &Path,
    limit: usize,
) -> Result<impl Iterator<Item = Result<String, FileError>>, FileError> {
    let unreadable = |source: io::Error| FileError::Unreadable { path: path.into(), source };
    let mut file = BufReader::new(File::open(path).map_err(unreadable)?);
    let path = path.to_owned();
    Ok(iter::from_fn(move || {
        let mut line = vec![];
        match file.by_ref().take(limit as u64 + 1).read_until(b'\n', &mut line) {
            Err(source) => Some(Err(FileError::Unreadable { path: path.clone(), source })),
            Ok(0) => None,
            Ok(length) if length > limit => {
                Some(Err(FileError::TooLarge { path: path.clone(), limit_kib: limit >> 10 }))
            }
            Ok(_) => {
                Some(String::from_utf8(line).map_err(|_| FileError::NotText { path: path.clone() }))
            }
        }
    }))
}

/// The capture in a file.
pub(crate) fn read_capture(path: &Path) -> Result<Capture, FileError> {
    let text = read(path, capture::BYTES_MAX)?;
    Capture::read(&text).map_err(|source| FileError::NotACapture { path: path.into(), source })
}

/// A new file, made before anything is measured, so that a measurement is not taken in vain.
pub(crate) fn new(path: PathBuf) -> Result<(PathBuf, File), FileError> {
    match OpenOptions::new().write(true).create_new(true).open(&path) {
        Ok(file) => Ok((path, file)),
        Err(_) if path.is_dir() => {
            let source = io::Error::new(io::ErrorKind::IsADirectory, "it is a folder");
            Err(FileError::NotSaved { path, source })
        }
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            Err(FileError::Exists { path })
        }
        Err(source) => Err(FileError::NotSaved { source: plainly(&path, source), path }),
    }
}

/// A text in a new file.
pub(crate) fn save(path: PathBuf, text: &str) -> Result<PathBuf, FileError> {
    save_bytes(path, text.as_bytes())
}

/// The same of what need not be text.
pub(crate) fn save_bytes(path: PathBuf, bytes: &[u8]) -> Result<PathBuf, FileError> {
    let (path, file) = new(path)?;
    put(path, file, bytes)
}

/// A text in a file that was made before.
pub(crate) fn write(path: PathBuf, file: File, text: &str) -> Result<PathBuf, FileError> {
    put(path, file, text.as_bytes())
}

fn put(path: PathBuf, mut file: File, bytes: &[u8]) -> Result<PathBuf, FileError> {
    match file.write_all(bytes) {
        Ok(()) => Ok(path),
        Err(source) => Err(FileError::NotSaved { path, source }),
    }
}

/// The files in a folder, by name; those that begin with a dot are none of the user's.
pub(crate) fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, FileError> {
    let unreadable = |source| FileError::Unreadable { path: folder.into(), source };
    let mut files = vec![];
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        if path.is_file() && !name(&path).starts_with('.') {
            files.push(path);
        }
    }
    files.sort();
    if files.is_empty() { Err(FileError::EmptyFolder { path: folder.into() }) } else { Ok(files) }
}

/// Without its folder.
pub(crate) fn name(path: &Path) -> String {
    path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

/// A folder that is missing is what most of these come to.
fn plainly(path: &Path, error: io::Error) -> io::Error {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() && !folder.exists() => {
            io::Error::new(error.kind(), format!("there is no folder {}", folder.display()))
        }
        _ => error,
    }
}
