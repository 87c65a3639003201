//! Turns the host's bytes into orders.

use runproof_protocol::{Command, Decoded, Decoder, Event, Identity, VERSION};

use super::{Bytes, CAPABILITIES, Order, Orders};
use crate::measure::Outbox;

/// Reads commands for ever. An answer for which the outbox has no room is left out: a host that
/// does not read does not hold up an abort, and one that reads asks again.
pub(super) async fn listen(
    identity: &Identity,
    orders: &Orders,
    outbox: &Outbox,
    from_host: &Bytes,
) -> ! {
    let mut decoder = Decoder::default();
    let mut buffer = [0; 64];
    loop {
        let used = from_host.read(&mut buffer).await;
        let mut bytes = &buffer[..used];
        while let Some(found) = decoder.next(&mut bytes) {
            if let Decoded::Message(command) = found {
                follow(command, identity, orders, outbox);
            }
        }
    }
}

fn follow(command: Command, identity: &Identity, orders: &Orders, outbox: &Outbox) {
    let answer = match command {
        Command::Hello { nonce, .. } => {
            Event::Hello { version: VERSION, nonce, capabilities: CAPABILITIES }
        }
        Command::Identify => Event::Identity(identity.clone()),
        Command::Measure { phase } => return orders.next.signal(Order::Measure(phase)),
        Command::Rearm => return orders.next.signal(Order::Rearm),
        Command::Abort => {
            orders.next.reset(); // an order not yet begun is aborted too
            return orders.abort.signal(());
        }
    };
    let _full = outbox.try_send(answer);
}
