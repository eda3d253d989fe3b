//! Definitions: every head and every line of the language's examples says what it should.

use super::describe::lines_below;
use super::read;
use crate::syntax::DefinitionWord;

#[test]
fn heads_of_definitions_give_word_name_and_title() {
    use DefinitionWord as D;
    for (line, word, name, title) in [
        ("shop \"Wren & Gable Woodshop\"", D::Shop, "", "Wren & Gable Woodshop"),
        ("place bench \"Home workshop\"", D::Place, "bench", "Home workshop"),
        ("place home \"Home workshop\"", D::Place, "home", "Home workshop"),
        ("step cutting \"Cutting at the scroll saw\"", D::Step, "cutting", "Cutting at the scroll saw"),
        ("material red-oak-4/4 \"Red oak\"", D::Material, "red-oak-4/4", "Red oak"),
        ("product pull-cart \"Pull-along cart\"", D::Product, "pull-cart", "Pull-along cart"),
        ("line rolling-toys \"Rolling toys\"", D::Line, "rolling-toys", "Rolling toys"),
        ("pattern cart-pattern \"Cart pattern\"", D::Pattern, "cart-pattern", "Cart pattern"),
        ("helper sam \"Sam\"", D::Helper, "sam", "Sam"),
        ("channel web-page \"Own web page\"", D::Channel, "web-page", "Own web page"),
        ("expense booth-fee \"Booth fees\"", D::Expense, "booth-fee", "Booth fees"),
        ("income referrals \"Referrals\"", D::Income, "referrals", "Referrals"),
        ("tool band-saw \"14-inch band saw\"", D::Tool, "band-saw", "14-inch band saw"),
        ("material éclair-oak “Eichenholz, hell”", D::Material, "éclair-oak", "Eichenholz, hell"),
    ] {
        let book = read(&format!("{line} # said of it\n"));
        assert_eq!(book.found, [], "{line}");
        let one = book.syntax.definitions.first().expect("one definition");
        assert_eq!((one.word, book.text(one.name), book.text(one.title)), (word, name, title), "{line}");
        assert_eq!((book.text(one.head), one.damaged), (line, false));
    }
    let book = read("choices 2026\n    de minimis elected\n");
    assert_eq!(book.found, []);
    assert_eq!(book.syntax.definitions.first().and_then(|one| one.year), Some(2026));
}

#[test]
fn lines_of_shop_and_choices_say_what_they_say() {
    lines_below(
        "shop \"Wren & Gable Woodshop\"",
        &[
            ("currency USD", "Currency(<USD>)"),
            ("costing fifo", "Plain(CostingFifo)"),
            ("costing average", "Plain(CostingAverage)"),
            ("owner time 24.00 per h", "OwnerTime(24.00)"),
            ("overhead 3.50 per h", "OverheadRate(3.50)"),
            ("overhead from expenses", "Plain(OverheadFromExpenses)"),
            ("tax form us-schedule-c", "TaxForm(<us-schedule-c>)"),
            ("cash basis", "Plain(CashBasis)"),
            ("accrual basis", "Plain(AccrualBasis)"),
            ("stock kept as inventory", "Plain(StockAsInventory)"),
            ("stock kept as supplies", "Plain(StockAsSupplies)"),
            ("whole  dollars", "Plain(WholeDollars)"),
            ("cents", "Plain(Cents)"),
            ("short stock is an error", "Plain(ShortStockError)"),
            ("short stock is a warning", "Plain(ShortStockWarning)"),
            ("sales-tax to ny-state", "SalesTaxTo(<ny-state>)"),
            ("home workshop 200 sq ft, simplified", "HomeWorkshop Some(\"200 [sq ft]\") None None"),
            ("home workshop 200 sq ft simplified, from 2026-03-01", "HomeWorkshop Some(\"200 [sq ft]\") None Some(2026-03-01)"),
            ("home workshop 12% of house costs", "HomeWorkshop None Some(12) None"),
            ("home workshop 12% of house costs, from 2026-03-01", "HomeWorkshop None Some(12) Some(2026-03-01)"),
            ("hours 12 per week", "HoursPerWeek(12)"),
            ("de minimis elected", "Plain(DeMinimisElected)"),
            ("wages elsewhere 31000.00", "WagesElsewhere 31000.00"),
        ],
    );
}

