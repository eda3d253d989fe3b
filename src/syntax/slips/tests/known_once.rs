//! Lines below definitions, said in other words than the book's.

use super::{Under, check, told};
use Under::{Channel, Expense, Helper, Income, Material, Nothing, Pattern, Place, Product, Shop, Tool};

#[test]
fn what_is_said_of_the_shop_in_other_words() {
    check(&[
        (Shop, "owner rate 25.00 per hour", "owner time 25.00 per h"),
        (Shop, "hourly rate 25", "owner time 25 per h"),
        (Shop, "owner 22.00 per hour", "owner time 22.00 per h"),
        (Shop, "owner hour 22.00", "owner time 22.00 per h"),
        (Shop, "owner's hour 22 dollars", "owner time 22 per h"),
        (Shop, "my time 22.00 per h", "owner time 22.00 per h"),
        (Shop, "labor 22.00 per h", "owner time 22.00 per h"),
        (Shop, "wage 22 per h", "owner time 22 per h"),
        (Shop, "rate 22.00 per h", "owner time 22.00 per h"),
        (Shop, "owner time 22.00", "owner time 22.00 per h"),
        (Shop, "owner time 22 an hour", "owner time 22 per h"),
        (Shop, "owner time $22/h", "owner time 22 per h"),
        (Shop, "basis cash", "cash basis"),
        (Shop, "cash", "cash basis"),
        (Shop, "accrual", "accrual basis"),
        (Shop, "stock inventory", "stock kept as inventory"),
        (Shop, "stock as inventory", "stock kept as inventory"),
        (Shop, "inventory", "stock kept as inventory"),
        (Shop, "supplies", "stock kept as supplies"),
        (Shop, "form us-schedule-c", "tax form us-schedule-c"),
        (Shop, "tax us-schedule-c", "tax form us-schedule-c"),
        (Shop, "tax form schedule c", "tax form us-schedule-c"),
        (Shop, "schedule c", "tax form us-schedule-c"),
        (Shop, "tax form Schedule C", "tax form us-schedule-c"),
        (Shop, "fifo", "costing fifo"),
        (Shop, "costing FIFO", "costing fifo"),
        (Shop, "costing first in first out", "costing fifo"),
        (Shop, "average", "costing average"),
        (Shop, "costing lifo", "costing fifo || costing average"),
        (Shop, "dollars", "currency USD || currency CAD || currency AUD"),
        (Shop, "USD", "currency USD"),
        (Shop, "currency $", "currency USD || currency CAD || currency AUD"),
        (Shop, "currency US dollars", "currency USD"),
        (Shop, "overhead 3.50", "overhead 3.50 per h"),
        (Shop, "overhead rate 3.50 per h", "overhead 3.50 per h"),
        (Shop, "overhead rate 3.50", "overhead 3.50 per h"),
        (Shop, "12 hours per week", "hours 12 per week"),
        (Shop, "hours per week 12", "hours 12 per week"),
        (Shop, "12 hours a week", "hours 12 per week"),
        (Shop, "home workshop 200 square feet", "home workshop 200 sq ft, simplified"),
        (Shop, "home workshop 200 sq ft", "home workshop 200 sq ft, simplified"),
        (Shop, "home office 200 sq ft", "home workshop 200 sq ft, simplified"),
        (Shop, "address \"12 Mill Lane\"", "note \"12 Mill Lane\""),
        (Shop, "sales tax to ny-state", "sales-tax to ny-state"),
        (Shop, "sales-tax ny-state", "sales-tax to ny-state"),
        (Shop, "owner \"Ann\"", "note \"Ann\""),
        (Shop, "rounding whole dollars", "whole dollars"),
        (Shop, "whole dollar", "whole dollars"),
    ]);
}

