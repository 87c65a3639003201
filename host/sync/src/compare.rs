//! What one side lacks: marks are compared part by part, and only where a part differs one by one.
//!
//! Nothing is remembered between two syncs, and no clock or order of arrival is trusted: what a transaction committed late, a
//! backup brought back or a clock put last is found all the same.

use std::collections::{BTreeMap, BTreeSet};

use postgres::Client;
use runproof_records::uuid::Uuid;
use runproof_records::{DetailMark, Digest, Mark};
use sha2::{Digest as _, Sha256};

/// A record's id.
type Id = Uuid;
/// A record's id, and that of something said about it.
type DetailId = (Uuid, Uuid);

/// Which rows are on one side only, and which on both but unlike.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Difference<K> {
    pub(crate) only_here: Vec<K>,
    pub(crate) only_there: Vec<K>,
    pub(crate) unlike: Vec<K>,
}

/// Of records.
pub(crate) fn records(
    client: &mut Client,
    here: &[Mark],
) -> Result<Difference<Id>, postgres::Error> {
    let parts = parts(here.iter().map(|mark| (mark.id, [&mark.id.as_bytes()[..], &mark.digest])));
    let rows = client.query(
        "SELECT get_byte(uuid_send(id), 15), sha256(string_agg(uuid_send(id) || digest, ''::bytea ORDER BY id)) \
         FROM runproof.record GROUP BY 1",
        &[],
    )?;
    let unlike = unlike(&parts, &rows)?;
    let rows = client.query(
        "SELECT id, digest FROM runproof.record WHERE get_byte(uuid_send(id), 15) = ANY ($1)",
        &[&unlike],
    )?;
    let there = rows.iter().map(|row| Ok((row.try_get(0)?, row.try_get(1)?)));
    let here =
        here.iter().filter(|mark| is_in(&unlike, mark.id)).map(|mark| (mark.id, mark.digest));
    Ok(difference(here, there.collect::<Result<_, postgres::Error>>()?))
}

/// Of what was said about them; its part is that of its record.
pub(crate) fn details(
    client: &mut Client,
    here: &[DetailMark],
) -> Result<Difference<DetailId>, postgres::Error> {
    let parts = parts(here.iter().map(|mark| {
        (mark.record, [&mark.record.as_bytes()[..], mark.id.as_bytes(), &mark.digest])
    }));
    let rows = client.query(
        "SELECT get_byte(uuid_send(record), 15), \
         sha256(string_agg(uuid_send(record) || uuid_send(id) || digest, ''::bytea ORDER BY record, id)) \
         FROM runproof.detail GROUP BY 1",
        &[],
    )?;
    let unlike = unlike(&parts, &rows)?;
    let rows = client.query(
        "SELECT record, id, digest FROM runproof.detail WHERE get_byte(uuid_send(record), 15) = ANY ($1)",
        &[&unlike],
    )?;
    let there = rows.iter().map(|row| Ok(((row.try_get(0)?, row.try_get(1)?), row.try_get(2)?)));
    let here = here.iter().filter(|mark| is_in(&unlike, mark.record));
    let here = here.map(|mark| ((mark.record, mark.id), mark.digest));
    Ok(difference(here, there.collect::<Result<_, postgres::Error>>()?))
}

/// The last byte of a record's id, which is random: 256 parts of about the same size.
fn part(id: Uuid) -> i32 {
    i32::from(id.as_bytes()[15])
}

fn is_in(parts: &[i32], id: Uuid) -> bool {
    parts.binary_search(&part(id)).is_ok()
}

/// A SHA-256 of each part, over its rows in their order.
fn parts<'a, const N: usize>(
    rows: impl Iterator<Item = (Uuid, [&'a [u8]; N])>,
) -> BTreeMap<i32, Digest> {
    let mut parts: BTreeMap<i32, Sha256> = BTreeMap::new();
    for (id, bytes) in rows {
        let part = parts.entry(part(id)).or_default();
        bytes.iter().for_each(|bytes| part.update(bytes));
    }
    parts.into_iter().map(|(part, digest)| (part, digest.finalize().into())).collect()
}

/// The parts that are not the same on both sides, in their order.
fn unlike(
    here: &BTreeMap<i32, Digest>,
    rows: &[postgres::Row],
) -> Result<Vec<i32>, postgres::Error> {
    let there = rows.iter().map(|row| Ok((row.try_get(0)?, row.try_get(1)?)));
    let there: BTreeMap<i32, Vec<u8>> = there.collect::<Result<_, postgres::Error>>()?;
    let parts: BTreeSet<i32> = here.keys().chain(there.keys()).copied().collect();
    let is_alike = |part: &i32| {
        here.get(part).is_some_and(|here| there.get(part).is_some_and(|there| there == here))
    };
    Ok(parts.into_iter().filter(|part| !is_alike(part)).collect())
}

fn difference<K: Ord + Copy>(
    here: impl Iterator<Item = (K, Digest)>,
    mut there: BTreeMap<K, Vec<u8>>,
) -> Difference<K> {
    let (mut only_here, mut unlike) = (vec![], vec![]);
    for (key, digest) in here {
        match there.remove(&key) {
            None => only_here.push(key),
            Some(other) if other != digest => unlike.push(key),
            Some(_) => {}
        }
    }
    Difference { only_here, only_there: there.into_keys().collect(), unlike }
}

#[test]
fn what_one_side_lacks_is_found() {
    let digest = |n: u8| [n; 32];
    let here = [(1, digest(1)), (2, digest(2)), (3, digest(3))];
    let there =
        [(4, digest(4)), (3, digest(3)), (2, digest(9))].map(|(n, digest)| (n, digest.to_vec()));
    let found = difference(here.into_iter(), there.into());
    assert_eq!(found, Difference { only_here: vec![1], only_there: vec![4], unlike: vec![2] });
}

#[test]
fn a_part_is_known_by_all_its_rows() {
    let id =
        |n: u8, part: u8| Uuid::from_bytes([n, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, part]);
    let of = |rows: &[(Uuid, u8)]| {
        parts(rows.iter().map(|(id, byte)| (*id, [std::slice::from_ref(byte)])))
    };
    let two = of(&[(id(1, 7), 1), (id(2, 7), 2), (id(1, 9), 1)]);
    assert_eq!(two.keys().copied().collect::<Vec<_>>(), [7, 9]);
    assert_ne!(two[&7], of(&[(id(1, 7), 1)])[&7]);
    assert_eq!(two[&9], of(&[(id(3, 9), 1)])[&9]);
}
