//! Enumerations on a microcontroller: what is written of them is their number, so that no table of their names is
//! compiled wherever one is written. The bytes are the same.
#![cfg(target_os = "none")]

use serde::{Serialize, Serializer};

use crate::{Converter, Drive, HazardKind, Input, Key, NotKept, Phase, Post, Range, Refusal, Step};

macro_rules! numbered {
    ($($name:ident),*) => {$(
        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_unit_variant(stringify!($name), *self as u32, "")
            }
        }
    )*};
}

numbered!(Converter, Drive, HazardKind, Input, Key, NotKept, Phase, Post, Range, Refusal, Step);