#[test]
fn what_is_said_of_materials_and_patterns_in_other_words() {
    check(&[
        (Material, "unit bf", "measured in bf"),
        (Material, "counted in bf", "measured in bf"),
        (Material, "in bf", "measured in bf"),
        (Material, "by the bf", "measured in bf"),
        (Material, "bf", "measured in bf"),
        (Material, "unit: board feet", "measured in bf"),
        (Material, "measured in board feet", "measured in bf"),
        (Material, "measured by the foot", "measured in ft"),
        (Material, "reorder 20 bf", "reorder at 20 bf"),
        (Material, "reorder below 20 bf", "reorder at 20 bf"),
        (Material, "minimum 20 bf", "reorder at 20 bf"),
        (Material, "wear", "as wear || as packing"),
        (Material, "used up", "as wear"),
        (Material, "supply", "as wear || as packing"),
        (Material, "sheet = 25 sq ft", "1 sheet = 25 sq ft"),
        (Material, "1 sheet is 25 sq ft", "1 sheet = 25 sq ft"),
        (Material, "25 sq ft per sheet", "1 sheet = 25 sq ft"),
        (Material, "1 bag of 50 ea", "1 bag = 50 ea"),
        (Pattern, "allows 5", "allows 5 ea for sale"),
        (Pattern, "allows 50 pieces", "allows 50 ea for sale"),
        (Pattern, "allows 50 times", "allows 50 ea for sale"),
        (Pattern, "limit 50", "allows 50 ea for sale"),
        (Pattern, "max 50", "allows 50 ea for sale"),
        (Pattern, "up to 50", "allows 50 ea for sale"),
        (Pattern, "may be made 50 times", "allows 50 ea for sale"),
        (Pattern, "50 pieces", "allows 50 ea for sale"),
        (Pattern, "royalty 0.50", "royalty 0.50 per ea"),
        (Pattern, "royalty 0.50 each", "royalty 0.50 per ea"),
    ]);
}

#[test]
fn what_is_said_of_products_in_other_words() {
    check(&[
        (Product, "step cutting 20 min", "takes 20 min cutting"),
        (Product, "time 20 min cutting", "takes 20 min cutting"),
        (Product, "cutting 20 min", "takes 20 min cutting"),
        (Product, "20 min cutting", "takes 20 min cutting"),
        (Product, "labor 20 min", "takes 20 min NAME"),
        (Product, "work 2 hours", "takes 2 hours NAME"),
        (Product, "0.5 bf maple", "needs 0.5 bf maple"),
        (Product, "uses 0.5 bf maple", "needs 0.5 bf maple"),
        (Product, "material 0.5 bf maple", "needs 0.5 bf maple"),
        (Product, "recipe 0.5 bf maple", "needs 0.5 bf maple"),
        (Product, "maple 0.5 bf", "needs 0.5 bf maple"),
        (Product, "made of 0.5 bf maple", "needs 0.5 bf maple"),
        (Product, "sells for 42.00", "price 42.00"),
        (Product, "sells at 42", "price 42"),
        (Product, "42.00", "price 42.00"),
        (Product, "costs 42.00", "price 42.00"),
        (Product, "for children", "for children from 18 months || for children from 3 years"),
        (Product, "children", "for children from 18 months || for children from 3 years"),
        (Product, "for kids", "for children from 18 months || for children from 3 years"),
        (Product, "age 3+", "for children from 3 years"),
        (Product, "for children 3 years", "for children from 3 years"),
        (Product, "for children from 3", "for children from 3 years"),
        (Product, "for children under 3", "for children from 18 months || for children from 3 years"),
        (Product, "in line toys", "line toys"),
        (Product, "category toys", "line toys"),
        (Product, "product line toys", "line toys"),
        (Product, "group toys", "line toys"),
    ]);
}

#[test]
fn what_no_line_of_a_definition_says_is_told_with_where_it_is_said() {
    for (under, typed, words) in [
        (Channel, "listing fee 0.20", "is paid in an entry"),
        (Channel, "fee 0.20 per listing", "is paid in an entry"),
        (Channel, "subscription 10.00 a month", "is paid in an entry"),
        (Material, "waste 20%", "waste stands in what a recipe needs"),
        (Product, "25% waste", "waste stands in what a recipe needs"),
        (Shop, "opened Jan 2 2026", "begins with its first entry"),
    ] {
        let (found, lines) = told(under, typed);
        assert!(found.len() == 1 && found[0].message.contains(words) && lines.is_empty(), "{typed}: {found:?}");
    }
    check(&[(Material, "counted in skeins", "measured in ea")]);
}

