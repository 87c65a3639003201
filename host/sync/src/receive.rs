//! From the database to the store. Nothing that comes is believed: a record is taken only if its digest is that of what it
//! says, and what it says follows from its capture.

use std::time::SystemTime;

use postgres::Row;
use rayon::prelude::*;
use runproof_records::jiff::Timestamp;
use runproof_records::uuid::Uuid;
use runproof_records::{Detail, Digest, Packed, Record, Sheet, Store, verdict_of};

use crate::synced::{Follows, Refusal, Refused, Synced};
use crate::{Server, SyncError};

/// So many are asked for, and kept in one transaction.
const RECORDS_MAX: usize = 100;
/// The same of what is said about them.
const DETAILS_MAX: usize = 1000;

const DETAIL: &str =
    "detail.record, detail.id, detail.digest, detail.said, detail.key, detail.value";

pub(crate) fn records(
    store: &mut Store,
    server: &mut Server,
    ids: &[Uuid],
    follows: &Follows<'_>,
    synced: &mut Synced,
) -> Result<(), SyncError> {
    for ids in ids.chunks(RECORDS_MAX) {
        let came = fetched(server, ids, synced)?;
        let why_not: Vec<Option<Refusal>> =
            came.par_iter().map(|one| why_not(one, follows)).collect();
        let mut records = vec![];
        for (one, why_not) in came.into_iter().zip(why_not) {
            match why_not {
                None => records.push(one),
                Some(why) => {
                    synced.refused.push(Refused { record: one.record.id, detail: None, why });
                }
            }
        }
        let kept = store.save_all(&records)?;
        synced.received += kept.iter().filter(|kept| !kept.was_here).count() as u64;
    }
    Ok(())
}

pub(crate) fn details(
    store: &mut Store,
    server: &mut Server,
    which: &[(Uuid, Uuid)],
    synced: &mut Synced,
) -> Result<(), SyncError> {
    for which in which.chunks(DETAILS_MAX) {
        let (records, ids): (Vec<Uuid>, Vec<Uuid>) = which.iter().copied().unzip();
        let sql = format!(
            "SELECT {DETAIL} FROM runproof.detail JOIN unnest($1::uuid[], $2::uuid[]) AS wanted (record, id) \
             USING (record, id) ORDER BY 1, 2"
        );
        let rows = server.ask(|client| client.query(&sql, &[&records, &ids]))?;
        let said = server.ask(|_| said(&rows, synced))?;
        let mut batch = vec![];
        let mut count = 0;
        for one in said.chunk_by(|one, next| one.0 == next.0) {
            let Some(number) = store.number(one[0].0)? else { continue };
            count += one.len() as u64;
            batch.push((number, one.iter().map(|(_, detail)| detail.clone()).collect()));
        }
        store.add_all(&batch)?;
        synced.details_received += count;
    }
    Ok(())
}

/// Why one is not believed.
fn why_not(one: &Packed, follows: &Follows<'_>) -> Option<Refusal> {
    match one.unpacked() {
        Ok(record)
            if record.digest() != one.digest || record.capture_sha256() != one.capture_sha256 =>
        {
            Some(Refusal::Changed)
        }
        Err(_) => Some(Refusal::Changed),
        Ok(record) => (!follows(&record)).then_some(Refusal::SaysOtherwise),
    }
}

