//! Numbers of any ranges in one number, none of its values lost between them: mixed radix.
//!
//! What a code carries is described once, as a walk over its fields. A walk that packs writes each field's number, one
//! that unpacks reads them in the same order, one that lists notes their names and ranges.

use super::CodeError;

/// A value that stands in a code as a number.
pub(super) trait Numbered: Clone {
    /// It is less than this. Neither this nor a number's meaning may ever change within a format version.
    const RADIX: u32;
    fn number(&self) -> u32;
    /// None for a number that stands for nothing.
    fn numbered(number: u32) -> Option<Self>;
}

/// Goes over the fields of a code.
pub(super) trait Walk {
    /// The next field: `told`, if it is known; else what stands in the code.
    fn field<T: Numbered>(&mut self, name: &'static str, told: Option<&T>) -> Result<T, CodeError>;
}

/// Fields, packed: the first one counts ones, each further one counts what those before make together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Packer {
    packed: u128,
    place: u128,
}

impl Packer {
    pub(super) fn new() -> Self {
        Self { packed: 0, place: 1 }
    }

    fn write(&mut self, value: u32, radix: u32) {
        self.packed += u128::from(value) * self.place;
        self.place *= u128::from(radix);
    }

    /// Base 32, the highest digit first.
    pub(super) fn digits(&self, count: usize) -> Vec<u8> {
        let shifts = (0..count).rev().map(|n| 5 * n);
        shifts.map(|shift| (self.packed >> shift) as u8 & 31).collect()
    }
}

impl Walk for Packer {
    fn field<T: Numbered>(&mut self, name: &'static str, told: Option<&T>) -> Result<T, CodeError> {
        let told = told.ok_or(CodeError::OutOfRange { field: name })?;
        self.write(told.number(), T::RADIX);
        Ok(told.clone())
    }
}

/// Reads what a [`Packer`] wrote.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Unpacker {
    packed: u128,
}

impl Unpacker {
    /// From base 32, the highest digit first; more than 25 digits are none of a code.
    pub(super) fn new(digits: &[u8]) -> Self {
        Self { packed: digits.iter().fold(0, |sum, digit| sum << 5 | u128::from(*digit)) }
    }

    fn read(&mut self, radix: u32) -> u32 {
        let value = self.packed % u128::from(radix);
        self.packed /= u128::from(radix);
        value as u32
    }

    /// What no field was read from must be nothing.
    pub(super) fn end(&self) -> Result<(), CodeError> {
        if self.packed == 0 { Ok(()) } else { Err(CodeError::OutOfRange { field: "the rest" }) }
    }
}

impl Walk for Unpacker {
    fn field<T: Numbered>(&mut self, name: &'static str, _: Option<&T>) -> Result<T, CodeError> {
        let number = self.read(T::RADIX);
        T::numbered(number).ok_or(CodeError::OutOfRange { field: name })
    }
}

/// A field of a code: its name, and how many values it may have.
pub type Field = (&'static str, u32);

/// Notes what it goes over.
#[derive(Clone, Debug, Default)]
pub(super) struct Lister(pub(super) Vec<Field>);

impl Walk for Lister {
    fn field<T: Numbered>(&mut self, name: &'static str, _: Option<&T>) -> Result<T, CodeError> {
        self.0.push((name, T::RADIX));
        T::numbered(0).ok_or(CodeError::OutOfRange { field: name })
    }
}

/// Whether these fields fit into so many symbols.
#[cfg(test)]
pub(super) fn fit(fields: &[Field], digits: usize) -> bool {
    let all = fields.iter().try_fold(1_u128, |all, (_, radix)| all.checked_mul((*radix).into()));
    all.is_some_and(|all| all <= 1 << (5 * digits))
}

impl Numbered for bool {
    const RADIX: u32 = 2;
    fn number(&self) -> u32 {
        u32::from(*self)
    }
    fn numbered(number: u32) -> Option<Self> {
        Some(number == 1)
    }
}

/// Nothing is 0.
impl<T: Numbered> Numbered for Option<T> {
    const RADIX: u32 = T::RADIX + 1;
    fn number(&self) -> u32 {
        self.as_ref().map_or(0, |one| one.number() + 1)
    }
    fn numbered(number: u32) -> Option<Self> {
        match number.checked_sub(1) {
            None => Some(None),
            Some(number) => T::numbered(number).map(Some),
        }
    }
}
