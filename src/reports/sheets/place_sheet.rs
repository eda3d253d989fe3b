//! The sheet of a place away from home: what it owes, what lies there, what was counted, the slip to hand over, and all that moved there.

use super::place_index::PlaceIndex;
use super::plain_name;
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use crate::names::PlaceId;
use crate::reports::period::quantity_text;
use crate::reports::{PlaceList, after_days};

use CellKind::{Cost, Day, Money, Quantity, Words};

/// All that moved there.
const MOVES: &str = "moves";
/// What lies there.
const THERE: &str = "there";
/// What its last count found missing.
const MISSING: &str = "missing";
/// Sales that are not paid.
const OWES: &str = "owes";
/// Where a name and a day are to be written on paper.
const SIGNED: &str = "Received, all of the above: ______________________________ Day:\u{a0}______________";

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

/// The name of a place's sheet.
#[must_use]
pub fn place_name(list: &PlaceList) -> SheetName {
    SheetName::new(SheetKind::Place, plain_name(&list.name))
}

/// Makes the sheet of a place of the report; nothing of one that the book doesn't name.
#[must_use]
pub fn sheet_of_place(index: &SheetIndex<'_>, places: &PlaceIndex, list: &PlaceList) -> Option<Sheet> {
    let book = index.books.book;
    let at = book.places.iter().position(|place| place.named.name == list.name)?;
    let place = PlaceId(u32::try_from(at).ok()?);
    let here = Here { index, places, list, place };
    let mut tables = vec![here.owes(), here.there(), here.count(), here.missing(), here.slip(), here.other_slips(), here.moves()];
    tables.retain(|table| !table.rows.is_empty());
    Some(Sheet { name: place_name(list), word: "place", title: list.title.clone(), says: here.says(), tables, trace: None })
}

struct Here<'h> {
    index: &'h SheetIndex<'h>,
    places: &'h PlaceIndex,
    list: &'h PlaceList,
    place: PlaceId,
}

