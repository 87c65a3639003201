//! The engine without a board, for its size alone: session, measurement, converter task and protocol, on lines, bus, time
//! and bytes of which the compiler knows nothing; with the check that needs no host (feature `alone`) or without. It is
//! linked and measured, never run.
#![cfg_attr(target_os = "none", no_std, no_main)]

#[cfg(target_os = "none")]
mod bare {
    use core::convert::Infallible;
    use core::future::{Future, poll_fn};
    use core::hint::black_box;
    use core::panic::PanicInfo;
    use core::task::Poll;

    use cortex_m_rt::entry;
    use embassy_futures::block_on;
    use embassy_futures::select::select4;
    use embedded_hal::digital::{ErrorType, InputPin, OutputPin};
    use embedded_hal_async::digital::Wait;
    use embedded_hal_async::i2c::{self, I2c, Operation};
    use runproof_firmware::alone::Memory;
    use runproof_firmware::bench::{Bench, Line};
    use runproof_firmware::clock::Clock;
    use runproof_firmware::converter::{Bus, serve};
    use runproof_firmware::keep::Keep;
    use runproof_firmware::measure::Means;
    use runproof_firmware::session::{Bytes, Jig, Told, run};
    use runproof_firmware::signs::{Face, Showing, play};
    use runproof_firmware::slots::Slots;
    use runproof_firmware::thermometer::Thermometer;
    use runproof_firmware::watch::Watch;
    use runproof_protocol::{
        Drive, Edge, Key, Microseconds, Microvolts, Millicelsius, NotKept, Record,
    };

    /// All that the engine asks of a board.
    struct Unknown;

    impl Line for Unknown {
        #[inline(never)]
        fn set(&mut self, drive: Drive) {
            black_box(drive);
        }

        #[inline(never)]
        async fn high(&mut self) {
            sometime().await;
        }
    }

    impl ErrorType for Unknown {
        type Error = Infallible;
    }

    impl OutputPin for Unknown {
        #[inline(never)]
        fn set_low(&mut self) -> Result<(), Infallible> {
            black_box(Ok(()))
        }

        #[inline(never)]
        fn set_high(&mut self) -> Result<(), Infallible> {
            black_box(Ok(()))
        }
    }

    impl Clock for Unknown {
        #[inline(never)]
        fn now(&self) -> Microseconds {
            black_box(Microseconds(0))
        }

        async fn until(&self, at: Microseconds) {
            black_box(at);
            sometime().await;
        }
    }

    impl Watch for Unknown {
        #[inline(never)]
        fn prepare(&self) {
            black_box(self);
        }

        #[inline(never)]
        fn begin(&self) {
            black_box(self);
        }

        #[inline(never)]
        fn end(&self) -> Option<Microvolts> {
            black_box(None)
        }

        #[inline(never)]
        fn rearm(&self) {
            black_box(self);
        }

        #[inline(never)]
        async fn tripped(&self) -> Microvolts {
            sometime().await;
            black_box(Microvolts(0))
        }

        #[inline(never)]
        fn observe(&self) {
            black_box(self);
        }

        #[inline(never)]
        fn observed(&self) -> [Microvolts; 4] {
            black_box([Microvolts(0); 4])
        }

        #[inline(never)]
        fn between(&self) -> u8 {
            black_box(0)
        }

        #[inline(never)]
        fn catch(&self) {
            black_box(self);
        }

        #[inline(never)]
        fn caught(&self, now: Microseconds, first: bool) -> Option<Edge> {
            black_box((now, first));
            black_box(Some(Edge::default()))
        }

        #[inline(never)]
        fn dropped(&self) -> u16 {
            black_box(0)
        }
    }

    impl Thermometer for Unknown {
        #[inline(never)]
        fn read(&self) -> Option<Millicelsius> {
            black_box(Some(Millicelsius(0)))
        }
    }

