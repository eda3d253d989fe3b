//! Three random years of a shop, as text: every way in and out of the goods, bills and payouts over the years' ends.
//!
//! The same number gives the same book. Stock is followed in whole pieces, so that it is never short; sums are followed in cents, so
//! that bills are paid to the cent.

use std::fmt::Write as _;

/// A plain generator of numbers that look random: the multiplier and increment are Knuth's MMIX ones (from memory).
pub(crate) struct Numbers(u64);

impl Numbers {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(1))
    }

    pub(crate) fn below(&mut self, bound: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % bound
    }

    fn one_in(&mut self, bound: u64) -> bool {
        self.below(bound) == 0
    }
}

const DEFINITIONS: &str = "\
place bench \"Bench\"
    home
place shelf \"Shelf at the shop\"
step cutting \"Cutting\"
    wears 1 blade per 45 min
step sanding \"Sanding\"
material oak \"Oak\"
    measured in bf
material blade \"Blade\"
    measured in ea
    as wear
material box \"Carton\"
    measured in ea
    as packing
pattern plan \"Plan\"
    royalty 0.35 per ea
    paid later
product duck \"Duck\"
    pattern plan
    price 12.00
product set \"Set of ducks\"
    price 40.00
helper sam \"Sam\"
    contractor
    costs 18.00 per h
    paid later
helper jo \"Jo\"
    employee
    costs 20.00 per h
channel counter \"Counter\"
channel market \"Market\"
    fee 10% of total
    pays later
channel shelf \"Consignment\"
    consignment 40%
expense phone \"Telephone\"
    form line 25
    business use 60%
expense stall \"Stalls\"
    form line other
income hints \"Referrals\"
    form line 6
tool saw \"Saw\"
    recovered over 7 years
    no bonus
opened 2024-01-01
    40 bf oak for 173.20
    30 blade for 41.00
    60 box for 33.33
    12 duck for 71.25
";

/// A bill that is still to be settled: how the line that settles it ends, to or from whom, and how many cents are open.
struct Open {
    head: String,
    what: String,
    cents: u64,
    by_us: bool,
}

struct Shop {
    numbers: Numbers,
    text: String,
    day: (u64, u64, u64),
    oak: u64,
    blades: u64,
    boxes: u64,
    ducks: u64,
    sets: u64,
    out: u64,
    batches: u64,
    orders: Vec<(String, u64)>,
    bills: Vec<Open>,
    named: u64,
}

fn money(cents: u64) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}

impl Shop {
    fn date(&self) -> String {
        format!("{:04}-{:02}-{:02}", self.day.0, self.day.1, self.day.2)
    }

