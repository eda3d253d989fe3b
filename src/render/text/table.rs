//! A table for a terminal: columns that line up, no lines drawn, and a block for each row where the table is wider than the room.

use unicode_width::UnicodeWidthStr;

use super::sheet::Look;

/// Blanks between two columns.
const GAP: usize = 2;
/// Blanks before every row, so that headings stand out to the left.
const INDENT: usize = 2;

/// A heading up to this width is never folded.
const WHOLE_HEADING: usize = 9;

/// Words wider than this are folded within their cell.
const WIDEST_WORDS: usize = 60;

/// Where a table is wider than the room, what names its rows is folded down to this width before each row becomes a block.
const NARROWEST_NAMES: usize = 18;

/// How a column's cells stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stand {
    /// Words, to the left.
    Left,
    /// Figures, with their points in line.
    Point,
    /// Words and times, to the right.
    Right,
    /// A bar of characters, left out where there is no room for it.
    Bar,
}

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum RowKind {
    Plain,
    Heading,
    Total,
}

struct Row {
    kind: RowKind,
    cells: Vec<String>,
}

/// A table.
pub(super) struct Table {
    columns: Vec<(String, Stand)>,
    rows: Vec<Row>,
    /// The width at which what names a row is folded.
    names: usize,
}

impl Table {
    /// Begins a table with its headings.
    pub(super) fn new<const N: usize>(columns: [(&str, Stand); N]) -> Self {
        Self::with_columns(columns.into_iter().map(|(heading, stand)| (heading.to_owned(), stand)).collect())
    }

    /// Begins a table whose headings come from the report.
    pub(super) fn with_columns(columns: Vec<(String, Stand)>) -> Self {
        Self { columns, rows: Vec::new(), names: WIDEST_WORDS }
    }

    /// Adds a row; its first cell names it.
    pub(super) fn row(&mut self, cells: Vec<String>) {
        self.rows.push(Row { kind: RowKind::Plain, cells: cells.iter().map(|cell| printable(cell)).collect() });
    }

    /// Adds a row that sums up.
    pub(super) fn total(&mut self, cells: Vec<String>) {
        self.rows.push(Row { kind: RowKind::Total, cells: cells.iter().map(|cell| printable(cell)).collect() });
    }

    /// Adds words over the rows that follow.
    pub(super) fn heading(&mut self, words: &str) {
        self.rows.push(Row { kind: RowKind::Heading, cells: vec![printable(words)] });
    }

    /// Whether it has no row.
    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Draws it, each line ended.
    pub(super) fn draw(mut self, look: Look, out: &mut String) {
        for (number, (_, stand)) in self.columns.iter().enumerate() {
            if *stand == Stand::Point {
                align_points(&mut self.rows, number);
            }
        }
        let mut widths = self.widths();
        let fits = |widths: &[usize]| look.table_width.is_none_or(|room| whole_width(widths) <= room);
        if !fits(&widths) && self.leave_out_bars() {
            widths = self.widths();
        }
        if !fits(&widths) && self.narrow_names(&widths, look) {
            widths = self.widths();
        }
        if !fits(&widths) {
            self.draw_blocks(look, out);
        } else {
            self.draw_columns(&widths, look, out);
        }
    }

    fn widths(&self) -> Vec<usize> {
        (0..self.columns.len()).map(|number| self.width(number)).collect()
    }

    /// Folds what names the rows, where that makes the table fit. Whether it does.
    fn narrow_names(&mut self, widths: &[usize], look: Look) -> bool {
        let beyond = look.table_width.map_or(0, |room| whole_width(widths).saturating_sub(room));
        let is_words = self.columns.first().is_some_and(|(_, stand)| *stand == Stand::Left);
        let names =
            widths.first().and_then(|names| names.checked_sub(beyond)).filter(|names| is_words && *names >= NARROWEST_NAMES);
        let Some(names) = names else { return false };
        self.names = names;
        true
    }

    /// Takes the columns of bars away. Whether there was one.
    fn leave_out_bars(&mut self) -> bool {
        let mut found = false;
        while let Some(at) = self.columns.iter().position(|(_, stand)| *stand == Stand::Bar) {
            self.columns.remove(at);
            for row in self.rows.iter_mut().filter(|row| row.kind != RowKind::Heading && at < row.cells.len()) {
                row.cells.remove(at);
            }
            found = true;
        }
        found
    }

    fn width(&self, number: usize) -> usize {
        let cells = self.rows.iter().filter(|row| row.kind != RowKind::Heading).filter_map(|row| row.cells.get(number));
        let widest = cells.flat_map(|cell| self.cell_lines(number, cell)).map(|line| line.width()).max().unwrap_or(0);
        let heading = self.columns.get(number).map_or("", |(heading, _)| heading.as_str());
        // A short heading stays on one line, and so does what the blocks of a bar stand for; a longer one folds into the room that its column has.
        let is_bar = self.columns.get(number).is_some_and(|(_, stand)| *stand == Stand::Bar);
        let needed = if is_bar || heading.width() <= WHOLE_HEADING {
            heading.width()
        } else {
            heading.split(' ').map(UnicodeWidthStr::width).max().unwrap_or(0)
        };
        needed.max(widest)
    }