    impl Keep for Unknown {
        #[inline(never)]
        fn keep(&mut self, key: Key, record: &Record) -> Result<(), NotKept> {
            black_box((key, record));
            black_box(Ok(()))
        }

        #[inline(never)]
        fn recall(&mut self, key: Key) -> Result<Record, NotKept> {
            black_box(key);
            black_box(Ok(Record::new()))
        }
    }

    impl InputPin for Unknown {
        #[inline(never)]
        fn is_high(&mut self) -> Result<bool, Infallible> {
            black_box(Ok(true))
        }

        #[inline(never)]
        fn is_low(&mut self) -> Result<bool, Infallible> {
            black_box(Ok(true))
        }
    }

    impl Wait for Unknown {
        async fn wait_for_high(&mut self) -> Result<(), Infallible> {
            sometime().await;
            Ok(())
        }

        async fn wait_for_low(&mut self) -> Result<(), Infallible> {
            sometime().await;
            Ok(())
        }

        async fn wait_for_rising_edge(&mut self) -> Result<(), Infallible> {
            sometime().await;
            Ok(())
        }

        async fn wait_for_falling_edge(&mut self) -> Result<(), Infallible> {
            sometime().await;
            Ok(())
        }

        async fn wait_for_any_edge(&mut self) -> Result<(), Infallible> {
            sometime().await;
            Ok(())
        }
    }

    impl Face for Unknown {
        #[inline(never)]
        fn light(&mut self, posts: [bool; 4]) {
            black_box(posts);
        }

        #[inline(never)]
        fn sound(&mut self, hertz: Option<u16>) {
            black_box(hertz);
        }
    }

    impl i2c::ErrorType for Unknown {
        type Error = i2c::ErrorKind;
    }

    impl I2c for Unknown {
        async fn transaction(
            &mut self,
            address: u8,
            operations: &mut [Operation<'_>],
        ) -> Result<(), i2c::ErrorKind> {
            black_box((address, operations));
            sometime().await;
            black_box(Ok(()))
        }
    }

    impl Bus for Unknown {
        async fn recover(&mut self) {
            sometime().await;
        }
    }

    /// Ready now or later: nobody knows.
    fn sometime() -> impl Future<Output = ()> {
        poll_fn(|_| whenever())
    }

    #[inline(never)]
    fn whenever() -> Poll<()> {
        if black_box(true) { Poll::Ready(()) } else { Poll::Pending }
    }

    #[entry]
    fn main() -> ! {
        let [from_host, to_host] = [Bytes::new(), Bytes::new()];
        let slots = Slots::new();
        let mut bench = Bench::new(
            [Unknown, Unknown, Unknown, Unknown],
            [Unknown, Unknown],
            [Unknown, Unknown, Unknown, Unknown],
            Unknown,
            Unknown,
            black_box(Some(Unknown)),
            Unknown,
        );
        let mut told = Told { identity: runproof_firmware::identity("none", ""), restart: None };
        let showing = Showing::new();
        let mut memory = Memory::new();
        let means = Means { slots: &slots, clock: &Unknown, watch: &Unknown, showing: &showing };
        let jig = Jig { bench: &mut bench, means, thermometer: &Unknown, memory: &mut memory };
        let host = async {
            loop {
                let mut bytes = black_box([0; 64]);
                let used = to_host.read(&mut bytes).await;
                from_host.write_all(&bytes[..used]).await;
            }
        };
        let (mut bus, mut face, mut key) = (Unknown, Unknown, Unknown);
        match block_on(select4(
            run(&mut told, &mut Unknown, jig, &mut key, &from_host, &to_host),
            play(&mut face, &showing, &Unknown),
            serve(&slots, &mut bus, &Unknown),
            host,
        )) {}
    }

    #[panic_handler]
    fn panic(_: &PanicInfo<'_>) -> ! {
        loop {
            black_box(());
        }
    }
}

#[cfg(not(target_os = "none"))]
fn main() {
    eprintln!("this is only measured: tests/image builds it for the microcontroller");
}
