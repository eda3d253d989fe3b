//! The rows of a book, and their insertion into SQLite: a row an entry, a row a line.
//!
//! The parse is not timed; quantities and money go in as text, exactly, as a careful user of a database would have them.

use kerfbook::syntax::DetailKind;
use rusqlite::{Connection, params};

use crate::pipeline;

/// An entry and its lines as text.
pub(crate) struct Row {
    date: String,
    verb: String,
    head: String,
    lines: Vec<(String, String, String)>,
}

/// The rows of a book.
pub(crate) fn of(text: &str) -> Vec<Row> {
    let (sources, tree) = pipeline::tree(text);
    let mut rows = Vec::with_capacity(tree.entries.len());
    for entry in &tree.entries {
        let mut lines = Vec::new();
        for detail in &entry.details {
            match &detail.kind {
                DetailKind::Items(word, items) => {
                    for item in items {
                        let name = sources.text(item.name).to_owned();
                        lines.push((format!("{word:?}"), name, item.amount.value.to_string()));
                    }
                }
                _ => lines.push((String::new(), String::new(), sources.text(detail.span).to_owned())),
            }
        }
        rows.push(Row {
            date: entry.date.map(|day| day.to_string()).unwrap_or_default(),
            verb: format!("{:?}", entry.verb),
            head: sources.text(entry.head).to_owned(),
            lines,
        });
    }
    rows
}

/// Inserts them in one transaction.
pub(crate) fn insert(rows: &[Row]) {
    let mut db = Connection::open_in_memory().expect("a database in memory");
    db.execute_batch(
        "create table entry (id integer primary key, day text, verb text, head text);
         create table line (entry integer, word text, name text, amount text);",
    )
    .expect("two tables");
    let transaction = db.transaction().expect("a transaction");
    {
        let mut entry = transaction.prepare("insert into entry values (?1, ?2, ?3, ?4)").expect("a statement");
        let mut line = transaction.prepare("insert into line values (?1, ?2, ?3, ?4)").expect("a statement");
        for (id, row) in rows.iter().enumerate() {
            let id = i64::try_from(id).expect("few rows");
            entry.execute(params![id, row.date, row.verb, row.head]).expect("a row");
            for (word, name, amount) in &row.lines {
                line.execute(params![id, word, name, amount]).expect("a row");
            }
        }
    }
    transaction.commit().expect("a commit");
}