#[test]
fn lines_of_places_steps_and_materials_say_what_they_say() {
    lines_below(
        "material red-oak \"Red oak\"",
        &[
            ("home", "Plain(Home)"),
            ("wears 1 blade-no7 per 40 min", "Wears: 1 blade-no7, Per 40 minutes"),
            ("wears 1 blade-no7 per 40 m", "Wears: 1 blade-no7, Per 40 minutes"),
            ("wears 1 ea blade-no7 per 40m", "Wears: 1 [ea] blade-no7, Per 40 minutes"),
            ("wears 1 abrasive-disc per 1h 30m", "Wears: 1 abrasive-disc, Per 90 minutes"),
            ("indirect", "Plain(Indirect)"),
            ("measured in bf", "MeasuredIn(<bf>)"),
            ("measured in sq ft", "MeasuredIn(<sq ft>)"),
            ("measured in ea", "MeasuredIn(<ea>)"),
            ("tallied by surface measure", "Plain(TalliedBySurfaceMeasure)"),
            ("tallied exactly", "Plain(TalliedExactly)"),
            ("reorder at 20 bf", "ReorderAt 20 [bf]"),
            ("reorder at 20 ea", "ReorderAt 20 [ea]"),
            ("1 bf = 3.6 lb", "1 bf = 3.6 [lb]"),
            ("1 bag = 50 ea", "1 bag = 50 [ea]"),
            ("1 can = 473 ml", "1 can = 473 [ml]"),
            ("1 sheet = 25 sq ft", "1 sheet = 25 [sq ft]"),
            ("1 sq ft = 1 1/2 lb", "1 sq ft = 1.5 [lb]"),
            ("from red-oak", "FromMaterial(<red-oak>)"),
            ("as wear", "Plain(AsWear)"),
            ("as packing", "Plain(AsPacking)"),
            ("note \"kiln dried\"", "Note(<kiln dried>)"),
            ("file \"oak.jpg\"", "File(<oak.jpg>)"),
        ],
    );
}

#[test]
fn lines_of_products_patterns_and_helpers_say_what_they_say() {
    lines_below(
        "product pull-cart \"Pull-along cart\"",
        &[
            ("line rolling-toys", "Line(<rolling-toys>)"),
            ("needs 0.80 bf red-oak, 4 wheel-40, 12 ml clear-oil", "Needs: 0.80 [bf] red-oak + 4 wheel-40 + 12 [ml] clear-oil"),
            ("needs 1 sheet baltic-6 per 18 ea", "Needs: 1 [sheet] baltic-6, Per 18 [ea]"),
            (
                "takes 18 min cutting, 12 min sanding, 6 min finishing",
                "Takes: 18 minutes cutting + 12 minutes sanding + 6 minutes finishing",
            ),
            ("takes 18 m cutting", "Takes: 18 minutes cutting"),
            ("price 42.00", "Price 42.00"),
            ("pattern cart-pattern", "Pattern(<cart-pattern>)"),
            ("for children from 3 years", "ForChildren { from_months: 36 }"),
            ("for children from 18 months", "ForChildren { from_months: 18 }"),
            ("for children from 1 year", "ForChildren { from_months: 12 }"),
            ("allows 50 ea for sale", "Allows 50 [ea]"),
            ("royalty 0.50 per ea", "Royalty(0.50)"),
            ("paid later", "Plain(PaidLater)"),
            ("contractor", "Plain(Contractor)"),
            ("employee", "Plain(Employee)"),
            ("costs 18.00 per h", "Costs(18.00)"),
        ],
    );
}

#[test]
fn lines_of_channels_expenses_and_tools_say_what_they_say() {
    lines_below(
        "channel web-page \"Own web page\"",
        &[
            ("fee 3% of total", "Fee(Percent(3), Total)"),
            ("fee 3% of goods", "Fee(Percent(3), Goods)"),
            ("fee 2.5% of card", "Fee(Percent(2.5), Card)"),
            ("fee 0.25 per sale", "Fee(Money(0.25), PerSale)"),
            ("fee 0.25 per item", "Fee(Money(0.25), PerItem)"),
            ("pays later", "Plain(PaysLater)"),
            ("sales-tax collected by channel", "Plain(SalesTaxCollectedByChannel)"),
            ("prices include sales-tax 6%", "PricesInclude(6)"),
            ("consignment 40%", "Consignment(40)"),
            ("wholesale 50%", "Wholesale(50)"),
            ("form line other", "FormLine(<other>)"),
            ("form line 25", "FormLine(<25>)"),
            ("form line 27b", "FormLine(<27b>)"),
            ("business use 60%", "BusinessUse(60)"),
            ("counts as overhead", "Plain(CountsAsOverhead)"),
            ("counts as house cost", "Plain(CountsAsHouseCost)"),
            ("in use from 2026-03-02", "InUseFrom(2026-03-02)"),
            ("recovered over 7 years", "RecoveredOver(7)"),
            ("recovered over 27.5 years", "RecoveredOver(27.5)"),
            ("expensed at once", "Plain(ExpensedAtOnce)"),
            ("expensed under section 179", "Section179(None)"),
            ("expensed under section 179 500.00", "Section179(Some(500.00))"),
            ("no bonus", "Plain(NoBonus)"),
            ("mid-quarter", "Plain(MidQuarter)"),
            ("lasts 10 years", "Lasts(10)"),
            ("lasts 1 year", "Lasts(1)"),
        ],
    );
}
