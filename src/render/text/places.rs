//! *What lies where?* as text: for each place what is there at its prices, what was sold, and what is owed.

use super::number;
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use crate::render::answer_to_decide::answer_places;
use crate::render::html::Question;
use crate::render::number_format::Shown;
use crate::reports::{PlaceList, PlacesReport};

/// Renders the lists of places.
#[must_use]
pub fn text_places(report: &PlacesReport, look: Look) -> String {
    let answer = answer_places(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Places.asked(), &report.head, &answer);
    for place in &report.places {
        sheet.table(&format!("{}: what was brought, and what is there", place.title), rows(place));
        let counted =
            place.last_count.as_ref().map_or("it was never counted".to_owned(), |day| format!("it was last counted on {day}"));
        sheet.paragraph(&format!("Of {}: {counted}.", place.title));
        sheet.table(&format!("{}: sold and not paid", place.title), owes(place));
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
    ]);
    for one in &place.owes {
        table.row(vec![one.order.clone(), one.date.clone(), number(&one.total), number(&one.open), one.days.to_string()]);
    }
    if !place.owes.is_empty() {
        table.total(vec!["All".to_owned(), String::new(), String::new(), number(&place.owed), String::new()]);
    }
    table
}