    /// A cell's lines: one, save for many words in a column of words.
    fn cell_lines(&self, number: usize, cell: &str) -> Vec<String> {
        let is_words = self.columns.get(number).is_some_and(|(_, stand)| *stand == Stand::Left);
        let widest = if number == 0 { self.names } else { WIDEST_WORDS };
        if is_words && cell.width() > widest { fold(cell, widest) } else { vec![cell.to_owned()] }
    }

    /// A row as lines: what is folded goes on below, and figures stand on the first.
    fn row_lines(&self, row: &Row, widths: &[usize]) -> String {
        let cells: Vec<Vec<String>> = row.cells.iter().enumerate().map(|(number, cell)| self.cell_lines(number, cell)).collect();
        let tallest = cells.iter().map(Vec::len).max().unwrap_or(0);
        let lines: Vec<String> = (0..tallest)
            .map(|line| {
                let parts: Vec<&str> = cells.iter().map(|lines| lines.get(line).map_or("", String::as_str)).collect();
                self.line(&parts, widths)
            })
            .collect();
        lines.join("\n")
    }

    fn draw_columns(&self, widths: &[usize], look: Look, out: &mut String) {
        let headings: Vec<Vec<String>> =
            self.columns.iter().zip(widths).map(|((heading, _), width)| fold(heading, *width)).collect();
        let tallest = headings.iter().map(Vec::len).max().unwrap_or(0);
        for line in 0..tallest {
            let cells: Vec<&str> = headings
                .iter()
                .map(|lines| (line + lines.len()).checked_sub(tallest).and_then(|at| lines.get(at)).map_or("", String::as_str))
                .collect();
            out.push_str(look.quiet(&self.line(&cells, widths)).as_str());
            out.push('\n');
        }
        for (number, row) in self.rows.iter().enumerate() {
            match row.kind {
                RowKind::Plain => out.push_str(&self.row_lines(row, widths)),
                RowKind::Heading => {
                    if number > 0 {
                        out.push('\n');
                    }
                    out.push_str("  ");
                    out.push_str(look.strong(row.cells.first().map_or("", String::as_str)).as_str());
                }
                RowKind::Total => {
                    out.push('\n');
                    out.push_str(look.strong(&self.row_lines(row, widths)).as_str());
                }
            }
            out.push('\n');
        }
    }

    fn line(&self, cells: &[&str], widths: &[usize]) -> String {
        let mut line = " ".repeat(INDENT);
        for (number, width) in widths.iter().enumerate() {
            let cell = cells.get(number).copied().unwrap_or("");
            let fill = " ".repeat(width.saturating_sub(cell.width()));
            let left = self.columns.get(number).is_some_and(|(_, stand)| matches!(stand, Stand::Left | Stand::Bar));
            if number > 0 {
                line.push_str(&" ".repeat(GAP));
            }
            if left {
                line.push_str(cell);
                line.push_str(&fill);
            } else {
                line.push_str(&fill);
                line.push_str(cell);
            }
        }
        line.truncate(line.trim_end().len());
        line
    }

    fn draw_blocks(&self, look: Look, out: &mut String) {
        let widest = self.columns.iter().skip(1).map(|(heading, _)| heading.width()).max().unwrap_or(0);
        for row in &self.rows {
            let title = row.cells.first().map_or("", String::as_str);
            match row.kind {
                RowKind::Heading => out.push('\n'),
                RowKind::Plain | RowKind::Total => {}
            }
            let room = look.table_width.unwrap_or(look.width);
            for line in fold(title, room.saturating_sub(INDENT)) {
                out.push_str("  ");
                out.push_str(look.strong(&line).as_str());
                out.push('\n');
            }
            for ((heading, _), cell) in self.columns.iter().zip(&row.cells).skip(1) {
                let cell = cell.trim();
                if !cell.is_empty() {
                    let fill = " ".repeat(widest.saturating_sub(heading.width()) + GAP);
                    let left = 2 * INDENT + widest + GAP;
                    let lines = fold(cell, room.saturating_sub(left).max(WHOLE_HEADING));
                    out.push_str(&format!("    {heading}{fill}{}\n", lines.join(&format!("\n{}", " ".repeat(left)))));
                }
            }
        }
    }
}

/// Columns with the blanks before and between them.
fn whole_width(widths: &[usize]) -> usize {
    INDENT + widths.iter().sum::<usize>() + GAP * widths.len().saturating_sub(1)
}

