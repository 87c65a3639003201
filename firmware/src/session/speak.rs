//! Turns events into the bytes that the host reads.

use runproof_protocol::frame::{self, MAX_FRAME};

use super::Bytes;
use crate::measure::Outbox;

/// Sends events for ever, each as a whole frame.
pub(super) async fn speak(outbox: &Outbox, to_host: &Bytes) -> ! {
    let mut buffer = [0; MAX_FRAME];
    loop {
        let event = outbox.receive().await;
        let frame = frame::encode(&event, &mut buffer);
        debug_assert!(frame.is_ok(), "MAX_FRAME holds every event");
        let mut rest = frame.unwrap_or_default();
        while !rest.is_empty() {
            let used = to_host.write(rest).await;
            rest = &rest[used..];
        }
    }
}
