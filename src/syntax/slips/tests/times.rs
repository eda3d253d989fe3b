//! Times and dates as they are typed and spoken.

use super::Under::{Built, Helper, Nothing, Product, Shop, Sold, Worked};
use super::check;

#[test]
fn a_time_is_hours_and_minutes() {
    check(&[
        (Built, "took 1h48m cutting", "took 1h 48m cutting"),
        (Built, "took 1:48 cutting", "took 1h 48m cutting"),
        (Built, "took 1h 48 cutting", "took 1h 48m cutting"),
        (Built, "took 1h30 cutting", "took 1h 30m cutting"),
        (Built, "took 1 hr 30 cutting", "took 1h 30m cutting"),
        (Worked, "1 hour and 20 minutes sanding on PC-014", "1h 20m sanding on PC-014"),
        (Worked, "45m sanding PC-014", "45m sanding on PC-014"),
        (Worked, "1h48m sanding PC-014", "1h 48m sanding on PC-014"),
        (Worked, "1h fine sanding", "1h fine-sanding || 1h fine on sanding"),
        (Worked, "1h 20m fine sanding on PC-014", "1h 20m fine-sanding on PC-014"),
        (Worked, "1h fine sanding PC-014", "1h fine-sanding on PC-014"),
        (Worked, "45 min rip cut, 1h sanding", "45 min rip-cut, 1h sanding || 45 min rip on cut, 1h sanding"),
        (Worked, "45m sanding stool", "45m sanding-stool || 45m sanding on stool"),
        (Built, "took 1h fine sanding", "took 1h fine-sanding"),
        (Product, "takes 20 min fine sanding per 18 ea", "takes 20 min fine-sanding per 18 ea"),
        (Shop, "owner time 24.00 per hour", "owner time 24.00 per h"),
    ]);
}

#[test]
fn a_date_is_year_month_day() {
    check(&[
        (Nothing, "bought 3/20/2026 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 3/9/2026 from ada", "bought 2026-03-09 from ada || bought 2026-09-03 from ada"),
        (Nothing, "bought 2026-3-20 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 20.03.2026 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 2026/03/20 from ada", "bought 2026-03-20 from ada"),
        (Nothing, "bought 26-03-02 from ada", "bought 2026-03-02 from ada"),
        (Nothing, "bought 02-03-26 from ada", ""),
        (Sold, "paid 26-03-22", "paid 2026-03-22"),
        (Nothing, "bought Mar 9 from ada", "bought 2026-03-09 from ada"),
        (Nothing, "bought 9 March from ada", "bought 2026-03-09 from ada"),
        (Nothing, "bought March 9th, 2026 from ada", "bought 2026-03-09 from ada"),
        (Nothing, "bought 2026–03–09 from ada", "bought 2026-03-09 from ada"),
        (Sold, "paid 3/22/2026", "paid 2026-03-22"),
        (Nothing, "bought from ridgeline-lumber 2026-03-02", "bought 2026-03-02 from ridgeline-lumber"),
        (Nothing, "worked 1h general 2026-03-02", "worked 2026-03-02 | 1h general"),
        (Nothing, "worked", "worked 2026-03-01"),
    ]);
}

#[test]
fn times_are_written_as_they_are_spoken() {
    check(&[
        (Built, "took an hour cutting, half an hour sanding", "took 1h cutting, 30m sanding"),
        (Product, "takes an hour and a half cutting", "takes 1h 30m cutting"),
        (Worked, "a quarter of an hour sanding on PC-014", "15m sanding on PC-014"),
        (Helper, "costs 18.00 an hour", "costs 18.00 per h"),
        (Nothing, "worked 2026-03-05 half an hour cutting", "worked 2026-03-05 | 30m cutting"),
    ]);
}

#[test]
fn all_times_of_a_line_are_mended_at_once() {
    check(&[(
        Built,
        "took 1.5h cutting, 3 hours assembling, 45 minutes sanding, 1h20 finishing",
        "took 1.5h cutting, 3h assembling, 45m sanding, 1h 20m finishing",
    )]);
}
