//! Made-up reports for the tests of the renderers: plausible, but of no book.

use std::collections::BTreeMap;

use super::made_up_pays;
use crate::reports::{
    BatchCost, BenchItem, BridgeLine, CostOfGoods, CostReport, CutOffPart, EquipmentLifeYear, EquipmentRow, EquipmentStep,
    FormBoxAnswer, FormLine, GoodsWentTo, HomeWorkshopRow, MileageSchedule, NamedSum, OpenQuestion, PaysBridge, PaysGroup,
    PaysMonth, PaysReport, PaysRestRow, PaysSums, PaysTotals, PerUnit, ProductCost, ProofComponent, ProofReport, ReportHead,
    SalesTaxRow, Schedules, SelfEmployment, StepCost, StepHours, StockItem, StockLotLine, StockReport, StockTotals, Timing,
    ToolGoneRow, Unassigned, UseCost, Variance, WhyMeasure, WhyPlace, WhyReport, WhyRule, WhyStep, YearReport,
};

fn head(report: &str) -> ReportHead {
    ReportHead {
        report: report.to_owned(),
        version: 1,
        shop: "Wren & Gable Woodshop".to_owned(),
        currency: "USD".to_owned(),
        from: Some("2026-01-01".to_owned()),
        to: Some("2026-12-31".to_owned()),
    }
}

fn per_unit(figures: [&str; 8]) -> PerUnit {
    let [materials, wear, bought_in_time, royalty, paid, own_time, overhead, full] = figures.map(str::to_owned);
    PerUnit { materials, wear, bought_in_time, royalty, paid, own_time, overhead, full }
}

fn variance(name: &str, amount: &str, word: &str, says: &str) -> Variance {
    let [name, amount, word, says] = [name, amount, word, says].map(str::to_owned);
    Variance { name, amount, word, says }
}

fn batch(name: &str, finished: &str, made: &str, minutes: Option<&str>, figures: [&str; 8]) -> BatchCost {
    BatchCost {
        name: name.to_owned(),
        finished: finished.to_owned(),
        made: made.to_owned(),
        lost: "1".to_owned(),
        per_unit: per_unit(figures),
        minutes_per_unit: minutes.map(str::to_owned),
        variances: vec![
            variance("material price", "4.20", "unfavourable", "Materials were dearer than when last bought before it"),
            variance("efficiency at cutting", "-11.60", "favourable", "Cutting at the scroll saw took 29 min less than planned"),
        ],
    }
}

