//! Normal loss, abnormal loss, abnormal gain.
//!
//! SPOIL-1, SPOIL-3: ACCA F2 text, online.flipbuilder.com/bmcx/nlve, pages 146, 154 and 156. VERIFIED.

use kerfbook::costing::Flow;

use crate::compiled::{compile, text};

const SPOIL: &str = "material input \"Input\"
    measured in kg
material scrap \"Scrap\"
    measured in kg
    from input
material output \"Output\"
    measured in kg
step making \"Making\"
bought 2026-01-02
    1000 kg input at 18.00
";

#[test]
fn spoil_1_normal_loss_is_borne_by_the_good_output_at_23() {
    let book = compile(&format!(
        "{SPOIL}bought 2026-01-02
    1800.00 on batch S-1 \"labour\"
    900.00 on batch S-1 \"overhead\"
built 2026-01-03 batch S-1
    used 1000 kg input
    made 900 kg output
    lost 100 kg output
"
    ));
    assert_eq!(text(book.output("S-1", "output").full()), "20700.00");
    assert_eq!(book.flow(Flow::AbnormalLoss), "0.00");
}

#[test]
fn spoil_3_scrap_of_the_normal_loss_lowers_the_unit_to_22_80() {
    // The text takes 10 % as the normal loss and values 950 kg of output at the unit of 900: 21,660, of which 1,140 is an abnormal gain.
    // These books have no expected loss: the unit of a batch is over what was good. So the text's unit stands on a batch with the
    // text's normal output; the gain is 50 of them.
    let book = compile(&format!(
        "{SPOIL}bought 2026-01-02
    1800.00 on batch S-3 \"labour\"
    900.00 on batch S-3 \"overhead\"
built 2026-01-03 batch S-3
    used 1000 kg input
    made 900 kg output
    lost 100 kg output
    kept 100 kg scrap worth 180.00
"
    ));
    let output = book.output("S-3", "output");
    assert_eq!(text(output.full()), "20520.00");
    assert_eq!(text(output.scaled(950.into(), 900.into()).and_then(|all| all.full())), "21660.00");
    assert_eq!(text(output.scaled(50.into(), 900.into()).and_then(|gain| gain.full())), "1140.00");
    assert_eq!(book.on_hand("scrap").1, "180.00");
}

#[test]
fn an_abnormal_loss_is_valued_like_good_output() {
    // Worked by hand: 1,000 kg in for 20,700, normal loss 100, 850 good, 50 abnormal: 19,550 and 1,150.
    let book = compile(&format!(
        "{SPOIL}bought 2026-01-02
    2700.00 on batch S-4 \"labour and overhead\"
built 2026-01-03 batch S-4
    used 1000 kg input
    made 850 kg output
    lost 100 kg output
    lost 50 kg output, charged off
"
    ));
    assert_eq!(text(book.output("S-4", "output").full()), "19550.00");
    assert_eq!(book.flow(Flow::AbnormalLoss), "1150.00");
}