    fn say(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn name(&mut self, letter: char) -> String {
        self.named += 1;
        format!("{letter}-{}", self.named)
    }

    fn buy(&mut self) {
        let receipt = self.name('R');
        let date = self.date();
        self.say(&format!("bought {date} from the-yard receipt \"{receipt}\""));
        let (oak, blades) = (20 + self.numbers.below(40), 5 + self.numbers.below(20));
        let mut cents = 0;
        let mut line = |shop: &mut Self, what: String, worth: u64| {
            cents += worth;
            shop.say(&format!("    {what} for {}", money(worth)));
        };
        let worth = oak * (300 + self.numbers.below(300));
        line(self, format!("{oak} bf oak"), worth);
        let worth = 700 + self.numbers.below(900);
        line(self, format!("{blades} blade"), worth);
        if self.numbers.one_in(2) {
            let boxes = 10 + self.numbers.below(30);
            self.boxes += boxes;
            line(self, format!("{boxes} box"), 333);
        }
        if self.numbers.one_in(3) {
            self.say("    6.49 for home \"light bulb\"");
            cents += 649;
        }
        if self.numbers.one_in(3) {
            self.say("    4.00 for stall");
            cents += 400;
        }
        if self.numbers.one_in(2) {
            let freight = 500 + self.numbers.below(1500);
            self.say(&format!("    freight {}", money(freight)));
            cents += freight;
        }
        if self.numbers.one_in(2) {
            let tax = cents * 7 / 100;
            self.say(&format!("    sales-tax {}", money(tax)));
            cents += tax;
        }
        if self.numbers.one_in(4) {
            self.say("    discount 1.00");
            cents -= 100;
        }
        self.oak += oak;
        self.blades += blades;
        if self.numbers.one_in(2) {
            let paid = cents * self.numbers.below(3) / 3;
            if paid == 0 {
                self.say("    unpaid");
            } else {
                self.say(&format!("    paid {} on {date}", money(paid)));
            }
            let what = format!("for receipt \"{receipt}\"");
            self.bills.push(Open { head: "to the-yard".to_owned(), what, cents: cents - paid, by_us: true });
        }
    }

    fn build(&mut self) {
        if self.oak < 8 || self.blades < 6 {
            return self.buy();
        }
        self.batches += 1;
        let (date, batch) = (self.date(), format!("B-{}", self.batches));
        let (oak, made) = (3 + self.numbers.below(5), 3 + self.numbers.below(9));
        let minutes = 20 + self.numbers.below(100);
        self.say(&format!("built {date} batch {batch}"));
        self.say(&format!("    used {oak} bf oak"));
        self.say(&format!("    took {minutes}m cutting"));
        // Wear of up to 120 minutes at one per 45: three blades at most.
        self.oak -= oak;
        self.blades -= 3;
        match self.numbers.below(4) {
            0 => {
                self.say("    took 30m sanding by sam");
                self.bills.push(Open { head: "to sam".to_owned(), what: "for sam".to_owned(), cents: 900, by_us: true });
            }
            1 => self.say("    took 33m sanding by jo"),
            _ => {}
        }
        if self.numbers.one_in(4) && self.boxes > 0 {
            self.boxes -= 1;
            self.say("    used 1 box");
        }
        self.say(&format!("    made {made} duck"));
        if self.numbers.one_in(4) {
            self.say("    lost 1 duck charged off");
        }
        // 0.35 a piece, rounded to the cent.
        let what = "for plan".to_owned();
        self.bills.push(Open { head: "to \"the plan's maker\"".to_owned(), what, cents: 35 * made, by_us: true });
        self.ducks += made;
        if self.numbers.one_in(3) && self.ducks >= 4 {
            self.ducks -= 4;
            self.sets += 1;
            self.batches += 1;
            let batch = format!("B-{}", self.batches);
            self.say(&format!("built {date} batch {batch}\n    used 4 duck\n    took 20m sanding\n    made 1 set"));
        }
    }

    fn sell(&mut self) {
        if self.ducks < 4 {
            return self.build();
        }
        let (date, order) = (self.date(), self.name('W'));
        let pieces = 1 + self.numbers.below(3);
        self.ducks -= pieces;
        let market = self.numbers.one_in(2);
        let channel = if market { "market" } else { "counter" };
        self.say(&format!("sold {date} via {channel} order \"{order}\""));
        // Ten cents' steps, so that a fee of ten per cent is whole cents.
        let mut cents = pieces * (900 + 10 * self.numbers.below(60));
        self.say(&format!("    {pieces} duck for {}", money(cents)));
        if self.sets > 0 && self.numbers.one_in(3) {
            self.sets -= 1;
            self.say("    1 set");
            cents += 4000;
        }
        if self.numbers.one_in(2) {
            self.say("    shipping 7.50\n    postage 6.85");
            cents += 750;
        }
        if self.boxes > 2 && self.numbers.one_in(2) {
            self.boxes -= 1;
            self.say("    packed with 1 box");
        }
        if self.numbers.one_in(3) {
            self.say("    sales-tax 1.20");
            cents += 120;
        }
        if market {
            let what = format!("for order \"{order}\"");
            let net = cents - cents / 10;
            self.bills.push(Open { head: "from market".to_owned(), what, cents: net, by_us: false });
        } else {
            self.orders.push((order, pieces));
        }
    }

    fn come_back(&mut self) {
        let Some((order, pieces)) = self.orders.pop() else { return };
        let date = self.date();
        let _ = pieces;
        match self.numbers.below(3) {
            0 => {
                self.ducks += 1;
                self.say(&format!("returned {date} order \"{order}\"\n    1 duck, refunded 9.00, back to stock"));
            }
            1 => self.say(&format!("returned {date} order \"{order}\"\n    1 duck, refunded 9.00, scrapped")),
            _ => self.say(&format!("returned {date} order \"{order}\"\n    refunded 2.00 \"a scratch\"")),
        }
    }

    fn go_otherwise(&mut self) {
        let date = self.date();
        if self.ducks < 3 || self.oak < 3 || self.blades < 3 || self.boxes < 2 {
            return self.buy();
        }
        let entry = match self.numbers.below(10) {
            0 => "took-home DATE\n    1 duck",
            1 => "gave DATE to a-shop as sample\n    1 duck",
            2 => "gave DATE to a-friend as gift\n    1 duck",
            3 => "gave DATE to \"the raffle\" as donation\n    1 duck worth 9.00",
            4 => "scrapped DATE\n    1 bf oak\n    1 box",
            5 => "used-up DATE\n    1 blade\n    1 bf oak",
            6 => "scrapped DATE\n    1 duck",
            7 => "gave DATE to a-shop as sample\n    1 blade\n    1 box",
            8 => "took-home DATE\n    1 blade\n    1 bf oak",
            _ => "used-up DATE\n    1 box",
        };
        // Taken off generously: what is over is only never used.
        self.ducks -= 1;
        self.oak -= 1;
        self.blades -= 1;
        self.boxes -= 1;
        self.say(&entry.replace("DATE", &date));
    }

    fn count(&mut self) {
        let date = self.date();
        let ducks = self.ducks;
        self.say(&format!("counted {date} at bench\n    {ducks} duck"));
    }

    fn consign(&mut self) {
        let date = self.date();
        if self.out >= 2 {
            self.out -= 1;
            let order = self.name('G');
            self.say(&format!("sold {date} via shelf order \"{order}\"\n    1 duck at 12.50"));
            let what = format!("for order \"{order}\"");
            return self.bills.push(Open { head: "from shelf".to_owned(), what, cents: 750, by_us: false });
        }
        if self.ducks >= 6 {
            self.ducks -= 3;
            self.out += 3;
            self.say(&format!("sent {date} to shelf\n    3 duck"));
        }
    }

    fn settle(&mut self, all: bool) {
        let date = self.date();
        for mut bill in std::mem::take(&mut self.bills) {
            // What is owed to one party is settled oldest first, so a part may be paid at any time.
            let part = if all || self.numbers.one_in(3) { bill.cents } else { bill.cents * self.numbers.below(3) / 3 };
            if part > 0 {
                let verb = if bill.by_us { "paid" } else { "received" };
                self.say(&format!("{verb} {date} {}\n    {} {}", bill.head, money(part), bill.what));
            }
            bill.cents -= part;
            if bill.cents > 0 {
                self.bills.push(bill);
            }
        }
    }

    fn other(&mut self) {
        let date = self.date();
        match self.numbers.below(5) {
            0 => self.say(&format!("paid {date} to telco\n    31.15 for phone")),
            1 => {
                let receipt = self.name('T');
                self.say(&format!(
                    "paid {date} to telco receipt \"{receipt}\"\n    40.01 for phone\n    12.00 for stall\n    unpaid"
                ));
                let what = format!("for receipt \"{receipt}\"");
                self.bills.push(Open { head: "to telco".to_owned(), what, cents: 5201, by_us: true });
            }
            2 => self.say(&format!("drove {date} 13.7 mi")),
            3 => self.say(&format!("received {date} from a-maker\n    7.77 for hints")),
            _ => self.say(&format!("worked {date}\n    1h sanding by sam on counter\npaid {date} to sam\n    18.00 for sam")),
        }
    }
}

/// A book of three years. `switches` are lines of the shop; with `settled` every bill is paid by the last day.
pub(crate) fn random_shop(seed: u64, switches: &str, settled: bool) -> String {
    let mut text = String::new();
    let _ = write!(text, "shop \"Random\"\n    currency USD\n    tax form us-schedule-c\n{switches}{DEFINITIONS}");
    let mut shop = Shop {
        numbers: Numbers::new(seed),
        text,
        day: (2024, 1, 2),
        oak: 40,
        blades: 30,
        boxes: 60,
        ducks: 12,
        sets: 0,
        out: 0,
        batches: 0,
        orders: Vec::new(),
        bills: Vec::new(),
        named: 0,
    };
    for year in 2024..=2026 {
        for month in 1..=12 {
            for step in 0..5 {
                shop.day = (year, month, 2 + step * 5 + shop.numbers.below(5));
                match shop.numbers.below(12) {
                    0 | 1 => shop.buy(),
                    2..=4 => shop.build(),
                    5..=7 => shop.sell(),
                    8 => shop.come_back(),
                    9 => shop.go_otherwise(),
                    10 => shop.consign(),
                    _ => shop.other(),
                }
            }
            shop.day = (year, month, 28);
            match shop.numbers.below(3) {
                0 => shop.settle(false),
                1 if month == 12 => shop.count(),
                _ => {}
            }
        }
        if year == 2025 {
            shop.day = (2025, 6, 14);
            shop.say("bought 2025-06-14 from a-dealer\n    1 saw for 899.00");
        }
    }
    if settled {
        shop.day = (2026, 12, 30);
        shop.settle(true);
    }
    shop.text
}

/// The same book without what is dated after a day: entries are blocks that begin at column 1 with a word and a date.
pub(crate) fn cut_after(text: &str, last: &str) -> String {
    let mut out = String::new();
    let mut keeps = true;
    for line in text.lines() {
        if !line.starts_with(' ') {
            let word = line.split_whitespace().nth(1).unwrap_or("");
            keeps = word.len() != 10 || !word.starts_with("20") || word <= last;
        }
        if keeps {
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}
