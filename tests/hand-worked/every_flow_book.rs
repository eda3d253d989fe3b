//! The book of a year in which every flow of the design happens once, in figures that can be followed without paper.
//!
//! What is left out here has its own checks: goods issued without stock (`questions`), a sale that is never paid (a question of
//! the next year).

/// What is known once. The switches of the shop come before it.
pub(crate) const KNOWN: &str = r#"
place gallery "Shelf at the gallery"
step cutting "Cutting"
    wears 1 blade per 60 min
step assembly "Putting together"
step selling "Selling"
step general "Sweeping"
    indirect
material oak "Oak"
    measured in bf
material oak-offcut "Oak offcuts"
    measured in bf
    from oak
material walnut "Walnut"
    measured in bf
material cherry "Cherry"
    measured in bf
material maple "Maple"
    measured in bf
material ash "Ash"
    measured in bf
material birch "Birch"
    measured in bf
material pine "Pine"
    measured in bf
material elm "Elm"
    measured in bf
material wheel "Wheel"
    measured in ea
material bag "Cotton bag"
    measured in ea
material blade "Blade"
    measured in ea
    as wear
material disc "Disc"
    measured in ea
    as wear
material carton "Carton"
    measured in ea
    as packing
pattern stool-plan "Plan of the stool"
    royalty 1.00 per ea
pattern duck-plan "Plan of the duck"
    allows 50 ea for sale
pattern house-plan "Plan of a bird house"
product stool "Stool"
    pattern stool-plan
    price 60.00
product duck "Duck"
    pattern duck-plan
    price 20.00
product crate "Crate"
helper sam "Sam"
    contractor
    costs 20.00 per h
    paid later
helper ines "Ines"
    employee
    costs 20.00 per h
channel web "Own web page"
    fee 5% of goods
channel market "A marketplace"
    fee 5% of goods
    pays later
    sales-tax collected by channel
channel fair "Booth at fairs"
    fee 2.5% of card
channel gallery "Consignment at the gallery"
    consignment 40%
channel corner-store "Wholesale"
    wholesale 50%
expense glue "Glue"
    form line 22
expense phone "Telephone"
    form line 25
    business use 60%
expense lunch "Lunch at fairs"
    form line 24b
    business use 80%
expense booth-fee "Booth fees"
    form line other
income engraving "Engraving"
    form line 1
income teaching "Teaching"
    form line 1
income referrals "Referrals"
    form line 6
tool clamp "Clamp"
    expensed at once
    business use 80%
tool lathe "Lathe"
    recovered over 7 years
    no bonus
tool planer "Planer"
    expensed under section 179
tool press "Drill press"
    in use from 2024-05-10
    recovered over 5 years
tool jig "Jig"
    expensed at once
"#;

/// What came in, and what was made of it.
///
/// What its goods cost. Receipt Y-1 of 1,400.00 bears a quarter more: tax 5 % and delivery 20 %. So a board foot of oak is 4.20
/// with its tax and 0.80 of delivery, 5.00 in all; a blade likewise 5.00; a carton 0.50, as those of the opening; glue 50.00, the
/// clamp 100.00, and 50.00 are the house's.
/// Walnut is 9.00 after its discount, and of its bill of 450.00 a third is paid this year: 6.00 of each board foot is not.
///
/// Batch A, stools: 105 bf of oak 525.00 (441 + 84), of which an offcut of 25.00 goes back (21 + 4); twenty hours at the saw wear
/// twenty blades, 100.00; Sam's five hours 100.00, half of which he is still owed at the year's end. One stool is a normal loss;
/// 48 good ones and two charged off bear 700.00, 14.00 each, and the good ones 1.00 of royalty. A stool of A is 8.40 of oak +
/// 1.60 delivery + 2.00 wear + 2.00 hired time + 1.00 royalty = 15.00; 10.00 wait where stock is kept as supplies; 1.00 of the
/// hired time is not paid for. The stools of the opening are 12.00, all material.
/// Batch B, ducks: 1 bf of walnut 9.00 (6.00 not paid for) and one of fifty permitted pieces of 1.00: 10.00; 9.00 wait as
/// supplies.
/// Batch OLD, crates: 30.00 that lay on the bench when the year began, three crates of 10.00.
/// Batch JIG-1, a jig: 2 bf of maple 8.00, a hinge 5.00 straight to the batch, Jamie's half hour 6.00: 19.00, 13.00 of it
/// material.
/// Batch C-1, on the bench at the end: 10 bf of oak 50.00 and Jamie's half hour 10.00.
pub(crate) const CAME_IN: &str = r#"
opened 2026-01-01
    10 stool for 120.00
    40 bf maple for 160.00
    5 disc for 10.00
    20 carton for 10.00
    30.00 on batch OLD
    1 press for 500.00, already recovered 260.00
    75.00 owed by gallery for order "G-0"
    40.00 owed to the-yard for receipt "Y-0"
bought 2026-01-10 from the-yard receipt "Y-1"
    250 bf oak for 1000.00
    50 blade for 200.00
    100 carton for 40.00
    40.00 for glue
    1 clamp for 80.00
    40.00 for home "a lamp"
    sales-tax 70.00
    freight 280.00
    total 1750.00
bought 2026-01-15 from walnut-mill receipt "N-1"
    50 bf walnut at 10.00
    discount 10%
    total 450.00
    paid 150.00 on 2026-01-15
