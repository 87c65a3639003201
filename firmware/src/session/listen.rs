//! Turns the host's bytes into orders.

use runproof_protocol::{Capabilities, Command, Decoded, Decoder, Event, Phase, VERSION};

use super::{Bytes, CAPABILITIES, Order, Orders, Own};
use crate::clock::Clock;
use crate::keep::Keep;
use crate::measure::Outbox;

/// Reads commands for ever. An answer for which the outbox has no room is left out: a host that
/// does not read does not hold up an abort, and one that reads asks again.
pub(super) async fn listen<K: Keep>(
    own: &Own<'_, K>,
    orders: &Orders,
    outbox: &Outbox,
    clock: &impl Clock,
    from_host: &Bytes,
) -> ! {
    let mut decoder = Decoder::default();
    let mut buffer = [0; 64];
    loop {
        let used = from_host.read(&mut buffer).await;
        let mut bytes = &buffer[..used];
        while let Some(found) = decoder.next(&mut bytes) {
            if let Decoded::Message(command) = found {
                orders.heard.set(Some(clock.now()));
                follow(command, own, orders, outbox);
            }
        }
    }
}

fn follow<K: Keep>(command: Command, own: &Own<'_, K>, orders: &Orders, outbox: &Outbox) {
    let answer = match command {
        Command::Hello { nonce, .. } => {
            let capabilities = Capabilities { supply_load: orders.supply_load, ..CAPABILITIES };
            let _full = outbox.try_send(Event::Hello { version: VERSION, nonce, capabilities });
            let Some(restart) = own.restart else { return };
            Event::Restarted(restart.clone())
        }
        Command::Identify => Event::Identity(own.identity()),
        Command::Keep { key, record } => match own.keep(key, &record, orders) {
            Ok(()) => Event::Kept { key },
            Err(reason) => Event::NotKept { key, reason },
        },
        Command::Recall { key } => match own.recall(key, orders) {
            Ok(record) => Event::Recalled { key, record },
            Err(reason) => Event::NotKept { key, reason },
        },
        Command::Measure { phase } => return order(orders, Order::Measure(phase)),
        Command::LightFar(lights) => {
            orders.lights.set(lights);
            return order(orders, Order::Measure(Phase::FarLights));
        }
        Command::Rearm => return order(orders, Order::Rearm),
        Command::Show(signs) => return order(orders, Order::Show(signs)),
        Command::Replay { phase } => return order(orders, Order::Replay(phase)),
        Command::Abort => {
            orders.next.clear();
            return orders.abort.signal(());
        }
    };
    let _full = outbox.try_send(answer);
}

/// More orders than there is room for come from a host that does not wait for what they bring.
pub(super) fn order(orders: &Orders, order: Order) {
    let _full = orders.next.try_send(order);
}
