//! The most resistance that IEC 60228 allows a conductor of a nominal cross-section.

/// One cross-section, copper, at 20 °C, in Ω/km.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    /// Nominal.
    pub(crate) mm2: f64,
    /// Class 1.
    pub(crate) solid_plain: f64,
    pub(crate) solid_tinned: f64,
    /// Class 5; class 2, of fewer wires, has what class 1 has.
    pub(crate) fine_plain: f64,
    pub(crate) fine_tinned: f64,
}

/// IEC 60228:2004, tables 1 and 3; the thinnest first.
pub(crate) const IEC_60228: [Row; 6] = [
    row(0.5, [36.0, 36.7], [39.0, 40.1]),
    row(0.75, [24.5, 24.8], [26.0, 26.7]),
    row(1.0, [18.1, 18.2], [19.5, 20.0]),
    row(1.5, [12.1, 12.2], [13.3, 13.7]),
    row(2.5, [7.41, 7.56], [7.98, 8.21]),
    row(4.0, [4.61, 4.7], [4.95, 5.09]),
];

const fn row(mm2: f64, solid: [f64; 2], fine: [f64; 2]) -> Row {
    let [[solid_plain, solid_tinned], [fine_plain, fine_tinned]] = [solid, fine];
    Row { mm2, solid_plain, solid_tinned, fine_plain, fine_tinned }
}

impl Row {
    /// Of this cross-section, which a gauge that was read has.
    pub(crate) fn of(mm2: f64) -> Self {
        let found = IEC_60228.iter().find(|row| row.mm2 == mm2).copied();
        found.unwrap_or(row(mm2, [f64::NAN; 2], [f64::NAN; 2]))
    }
}
