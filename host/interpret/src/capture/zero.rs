//! What a jig read of its own end plug, with nothing between: what later readings are held against.

/// A zero: the tail on the jig's clips, the key in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zero {
    /// Between each pair of posts, in the order of [`Post::PAIRS`](runproof_protocol::Post::PAIRS), in
    /// ohms by the jig's nominal parts.
    pub ohm: [f64; 6],
    /// Standard uncertainty of these, from noise alone.
    pub u_ohm: [f64; 6],
    /// How warm the jig was, in °C, if it could tell.
    pub jig_c: Option<f64>,
    /// When it was taken: seconds since 1970 began, UTC.
    pub taken_unix_s: u64,
}
