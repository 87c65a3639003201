//! Records in a list: the newest first, those that are looked for.

use jiff::Timestamp;
use runproof_interpret::judgement::Verdict;
use rusqlite::types::Value;
use rusqlite::{Row, params_from_iter};
use uuid::Uuid;

use crate::one::{id, time, verdict, word};
use crate::record::verdict_name;
use crate::{Detail, Key, Kind, Store, StoreError};

/// Which records are meant: those for which all of it holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Filter {
    /// Each is part of something that was said about it, found, or of its jig's or sheet's name; in whatever case.
    pub words: Vec<String>,
    /// Of this kind.
    pub kind: Option<Kind>,
    /// With this verdict.
    pub verdict: Option<Verdict>,
    /// By the jig of this serial.
    pub jig: Option<String>,
    /// Of this job.
    pub job: Option<String>,
    /// Of this reel.
    pub reel: Option<String>,
    /// Not before then.
    pub since: Option<Timestamp>,
    /// Before then.
    pub until: Option<Timestamp>,
    /// None that is void.
    pub not_void: bool,
    /// None that a simulated jig measured.
    pub not_simulated: bool,
    /// At most so many.
    pub limit: Option<u32>,
}

/// A record in a list.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// This store's number of it.
    pub number: i64,
    /// Everywhere's.
    pub id: Uuid,
    /// What kind of test it was.
    pub kind: Kind,
    /// When it was measured; absent where that was not kept.
    pub taken: Option<Timestamp>,
    /// The time zone of the computer that saved it.
    pub zone: String,
    /// When it came into this store.
    pub saved: Timestamp,
    /// Of the run as a whole; a zero has none.
    pub verdict: Option<Verdict>,
    /// The verdict's reason, as it was said then.
    pub said: String,
    /// The kinds of what was found.
    pub found: Vec<String>,
    /// No real jig measured it.
    pub simulated: bool,
    /// The jig's serial.
    pub jig: String,
    /// The jig's firmware.
    pub firmware: String,
    /// The program that judged.
    pub program: String,
    /// Name and version of the limit sheet.
    pub sheet: Option<(String, String)>,
    /// The SHA-256 of its capture.
    pub capture_sha256: String,
    /// What was said about it, in the order it was said.
    pub details: Vec<Detail>,
}

const COLUMNS: &str = "record.number, record.id, record.kind, record.taken_ms, record.zone, record.saved_ms, \
    record.verdict, record.said, record.found, record.simulated, record.jig, record.firmware, record.program, \
    sheet.name, sheet.version, record.capture_sha256 \
    FROM record LEFT JOIN sheet ON sheet.number = record.sheet";

const NEWEST_FIRST: &str = "ORDER BY record.order_ms DESC, record.number DESC";

impl Store {
    /// The records that are looked for, the newest first, and how many there are beyond the filter's limit too.
    pub fn list(&self, filter: &Filter) -> Result<(Vec<Listed>, usize), StoreError> {
        let wrong = |source| self.wrong(source);
        let numbers = self.numbers_of(filter).map_err(wrong)?;
        let wanted = filter.limit.map_or(usize::MAX, |limit| limit as usize);
        let shown = numbers.iter().take(wanted);
        let listed = shown.map(|number| self.row(*number)).collect::<rusqlite::Result<_>>();
        Ok((listed.map_err(wrong)?, numbers.len()))
    }

    /// The same, one after the other and without a limit: of very many.
    pub fn each(&self, filter: &Filter, take: &mut dyn FnMut(Listed)) -> Result<(), StoreError> {
        self.each_plainly(filter, take).map_err(|source| self.wrong(source))
    }

    fn numbers_of(&self, filter: &Filter) -> rusqlite::Result<Vec<i64>> {
        let (condition, values) = conditions(filter);
        let sql = format!("SELECT number FROM record WHERE {condition} {NEWEST_FIRST}");
        let mut all = self.connection.prepare(&sql)?;
        all.query_map(params_from_iter(values), |row| row.get(0))?.collect()
    }

    fn row(&self, number: i64) -> rusqlite::Result<Listed> {
        let sql = format!("SELECT {COLUMNS} WHERE record.number = ?");
        self.connection.prepare_cached(&sql)?.query_row([number], |row| self.listed(row))
    }