/// The cost report of three products, one of them with a title that would break a careless page, one not made.
pub(crate) fn cost() -> CostReport {
    let cart = ProductCost {
        name: "pull-cart".to_owned(),
        title: "Pull-along cart".to_owned(),
        line: Some("rolling-toys".to_owned()),
        made: "54".to_owned(),
        unit: "ea".to_owned(),
        per_unit: Some(per_unit(["9.333333", "0.52", "2.125", "0.50", "12.478333", "15.60", "2.991667", "31.07"])),
        minutes_per_unit: Some("39".to_owned()),
        bought_in_minutes_per_unit: Some("7".to_owned()),
        steps: vec![
            StepCost {
                name: "cutting".to_owned(),
                title: "Cutting at the scroll saw".to_owned(),
                minutes_per_unit: "18.25".to_owned(),
                bought_in_minutes_per_unit: "0".to_owned(),
                planned_minutes_per_unit: Some("18".to_owned()),
            },
            StepCost {
                name: "finishing".to_owned(),
                title: "Oiling and drying".to_owned(),
                minutes_per_unit: "20.75".to_owned(),
                bought_in_minutes_per_unit: "7".to_owned(),
                planned_minutes_per_unit: None,
            },
        ],
        batches: vec![
            batch("PC-014", "2026-03-09", "18", Some("44"), ["10.10", "0.55", "2.00", "0.50", "13.15", "17.60", "3.20", "33.95"]),
            batch("PC-015", "2026-06-21", "20", Some("38"), ["9.20", "0.50", "2.25", "0.50", "12.45", "15.20", "2.95", "30.60"]),
            batch("PC-016", "2026-10-02", "16", Some("35"), ["8.60", "0.51", "2.10", "0.50", "11.71", "14.00", "2.80", "28.51"]),
        ],
        price: Some("42.00".to_owned()),
        uses: vec![
            UseCost {
                name: "red-oak".to_owned(),
                title: "Red oak, kiln dried".to_owned(),
                quantity: "0.851852".to_owned(),
                unit: "bf".to_owned(),
                cost: "5.112".to_owned(),
            },
            UseCost {
                name: "wheel-40".to_owned(),
                title: "Birch wheel, 40 mm".to_owned(),
                quantity: "4".to_owned(),
                unit: "ea".to_owned(),
                cost: "0.98".to_owned(),
            },
        ],
    };
    let board = ProductCost {
        name: "cutting-board".to_owned(),
        title: "Cutting board <script>".to_owned(),
        line: None,
        made: "21".to_owned(),
        per_unit: Some(per_unit(["14.20", "0.31", "0.00", "0.00", "14.51", "20.00", "2.916667", "37.426667"])),
        minutes_per_unit: None,
        batches: vec![batch(
            "cutting-board/2026-05-02",
            "2026-05-02",
            "21",
            None,
            ["14.20", "0.31", "0.00", "0.00", "14.51", "20.00", "2.916667", "37.426667"],
        )],
        price: None,
        steps: Vec::new(),
        uses: Vec::new(),
        ..cart.clone()
    };
    let duck = ProductCost {
        name: "rolling-duck".to_owned(),
        title: "Rolling duck".to_owned(),
        made: "0".to_owned(),
        per_unit: None,
        minutes_per_unit: None,
        bought_in_minutes_per_unit: None,
        batches: Vec::new(),
        steps: Vec::new(),
        uses: Vec::new(),
        price: Some("29.00".to_owned()),
        ..cart.clone()
    };
    CostReport {
        head: head("cost"),
        products: vec![board, cart, duck],
        notes: vec!["hours of goods opened without hours are unknown".to_owned()],
    }
}

fn item(kind: &str, name: &str, title: &str, place: &str, quantity: (&str, &str), paid: &str, reorder: bool) -> StockItem {
    StockItem {
        name: name.to_owned(),
        title: title.to_owned(),
        kind: kind.to_owned(),
        place: place.to_owned(),
        place_title: place.to_owned(),
        quantity: quantity.0.to_owned(),
        unit: quantity.1.to_owned(),
        paid: paid.to_owned(),
        full: paid.to_owned(),
        lots: vec![
            StockLotLine {
                origin: "RO-1".to_owned(),
                date: "2026-03-02".to_owned(),
                quantity: quantity.0.to_owned(),
                paid: paid.to_owned(),
            },
            StockLotLine {
                origin: "receipt A-1182 <b>".to_owned(),
                date: "2026-05-02".to_owned(),
                quantity: "0".to_owned(),
                paid: "0.00".to_owned(),
            },
        ],
        reorder,
        reorder_at: reorder.then(|| "20".to_owned()),
    }
}

