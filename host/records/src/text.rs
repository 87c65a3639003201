//! A record as one line of JSON: to take it to another store, or to keep it where the store cannot be written.

use jiff::Timestamp;
use runproof_interpret::judgement::Verdict;
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use uuid::Uuid;

use crate::{Detail, Kind, Listed, Record, Sheet};

/// Raised only when an older reader would misunderstand it.
pub const VERSION: u32 = 1;

/// Why a text is no record.
#[derive(Debug, thiserror::Error)]
pub enum TextError {
    /// It is not JSON, or lacks something.
    #[error("{0}")]
    NotARecord(#[from] serde_json::Error),
    /// It was written by a later version.
    #[error("its version is {found}, and this program reads up to {VERSION}")]
    Later {
        /// Its version.
        found: u32,
    },
}

#[derive(Serialize, Deserialize)]
struct Version {
    runproof_record: u32,
}

#[derive(Serialize, Deserialize)]
struct Text {
    runproof_record: u32,
    id: Uuid,
    kind: Kind,
    taken: Option<Timestamp>,
    zone: String,
    verdict: Option<Verdict>,
    said: String,
    found: Vec<String>,
    simulated: bool,
    jig: String,
    board: String,
    firmware: String,
    program: String,
    sheet: Option<Sheet>,
    told: Box<RawValue>,
    result: Box<RawValue>,
    capture: String,
    details: Vec<Detail>,
}

impl Record {
    /// As one line.
    #[must_use]
    pub fn write(&self) -> String {
        // Inside JSON's texts a line's end is escaped: what ends a line stands between them.
        let raw = |text: &str| {
            let on_one_line = RawValue::from_string(text.replace(['\n', '\r'], " "));
            on_one_line.unwrap_or_else(|_| RawValue::NULL.to_owned())
        };
        let one = self.clone();
        let text = Text {
            runproof_record: VERSION,
            id: one.id,
            kind: one.kind,
            taken: one.taken,
            zone: one.zone,
            verdict: one.verdict,
            said: one.said,
            found: one.found,
            simulated: one.simulated,
            jig: one.jig,
            board: one.board,
            firmware: one.firmware,
            program: one.program,
            sheet: one.sheet,
            told: raw(&one.told),
            result: raw(&one.result),
            capture: one.capture,
            details: one.details,
        };
        serde_json::to_string(&text)
            .unwrap_or_else(|error| unreachable!("a record has text keys only: {error}"))
    }

    /// Reads one line back.
    pub fn read(text: &str) -> Result<Self, TextError> {
        let Version { runproof_record: found } = serde_json::from_str(text)?;
        if found > VERSION {
            return Err(TextError::Later { found });
        }
        let one: Text = serde_json::from_str(text)?;
        Ok(Self {
            id: one.id,
            kind: one.kind,
            taken: one.taken,
            zone: one.zone,
            verdict: one.verdict,
            said: one.said,
            found: one.found,
            simulated: one.simulated,
            jig: one.jig,
            board: one.board,
            firmware: one.firmware,
            program: one.program,
            sheet: one.sheet,
            told: one.told.get().to_owned(),
            result: one.result.get().to_owned(),
            capture: one.capture,
            details: one.details,
        })
    }
}

#[derive(Serialize)]
struct Short<'a> {
    runproof_record_row: u32,
    number: i64,
    id: Uuid,
    kind: Kind,
    taken: Option<Timestamp>,
    zone: &'a str,
    saved: Timestamp,
    verdict: Option<Verdict>,
    said: &'a str,
    found: &'a [String],
    simulated: bool,
    jig: &'a str,
    firmware: &'a str,
    program: &'a str,
    sheet: Option<SheetName<'a>>,
    capture_sha256: &'a str,
    details: &'a [Detail],
}

#[derive(Serialize)]
struct SheetName<'a> {
    name: &'a str,
    version: &'a str,
}

impl Listed {
    /// As one line of JSON, without capture and sheet.
    #[must_use]
    pub fn write(&self) -> String {
        let sheet = self.sheet.as_ref();
        let text = Short {
            runproof_record_row: VERSION,
            number: self.number,
            id: self.id,
            kind: self.kind,
            taken: self.taken,
            zone: &self.zone,
            saved: self.saved,
            verdict: self.verdict,
            said: &self.said,
            found: &self.found,
            simulated: self.simulated,
            jig: &self.jig,
            firmware: &self.firmware,
            program: &self.program,
            sheet: sheet.map(|(name, version)| SheetName { name, version }),
            capture_sha256: &self.capture_sha256,
            details: &self.details,
        };
        serde_json::to_string(&text)
            .unwrap_or_else(|error| unreachable!("a record has text keys only: {error}"))
    }
}
