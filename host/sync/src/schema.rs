//! The server's schema, and how an old one becomes today's.

use postgres::{Client, GenericClient};

/// Each step leads from the schema before to the next; the first begins with nothing.
const STEPS: [&str; 1] = [include_str!("schema/1.sql")];

/// The one that this version knows.
pub(crate) const KNOWN: i32 = STEPS.len() as i32;

/// Whoever changes the schema holds this; the letters `runproof`.
const LOCK: i64 = i64::from_be_bytes(*b"runproof");

/// Which one a database has; 0: none yet.
pub(crate) fn of(client: &mut impl GenericClient) -> Result<i32, postgres::Error> {
    let is_there = client.query_one("SELECT to_regclass('runproof.version') IS NOT NULL", &[])?;
    if !is_there.get::<_, bool>(0) {
        return Ok(0);
    }
    let number = client.query_one("SELECT coalesce(max(number), 0) FROM runproof.version", &[])?;
    Ok(number.get(0))
}

/// Brings it up to today's, in one transaction: whoever comes second finds it done. Says which one it has then.
pub(crate) fn bring_up(client: &mut Client) -> Result<i32, postgres::Error> {
    let now = of(client)?;
    if now >= KNOWN {
        return Ok(now);
    }
    let mut change = client.transaction()?;
    change.execute("SELECT pg_advisory_xact_lock($1)", &[&LOCK])?;
    let from = of(&mut change)?;
    if from >= KNOWN {
        return Ok(from);
    }
    if from == 0 {
        change.batch_execute(
            "CREATE SCHEMA IF NOT EXISTS runproof; \
             CREATE TABLE runproof.version (number integer PRIMARY KEY, since timestamptz NOT NULL DEFAULT now())",
        )?;
    }
    for (number, step) in (1..).zip(STEPS).skip(usize::try_from(from).unwrap_or(0)) {
        change.batch_execute(step)?;
        change.execute("INSERT INTO runproof.version (number) VALUES ($1)", &[&number])?;
    }
    change.commit()?;
    Ok(KNOWN)
}