impl Here<'_> {
    /// What is to be done there: what it owes, what lies there, and when that was counted.
    fn says(&self) -> Vec<SheetCell> {
        let list = self.list;
        let mut says = vec![words(format!("{} ", list.title))];
        match list.owes.as_slice() {
            [] => {}
            sales => {
                says.push(words("owes "));
                says.push(SheetCell::new(Money, list.owed.as_str()).by_table(OWES));
                let late = sales.iter().filter_map(|one| one.days_late).max().unwrap_or_default();
                let sales = if sales.len() == 1 { "one sale".to_owned() } else { format!("{} sales", sales.len()) };
                says.push(words(match late {
                    0 => format!(" for {sales}, and "),
                    1 => format!(" for {sales}, the oldest a day late, and "),
                    late => format!(" for {sales}, the oldest {late} days late, and "),
                }));
            }
        }
        let there = list.rows.iter().filter(|row| !is_nothing(&row.left)).count();
        says.push(words("has "));
        says.push(match there {
            0 => words("nothing of yours"),
            1 => words("goods of yours of one kind"),
            many => words(format!("goods of yours of {many} kinds")),
        });
        if !is_nothing(&list.left_at_price) {
            says.push(words(", "));
            says.push(SheetCell::new(Money, list.left_at_price.as_str()).by_table(THERE));
            says.push(words(" at your prices"));
        }
        let counted = match (&list.last_count, list.days_since_count) {
            (Some(day), Some(days)) if days > 1 => format!("; it was last counted on {day}, {days} days before the book’s end."),
            (Some(day), _) => format!("; it was last counted on {day}."),
            (None, _) if there > 0 => "; it was never counted.".to_owned(),
            (None, _) => ".".to_owned(),
        };
        says.push(words(counted));
        if let Some(channel) = &list.channel {
            let title = self.index.books.book.channels.iter().find(|one| one.named.name == *channel);
            says.push(words(" It sells as "));
            let title = title.map_or(channel.as_str(), |one| one.named.title.as_str());
            says.push(words(title).of(SheetName::new(SheetKind::Channel, plain_name(channel))));
            says.push(words("."));
        }
        says
    }

    /// A thing as the head of a row.
    fn thing(name: &str, title: &str) -> SheetCell {
        words(title).of(SheetName::new(SheetKind::Thing, plain_name(name)))
    }

    /// What is asked for a thing on a day, as its definition or the sale says by which it is marked.
    fn price(&self, name: &str, price: Option<&String>, day: &str) -> SheetCell {
        let Some(price) = price else { return SheetCell::without(Cost, "no price set") };
        let thing = self.places.thing(name);
        let by_sale = thing.and_then(|thing| self.places.marked(self.index, self.place, thing, day));
        let named = thing.map(|thing| &self.index.books.book.thing(thing).named);
        let line = by_sale.or_else(|| self.index.line_of_definition(named?, "price"));
        SheetCell::new(Cost, price.as_str()).at(line)
    }

    fn together(text: Option<&String>, table: &'static str) -> SheetCell {
        text.map_or_else(|| SheetCell::without(Money, "–"), |text| SheetCell::new(Money, text.as_str()).by_table(table))
    }

    fn owes(&self) -> SheetTable {
        let columns = [
            ("Order", Words),
            ("Day", Day),
            ("Came to", Money),
            ("Still owed", Money),
            ("Days since", Quantity),
            ("Days late", Quantity),
        ];
        let mut table = SheetTable::new(OWES, "Sold there and not paid", &columns);
        let list = self.list;
        for one in &list.owes {
            let order = self.places.order(&one.date, &one.order).map(|order| self.index.order_name(order));
            let lead = |cell: SheetCell| match &order {
                Some(order) => cell.of(order.clone()).by_table("owed"),
                None => cell.by_table(OWES),
            };
            let head = words(one.order.as_str());
            table.row_on(
                one.date.as_str(),
                vec![
                    order.clone().map_or(head.clone(), |order| head.of(order)),
                    SheetCell::new(Day, one.date.as_str()),
                    lead(SheetCell::new(Money, one.total.as_str())),
                    lead(SheetCell::new(Money, one.open.as_str())),
                    lead(SheetCell::quantity(one.days.to_string(), "ea")),
                    match one.days_late {
                        Some(days) => lead(SheetCell::quantity(days.to_string(), "ea")),
                        None => SheetCell::without(Quantity, "not known"),
                    },
                ],
            );
        }
        if table.rows.len() > 1 {
            let all = SheetCell::new(Money, list.owed.as_str()).by_table(OWES);
            let cells = vec![words("Together"), words(""), words(""), all, words(""), words("")];
            table.total = Some(SheetRow { day: String::new(), cells });
        }
        if let Some(days) = list.usual_days {
            table.below.push(format!(
                "It usually pays {}: the mean of its last sales that are paid whole, rounded up.",
                after_days(days)
            ));
        }
        table
    }

    fn there(&self) -> SheetTable {
        let columns = [
            ("Thing", Words),
            ("Brought", Quantity),
            ("Sold", Quantity),
            ("Taken away", Quantity),
            ("Otherwise", Quantity),
            ("There", Quantity),
            ("Price", Cost),
            ("Together", Money),
        ];
        let mut table = SheetTable::new(THERE, "What was brought, and what is there", &columns);
        table.note = "otherwise: missing in a count, given, scrapped or used there; below zero it came so";
        let last = self.index.books.costed.until.map(|day| day.to_string()).unwrap_or_default();
        for row in &self.list.rows {
            let many = |text: &str| SheetCell::quantity(text, &row.unit);
            let moved = |text: &str| many(text).by_table(MOVES);
            let otherwise = if self.list.count.iter().any(|one| one.name == row.name) { "count" } else { THERE };
            table.row(vec![
                Self::thing(&row.name, &row.title),
                moved(&row.brought),
                moved(&row.sold),
                moved(&row.taken_away),
                many(&row.otherwise).by_table(otherwise),
                many(&row.left).of(SheetName::new(SheetKind::Thing, plain_name(&row.name))).by_table("lots"),
                self.price(&row.name, row.asked.as_ref(), &last),
                Self::together(row.left_at_price.as_ref(), THERE),
            ]);
        }
        table.below.extend(self.list.notes.iter().cloned());
        if table.rows.len() > 1 && !is_nothing(&self.list.left_at_price) {
            let mut cells = vec![words("All that is there")];
            cells.extend((0..6).map(|_| words("")));
            cells.push(SheetCell::new(Money, self.list.left_at_price.as_str()).by_table(THERE));
            table.total = Some(SheetRow { day: String::new(), cells });
        }
        table
    }

    fn count(&self) -> SheetTable {
        let columns = [("Thing", Words), ("Counted", Quantity), ("In the books", Quantity), ("Difference", Quantity)];
        let mut table = SheetTable::new("count", "The last count against the books", &columns);
        for row in &self.list.count {
            let thing = self.places.thing(&row.name);
            let line = thing.and_then(|thing| self.places.counted(self.index, self.place, thing));
            let many = |text: &str| SheetCell::quantity(text, &row.unit);
            table.row(vec![
                Self::thing(&row.name, &row.title),
                match &line {
                    Some(_) => many(&row.counted).at(line.clone()),
                    None => many(&row.counted).by_table("count"),
                },
                many(&row.booked).by_table(MOVES),
                many(&row.difference).by_table("count"),
            ]);
        }
        table
    }

    /// What was handed over last, to be signed for.
    fn slip(&self) -> SheetTable {
        let columns = [("Thing", Words), ("Handed over", Quantity), ("Price", Cost), ("Together", Money)];
        let Some(slip) = &self.list.slip else { return SheetTable::new("slip", "", &columns) };
        let mut table = SheetTable::new("slip", format!("Handed over on {}", slip.date), &columns);
        table.note = "the slip to sign";
        for row in &slip.rows {
            let thing = self.places.thing(&row.name);
            let line = thing.and_then(|thing| self.places.sent(self.index, self.place, thing));
            table.row(vec![
                Self::thing(&row.name, &row.title),
                SheetCell::quantity(row.quantity.as_str(), &row.unit).at(line),
                self.price(&row.name, row.price.as_ref(), &slip.date),
                Self::together(row.together.as_ref(), "slip"),
            ]);
        }
        let all = SheetCell::new(Money, slip.together.as_str()).by_table("slip");
        table.total = Some(SheetRow { day: String::new(), cells: vec![words("All"), words(""), words(""), all] });
        table.below.extend(slip.terms.as_ref().map(|terms| format!("Terms: {terms}.")));
        table.below.push(SIGNED.to_owned());
        table
    }

    /// What that count found missing, with its worth.
    fn missing(&self) -> SheetTable {
        let columns = [("Thing", Words), ("Missing", Quantity), ("Paid cost", Money), ("Price", Cost), ("Would be owed", Money)];
        let Some(short) = &self.list.shortage else { return SheetTable::new(MISSING, "", &columns) };
        let mut table = SheetTable::new(MISSING, format!("Missing on {}, to be settled", short.date), &columns);
        for row in &short.rows {
            let thing = SheetName::new(SheetKind::Thing, plain_name(&row.name));
            table.row(vec![
                Self::thing(&row.name, &row.title),
                SheetCell::quantity(row.missing.as_str(), &row.unit).by_table("count"),
                SheetCell::new(Money, row.paid.as_str()).of(thing).by_table("lots"),
                self.price(&row.name, row.price.as_ref(), &short.date),
                Self::together(row.would_owe.as_ref(), MISSING),
            ]);
        }
        let paid = SheetCell::new(Money, short.missing_paid.as_str()).by_table(MISSING);
        let owed = Self::together(short.missing_owed.as_ref(), MISSING);
        table.total = Some(SheetRow { day: String::new(), cells: vec![words("All"), words(""), paid, words(""), owed] });
        table.below.extend(short.terms.as_ref().map(|terms| format!("Terms: {terms}.")));
        table.below.extend(short.notes.iter().map(|note| format!("Noted with the count: “{note}”")));
        table.below.extend(short.question.clone());
        table
    }

    /// What was handed over on other days, the newest first.
    fn other_slips(&self) -> SheetTable {
        let columns = [("Thing", Words), ("Day", Day), ("Handed over", Quantity), ("Price", Cost), ("Together", Money)];
        let mut table = SheetTable::new("slips", "Handed over on other days", &columns);
        for slip in &self.list.other_slips {
            for row in &slip.rows {
                table.row_on(
                    slip.date.as_str(),
                    vec![
                        Self::thing(&row.name, &row.title),
                        SheetCell::new(Day, slip.date.as_str()),
                        SheetCell::quantity(row.quantity.as_str(), &row.unit).by_table(MOVES),
                        self.price(&row.name, row.price.as_ref(), &slip.date),
                        Self::together(row.together.as_ref(), "slips"),
                    ],
                );
            }
        }
        if let Some(slip) = self.list.other_slips.first() {
            table.below.push(format!(
                "`kerfbook places {} --slip {}` prints the slip of a day, to be signed.",
                self.list.name, slip.date
            ));
        }
        table
    }

    fn moves(&self) -> SheetTable {
        let columns = [("Thing", Words), ("Day", Day), ("What happened", Words), ("How many", Quantity)];
        let mut table = SheetTable::new(MOVES, "All that moved there", &columns);
        let mut moves: Vec<_> = self.places.moves(self.place).iter().collect();
        moves.sort_by_key(|one| (one.date, one.line.start));
        for one in moves {
            let named = self.index.books.book.thing(one.thing);
            let day = one.date.to_string();
            let many = SheetCell::quantity(quantity_text(one.quantity), named.unit.as_str());
            table.row_on(
                day.as_str(),
                vec![
                    Self::thing(&named.named.name, &named.named.title),
                    SheetCell::new(Day, day.as_str()),
                    words(one.how),
                    many.at(self.index.place(one.line)),
                ],
            );
        }
        table
    }
}

fn is_nothing(text: &str) -> bool {
    text.bytes().all(|byte| matches!(byte, b'0' | b'.' | b'-'))
}

/// Makes the list of places: what lies at each, and what it owes.
pub(super) fn list_of_places(places: &[PlaceList]) -> SheetTable {
    let columns =
        [("Place", Words), ("Things there", Quantity), ("At your prices", Money), ("Owes", Money), ("Last counted", Words)];
    let mut table = SheetTable::new("list", "All places away from home", &columns);
    for list in places {
        let name = place_name(list);
        let there = list.rows.iter().filter(|row| !is_nothing(&row.left)).count();
        table.row(vec![
            words(list.title.as_str()).of(name.clone()),
            SheetCell::quantity(there.to_string(), "ea").of(name.clone()),
            SheetCell::new(Money, list.left_at_price.as_str()).of(name.clone()),
            SheetCell::new(Money, list.owed.as_str()).of(name),
            words(list.last_count.as_deref().unwrap_or("never")),
        ]);
    }
    table
}
