//! Owns the bus: takes slots from the mailbox, brings every transfer to its end, answers.

use core::future::Future;

use embassy_futures::select::{Either, select};
use embedded_hal_async::i2c::I2c;
use runproof_protocol::{Converter, Fault, Microseconds};

use super::ads1115::{self, CONVERSION_LIMIT_MICROS, CONVERSION_MICROS};
use crate::clock::Clock;
use crate::slots::{Conversions, Look, Slot, Slots};

/// The longest transfer is 5 bytes, 0.12 ms at 400 kHz; after this long it hangs.
const TRANSFER_LIMIT_MICROS: u64 = 2_000;

/// A bus that can be freed.
pub trait Bus: I2c {
    /// Ends whatever hangs: starts the peripheral anew and clocks a stuck target out of its byte.
    fn recover(&mut self) -> impl Future<Output = ()>;
}

/// Answers slots, for ever.
pub async fn serve<B: Bus>(slots: &Slots, bus: &mut B, clock: &impl Clock) -> ! {
    loop {
        let (ticket, slot) = slots.next().await;
        let answer = convert(&slot, bus, clock).await;
        slots.answer(ticket, answer);
    }
}

/// Starts all of a slot's converters, then collects them in the same order.
async fn convert<B: Bus>(
    slot: &Slot,
    bus: &mut B,
    clock: &impl Clock,
) -> Result<Conversions, Fault> {
    let mut conversions = Conversions::default();
    for (converter, look) in slot.looks() {
        conversions[converter.index()].at = start(converter, look, bus, clock).await?;
    }
    for (converter, _) in slot.looks() {
        let conversion = &mut conversions[converter.index()];
        conversion.code = collect(converter, conversion.at, bus, clock).await?;
    }
    Ok(conversions)
}

async fn start<B: Bus>(
    converter: Converter,
    (input, range): Look,
    bus: &mut B,
    clock: &impl Clock,
) -> Result<Microseconds, Fault> {
    let address = ads1115::address(converter);
    let config = ads1115::config(input, range);
    transfer(converter, bus, clock, async |bus| {
        ads1115::start(bus, address, config).await
    })
    .await?;
    Ok(clock.now())
}

async fn collect<B: Bus>(
    converter: Converter,
    started: Microseconds,
    bus: &mut B,
    clock: &impl Clock,
) -> Result<i16, Fault> {
    let address = ads1115::address(converter);
    clock.until(started.after(CONVERSION_MICROS)).await;
    while !transfer(converter, bus, clock, async |bus| {
        ads1115::is_done(bus, address).await
    })
    .await?
    {
        if clock.now() > started.after(CONVERSION_LIMIT_MICROS) {
            return Err(Fault::NeverReady(converter));
        }
    }
    transfer(converter, bus, clock, async |bus| {
        ads1115::read(bus, address).await
    })
    .await
}

/// One transfer, to its end or to the limit; a bus that hangs is freed before the fault is told.
async fn transfer<B: Bus, T>(
    converter: Converter,
    bus: &mut B,
    clock: &impl Clock,
    with: impl AsyncFnOnce(&mut B) -> Result<T, B::Error>,
) -> Result<T, Fault> {
    let limit = clock.until(clock.now().after(TRANSFER_LIMIT_MICROS));
    match select(with(bus), limit).await {
        Either::First(Ok(done)) => Ok(done),
        Either::First(Err(_)) => Err(Fault::Absent(converter)),
        Either::Second(()) => {
            bus.recover().await;
            Err(Fault::BusStuck(converter))
        }
    }
}
