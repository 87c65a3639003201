//! Finds messages in a stream of bytes that comes in any chunks, and survives garbage.

use core::marker::PhantomData;

use heapless::Vec;
use serde::de::DeserializeOwned;

use crate::frame::{self, MAX_FRAME};

/// What the decoder found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Decoded<T> {
    /// A whole message.
    Message(T),
    /// A frame that is damaged, too long or unknown: something was lost here.
    Damaged,
}

/// Collects bytes until a frame is whole.
#[derive(Debug)]
pub struct Decoder<T> {
    frame: Vec<u8, MAX_FRAME>,
    overflowed: bool,
    message: PhantomData<T>,
}

impl<T> Default for Decoder<T> {
    fn default() -> Self {
        Self { frame: Vec::new(), overflowed: false, message: PhantomData }
    }
}

impl<T: DeserializeOwned> Decoder<T> {
    /// Takes bytes from the front of `bytes` until a frame ends or they are used up. Call again
    /// while it returns `Some`: what was used is gone from `bytes`.
    pub fn next(&mut self, bytes: &mut &[u8]) -> Option<Decoded<T>> {
        while !bytes.is_empty() {
            let end = bytes.iter().position(|&byte| byte == 0);
            let (part, rest) = bytes.split_at(end.unwrap_or(bytes.len()));
            if self.frame.extend_from_slice(part).is_err() {
                self.overflowed = true;
            }
            *bytes = rest.get(1..).unwrap_or_default();
            if end.is_some()
                && let Some(found) = self.finish()
            {
                return Some(found);
            }
        }
        None
    }

    /// Forgets a frame that was begun: what follows comes from a new conversation.
    pub fn reset(&mut self) {
        self.frame.clear();
        self.overflowed = false;
    }

    fn finish(&mut self) -> Option<Decoded<T>> {
        if self.frame.is_empty() && !self.overflowed {
            return None; // a zero byte between frames
        }
        let message = if self.overflowed { None } else { frame::decode(&mut self.frame) };
        self.reset();
        Some(message.map_or(Decoded::Damaged, Decoded::Message))
    }
}
