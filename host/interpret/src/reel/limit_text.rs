//! Where the bounds of a wire come from.

use crate::copper::{Gauge, Size};
use crate::judgement::WireBasis;

/// A standard, or what was told.
pub(crate) fn limit_text(basis: WireBasis, gauge: Option<Gauge>) -> String {
    let awg = matches!(gauge.map(|gauge| gauge.size), Some(Size::Awg(_)));
    match basis {
        WireBasis::AstmB258 => {
            "standard: ASTM B258 (geometry), 1/58 Ω mm²/m (IEC 60028), diameter ± 1 % (ASTM B3); stranded and tinned: NFPA \
             70, chapter 9, table 8"
                .into()
        }
        WireBasis::Iec60228 => {
            "standard: IEC 60228, tables 1 and 3, the most at 20 °C; at the least the nominal cross-section of copper \
             (house rule)"
                .into()
        }
        WireBasis::Told if awg => "told, of this cable, at 20 °C; the gauge stands beside".into(),
        WireBasis::Told => "told, of this cable, at 20 °C".into(),
    }
}
