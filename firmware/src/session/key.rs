//! The key: an event for the host, if one is there; else the jig checks by itself.

use core::convert::Infallible;

use embedded_hal::digital::InputPin;
use embedded_hal_async::digital::Wait;
use runproof_protocol::Event;

use super::{CAPABILITIES, Order, Orders, listen};
use crate::clock::Clock;
use crate::key::{Press, press};
use crate::measure::Outbox;

/// A host says something more often, unless it only waits for what it has ordered. [judgement]
const HOST_QUIET_MICROS: u64 = 5_000_000;

/// Attends to the key, for ever.
pub(super) async fn attend<K: InputPin<Error = Infallible> + Wait>(
    key: &mut K,
    orders: &Orders,
    clock: &impl Clock,
    outbox: &Outbox,
) -> ! {
    loop {
        let press = press(key, clock).await;
        let heard = orders.heard.get();
        let host = heard.is_some_and(|at| clock.now().0.saturating_sub(at.0) < HOST_QUIET_MICROS);
        if host || !CAPABILITIES.alone {
            let _full = outbox.try_send(Event::Key);
            continue;
        }
        outbox.clear(); // nobody hears it
        let order = match press {
            Press::Short => Order::Alone,
            Press::Long => Order::RearmAlone,
        };
        listen::order(orders, order);
    }
}
