//! What is the jig's own: who it is, and its memory, which has a say in that.

use core::cell::RefCell;

use runproof_protocol::{Identity, Key, NotKept, Record, Restart};

use super::{Orders, Told};
use crate::keep::{self, Keep};

/// Only `listen` uses it, and only between awaits.
pub(super) struct Own<'a, K> {
    identity: RefCell<&'a mut Identity>,
    memory: RefCell<&'a mut K>,
    /// Why it started anew, if it did so by itself.
    pub(super) restart: Option<&'a Restart>,
}

impl<'a, K: Keep> Own<'a, K> {
    pub(super) fn new(told: &'a mut Told, memory: &'a mut K) -> Self {
        let Told { identity, restart } = told;
        keep::tell(memory, identity);
        let restart = restart.as_ref();
        Self { identity: RefCell::new(identity), memory: RefCell::new(memory), restart }
    }

    pub(super) fn identity(&self) -> Identity {
        Identity::clone(*self.identity.borrow())
    }

    /// The flash stands still for everyone while it changes, so nothing may be driven then.
    #[inline(never)]
    pub(super) fn keep(&self, key: Key, record: &Record, orders: &Orders) -> Result<(), NotKept> {
        orders.may_use_memory()?;
        if !record.is_empty() && !key.fits(record) {
            return Err(NotKept::NotARecord);
        }
        let mut memory = self.memory.borrow_mut();
        memory.keep(key, record)?;
        keep::tell(*memory, *self.identity.borrow_mut());
        Ok(())
    }

    #[inline(never)]
    pub(super) fn recall(&self, key: Key, orders: &Orders) -> Result<Record, NotKept> {
        orders.may_use_memory()?;
        self.memory.borrow_mut().recall(key)
    }
}