/// Those of them that this version understands, with what was said about them.
fn fetched(
    server: &mut Server,
    ids: &[Uuid],
    synced: &mut Synced,
) -> Result<Vec<Packed>, SyncError> {
    let rows = server.ask(|client| {
        client.query(
            "SELECT record.id, digest, kind, taken, zone, verdict, said, found, simulated, jig, board, firmware, program, \
             told, capture, result, capture_sha256, sheet.name, sheet.version, sheet.text \
             FROM runproof.record LEFT JOIN runproof.sheet ON sheet.sha256 = record.sheet \
             WHERE record.id = ANY ($1) ORDER BY record.id",
            &[&ids],
        )
    })?;
    let sql = format!("SELECT {DETAIL} FROM runproof.detail WHERE record = ANY ($1) ORDER BY 1, 2");
    let detail_rows = server.ask(|client| client.query(&sql, &[&ids]))?;
    server.ask(|_| {
        let mut taken = vec![];
        for row in &rows {
            let id = row.try_get(0)?;
            match record(row)? {
                Ok(one) => taken.push(one),
                Err(why) => synced.refused.push(Refused { record: id, detail: None, why }),
            }
        }
        let mut said = said(&detail_rows, synced)?;
        for Packed { record, .. } in &mut taken {
            let of_it = said.extract_if(.., |(of, _)| *of == record.id);
            record.details = of_it.map(|(_, detail)| detail).collect();
        }
        Ok(taken)
    })
}

/// As it was sent, or why it is not.
fn record(row: &Row) -> Result<Result<Packed, Refusal>, postgres::Error> {
    let digest: Vec<u8> = row.try_get(1)?;
    let kind: String = row.try_get(2)?;
    let taken: Option<SystemTime> = row.try_get(3)?;
    let verdict: Option<String> = row.try_get(5)?;
    let found: String = row.try_get(7)?;
    let sheet: Option<String> = row.try_get(17)?;
    let Ok(kind) = kind.parse() else { return Ok(Err(Refusal::Later(kind))) };
    let verdict = match verdict {
        None => None,
        Some(name) => match verdict_of(&name) {
            None => return Ok(Err(Refusal::Later(name))),
            known => known,
        },
    };
    let Ok(digest) = Digest::try_from(digest) else { return Ok(Err(Refusal::Changed)) };
    let Ok(taken) = taken.map(Timestamp::try_from).transpose() else {
        return Ok(Err(Refusal::Changed));
    };
    let sheet = match sheet {
        Some(name) => Some(Sheet { name, version: row.try_get(18)?, text: row.try_get(19)? }),
        None => None,
    };
    let record = Record {
        id: row.try_get(0)?,
        kind,
        taken,
        zone: row.try_get(4)?,
        verdict,
        said: row.try_get(6)?,
        found: found.split_whitespace().map(str::to_owned).collect(),
        simulated: row.try_get(8)?,
        jig: row.try_get(9)?,
        board: row.try_get(10)?,
        firmware: row.try_get(11)?,
        program: row.try_get(12)?,
        sheet,
        told: row.try_get(13)?,
        result: String::new(),
        capture: String::new(),
        details: vec![],
    };
    let [capture, result] = [row.try_get(14)?, row.try_get(15)?];
    Ok(Ok(Packed { record, capture, result, digest, capture_sha256: row.try_get(16)? }))
}

/// What was said, in its order, without what this version does not understand or somebody changed.
fn said(rows: &[Row], synced: &mut Synced) -> Result<Vec<(Uuid, Detail)>, postgres::Error> {
    let mut all = vec![];
    for row in rows {
        let (record, id): (Uuid, Uuid) = (row.try_get(0)?, row.try_get(1)?);
        let digest: Vec<u8> = row.try_get(2)?;
        let said: SystemTime = row.try_get(3)?;
        let key: String = row.try_get(4)?;
        let detail = match (key.parse(), Timestamp::try_from(said)) {
            (Err(()), _) => Err(Refusal::Later(key)),
            (_, Err(_)) => Err(Refusal::Changed),
            (Ok(key), Ok(said)) => {
                let detail = Detail { id, said, key, value: row.try_get(5)? };
                if detail.digest()[..] == digest { Ok(detail) } else { Err(Refusal::Changed) }
            }
        };
        match detail {
            Ok(detail) => all.push((record, detail)),
            Err(why) => synced.refused.push(Refused { record, detail: Some(id), why }),
        }
    }
    Ok(all)
}
