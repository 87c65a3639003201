//! The store's schema, and how an old one becomes today's.

use rusqlite::{Connection, TransactionBehavior};

/// Each step leads from the schema before to the next; the first begins with nothing.
const STEPS: [&str; 2] = [include_str!("schema/1.sql"), include_str!("schema/2.sql")];

/// The one that this version writes.
pub(crate) const KNOWN: i64 = STEPS.len() as i64;

/// Which one a store has; 0: none yet.
pub(crate) fn of(connection: &Connection) -> rusqlite::Result<i64> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Brings it up to today's, in one transaction: whoever comes second finds it done.
pub(crate) fn bring_up(connection: &mut Connection) -> rusqlite::Result<()> {
    if of(connection)? >= KNOWN {
        return Ok(());
    }
    let change = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let from = usize::try_from(of(&change)?).unwrap_or(0);
    for step in STEPS.iter().skip(from) {
        change.execute_batch(step)?;
    }
    if from < STEPS.len() {
        change.pragma_update(None, "user_version", KNOWN)?;
    }
    change.commit()
}