/// Adds blanks after the cells of a column so that their points, or ends of whole numbers, stand in line.
fn align_points(rows: &mut [Row], number: usize) {
    let after_point = |cell: &str| -> Option<usize> {
        let is_figure = cell.bytes().next().is_some_and(|first| first.is_ascii_digit() || first == b'-');
        is_figure.then(|| cell.find('.').map_or(0, |point| cell.len() - point))
    };
    let longest = rows
        .iter()
        .filter(|row| row.kind != RowKind::Heading)
        .filter_map(|row| after_point(row.cells.get(number)?))
        .max()
        .unwrap_or(0);
    for row in rows.iter_mut().filter(|row| row.kind != RowKind::Heading) {
        if let Some(cell) = row.cells.get_mut(number)
            && let Some(after) = after_point(cell)
        {
            cell.push_str(&" ".repeat(longest - after));
        }
    }
}

/// Cuts words into lines of at most `width`, a longer word on a line of its own.
pub(super) fn fold(words: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match lines.last_mut() {
            Some(line) if line.width() + 1 + word.width() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Words without what would move a terminal's cursor or change its colours.
pub(super) fn printable(words: &str) -> String {
    words.chars().map(|letter| if letter.is_control() { '\u{fffd}' } else { letter }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(table: Table, table_width: Option<usize>) -> String {
        let mut out = String::new();
        table.draw(Look { colours: false, width: 80, table_width }, &mut out);
        out
    }

    fn sample() -> Table {
        let mut table = Table::new([("Product", Stand::Left), ("Full cost", Stand::Point), ("Your time", Stand::Right)]);
        table.heading("Rolling toys");
        table.row(vec!["Pull-along cart".to_owned(), "31.07".to_owned(), "39m".to_owned()]);
        table.row(vec!["Hölzerne Ente".to_owned(), "7.333333".to_owned(), "unknown".to_owned()]);
        table.total(vec!["Together".to_owned(), "38".to_owned(), String::new()]);
        table
    }

    #[test]
    fn long_names_are_folded_before_a_row_becomes_a_block() {
        let table = || {
            let mut table = Table::new([("Product", Stand::Left), ("Full cost", Stand::Point)]);
            table.row(vec!["Boards, spoons and bird houses".to_owned(), "31.07".to_owned()]);
            table
        };
        assert_eq!(
            drawn(table(), Some(32)),
            concat!("  Product             Full cost\n", "  Boards, spoons and      31.07\n", "  bird houses\n")
        );
        assert_eq!(drawn(table(), Some(30)), "  Boards, spoons and bird\n  houses\n    Full cost  31.07\n");
    }

    #[test]
    fn points_stand_in_line() {
        assert_eq!(
            drawn(sample(), None),
            concat!(
                "  Product          Full cost  Your time\n",
                "  Rolling toys\n",
                "  Pull-along cart  31.07            39m\n",
                "  Hölzerne Ente     7.333333    unknown\n",
                "\n",
                "  Together         38\n",
            )
        );
    }

    #[test]
    fn a_long_heading_folds_into_the_room_of_its_column() {
        let mut table = Table::new([("Sales of", Stand::Left), ("Paid margin", Stand::Point)]);
        table.row(vec!["Rolling toys".to_owned(), "2,310.55".to_owned()]);
        assert_eq!(drawn(table, None), "                    Paid\n  Sales of        margin\n  Rolling toys  2,310.55\n");
    }

    #[test]
    fn many_words_go_on_below_and_their_figure_stands_on_the_first_line() {
        let mut table = Table::new([("What", Stand::Left), ("Amount", Stand::Point)]);
        table.row(vec![
            "Total expenses before expenses for business use of home. Add lines 8 through 27b".to_owned(),
            "7.64".to_owned(),
        ]);
        assert_eq!(
            drawn(table, None),
            concat!(
                "  What                                                          Amount\n",
                "  Total expenses before expenses for business use of home. Add    7.64\n",
                "  lines 8 through 27b\n",
            )
        );
    }

    #[test]
    fn a_table_wider_than_the_room_is_told_row_by_row() {
        assert_eq!(
            drawn(sample(), Some(30)),
            concat!(
                "\n",
                "  Rolling toys\n",
                "  Pull-along cart\n",
                "    Full cost  31.07\n",
                "    Your time  39m\n",
                "  Hölzerne Ente\n",
                "    Full cost  7.333333\n",
                "    Your time  unknown\n",
                "  Together\n",
                "    Full cost  38\n",
            )
        );
    }

    #[test]
    fn what_would_steer_a_terminal_is_not_passed_on() {
        assert_eq!(printable("cart\u{1b}[2J"), "cart\u{fffd}[2J");
    }

    #[test]
    fn wide_letters_take_two_columns() {
        let mut table = Table::new([("Thing", Stand::Left), ("Left", Stand::Point)]);
        table.row(vec!["木の板".to_owned(), "2".to_owned()]);
        table.row(vec!["board".to_owned(), "3".to_owned()]);
        assert_eq!(drawn(table, None), "  Thing   Left\n  木の板     2\n  board      3\n");
    }
}