#[test]
fn what_is_said_of_channels_and_helpers_in_other_words() {
    check(&[
        (Channel, "commission 40%", "consignment 40% || fee 40% of total"),
        (Channel, "takes 40%", "consignment 40% || fee 40% of total"),
        (Channel, "share 40%", "consignment 40% || fee 40% of total"),
        (Channel, "cut 40%", "consignment 40% || fee 40% of total"),
        (Channel, "consignment 40 %", "consignment 40%"),
        (Channel, "consignment fee 40%", "consignment 40%"),
        (Channel, "6.5% of total", "consignment 6.5% || fee 6.5% of total"),
        (Channel, "fee 0.30", "fee 0.30 per sale"),
        (Channel, "fee 0.30 per order", "fee 0.30 per sale"),
        (Channel, "fee 0.30 per transaction", "fee 0.30 per sale"),
        (Channel, "fee 0.30 each", "fee 0.30 per item"),
        (Channel, "wholesale 50% off", "wholesale 50%"),
        (Channel, "discount 50%", "wholesale 50%"),
        (Channel, "pays monthly", "pays later"),
        (Channel, "pays 30 days", "pays later"),
        (Helper, "rate 18 per h", "costs 18 per h"),
        (Helper, "18.00 per h", "costs 18.00 per h"),
        (Helper, "18 an hour", "costs 18 per h"),
        (Helper, "wage 18", "costs 18 per h"),
        (Helper, "costs 18", "costs 18 per h"),
        (Helper, "paid 18 per h", "costs 18 per h"),
        (Helper, "subcontractor", "contractor"),
        (Helper, "outside help", "contractor"),
        (Helper, "1099", "contractor"),
        (Helper, "freelancer", "contractor"),
    ]);
}

#[test]
fn what_is_said_of_expenses_and_tools_in_other_words() {
    check(&[
        (Expense, "line 22", "form line 22"),
        (Expense, "schedule c line 22", "form line 22"),
        (Expense, "form 22", "form line 22"),
        (Expense, "tax line 22", "form line 22"),
        (Expense, "60% business", "business use 60%"),
        (Expense, "business 60%", "business use 60%"),
        (Expense, "overhead", "counts as overhead"),
        (Expense, "counts as shop overhead", "counts as overhead"),
        (Expense, "deductible 50%", "business use 50%"),
        (Tool, "in use 2026-03-02", "in use from 2026-03-02"),
        (Tool, "in use since 2026-03-02", "in use from 2026-03-02"),
        (Tool, "since 2026-03-02", "in use from 2026-03-02"),
        (Tool, "7 years", "recovered over 7 years || lasts 7 years"),
        (Tool, "life 7 years", "lasts 7 years"),
        (Tool, "lasts 7", "lasts 7 years"),
        (Tool, "depreciated over 7 years", "recovered over 7 years"),
        (Tool, "depreciation 7 years", "recovered over 7 years"),
        (Tool, "business 90%", "business use 90%"),
        (Tool, "used 90% for business", "business use 90%"),
        (Tool, "100% business", "business use 100%"),
        (Tool, "section 179", "expensed under section 179"),
        (Tool, "expensed", "expensed at once"),
        (Tool, "expense at once", "expensed at once"),
        (Income, "line 1", "form line 1"),
    ]);
}