/// A stock report with every kind of thing, two places, and a batch on the bench.
pub(crate) fn stock() -> StockReport {
    StockReport {
        head: head("stock"),
        on: Some("2026-12-31".to_owned()),
        items: vec![
            item("material", "red-oak", "Red oak, kiln dried", "bench", ("14.25", "bf"), "84.07", true),
            item("material", "clear-oil", "Clear oil", "bench", ("310", "ml"), "12.78", false),
            item("wear", "blade-no7", "Blade no. 7", "bench", ("4.222222222", "ea"), "6.32", true),
            item("packing", "box-small", "Small carton", "bench", ("38", "ea"), "21.66", false),
            item("product", "pull-cart", "Pull-along cart", "bench", ("11", "ea"), "1151.90", false),
            item("product", "pull-cart", "Pull-along cart", "gift-shop", ("7", "ea"), "87.35", false),
        ],
        on_the_bench: vec![BenchItem {
            batch: "VS-020".to_owned(),
            started: "2026-12-18".to_owned(),
            paid: "479.12".to_owned(),
            full: "602.40".to_owned(),
            minutes: "105".to_owned(),
            aims: "20 × Village, twelve blocks in a bag".to_owned(),
        }],
        totals: StockTotals {
            materials: "96.85".to_owned(),
            wear: "6.32".to_owned(),
            packing: "21.66".to_owned(),
            products: "1239.25".to_owned(),
            on_the_bench: "479.12".to_owned(),
            paid: "1843.20".to_owned(),
            full: "2410.00".to_owned(),
        },
        over_time: [
            ("2026-01", "822.10"),
            ("2026-02", "1210.55"),
            ("2026-03", "1499.10"),
            ("2026-04", "1380.00"),
            ("2026-05", "1105.20"),
            ("2026-06", "990.45"),
            ("2026-07", "1240.00"),
            ("2026-08", "1622.95"),
            ("2026-09", "2120.40"),
            ("2026-10", "2655.00"),
            ("2026-11", "2301.75"),
            ("2026-12", "1843.20"),
        ]
        .iter()
        .map(|(month, paid)| ((*month).to_owned(), (*paid).to_owned()))
        .collect(),
        patterns: vec![made_up_pays::pattern()],
        notes: Vec::new(),
    }
}

fn group(by: &str, name: &str, title: &str, paid_margin: &str, per_hour: Option<&str>) -> PaysGroup {
    let text = |text: &str| text.to_owned();
    PaysGroup {
        by: text(by),
        name: text(name),
        title: text(title),
        units: text("61"),
        unit: text("ea"),
        sums: PaysSums {
            revenue: text("3105.50"),
            fees: text("214.93"),
            postage: text("96.20"),
            packing: text("24.80"),
            direct_expenses: text("85.00"),
            paid_cost: text("374.02"),
            paid_margin: text(paid_margin),
            own_time: text("902.40"),
            overhead: text("131.60"),
            full_margin: text("-75.45"),
            own_minutes: per_hour.map(|_| text("2256")),
        },
        earned_per_hour: per_hour.map(str::to_owned),
    }
}

fn rest(by: &str, why: &str, title: &str, paid_margin: &str) -> PaysRestRow {
    let text = |text: &str| text.to_owned();
    PaysRestRow {
        by: text(by),
        why: text(why),
        title: text(title),
        units: text("0"),
        sums: PaysSums {
            revenue: text("0.00"),
            fees: text("0.00"),
            postage: text("0.00"),
            packing: text("0.00"),
            direct_expenses: text(paid_margin.trim_start_matches('-')),
            paid_cost: text("0.00"),
            paid_margin: text(paid_margin),
            own_time: text("0.00"),
            overhead: text("0.00"),
            full_margin: text(paid_margin),
            own_minutes: Some(text("2400")),
        },
    }
}

/// A report of two lines, three channels and two products, one with a loss and one without known hours.
pub(crate) fn pays() -> PaysReport {
    let text = |text: &str| text.to_owned();
    PaysReport {
        head: head("pays"),
        groups: vec![
            group("line", "rolling-toys", "Rolling toys", "2310.55", Some("22.10")),
            group("line", "kitchen", "Kitchen boards", "1480.20", Some("31.20")),
            group("channel", "craft-fair", "Booth at fairs", "1822.00", Some("18.75")),
            group("channel", "web-page", "Own web page", "-114.05", Some("-3.10")),
            group("channel", "gift-shop", "Consignment at the gift shop", "640.10", None),
            group("product", "pull-cart", "Pull-along cart", "1610.00", Some("24.40")),
            group("product", "cutting-board", "Cutting board <script>", "1480.20", Some("31.20")),
        ],
        rest: vec![rest("line", "for_channels", "For channels as a whole", "-385.00")],
        fairs: vec![group("fair", "craft-fair/2026-06-14", "Booth at fairs, 2026-06-14", "411.50", Some("18.75"))],
        verdicts: made_up_pays::verdicts(),
        trend: vec![made_up_pays::trend()],
        stock_ages: made_up_pays::stock_ages(),
        bridges: vec![PaysBridge { year: 2026, lines: year().bridge }],
        totals: PaysTotals {
            units: text("182"),
            sums: PaysSums {
                revenue: text("8120.00"),
                fees: text("611.20"),
                postage: text("190.40"),
                packing: text("61.10"),
                direct_expenses: text("385.00"),
                paid_cost: text("3081.55"),
                paid_margin: text("3790.75"),
                own_time: text("2804.00"),
                overhead: text("409.00"),
                full_margin: text("577.75"),
                own_minutes: text("7010").into(),
            },
            earned_per_hour: text("28.94").into(),
        },
        unassigned: Unassigned { indirect_minutes: text("1930"), overhead_under_applied: text("112.44") },
        year_per_hour: Some(text("19.85")),
        owner_rate: Some(text("24.00")),
        hours: vec![
            step_hours("cutting", "Cutting", "4210", "600"),
            step_hours("sanding", "Sanding & rounding over", "2805.5", "0"),
        ],
        months: (1..=12)
            .map(|month: u32| PaysMonth {
                month: format!("2026-{month:02}"),
                revenue: format!("{}.40", 240 + (month * 137) % 700 + month * 40),
                cost: format!("{}.10", 180 + (month * 91) % 420),
            })
            .collect(),
        notes: vec![text("one batch has unknown hours")],
    }
}

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

