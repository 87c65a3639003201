//! From the store to the database.
//!
//! Each transaction inserts sheets, then records, then details, each in the order of their keys: so two that send the same
//! wait for each other, and never both.

use std::collections::{BTreeMap, BTreeSet};
use std::time::{Duration, SystemTime};

use postgres::Transaction;
use runproof_records::jiff::Timestamp;
use runproof_records::uuid::Uuid;
use runproof_records::{Detail, Digest, Packed, Record, Sheet, Store, verdict_name};

use crate::error::plain;
use crate::synced::{Refusal, Refused, Synced};
use crate::{Server, SyncError};

/// A transaction has at most so many records, and about so many bytes.
const RECORDS_MAX: usize = 100;
const BYTES_MAX: usize = 4 << 20;
/// The same of what is said about them.
const DETAILS_MAX: usize = 1000;

/// Something said on its way, about which record.
type Said = (Uuid, Detail);

pub(crate) fn records(
    store: &Store,
    server: &mut Server,
    ids: &[Uuid],
    synced: &mut Synced,
) -> Result<(), SyncError> {
    let mut batch = vec![];
    let mut bytes = 0;
    for id in ids {
        let Some(number) = store.number(*id)? else { continue };
        let mut one = store.packed(number)?;
        if has_zero_byte(&one.record) {
            synced.refused.push(Refused { record: *id, detail: None, why: Refusal::ZeroByte });
            continue;
        }
        without_zero_bytes(*id, &mut one.record.details, synced);
        bytes += one.capture.len() + one.result.len();
        batch.push(one);
        if batch.len() == RECORDS_MAX || bytes >= BYTES_MAX {
            sent(server, &batch, synced)?;
            batch.clear();
            bytes = 0;
        }
    }
    sent(server, &batch, synced)
}

pub(crate) fn details(
    store: &Store,
    server: &mut Server,
    which: &[(Uuid, Uuid)],
    synced: &mut Synced,
) -> Result<(), SyncError> {
    for which in which.chunks(DETAILS_MAX) {
        let which: BTreeSet<&(Uuid, Uuid)> = which.iter().collect();
        let records: BTreeSet<Uuid> = which.iter().map(|(record, _)| *record).collect();
        let mut batch: Vec<Said> = vec![];
        for record in records {
            let Some(number) = store.number(record)? else { continue };
            let mut said = store.said(number)?;
            said.retain(|detail| which.contains(&(record, detail.id)));
            without_zero_bytes(record, &mut said, synced);
            batch.extend(said.into_iter().map(|detail| (record, detail)));
        }
        let batch: Vec<_> = batch.iter().collect();
        match server.at_once(|all| insert_details(all, &batch))? {
            Ok(count) => synced.details_sent += count,
            Err(_) => {
                for one in &batch {
                    match server.at_once(|all| insert_details(all, &[one]))? {
                        Ok(count) => synced.details_sent += count,
                        Err(error) => {
                            let why = Refusal::NotTaken(plain(&error));
                            let (record, detail) = (one.0, Some(one.1.id));
                            synced.refused.push(Refused { record, detail, why });
                        }
                    }
                }
            }
        }
    }
    Ok(())
}

/// What the database cannot take is left behind alone.
fn sent(server: &mut Server, batch: &[Packed], synced: &mut Synced) -> Result<(), SyncError> {
    let error = match server.at_once(|all| insert(all, batch))? {
        Ok(count) => {
            synced.sent += count;
            return Ok(());
        }
        Err(error) => error,
    };
    if let [one] = batch {
        let why = Refusal::NotTaken(plain(&error));
        synced.refused.push(Refused { record: one.record.id, detail: None, why });
        return Ok(());
    }
    batch.chunks(1).try_for_each(|one| sent(server, one, synced))
}

/// What the database already has stays as it is; says how many it had not.
fn insert(all: &mut Transaction<'_>, batch: &[Packed]) -> Result<u64, postgres::Error> {
    if batch.is_empty() {
        return Ok(0);
    }
    insert_sheets(all, batch)?;
    let count = insert_records(all, batch)?;
    let said = batch
        .iter()
        .flat_map(|one| one.record.details.iter().map(|detail| (one.record.id, detail.clone())));
    let said: Vec<Said> = said.collect();
    insert_details(all, &said.iter().collect::<Vec<_>>())?;
    Ok(count)
}

fn insert_sheets(all: &mut Transaction<'_>, batch: &[Packed]) -> Result<u64, postgres::Error> {
    let sheets = batch.iter().filter_map(|one| one.record.sheet.as_ref());
    let sheets: BTreeMap<Digest, &Sheet> = sheets.map(|sheet| (sheet.digest(), sheet)).collect();
    let digests: Vec<&[u8]> = sheets.keys().map(|digest| &digest[..]).collect();
    let texts = |of: fn(&Sheet) -> &str| sheets.values().map(|sheet| of(sheet)).collect::<Vec<_>>();
    all.execute(
        "INSERT INTO runproof.sheet (sha256, name, version, text) \
         SELECT * FROM unnest($1::bytea[], $2::text[], $3::text[], $4::text[]) ON CONFLICT DO NOTHING",
        &[
            &digests,
            &texts(|sheet| &sheet.name),
            &texts(|sheet| &sheet.version),
            &texts(|sheet| &sheet.text),
        ],
    )
}

