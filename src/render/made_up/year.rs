//! A made-up report of a tax year: plausible, but of no book.

use super::head;
use crate::reports::{
    BridgeLine, CostOfGoods, CutOffPart, EquipmentLifeYear, EquipmentRow, EquipmentStep, FormBoxAnswer, FormLine, GoodsWentTo,
    HomeWorkshopRow, MileageSchedule, NamedSum, OpenQuestion, SalesTaxRow, Schedules, SelfEmployment, Timing, ToolGoneRow,
    YearReport,
};

fn form_line(line: &str, label: &str, printed: &str) -> FormLine {
    FormLine {
        line: line.to_owned(),
        part: "Part II".to_owned(),
        label: label.to_owned(),
        cents: format!("{printed}.37"),
        printed: printed.to_owned(),
        figure: format!("year/2026/line-{line}"),
        parts: if line == "48" {
            vec![named("Booth and stall fees", "561.20"), named("packing used", "76.17")]
        } else {
            Vec::new()
        },
        itemized: line == "48",
        working: false,
    }
}

fn named(name: &str, amount: &str) -> NamedSum {
    NamedSum { name: name.to_owned(), amount: amount.to_owned() }
}

/// A tax year with something in every schedule.
pub(crate) fn year() -> YearReport {
    let text = |text: &str| text.to_owned();
    let bridge = |name: &str, amount: &str| BridgeLine { name: text(name), amount: text(amount) };
    YearReport {
        head: head("year"),
        caution: text(
            "A worksheet, not advice: its lines and rates are data for Schedule C (Form 1040), tax year 2026, provisional; go by the form's own \
             instructions, or ask a licensed preparer.",
        ),
        form: text("us-schedule-c"),
        form_title: text("Schedule C (Form 1040), tax year 2026, provisional"),
        year: 2026,
        basis: text("cash"),
        stock: text("inventory"),
        net_profit_line: text("31"),
        lines: vec![
            form_line("1", "Gross receipts or sales", "8933"),
            form_line("2", "Returns and allowances", "0"),
            form_line("4", "Cost of goods sold (from line 42)", "3082"),
            form_line("27b", "Other expenses (from line 48)", "637"),
            form_line("31", "Net profit or (loss)", "5214"),
            form_line("42", "Cost of goods sold", "3082"),
            form_line("48", "Total other expenses", "637"),
        ],
        boxes: vec![FormBoxAnswer {
            line: text("33"),
            label: text("Method used to value closing inventory"),
            answer: text("cost"),
        }],
        cost_of_goods: CostOfGoods {
            went_to: GoodsWentTo {
                sold: text("2960.10"),
                scrapped: text("44.20"),
                missing: text("-3.10"),
                abnormal: text("61.05"),
                donated: text("12.40"),
                price_difference: text("0.00"),
            },
            timing: Timing {
                gone_not_paid: text("-31.20"),
                gone_paid_now: text("38.10"),
                unrecorded: text("0.00"),
                method_change: text("0.00"),
            },
            rounding: text("0.45"),
            total: text("2999.52"),
            rows: vec![named("Sold, less what came back", "2960.10"), named("Scrapped", "44.20")],
            other_ways_out: vec![named("taken home", "31.10"), named("samples", "12.48")],
        },
        schedules: Schedules {
            equipment: vec![EquipmentRow {
                name: text("band-saw"),
                title: text("14-inch band saw"),
                in_use_from: text("2026-03-02"),
                cost: text("941.22"),
                business_use: text("90"),
                method: text("recovered over 7 years"),
                this_year: text("121.05"),
                left: text("726.05"),
                line: text("13"),
                count: text("1"),
                of_line: String::new(),
                steps: vec![
                    EquipmentStep { step: 1, name: text("landed cost"), how: text("bought"), amount: Some(text("941.22")) },
                    EquipmentStep { step: 3, name: text("as supplies, by what an item cost"), how: String::new(), amount: None },
                    EquipmentStep {
                        step: 8,
                        name: text("by the table"),
                        how: text("14.29% of 847.10, its year 1"),
                        amount: Some(text("121.05")),
                    },
                ],
                life: [("2026", "121.05", "726.05"), ("2027", "207.45", "518.60")]
                    .map(|(year, table, left)| EquipmentLifeYear {
                        year: year.parse().expect("a year"),
                        at_once: text("0.00"),
                        bonus: text("0.00"),
                        table: text(table),
                        left: text(left),
                    })
                    .into(),
            }],
            tools_gone: vec![ToolGoneRow {
                name: text("dust-fan"),
                title: text("Old dust fan"),
                in_use_from: text("2018-06-01"),
                date: text("2026-10-01"),
                proceeds: text("10.00"),
                business_proceeds: text("10.00"),
                business_cost: text("80.00"),
                recovered: text("80.00"),
                gain: Some(text("10.00")),
            }],
            mileage: MileageSchedule {
                miles: text("412"),
                rates: vec![named("from 2026-01-01", "0.70")],
                amount: text("288.40"),
            },
            home_workshop: Some(HomeWorkshopRow {
                method: text("simplified"),
                before_limit: text("1000.00"),
                amount: text("1000.00"),
                excess: text("0.00"),
            }),
            sales_tax: vec![SalesTaxRow {
                to: text("ny-state"),
                period: text("2026"),
                owed_before: text("0.00"),
                collected: text("188.20"),
                refunded: text("2.52"),
                paid_over: text("140.00"),
                allowed: text("0.74"),
                owed: text("44.94"),
                collected_by_channels: text("12.06"),
            }],
            self_employment: SelfEmployment { lines: vec![form_line("12", "Self-employment tax", "737")] },
        },
        bridge: vec![
            bridge("margins of all products", "6105.20"),
            bridge("income beside the goods", "112.40"),
            bridge("losses in cost of goods sold", "-114.55"),
            bridge("expenses in no margin", "-888.68"),
            bridge("net profit on the form", "5214.37"),
        ],
        cut_off: vec![
            CutOffPart {
                name: text("Sales of the last 15 days"),
                rows: vec![text("2026-12-20 M-41 48.00 counts in 2027")],
                empty: text("no sales near the year's ends"),
            },
            CutOffPart { name: text("Deposits"), rows: Vec::new(), empty: text("no deposit was open") },
        ],
        open_questions: vec![OpenQuestion {
            name: text("gift-shop/agent"),
            question: text("Does the gift shop sell for you, or buy from you?"),
            rule: text("goods with an agent stay yours until they are sold"),
            source: text("the form's instructions"),
            answer_with: text("answered 2026-12-31 \"gift-shop/agent\" \"it is my agent\""),
            entries: vec![text("2026-04.kerf:12")],
            answer: None,
        }],
        sources: vec![text("Schedule C, draft of 2026-09-01")],
        notes: Vec::new(),
    }
}
