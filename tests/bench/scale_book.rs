//! Books that are large in one way: sets of sets twelve levels deep, many batches, one lot drawn down by many sales.
//!
//! Invented data, the same for the same number. What they must come to can be worked out in the head; tests check it on small ones.

use std::fmt::Write as _;

/// How many levels a set has.
pub(crate) const LEVELS: usize = 12;

const SHOP: &str = "\
shop \"A large shop\"
    currency USD
    costing fifo
    owner time 30.00 per h
    overhead 6.00 per h
place bench \"Bench\"
    home
channel counter \"Over the counter\"
step cutting \"Cutting\"
material oak \"Oak\"
    measured in bf
product block \"Block\"
    price 1.00
";

/// A day of 2026 to 2035, the first entries first; days are 1 to 28.
fn date(at: usize, of: usize) -> String {
    let day = at * 3360 / of.max(1);
    format!("{:04}-{:02}-{:02}", 2026 + day / 336, day / 28 % 12 + 1, day % 28 + 1)
}

/// So many sets: each is two of the level below and a minute, down to a block of 0.10 bf of oak at 4.00. A set of the twelfth level
/// has 2,048 blocks in it, 819.20 of oak, and 4,095 minutes.
pub(crate) fn sets(count: usize) -> String {
    let mut text = SHOP.to_owned();
    for level in 2..=LEVELS {
        let below = if level == 2 { "block".to_owned() } else { format!("set-{}", level - 1) };
        let _ = write!(text, "product set-{level} \"A set of level {level}\"\n    needs 2 {below}\n    takes 1 min cutting\n");
    }
    for at in 0..count {
        let day = date(at, count);
        let blocks = 1_usize << (LEVELS - 1);
        let _ = write!(text, "bought {day} from yard\n    {}.{} bf oak at 4.00\n", blocks / 10, blocks % 10);
        let _ = write!(
            text,
            "built {day} batch S{at}-1\n    used {}.{} bf oak\n    took {blocks}m cutting\n    made {blocks} block\n",
            blocks / 10,
            blocks % 10
        );
        for level in 2..=LEVELS {
            let _ = writeln!(
                text,
                "built {day} batch S{at}-{level}\n    made {} set-{level} as planned",
                1_usize << (LEVELS - level)
            );
        }
    }
    text
}

/// So many batches, each of one block: 0.25 bf of oak at 4.00 and 3 minutes.
pub(crate) fn batches(count: usize) -> String {
    let mut text = format!("{SHOP}opened 2026-01-01\n    {count} bf oak for {}.00\n", count * 4);
    for at in 0..count {
        let day = date(at, count);
        let _ = write!(text, "built {day} batch B-{at}\n    used 0.25 bf oak\n    took 3m cutting\n    made 1 block\n");
    }
    text
}

/// One lot of so many blocks and one more, at 0.37 a block, sold one by one.
pub(crate) fn sales(count: usize) -> String {
    let cents = (count + 1) * 37;
    let mut text = format!("{SHOP}opened 2026-01-01\n    {} block for {}.{:02}\n", count + 1, cents / 100, cents % 100);
    for at in 0..count {
        let day = date(at, count);
        let _ = write!(text, "sold {day} via counter order \"W-{at}\"\n    1 block at 1.00\n");
    }
    text
}
