//! The simulated jig's lamps, sounder and key, for whoever looks, listens and presses.

use core::cell::Cell;
use core::convert::Infallible;
use core::future::poll_fn;
use core::task::Poll;
use std::rc::Rc;

use embedded_hal::digital::{ErrorType, InputPin};
use embedded_hal_async::digital::Wait;

use crate::signs::Face;

/// How they stand now.
#[derive(Debug, Default)]
pub(super) struct Desk {
    pub(super) lamps: Cell<[bool; 4]>,
    pub(super) hertz: Cell<Option<u16>>,
    pub(super) pressed: Cell<bool>,
}

/// Its lamps and sounder.
pub(super) struct DeskFace(pub(super) Rc<Desk>);

impl Face for DeskFace {
    fn light(&mut self, posts: [bool; 4]) {
        self.0.lamps.set(posts);
    }

    fn sound(&mut self, hertz: Option<u16>) {
        self.0.hertz.set(hertz);
    }
}

/// Its key.
pub(super) struct DeskKey(pub(super) Rc<Desk>);

impl DeskKey {
    async fn until(&self, pressed: bool) -> Result<(), Infallible> {
        let stands = || self.0.pressed.get() == pressed;
        poll_fn(|_| if stands() { Poll::Ready(Ok(())) } else { Poll::Pending }).await
    }
}

impl ErrorType for DeskKey {
    type Error = Infallible;
}

impl InputPin for DeskKey {
    fn is_high(&mut self) -> Result<bool, Infallible> {
        Ok(!self.0.pressed.get())
    }

    fn is_low(&mut self) -> Result<bool, Infallible> {
        Ok(self.0.pressed.get())
    }
}

impl Wait for DeskKey {
    async fn wait_for_high(&mut self) -> Result<(), Infallible> {
        self.until(false).await
    }

    async fn wait_for_low(&mut self) -> Result<(), Infallible> {
        self.until(true).await
    }

    async fn wait_for_rising_edge(&mut self) -> Result<(), Infallible> {
        self.until(true).await?;
        self.until(false).await
    }

    async fn wait_for_falling_edge(&mut self) -> Result<(), Infallible> {
        self.until(false).await?;
        self.until(true).await
    }

    async fn wait_for_any_edge(&mut self) -> Result<(), Infallible> {
        let before = self.0.pressed.get();
        self.until(!before).await
    }
}