#[test]
fn what_is_no_part_of_a_definition_is_told_with_the_entry_that_says_it() {
    let rows = [
        (Shop, "book begins 2026-01-01", "opened 2026-01-01"),
        (Material, "price 6.50", "`31.5 bf red-oak at 5.90`"),
        (Material, "6.50 per bf", "`31.5 bf red-oak at 5.90`"),
        (Material, "supplier \"Mill Lane\"", "`bought 2026-03-02 from \"Hall Hardwoods\"`"),
        (Pattern, "royalty 5%", "`royalty 0.50 per ea`"),
        (Pattern, "price 12.00", "`1 licence NAME for 12.00`"),
        (Channel, "booth fee 60", "`60.00 for booth-fee on craft-fair`"),
        (Expense, "150 per month", "`150.00 for rent`"),
        (Tool, "cost 900", "`1 NAME for 900.00`"),
        (Pattern, "cost 12.00 for 50 ea", "`allows 50 ea for sale`"),
        (Pattern, "cost 12.00", "is bought as `1 licence NAME for 12.00`"),
        (Product, "pattern 12.00 for 50", "`1 licence NAME for 12.00`"),
        (Place, "keeps 40%", "`consignment 40%`"),
        (Place, "consignment 40%", "`consignment 40%`"),
        (Pattern, "cost 12.00 for 50 ea", "`allows 50 ea for sale`"),
        (Pattern, "cost 12.00", "is bought as `1 licence NAME for 12.00`"),
        (Product, "pattern 12.00 for 50", "`1 licence NAME for 12.00`"),
        (Place, "keeps 40%", "`consignment 40%`"),
        (Place, "consignment 40%", "`consignment 40%`"),
        (Product, "labor 20 min", "`step cutting \"Cutting at the scroll saw\"`"),
    ];
    for (under, typed, entry) in rows {
        let (found, lines) = told(under, typed);
        assert_eq!(found.len(), 1, "{typed}: {found:?}");
        // What says something else is no correction.
        assert!(typed == "labor 20 min" || lines.is_empty(), "{typed}: {lines:?}");
        assert!(found.iter().flat_map(|one| &one.notes).any(|note| note.contains(entry)), "{typed}: {found:?}");
    }
}

#[test]
fn what_reads_below_a_definition_is_left_alone() {
    let rows = [
        (Shop, "owner time 24.00 per h"),
        (Shop, "hours 12 per week"),
        (Shop, "home workshop 200 sq ft, simplified, from 2026-02-01"),
        (Material, "1 sheet = 25 sq ft"),
        (Pattern, "allows 50 ea for sale"),
        (Product, "needs 1 sheet baltic-6 per 18 ea"),
        (Product, "for children from 18 months"),
        (Channel, "fee 2.5% of card"),
        (Helper, "costs 18.00 per h"),
        (Expense, "business use 60%"),
        (Tool, "expensed under section 179 500.00"),
        (Income, "form line other"),
    ];
    for (under, typed) in rows {
        let (found, _) = told(under, typed);
        assert!(found.is_empty(), "{typed}: {found:?}");
    }
}

#[test]
fn heads_of_definitions_are_mended_with_what_stands_behind_them() {
    check(&[
        (Nothing, "material maple \"Maple\" measured in bf", "material maple \"Maple\" | measured in bf"),
        (Nothing, "material maple \"Maple\" in bf", "material maple \"Maple\" | measured in bf"),
        (Nothing, "material maple \"Maple\", bf", "material maple \"Maple\" | measured in bf"),
        (Nothing, "material maple board feet", "material maple \"Maple\" | measured in bf"),
        (Nothing, "material red oak", "material red-oak \"Red oak\" || material red \"oak\""),
        (Nothing, "product Step Stool", "product step-stool \"Step stool\" || product Step \"Stool\""),
        (Nothing, "product pull-cart Pull-along cart", "product pull-cart \"Pull-along cart\""),
        (Nothing, "product stool \"Step stool\" $85", "product stool \"Step stool\" | price 85"),
        (Nothing, "product stool 85.00", "product stool \"Stool\" | price 85.00"),
        (Nothing, "helper sam 18.00", "helper sam \"Sam\" | costs 18.00 per h"),
        (Nothing, "expense rent \"Rent\" line 20b", "expense rent \"Rent\" | form line 20b"),
        (Nothing, "wear disc \"Disc\"", "material disc \"Disc\" | as wear"),
        (Nothing, "packing box-small \"Small carton\"", "material box-small \"Small carton\" | as packing"),
        (Nothing, "wear disc \"Disc\" counted in ea", "material disc \"Disc\" | measured in ea"),
        (Nothing, "machine band-saw", "tool band-saw \"Band saw\""),
        (Nothing, "employee sam", "helper sam \"Sam\" | employee"),
        (Nothing, "lumber maple", "material maple \"Maple\""),
        // A sum and a list are no titles.
        (Nothing, "tool band-saw 900", ""),
        (Nothing, "expense rent 150", ""),
        (Nothing, "step cutting, sanding", ""),
        (Nothing, "supplier mill \"Mill Lane\"", ""),
        (Nothing, "customer dell", ""),
        (Nothing, "price stool 85", ""),
    ]);
}
