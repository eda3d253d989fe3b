//! *What lies where?* as text: for each place what is there at its prices, what was sold, and what is owed.

use super::number;
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use crate::render::answer_to_decide::answer_places;
use crate::render::html::Question;
use crate::render::number_format::Shown;
use crate::reports::{PlaceList, PlaceShortage, PlaceSlip, PlacesReport, after_days};

/// How many days of other slips are named; there may be hundreds.
const MOST: usize = 12;

/// Renders the lists of places.
#[must_use]
pub fn text_places(report: &PlacesReport, look: Look) -> String {
    let answer = answer_places(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Places.asked(), &report.head, &answer);
    for place in &report.places {
        sheet.table(&format!("{}: what was brought, and what is there", place.title), rows(place));
        for note in &place.notes {
            sheet.paragraph(note);
        }
        let counted = place.last_count.as_ref().map_or("never counted".to_owned(), |day| format!("last counted on {day}"));
        sheet.paragraph(&format!("{} was {counted}.", place.title));
        sheet.table(&format!("{}: the last count against the books", place.title), count(place));
        if let Some(short) = &place.shortage {
            sheet.table(&format!("{}: missing on {}, to be settled", place.title, short.date), shortage(short));
            if let Some(terms) = &short.terms {
                sheet.paragraph(&format!("Terms: {terms}."));
            }
            for words in &short.notes {
                sheet.paragraph(&format!("Noted with the count: \"{words}\""));
            }
            if let Some(question) = &short.question {
                sheet.paragraph(question);
            }
        }
        sheet.table(&format!("{}: sold and not paid", place.title), owes(place));
        if let Some(days) = place.usual_days {
            sheet.paragraph(&format!("{} usually pays {}.", place.title, after_days(days)));
        }
        if let Some(day) = report.days_to.as_ref().filter(|_| !place.owes.is_empty()) {
            sheet.paragraph(&format!("Days are counted to {day}."));
        }
        if let Some(handed) = &place.slip {
            sheet.table(&format!("{}: handed over on {}", place.title, handed.date), slip(handed));
            if let Some(terms) = &handed.terms {
                sheet.paragraph(&format!("Terms: {terms}."));
            }
            sheet.paragraph("Received, all of the above: ______________________________  Day: ______________");
        }
        if let Some(days) = other_slips(place) {
            sheet.paragraph(&days);
        }
    }
    sheet.close()
}

fn rows(place: &PlaceList) -> Table {
    let mut table = Table::new([
        ("Thing", Stand::Left),
        ("Brought", Stand::Point),
        ("Sold", Stand::Point),
        ("Taken away", Stand::Point),
        ("Otherwise", Stand::Point),
        ("There", Stand::Point),
        ("", Stand::Left),
        ("Price", Stand::Point),
        ("Together", Stand::Point),
    ]);
    let or_dash = |figure: &Option<String>| figure.as_deref().map_or_else(|| "-".to_owned(), number);
    for row in &place.rows {
        let mut cells = vec![row.title.clone()];
        cells.extend([&row.brought, &row.sold, &row.taken_away, &row.otherwise, &row.left].map(|figure| number(figure)));
        cells.extend([row.unit.clone(), or_dash(&row.asked), or_dash(&row.left_at_price)]);
        table.row(cells);
    }
    if !place.rows.is_empty() {
        let mut cells = vec!["All that is there".to_owned()];
        cells.extend(std::iter::repeat_n(String::new(), 7));
        cells.push(number(&place.left_at_price));
        table.total(cells);
    }
    table
}

fn owes(place: &PlaceList) -> Table {
    let mut table = Table::new([
        ("Order", Stand::Left),
        ("Day", Stand::Left),
        ("Came to", Stand::Point),
        ("Still owed", Stand::Point),
        ("Days since", Stand::Right),
        ("Days late", Stand::Right),
    ]);
    for one in &place.owes {
        table.row(vec![
            one.order.clone(),
            one.date.clone(),
            number(&one.total),
            number(&one.open),
            one.days.to_string(),
            late(one.days_late),
        ]);
    }
    if !place.owes.is_empty() {
        table.total(vec!["All".to_owned(), String::new(), String::new(), number(&place.owed), String::new(), String::new()]);
    }
    table
}

/// Days beyond those that the place usually takes.
fn late(days: Option<i64>) -> String {
    days.map_or_else(|| "-".to_owned(), |days| days.to_string())
}

fn count(place: &PlaceList) -> Table {
    let mut table = Table::new([
        ("Thing", Stand::Left),
        ("Counted", Stand::Point),
        ("In the books", Stand::Point),
        ("Difference", Stand::Point),
        ("", Stand::Left),
    ]);
    for row in &place.count {
        let mut cells = vec![row.title.clone()];
        cells.extend([&row.counted, &row.booked, &row.difference].map(|figure| number(figure)));
        cells.push(row.unit.clone());
        table.row(cells);
    }
    table
}

fn shortage(short: &PlaceShortage) -> Table {
    let mut table = Table::new([
        ("Thing", Stand::Left),
        ("Missing", Stand::Point),
        ("", Stand::Left),
        ("Paid cost", Stand::Point),
        ("Price", Stand::Point),
        ("Would be owed", Stand::Point),
    ]);
    let or_dash = |figure: &Option<String>| figure.as_deref().map_or_else(|| "-".to_owned(), number);
    for row in &short.rows {
        let cells = [row.title.clone(), number(&row.missing), row.unit.clone(), number(&row.paid)];
        table.row(cells.into_iter().chain([or_dash(&row.price), or_dash(&row.would_owe)]).collect());
    }
    let blank = String::new;
    let owed = or_dash(&short.missing_owed);
    table.total(vec!["All".to_owned(), blank(), blank(), number(&short.missing_paid), blank(), owed]);
    table
}

/// The days of the slips that are not shown.
fn other_slips(place: &PlaceList) -> Option<String> {
    let newest: Vec<&str> = place.other_slips.iter().take(MOST).map(|slip| slip.date.as_str()).collect();
    let first = newest.first()?;
    let more = match place.other_slips.len().saturating_sub(newest.len()) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let days = newest.join(", ");
    Some(format!("Handed over on other days: {days}{more}; `kerfbook places {} --slip {first}` is the slip of one.", place.name))
}

fn slip(slip: &PlaceSlip) -> Table {
    let mut table = Table::new([
        ("Thing", Stand::Left),
        ("Handed over", Stand::Point),
        ("", Stand::Left),
        ("Price", Stand::Point),
        ("Together", Stand::Point),
    ]);
    let or_dash = |figure: &Option<String>| figure.as_deref().map_or_else(|| "-".to_owned(), number);
    for row in &slip.rows {
        let cells = [row.title.clone(), number(&row.quantity), row.unit.clone(), or_dash(&row.price), or_dash(&row.together)];
        table.row(cells.to_vec());
    }
    let blank = String::new;
    table.total(vec!["All".to_owned(), blank(), blank(), blank(), number(&slip.together)]);
    table
}
