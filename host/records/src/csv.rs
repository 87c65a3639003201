//! Records as CSV (RFC 4180): one row a record, a name for every column.

use std::io;

use crate::record::verdict_name;
use crate::{Filter, Key, Listed, Store, StoreError, latest};

/// In their order; after them one for each of what can be said about a record, by its name.
const COLUMNS: [&str; 14] = [
    "number",
    "id",
    "kind",
    "taken_utc",
    "zone",
    "verdict",
    "said",
    "found",
    "simulated",
    "jig",
    "firmware",
    "program",
    "sheet",
    "capture_sha256",
];

impl Store {
    /// Writes the records that are looked for; says how many.
    pub fn write_csv(
        &self,
        filter: &Filter,
        to: &mut dyn io::Write,
    ) -> Result<io::Result<u64>, StoreError> {
        let mut writer =
            ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(to);
        let headings = COLUMNS.into_iter().chain(Key::ALL.map(Key::name));
        let mut written = writer.write_record(headings);
        let mut count = 0;
        self.each(filter, &mut |one| {
            if written.is_ok() {
                written = writer.write_record(csv(&one));
                count += 1;
            }
        })?;
        let flushed = written.map_err(of_writing).and_then(|()| writer.flush());
        Ok(flushed.map(|()| count))
    }
}

/// As it was, so that a pipe that is closed is known as such.
fn of_writing(error: ::csv::Error) -> io::Error {
    match error.into_kind() {
        ::csv::ErrorKind::Io(error) => error,
        other => io::Error::other(format!("{other:?}")),
    }
}

/// The fields of one.
fn csv(one: &Listed) -> Vec<String> {
    let sheet = one.sheet.as_ref().map(|(name, version)| format!("{name} {version}"));
    let mut fields = vec![
        one.number.to_string(),
        one.id.to_string(),
        one.kind.name().into(),
        one.taken.map(|taken| taken.to_string()).unwrap_or_default(),
        one.zone.clone(),
        one.verdict.map(verdict_name).unwrap_or_default().into(),
        one.said.clone(),
        one.found.join(" "),
        if one.simulated { "yes" } else { "no" }.into(),
        one.jig.clone(),
        one.firmware.clone(),
        one.program.clone(),
        sheet.unwrap_or_default(),
        one.capture_sha256.clone(),
    ];
    fields.extend(Key::ALL.map(|key| {
        if key.is_many() {
            let each = one.details.iter().filter(|detail| detail.key == key);
            return each.map(|detail| detail.value.as_str()).collect::<Vec<_>>().join("\n");
        }
        latest(&one.details, key).unwrap_or_default().to_owned()
    }));
    fields
}