bought 2026-01-16 from cherry-mill
    20 bf cherry at 6.00
bought 2026-01-17 from bag-house
    20 bag for 20.00
bought 2026-01-18 from "Holzraeder Nordtal"
    1 EUR = 1.25
    40 wheel for 32.00
bought 2026-01-19 from "a plan maker"
    1 licence duck-plan for 50.00
    1 licence house-plan for 30.00
bought 2026-03-02 from dealer
    1 lathe for 1000.00
    1 planer for 300.00
bought 2026-02-01 from hardware
    5.00 on batch JIG-1 "hinge"
received 2026-01-20 from gallery
    75.00 for order "G-0"
paid 2026-01-20 to the-yard
    40.00 for receipt "Y-0"
found 2026-01-24
    5 bf pine
contributed 2026-01-25
    20 bf ash for 60.00
opened 2026-06-15
    10 bf elm for 30.00
sent-back 2026-01-28 to cherry-mill
    5 bf cherry, refunded 28.00
credited 2026-02-15 by cherry-mill
    4.00 off cherry
built 2026-02-01 batch JIG-1
    used 2 bf maple
    took 30m assembly by jamie for 6.00
    made 1 jig
finished 2026-02-02 batch OLD
    made 3 crate
built 2026-03-01 batch A
    used 105 bf oak
    took 20h cutting
    took 5h assembly by sam
    made 48 stool
    lost 1 stool
    lost 2 stool, charged off "the ladder fell"
    kept 5 bf oak-offcut worth 25.00
built 2026-03-10 batch B
    used 20 bf walnut
    took 2h assembly
    made 20 duck
started 2026-12-15 batch C-1
    aims at 10 stool
    used 10 bf oak
    took 30m assembly by jamie for 10.00
paid 2026-05-20 to sam
    50.00 for sam
"#;

/// What went out, and what else happened.
pub(crate) const WENT_OUT: &str = r#"
sold 2026-02-10 via web order "W-1"
    8 stool at 50.00
    sales-tax 24.00
    packed with 8 carton
gave 2026-02-12 to "the raffle" as donation
    2 stool worth 20.00
sold 2026-04-01 via corner-store order "CS-1"
    10 stool
received 2026-05-15 from corner-store
    300.00 for order "CS-1"
sent 2026-04-02 to gallery
    10 stool
    postage 6.00
    packed with 10 carton
sold 2026-05-01 via web order "W-2"
    5 stool at 60.00
    discount 30.00
    shipping 20.00
    sales-tax 18.00
    postage 15.00
    packed with 10 carton, 5 bag
    fee 15.00
    extra fee 3.00 "tags"
    total 308.00
returned 2026-06-10 order "W-2"
    1 stool, refunded 54.00, back to stock
    1 stool, refunded 54.00, scrapped
    1 stool, refunded 20.00, left with buyer
    refunded 10.00 "a scratch"
    sales-tax 6.00
    fee back 2.00
sold 2026-06-01 via fair
    6 stool
    cash 204.00
    card 160.00
    over 4.00
sold 2026-06-02 via fair
    1 stool
    cash 57.00
    short 3.00
swapped 2026-06-03 with "a neighbour"
    gave 1 stool at 40.00
    got 10 bf birch
sold 2026-09-30 via gallery order "G-1"
    5 stool at 60.00
    settled 180.00
received 2026-10-15 from gallery
    90.00 for order "G-1"
brought-back 2026-10-05 from gallery
    2 stool
sold 2026-10-20 via market order "M-1"
    4 duck
    sales-tax 4.80
received 2026-11-10 from market
    76.00 for order "M-1"
sold 2026-12-28 via market order "M-2"
    4 duck
    sales-tax 4.80
statement 2026 from market
    gross 160.00
sold 2026-07-15 via counter
    30.00 for engraving
received 2026-11-01 from "the school"
    2000.00 for teaching
received 2026-04-30 from "a referral scheme"
    40.00 for referrals
received 2026-12-10 from "E. in Troy"
    50.00 for order "C-9"
took-home 2026-07-01
    1 stool
gave 2026-07-02 to "a toy shop" as sample
    1 stool
    4 carton
gave 2026-07-03 to "Mr. Oakes" as gift
    1 stool
gave 2026-07-04 to "the library" as donation
    1 stool worth 40.00
scrapped 2026-08-02
    1 stool
    1 blade
    2 bf oak
    2 carton
used-up 2026-05-05
    2 blade
    2 disc
    3 bf oak
counted 2026-12-31 at bench
    12 stool
    132 bf oak
    26 blade
    84 carton
counted 2026-12-31 at gallery
    3 stool
paid 2026-07-20 to "the state"
    35.00 for sales-tax to home-state, allowed 1.00
paid 2026-07-01 to telco
    70.00 for phone
paid 2026-12-20 to telco receipt "T-9"
    30.00 for phone
    unpaid
paid 2026-06-01 to "an inn"
    100.00 for lunch
paid 2026-05-20 to county-fair
    80.00 for booth-fee on fair
    60.00 for booth-fee on fair, meant for 2027-02-14
worked 2026-06-01
    2h selling on fair by jamie for 40.00
worked 2026-11-02
    3h general by ines
drove 2026-06-01 200 mi on fair
odometer 2026-01-01 41230 mi
odometer 2026-12-31 44810 mi
retired 2026-09-01 press for 200.00
"#;
