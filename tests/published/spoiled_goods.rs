//! Normal loss, abnormal loss, abnormal gain.
//!
//! SPOIL-1, SPOIL-3: ACCA F2 text, online.flipbuilder.com/bmcx/nlve, pages 146, 154 and 156. VERIFIED.

use kerfbook::costing::Flow;

use crate::compiled::{Compiled, compile, text};

/// 1,000 kg at 18.00 and so much money straight to the batch.
fn spoil(money: &str, batch: &str) -> Compiled {
    compile(&format!(
        "material input \"Input\"
    measured in kg
material scrap \"Scrap\"
    measured in kg
    from input
material output \"Output\"
    measured in kg
bought 2026-01-02
    1000 kg input at 18.00
bought 2026-01-02
{money}built 2026-01-03 batch S
    used 1000 kg input
{batch}"
    ))
}

const LABOUR_AND_OVERHEAD: &str = "    1800.00 on batch S \"labour\"\n    900.00 on batch S \"overhead\"\n";

#[test]
fn spoil_1_normal_loss_is_borne_by_the_good_output_at_23() {
    let book = spoil(LABOUR_AND_OVERHEAD, "    made 900 kg output\n    lost 100 kg output\n");
    assert_eq!(text(book.output("S", "output").full()), "20700.00");
    assert_eq!(book.flow(Flow::AbnormalLoss), "0.00");
}

#[test]
fn spoil_3_scrap_of_the_normal_loss_lowers_the_unit_to_22_80() {
    // The text takes 10 % as the normal loss and values 950 kg of output at the unit of 900: 21,660, of which 1,140 is an abnormal gain.
    // These books have no expected loss: the unit of a batch is over what was good. So the text's unit stands on a batch with the
    // text's normal output; the gain is 50 of them.
    let batch = "    made 900 kg output\n    lost 100 kg output\n    kept 100 kg scrap worth 180.00\n";
    let book = spoil(LABOUR_AND_OVERHEAD, batch);
    let output = book.output("S", "output");
    assert_eq!(text(output.full()), "20520.00");
    assert_eq!(text(output.scaled(950.into(), 900.into()).and_then(|all| all.full())), "21660.00");
    assert_eq!(text(output.scaled(50.into(), 900.into()).and_then(|gain| gain.full())), "1140.00");
    assert_eq!(book.on_hand("scrap").1, "180.00");
}

#[test]
fn an_abnormal_loss_is_valued_like_good_output() {
    // Worked by hand: 1,000 kg in for 20,700, normal loss 100, 850 good, 50 abnormal: 19,550 and 1,150.
    let batch = "    made 850 kg output\n    lost 100 kg output\n    lost 50 kg output, charged off\n";
    let book = spoil("    2700.00 on batch S \"labour and overhead\"\n", batch);
    assert_eq!(text(book.output("S", "output").full()), "19550.00");
    assert_eq!(book.flow(Flow::AbnormalLoss), "1150.00");
}