fn insert_records(all: &mut Transaction<'_>, batch: &[Packed]) -> Result<u64, postgres::Error> {
    let texts = |of: fn(&Packed) -> &str| batch.iter().map(of).collect::<Vec<_>>();
    let bytes = |of: fn(&Packed) -> &[u8]| batch.iter().map(of).collect::<Vec<_>>();
    let ids: Vec<Uuid> = batch.iter().map(|one| one.record.id).collect();
    let taken: Vec<Option<SystemTime>> =
        batch.iter().map(|one| one.record.taken.map(time)).collect();
    let verdicts: Vec<_> = batch.iter().map(|one| one.record.verdict.map(verdict_name)).collect();
    let simulated: Vec<bool> = batch.iter().map(|one| one.record.simulated).collect();
    let found: Vec<String> = batch.iter().map(|one| one.record.found.join(" ")).collect();
    let sheets =
        batch.iter().map(|one| one.record.sheet.as_ref().map(|sheet| sheet.digest().to_vec()));
    let sheets: Vec<Option<Vec<u8>>> = sheets.collect();
    all.execute(
        "INSERT INTO runproof.record (id, digest, kind, taken, zone, verdict, said, found, simulated, jig, board, \
         firmware, program, sheet, told, capture_sha256, capture, result) \
         SELECT * FROM unnest($1::uuid[], $2::bytea[], $3::text[], $4::timestamptz[], $5::text[], $6::text[], $7::text[], \
         $8::text[], $9::boolean[], $10::text[], $11::text[], $12::text[], $13::text[], $14::bytea[], $15::text[], \
         $16::text[], $17::bytea[], $18::bytea[]) ON CONFLICT DO NOTHING",
        &[
            &ids,
            &bytes(|one| &one.digest),
            &texts(|one| one.record.kind.name()),
            &taken,
            &texts(|one| &one.record.zone),
            &verdicts,
            &texts(|one| &one.record.said),
            &found,
            &simulated,
            &texts(|one| &one.record.jig),
            &texts(|one| &one.record.board),
            &texts(|one| &one.record.firmware),
            &texts(|one| &one.record.program),
            &sheets,
            &texts(|one| &one.record.told),
            &texts(|one| &one.capture_sha256),
            &bytes(|one| &one.capture),
            &bytes(|one| &one.result),
        ],
    )
}

fn insert_details(all: &mut Transaction<'_>, batch: &[&Said]) -> Result<u64, postgres::Error> {
    let records: Vec<Uuid> = batch.iter().map(|(record, _)| *record).collect();
    let ids: Vec<Uuid> = batch.iter().map(|(_, detail)| detail.id).collect();
    let digests: Vec<Vec<u8>> = batch.iter().map(|(_, detail)| detail.digest().into()).collect();
    let said: Vec<SystemTime> = batch.iter().map(|(_, detail)| time(detail.said)).collect();
    let keys: Vec<&str> = batch.iter().map(|(_, detail)| detail.key.name()).collect();
    let values: Vec<&str> = batch.iter().map(|(_, detail)| detail.value.as_str()).collect();
    all.execute(
        "INSERT INTO runproof.detail (record, id, digest, said, key, value) \
         SELECT * FROM unnest($1::uuid[], $2::uuid[], $3::bytea[], $4::timestamptz[], $5::text[], $6::text[]) \
         ON CONFLICT DO NOTHING",
        &[&records, &ids, &digests, &said, &keys, &values],
    )
}

/// By the millisecond, as a store keeps it.
fn time(time: Timestamp) -> SystemTime {
    let ms = time.as_millisecond();
    let since = Duration::from_millis(ms.unsigned_abs());
    if ms < 0 { SystemTime::UNIX_EPOCH - since } else { SystemTime::UNIX_EPOCH + since }
}

/// PostgreSQL's texts have none.
fn has_zero_byte(record: &Record) -> bool {
    let one = record;
    let plain =
        [&one.zone, &one.said, &one.jig, &one.board, &one.firmware, &one.program, &one.told];
    let sheet = one.sheet.iter().flat_map(|sheet| [&sheet.name, &sheet.version, &sheet.text]);
    plain.into_iter().chain(&one.found).chain(sheet).any(|text| text.contains('\0'))
}

fn without_zero_bytes(record: Uuid, details: &mut Vec<Detail>, synced: &mut Synced) {
    details.retain(|detail| {
        let is_whole = !detail.value.contains('\0');
        if !is_whole {
            let detail = Some(detail.id);
            synced.refused.push(Refused { record, detail, why: Refusal::ZeroByte });
        }
        is_whole
    });
}