fn step_hours(name: &str, title: &str, own: &str, bought_in: &str) -> StepHours {
    StepHours {
        name: Some(name.to_owned()),
        title: title.to_owned(),
        own_minutes: own.to_owned(),
        bought_in_minutes: bought_in.to_owned(),
    }
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

/// A proof of three components over two years.
pub(crate) fn proof() -> ProofReport {
    let sums = |sums: &[(&str, &str)]| -> BTreeMap<String, String> {
        sums.iter().map(|(name, sum)| ((*name).to_owned(), (*sum).to_owned())).collect()
    };
    let component = |name: &str| ProofComponent {
        name: name.to_owned(),
        came_in: "4180.221900".to_owned(),
        came_from: sums(&[("at_start", "822.100000"), ("bought", "3358.121900")]),
        went_to: sums(&[("at_end", "1843.204411"), ("sold", "2292.817489"), ("scrapped", "44.200000")]),
        difference: "0.000000".to_owned(),
    };
    let components: Vec<ProofComponent> = ["materials", "own_time", "own_minutes"].into_iter().map(component).collect();
    ProofReport {
        head: head("proof"),
        years: BTreeMap::from([("2026".to_owned(), components.clone())]),
        components,
        line: "in 4,180.22 = out 4,180.22, difference 0".to_owned(),
        holds: true,
    }
}

/// A derivation with long words, a long name and a long line of the book.
pub(crate) fn why() -> WhyReport {
    let step = |says: &str, paid: &str, figure: Option<&str>, steps: Vec<WhyStep>| WhyStep {
        measure: None,
        unit: None,
        month: None,
        says: says.to_owned(),
        paid: paid.to_owned(),
        full: paid.to_owned(),
        rule: if steps.is_empty() && figure.is_some() { WhyRule::Deeper } else { WhyRule::SumOf },
        figure: figure.map(str::to_owned),
        at: Some(WhyPlace {
            file: "2026-03.kerf".to_owned(),
            line: 54,
            text: "used 8.2 bf red-oak lot RO-0, 40 wheel-40                 # the old oak first, and said so".to_owned(),
        }),
        steps,
    };
    let deeper = step(
        "9 pull-cart, which were made in batch PC-022 on 2026-03-09 and in no other",
        "118.77222",
        Some("batch/PC-022"),
        vec![],
    );
    let lot = step("10 pull-cart, which were made in batch PC-021 on 2026-01-11", "111.498902", None, vec![deeper]);
    WhyReport {
        head: head("why"),
        figure: "cost/pull-cart".to_owned(),
        measure: WhyMeasure::PaidAndFull,
        answer: "What was finished cost 12.341516 paid and 27.106029 full each.".to_owned(),
        steps: vec![step("one pull-cart, of all that were finished, the whole over the units", "12.341516", None, vec![lot])],
    }
}
