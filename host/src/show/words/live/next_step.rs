//! What to do next about a live run: of the gravest finding.

use runproof_interpret::judgement::{
    At, LiveFinding, LiveFindingKind, LiveJudgement, LiveReason, Severity, Verdict,
};

const TAKE_A_ZERO: &str =
    "take a zero (`runproof zero`: the tail's clips on the jig's own), then read again.";

pub(crate) fn next_step(judgement: &LiveJudgement) -> &'static str {
    use LiveFindingKind as Kind;
    let graver = |kind: Kind, grave: bool| {
        let is =
            |one: &&LiveFinding| one.kind == kind && (one.severity == Severity::Fail || !grave);
        judgement.findings.iter().find(is).map(|one| one.kind)
    };
    let first = graver(Kind::Hazard, true).or(graver(Kind::AllMoveTogether, false));
    let coupled = judgement.found(Kind::Hazard);
    let is_unsure =
        judgement.findings.first().is_some_and(|one| one.severity == Severity::CannotTell);
    match first.or(judgement.findings.first().map(|one| one.kind)) {
        Some(_) if first.is_none() && coupled => {
            "keep off. Unplug the charger of the computer that the jig is on and read again; what is still there \
             couples in from a cable alongside, or comes through a bad joint: a rated meter, low impedance, tells \
             which."
        }
        Some(Kind::Hazard) => {
            "stop here, keep others off, and have the source found and isolated by whoever is licensed for it. If it \
             is the control's own transformer, it is the wrong one, or on the wrong primary tap."
        }
        Some(Kind::AllMoveTogether) => {
            "have every conductor measured to earth with a rated meter; a charger or computer that feeds the jig \
             from the mains does the same: unplug it, run it on its battery, and read again."
        }
        Some(Kind::SecondSource) => {
            "look which second transformer feeds this conductor; switch both off, and prove the run dead with a \
             rated meter before you touch it. Two must not be joined."
        }
        Some(Kind::SupplyOnData | Kind::SupplyElsewhere | Kind::SupplyCrossedWithCommon) => {
            "power off, prove the run dead with a rated meter, lift both ends, and `runproof check`: it tells which \
             conductors are crossed or touch. If it passes, they are landed wrongly at one end. Power on only when \
             it is put right: a data input may not bear the supply."
        }
        Some(Kind::ForeignVoltage) => {
            "power off, prove the run dead with a rated meter, lift both ends, and `runproof check`: supply and data \
             may be crossed or touch. If it passes, the voltage comes from a device or from another source."
        }
        Some(Kind::Floats) if is_unsure => TAKE_A_ZERO,
        Some(Kind::Floats) => {
            "read at the other end with `runproof live`; then power off, lift both ends, and `runproof check`: the \
             conductor is open before this place, or was never landed."
        }
        Some(Kind::CommonMissing) => {
            "read at the other end with `runproof live`; where common is there, it is open between the two: \
             power off, wires lifted, `runproof check`."
        }
        Some(Kind::NoSupply | Kind::LowSupply) if judgement.at == Some(At::Adapter) => {
            "power off, lift the run's supply conductor here, power on, and read again: if it comes back, the run or \
             what hangs on it pulls it down (`runproof check`); if not, look at fuse, transformer and what else it \
             feeds."
        }
        Some(Kind::SupplyGivesWay) => {
            "look for a bad joint in supply or common: power off, lift both ends, and `runproof check`; or for what \
             feeds it through resistance."
        }
        Some(Kind::NoSupply) => {
            "read at the adapter as well: if the supply is there, it is lost between the two (power off, \
             `runproof check`); if it is not, look at fuse, transformer and switches there."
        }
        Some(Kind::OtherSupply) => {
            "hold it against the sheet that this equipment belongs to (`--sheet`; `runproof limits` lists them), \
             or find out what feeds it."
        }
        Some(Kind::LowSupply) => {
            "read at the adapter as well, with everything switched on that it feeds: lower here than there means \
             lost in the run, low there too means transformer or what loads it."
        }
        Some(Kind::HighSupply) => {
            "look at the transformer: its primary tap, and what it is made for."
        }
        Some(Kind::SupplySags) if judgement.at == Some(At::Adapter) => {
            "read with everything off that this transformer feeds but the control: if it still sags, the transformer \
             or a joint before this place is weak; if not, it is overloaded. Where only the far end is too low, the \
             run is too long or too thin."
        }
        Some(Kind::SupplySags) => {
            "read at the adapter as well: where the supply holds there, the run takes the volts: power off, wires \
             lifted, `runproof check`; where it sags there too, look at transformer and what else it feeds."
        }
        Some(Kind::ReversedPair) => {
            "supply off, then exchange the two data conductors at one end only, and read again."
        }
        Some(Kind::PairNotBiased | Kind::PairLoaded) => {
            "read at the other end as well; then supply off, lift the data pair at one end after the other, and \
             see when the bias comes back: what was lifted last holds it down."
        }
        Some(Kind::PairAboveRange | Kind::BeyondReceiver) => {
            "power off; look what the data pair is landed on: common in the place of a data line, a supply, or \
             another kind of bus. Where that is not seen, lift both ends and `runproof check`."
        }
        Some(Kind::Hum) if judgement.verdict == Verdict::Pass => {
            "read at the other end as well. The hum is no fault; a mains or motor cable alongside could be moved off, \
             and a spare core or the shield grounded at one end only."
        }
        Some(Kind::Hum) => {
            "look for the mains or motor cable alongside; ground spare cores and the shield at one end only."
        }
        Some(Kind::TooCloseToLimit) => TAKE_A_ZERO,
        Some(Kind::LimitUnknown) => {
            "give the limit sheet of this equipment, if it has these ranges (`--sheet`; `runproof limits` lists them), \
             or write them into a sheet of your own. The wiring itself is judged without power: `runproof check`."
        }
        Some(Kind::Incomplete)
            if judgement.pair.as_ref().is_some_and(|pair| pair.reason == LiveReason::Busy) =>
        {
            "read again; if it is never idle, switch off who sends, or take `--watch`."
        }
        Some(Kind::Incomplete) => {
            "read again. If the jig has latched a hazard, `runproof live --rearm`: a live reading drives nothing."
        }
        _ if judgement.verdict == Verdict::Pass && judgement.supply_load.is_none() => {
            "read at the other end as well; if that is in range too, supply, as it stands without a control's \
             current, and bias are not the fault: the wiring is told by `runproof check`, supply off and wires lifted."
        }
        _ if judgement.verdict == Verdict::Pass => {
            "read at the other end as well; if that is in range too, supply and bias are not the fault: \
             the wiring is told by `runproof check`, supply off and wires lifted."
        }
        _ => "read again.",
    }
}
