//! What a jig says of itself on USB, before a byte of this contract is spoken.

/// The vendor. Numbers set aside for tests: whoever makes jigs brings their own.
pub const VENDOR: u16 = 0x1209;

/// The product.
pub const PRODUCT: u16 = 0x0001;

/// The product by name: it tells a jig from whatever else uses these numbers.
pub const PRODUCT_NAME: &str = "runproof jig";
