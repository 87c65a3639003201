//! Owns the bus: takes slots from the mailbox, brings every transfer to its end, answers.

use core::future::Future;

use embassy_futures::select::{Either, select};
use embedded_hal_async::i2c::{I2c, Operation};
use runproof_protocol::{Converter, Fault};

use super::ads1115::{self, CONVERSION_LIMIT_MICROS, CONVERSION_MICROS, Progress};
use crate::clock::Clock;
use crate::slots::{Conversion, Conversions, Slot, Slots};

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
    for (converter, (input, range)) in slot.looks() {
        let bytes = ads1115::started_by(ads1115::config(input, range));
        transfer(converter, bus, clock, &mut [Operation::Write(&bytes)]).await?;
        conversions[converter.index()].at = clock.now();
    }
    for (converter, (input, range)) in slot.looks() {
        let config = ads1115::config(input, range);
        let Conversion { code, at } = &mut conversions[converter.index()];
        clock.until(at.after(CONVERSION_MICROS)).await;
        let mut read = [0; 2];
        loop {
            transfer(converter, bus, clock, &mut [Operation::Read(&mut read)]).await?;
            match ads1115::progress(config, read) {
                Progress::Done => break,
                Progress::Lost => return Err(Fault::Wrong(converter)),
                Progress::Busy if clock.now() > at.after(CONVERSION_LIMIT_MICROS) => {
                    return Err(Fault::NeverReady(converter));
                }
                Progress::Busy => {}
            }
        }
        let mut operations = [Operation::Write(&ads1115::TO_READ), Operation::Read(&mut read)];
        transfer(converter, bus, clock, &mut operations).await?;
        *code = i16::from_be_bytes(read);
    }
    Ok(conversions)
}

/// One transfer, to its end or to the limit; a bus that hangs is freed before the fault is told.
async fn transfer<B: Bus>(
    converter: Converter,
    bus: &mut B,
    clock: &impl Clock,
    operations: &mut [Operation<'_>],
) -> Result<(), Fault> {
    let limit = clock.until(clock.now().after(TRANSFER_LIMIT_MICROS));
    match select(bus.transaction(ads1115::address(converter), operations), limit).await {
        Either::First(Ok(())) => Ok(()),
        Either::First(Err(_)) => Err(Fault::Absent(converter)),
        Either::Second(()) => {
            bus.recover().await;
            Err(Fault::BusStuck(converter))
        }
    }
}

#[cfg(test)]
mod tests {
    use core::cell::Cell;
    use core::future::pending;

    use embassy_futures::block_on;
    use embedded_hal_async::i2c::{ErrorKind, ErrorType, NoAcknowledgeSource};
    use runproof_protocol::{Input, Microseconds, Range};

    use super::*;

    /// A clock on which waiting takes no time, and reading it a little.
    #[derive(Default)]
    struct Impatient(Cell<u64>);

    impl Clock for Impatient {
        fn now(&self) -> Microseconds {
            self.0.set(self.0.get() + 50);
            Microseconds(self.0.get())
        }

        async fn until(&self, at: Microseconds) {
            self.0.set(self.0.get().max(at.0));
        }
    }

    /// A bus on which one address is out of order.
    struct Faulty {
        address: u8,
        fault: fn(&mut [Operation<'_>]) -> Result<(), ErrorKind>,
        hangs: bool,
        recoveries: usize,
    }

    impl ErrorType for Faulty {
        type Error = ErrorKind;
    }

    impl I2c for Faulty {
        async fn transaction(
            &mut self,
            address: u8,
            operations: &mut [Operation<'_>],
        ) -> Result<(), ErrorKind> {
            if address == self.address {
                if self.hangs {
                    pending::<()>().await;
                }
                return (self.fault)(operations);
            }
            healthy(operations)
        }
    }

    impl Bus for Faulty {
        async fn recover(&mut self) {
            self.recoveries += 1;
        }
    }

    const LOOK: (Input, Range) = (Input::P1P4, Range::V1);

    /// Every register reads as the config that was written: done, and the same as a code.
    fn healthy(operations: &mut [Operation<'_>]) -> Result<(), ErrorKind> {
        reads(operations, ads1115::config(LOOK.0, LOOK.1))
    }

    fn reads(operations: &mut [Operation<'_>], register: u16) -> Result<(), ErrorKind> {
        for operation in operations {
            if let Operation::Read(bytes) = operation {
                bytes.copy_from_slice(&register.to_be_bytes());
            }
        }
        Ok(())
    }

    fn answer(bus: &mut Faulty) -> Result<Conversions, Fault> {
        let slot = Slot::default().and(Converter::Sense, LOOK).and(Converter::Drive, LOOK);
        block_on(convert(&slot, bus, &Impatient::default()))
    }

    fn bus(hangs: bool, fault: fn(&mut [Operation<'_>]) -> Result<(), ErrorKind>) -> Faulty {
        let address = ads1115::address(Converter::Drive);
        Faulty { address, fault, hangs, recoveries: 0 }
    }

    #[test]
    fn a_slot_is_answered_by_both_converters() {
        let conversions = answer(&mut bus(false, healthy)).unwrap();
        let code = ads1115::config(LOOK.0, LOOK.1).cast_signed();
        assert_eq!(conversions.map(|one| one.code), [code, code, 0]);
    }

    #[test]
    fn an_absent_converter_is_named() {
        let mut bus = bus(false, |_| Err(ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address)));
        assert_eq!(answer(&mut bus), Err(Fault::Absent(Converter::Drive)));
    }

    #[test]
    fn a_converter_that_never_finishes_is_named() {
        const OS: u16 = 1 << 15; // stays 0: busy
        let mut bus =
            bus(false, |operations| reads(operations, ads1115::config(LOOK.0, LOOK.1) & !OS));
        assert_eq!(answer(&mut bus), Err(Fault::NeverReady(Converter::Drive)));
    }

    #[test]
    fn another_device_is_not_taken_for_a_converter() {
        let mut nothing_kept = bus(false, |operations| reads(operations, 0xFFFF));
        assert_eq!(answer(&mut nothing_kept), Err(Fault::Wrong(Converter::Drive)));
        let mut reset_meanwhile = bus(false, |operations| reads(operations, 0x8583));
        assert_eq!(answer(&mut reset_meanwhile), Err(Fault::Wrong(Converter::Drive)));
    }

    #[test]
    fn a_hung_bus_is_freed_and_the_converter_named() {
        let mut bus = bus(true, healthy);
        assert_eq!(answer(&mut bus), Err(Fault::BusStuck(Converter::Drive)));
        assert_eq!(bus.recoveries, 1);
    }
}
