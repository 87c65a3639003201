//! A sync: what is on one side only is copied to the other, in batches, each whole or not at all.

use std::collections::BTreeSet;

use runproof_records::Store;
use runproof_records::uuid::Uuid;

use crate::synced::{Follows, Refusal, Refused, Synced};
use crate::{Server, SyncError, compare, receive, send};

/// Copies what either side lacks. `synced` is kept up, so that it says what was copied where this ends before its time;
/// done again, it goes on from there.
pub fn sync(
    store: &mut Store,
    server: &mut Server,
    follows: &Follows<'_>,
    synced: &mut Synced,
) -> Result<(), SyncError> {
    let marks = store.marks()?;
    let said = store.detail_marks()?;
    let records = server.ask(|client| compare::records(client, &marks))?;
    let details = server.ask(|client| compare::details(client, &said))?;
    let unlike = |record, detail| Refused { record, detail, why: Refusal::Unlike };
    synced.refused.extend(records.unlike.iter().map(|id| unlike(*id, None)));
    synced.refused.extend(details.unlike.iter().map(|(record, id)| unlike(*record, Some(*id))));

    send::records(store, server, &records.only_here, synced)?;
    receive::records(store, server, &records.only_there, follows, synced)?;

    // What was said about a record goes with it; these are about those that were on both sides.
    let sent: BTreeSet<Uuid> = records.only_here.iter().copied().collect();
    let here: BTreeSet<Uuid> = marks.iter().map(|mark| mark.id).collect();
    let to_send: Vec<_> =
        details.only_here.into_iter().filter(|(record, _)| !sent.contains(record)).collect();
    let to_fetch: Vec<_> =
        details.only_there.into_iter().filter(|(record, _)| here.contains(record)).collect();
    send::details(store, server, &to_send, synced)?;
    receive::details(store, server, &to_fetch, synced)
}