    fn each_plainly(&self, filter: &Filter, take: &mut dyn FnMut(Listed)) -> rusqlite::Result<()> {
        let (condition, values) = conditions(filter);
        let sql = format!("SELECT {COLUMNS} WHERE {condition} {NEWEST_FIRST}");
        let mut all = self.connection.prepare(&sql)?;
        let mut rows = all.query(params_from_iter(values))?;
        while let Some(row) = rows.next()? {
            take(self.listed(row)?);
        }
        Ok(())
    }

    fn listed(&self, row: &Row<'_>) -> rusqlite::Result<Listed> {
        let number = row.get(0)?;
        let taken: Option<i64> = row.get(3)?;
        Ok(Listed {
            number,
            id: id(row, 1)?,
            kind: word(row, 2, |text| text.parse().ok())?,
            taken: taken.map(|ms| time(3, ms)).transpose()?,
            zone: row.get(4)?,
            saved: time(5, row.get(5)?)?,
            verdict: verdict(row, 6)?,
            said: row.get(7)?,
            found: row.get::<_, String>(8)?.split_whitespace().map(str::to_owned).collect(),
            simulated: row.get(9)?,
            jig: row.get(10)?,
            firmware: row.get(11)?,
            program: row.get(12)?,
            sheet: match row.get(13)? {
                Some(name) => Some((name, row.get(14)?)),
                None => None,
            },
            capture_sha256: row.get(15)?,
            details: self.details(number)?,
        })
    }
}

/// As SQL, with what stands for its question marks.
pub(crate) fn conditions(filter: &Filter) -> (String, Vec<Value>) {
    let mut all = vec!["1".to_owned()];
    let mut values = vec![];
    let text = |text: &str| Value::Text(text.to_owned());
    if !filter.words.is_empty() {
        let (condition, asked) = found_by(&filter.words);
        all.push(condition);
        values.extend(asked);
    }
    let mut holds = |condition: &str, value: Value| {
        all.push(condition.to_owned());
        values.push(value);
    };
    if let Some(kind) = filter.kind {
        holds("record.kind = ?", text(kind.name()));
    }
    if let Some(verdict) = filter.verdict {
        holds("record.verdict = ?", text(verdict_name(verdict)));
    }
    if let Some(jig) = &filter.jig {
        holds("record.jig = ?", text(jig));
    }
    if let Some(since) = filter.since {
        holds("record.order_ms >= ?", Value::Integer(since.as_millisecond()));
    }
    if let Some(until) = filter.until {
        holds("record.order_ms < ?", Value::Integer(until.as_millisecond()));
    }
    for (key, said_last) in [(Key::Job, &filter.job), (Key::Reel, &filter.reel)] {
        let Some(said_last) = said_last else { continue };
        // The index finds those of which it was ever said, the last word decides.
        let said = "SELECT number FROM detail WHERE key = ? AND value = ?";
        let last = "SELECT value FROM detail WHERE detail.number = record.number AND key = ? ORDER BY id DESC LIMIT 1";
        all.push(format!("record.number IN ({said}) AND ({last}) = ?"));
        values.extend([text(key.name()), text(said_last), text(key.name()), text(said_last)]);
    }
    if filter.not_void {
        all.push("record.number NOT IN (SELECT number FROM detail WHERE key = ?)".into());
        values.push(text(Key::Void.name()));
    }
    if filter.not_simulated {
        all.push("record.simulated = 0".into());
    }
    (all.join(" AND "), values)
}

/// Fewer letters are in no index.
const INDEXED_MIN: usize = 3;

/// Those in which each of the words is. Words of too few letters are in no index: the texts themselves are looked through.
fn found_by(words: &[String]) -> (String, Vec<Value>) {
    let words: Vec<String> = words.iter().map(|word| word.replace('−', "-")).collect();
    let (long, short): (Vec<_>, Vec<_>) =
        words.iter().partition(|word| word.chars().count() >= INDEXED_MIN);
    let mut all = vec![];
    let mut values = vec![];
    if !long.is_empty() {
        let quoted = long.iter().map(|word| format!("\"{}\"", word.replace('"', "\"\"")));
        all.push("record.number IN (SELECT rowid FROM words WHERE text MATCH ?)".to_owned());
        values.push(Value::Text(quoted.collect::<Vec<_>>().join(" AND ")));
    }
    for word in short {
        // As FTS5 keeps it: its column is `c0`.
        let part = "SELECT id FROM words_content WHERE c0 LIKE ? ESCAPE '!'";
        all.push(format!("record.number IN ({part})"));
        let plain = word.replace('!', "!!").replace('%', "!%").replace('_', "!_");
        values.push(Value::Text(format!("%{plain}%")));
    }
    (all.join(" AND "), values)
}
