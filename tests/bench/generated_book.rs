//! A book of any number of entries, the same for the same number: purchases, batches, sales and hours of one shop.
//!
//! Invented data. The mix is 35 % bought, 25 % built, 30 % sold, 10 % worked, about three lines an entry; stock is never short,
//! because each purchase brings more than the entries after it can use.

use std::fmt::Write as _;

/// The definitions that every generated book has.
const DEFINITIONS: &str = "\
shop \"Generated shop\"
    currency USD
    costing fifo
    owner time 24.00 per h
    overhead 3.50 per h
place bench \"Bench\"
    home
step cutting \"Cutting\"
    wears 1 blade per 45 min
step sanding \"Sanding\"
step general \"General\"
    indirect
material red-oak \"Red oak\"
    measured in bf
material wheel-40 \"Wheel\"
    measured in ea
    1 bag = 50 ea
material clear-oil \"Clear oil\"
    measured in ml
    1 can = 473 ml
material blade \"Blade\"
    measured in ea
    as wear
material box-small \"Small carton\"
    measured in ea
    as packing
expense shop-supplies \"Supplies\"
channel web-page \"Own page\"
    fee 3% of total
    fee 0.25 per sale
line rolling-toys \"Rolling toys\"
opened 2016-01-01
    5000 bf red-oak for 20000.00
    5000 ea wheel-40 for 1000.00
    50000 ml clear-oil for 2000.00
    5000 blade for 5000.00
";

/// How many products the shop makes.
const PRODUCTS: u32 = 40;

/// A book's text and its count of item lines.
pub(crate) struct GeneratedBook {
    pub(crate) text: String,
    pub(crate) entries: usize,
}

/// A plain generator of numbers that look random: the multiplier and increment are Knuth's MMIX ones (from memory).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % bound
    }
}

/// Writes a book of so many entries.
pub(crate) fn generate(entries: usize) -> GeneratedBook {
    let mut text = String::with_capacity(entries * 140);
    text.push_str(DEFINITIONS);
    for product in 0..PRODUCTS {
        let _ = write!(
            text,
            "product toy-{product} \"Toy number {product}\"\n    line rolling-toys\n    price {}.00\n",
            20 + product
        );
    }
    let mut numbers = Numbers(1);
    let mut made: Vec<u32> = Vec::new();
    let per_day = (entries / 3650).max(1);
    for at in 0..entries {
        let day = at / per_day;
        let (year, month, day) = (2016 + day / 336, day / 28 % 12 + 1, day % 28 + 1);
        let date = format!("{year:04}-{month:02}-{day:02}");
        match numbers.below(100) {
            0..35 => bought(&mut text, &mut numbers, &date, at),
            35..60 => built(&mut text, &mut numbers, &date, at, &mut made),
            60..90 if !made.is_empty() => sold(&mut text, &mut numbers, &date, at, &mut made),
            60..90 => bought(&mut text, &mut numbers, &date, at),
            _ => {
                let _ = write!(
                    text,
                    "worked {date}\n    {}m general\n    1h {}m sanding on rolling-toys\n",
                    10 + numbers.below(50),
                    numbers.below(59) + 1
                );
            }
        }
    }
    GeneratedBook { text, entries }
}

fn bought(text: &mut String, numbers: &mut Numbers, date: &str, at: usize) {
    let (bf, price) = (30 + numbers.below(40), 400 + numbers.below(400));
    let _ = write!(
        text,
        "bought {date} from ridgeline-lumber receipt \"A-{at}\"   # the yard\n    {bf}.5 bf red-oak at {}.{:02}\n    2 bags wheel-40 for {}.00\n    1 can clear-oil for 19.50\n    6 blade for 9.00\n    4 box-small for 3.20\n    {}.40 for shop-supplies \"masking paper\"\n    freight 18.00\n    sales-tax 9.31\n",
        price / 100,
        price % 100,
        20 + numbers.below(9),
        5 + numbers.below(20)
    );
}

fn built(text: &mut String, numbers: &mut Numbers, date: &str, at: usize, made: &mut Vec<u32>) {
    let toy = u32::try_from(numbers.below(u64::from(PRODUCTS))).unwrap_or_default();
    let count = 2 + numbers.below(6);
    made.extend((0..count).map(|_| toy));
    let _ = write!(
        text,
        "built {date} batch B-{at}\n    used {}.25 bf red-oak, {} wheel-40\n    used {} ml clear-oil\n    took 1h {}m cutting, {}m sanding\n    made {count} toy-{toy}\n",
        1 + numbers.below(3),
        count * 4,
        20 + numbers.below(60),
        numbers.below(40) + 1,
        20 + numbers.below(40)
    );
}

fn sold(text: &mut String, numbers: &mut Numbers, date: &str, at: usize, made: &mut Vec<u32>) {
    let _ = write!(text, "sold {date} via web-page order \"W-{at}\"\n    to \"J. in Dover\"\n");
    for _ in 0..=numbers.below(2) {
        if made.is_empty() {
            break;
        }
        let pick = usize::try_from(numbers.below(made.len() as u64)).unwrap_or_default();
        let toy = made.swap_remove(pick);
        let _ = writeln!(text, "    1 toy-{toy} at {}.00", 20 + toy);
    }
    text.push_str("    shipping 9.50\n    postage 7.85\n");
}
