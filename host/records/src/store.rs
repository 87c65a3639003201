//! The store: one SQLite file, which several programs may use at once.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use rusqlite::{Connection, OpenFlags};

use crate::{StoreError, schema};

/// So long is waited for others that write. A record takes some milliseconds.
const BUSY_MAX: Duration = Duration::from_secs(15);
const BUSY_PAUSE: Duration = Duration::from_millis(20);

/// Records on this computer.
#[derive(Debug)]
pub struct Store {
    pub(crate) connection: Connection,
    pub(crate) path: PathBuf,
}

impl Store {
    /// The number of the schema that this version writes.
    pub const SCHEMA: i64 = schema::KNOWN;

    /// Opens the store in this file, and makes it where there is none; an old one is brought up to today's schema.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        if let Some(folder) = path.parent() {
            let made = fs::create_dir_all(folder);
            made.map_err(|source| StoreError::NotOpened { path: path.into(), source })?;
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE;
        let mut store = Self::connect(path, path, flags)?;
        store.set_up().map_err(|source| StoreError::of(path, source))?;
        Ok(store)
    }

    /// Opens a store to read what is there; none where there is no such file.
    pub fn open_to_read(path: &Path) -> Result<Option<Self>, StoreError> {
        match fs::metadata(path) {
            Ok(_) => {}
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(source) => return Err(StoreError::NotOpened { path: path.into(), source }),
        }
        match Self::open(path) {
            Err(StoreError::ReadOnly { .. } | StoreError::NotOpened { .. }) => {
                let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
                Self::connect(path, &as_it_stands(path), flags).map(Some)
            }
            other => other.map(Some),
        }
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// What SQLite finds wrong with the file; "ok" where that is nothing.
    pub fn integrity(&self) -> Result<String, StoreError> {
        let found = self.connection.pragma_query_value(None, "integrity_check", |row| row.get(0));
        found.map_err(|source| self.wrong(source))
    }

    fn connect(path: &Path, name: &Path, flags: OpenFlags) -> Result<Self, StoreError> {
        let wrong = |source| StoreError::of(path, source);
        let connection = Connection::open_with_flags(name, flags).map_err(wrong)?;
        connection.busy_timeout(BUSY_MAX).map_err(wrong)?;
        let found = schema::of(&connection).map_err(wrong)?;
        if found > schema::KNOWN {
            return Err(StoreError::Later { path: path.into(), found, known: schema::KNOWN });
        }
        Ok(Self { connection, path: path.into() })
    }

    /// What is said to be saved outlives the program and the computer's power.
    fn set_up(&mut self) -> rusqlite::Result<()> {
        let begun = Instant::now();
        // Whoever makes a store must not wait for another who does: SQLite then says busy at once.
        while let Err(error) = self.write_ahead() {
            let is_busy = error.sqlite_error_code() == Some(rusqlite::ErrorCode::DatabaseBusy);
            if !is_busy || begun.elapsed() > BUSY_MAX {
                return Err(error);
            }
            std::thread::sleep(BUSY_PAUSE);
        }
        self.connection.pragma_update(None, "synchronous", "FULL")?;
        self.connection.pragma_update(None, "foreign_keys", true)?;
        schema::bring_up(&mut self.connection)
    }

    fn write_ahead(&self) -> rusqlite::Result<()> {
        self.connection.pragma_update(None, "journal_mode", "WAL")
    }

    pub(crate) fn wrong(&self, source: rusqlite::Error) -> StoreError {
        StoreError::of(&self.path, source)
    }
}

/// A file that may not be written to, as SQLite wants its name. Without a write-ahead log beside it nobody writes to it
/// meanwhile either; what is still in a log is part of the store.
fn as_it_stands(path: &Path) -> PathBuf {
    let mut log = path.as_os_str().to_owned();
    log.push("-wal");
    if fs::metadata(log).is_ok_and(|log| log.len() > 0) {
        return path.into();
    }
    let text = path.to_string_lossy();
    let plain = text.replace('%', "%25").replace('?', "%3f").replace('#', "%23");
    PathBuf::from(format!("file:{plain}?immutable=1"))
}
