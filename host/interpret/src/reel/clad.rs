//! Copper-clad aluminium beside copper.

/// How many times the resistance of copper of the same size copper-clad aluminium has. At the most 1/0.629: class 10A of
/// ASTM B566 has at least 62.9 % of copper's conductivity (one supplier's sheet that cites it). At the least 1/0.676: 17 %
/// copper by volume, the most of class 15A (the same), beside aluminium of 61 % (IEC 60889), by the rule of mixtures.
pub(super) const COPPER_CLAD: [f64; 2] = [1.0 / 0.676, 1.0 / 0.629];
