//! Where everything of a site stands: the page of each sheet, and of each figure the page and place at which it is told.
//!
//! File names are of small ASCII letters, digits and hyphens, so that they need no escaping anywhere and are the same on every disk; what would be the
//! same name once more has a number behind it. Links lead from page to page and never name a folder above the site.

use rustc_hash::{FxHashMap, FxHashSet};
use unicode_normalization::UnicodeNormalization;

use crate::reports::{SheetKind, SheetName};

/// File names that some systems keep for themselves, whatever stands behind their point.
const RESERVED: [&str; 4] = ["con", "prn", "aux", "nul"];
/// So many letters of a name are in its file's name.
const MOST_LETTERS: usize = 60;
/// So many figures are told on one page.
const FIGURES_A_PAGE: usize = 120;

/// The pages of a site and the figures that they tell.
#[derive(Debug, Default)]
pub struct Addresses {
    files: FxHashMap<SheetName, String>,
    taken: FxHashSet<String>,
    /// Figures that are told, but for those of batches, orders and lots, which are all told where there is a sheet.
    told: FxHashSet<String>,
    /// How many figures each page tells.
    counts: FxHashMap<String, usize>,
    /// Figures that a table tells, and the page on which it stands.
    by_table: FxHashMap<String, String>,
    /// Figures that are told on a further page of their sheet, and on which.
    further: FxHashMap<String, usize>,
}

impl Addresses {
    /// Gives each sheet its file, in the order in which they are handed in; a name that needs no change has the first claim on it.
    #[must_use]
    pub fn of(sheets: impl IntoIterator<Item = SheetName>) -> Self {
        let mut addresses = Self::default();
        let mut changed = Vec::new();
        for sheet in sheets {
            let name = file_name(&sheet.name);
            match name == sheet.name {
                true => addresses.give(sheet, &name),
                false => changed.push((sheet, name)),
            }
        }
        for (sheet, name) in changed {
            addresses.give(sheet, &name);
        }
        addresses
    }

    fn give(&mut self, sheet: SheetName, name: &str) {
        let folder = folder_of(sheet.kind);
        let mut file = format!("{folder}{name}.html");
        let mut number = 2_u64;
        while !self.taken.insert(file.clone()) {
            file = format!("{folder}{name}-{number}.html");
            number = number.saturating_add(1);
        }
        self.files.insert(sheet, file);
    }

    /// Says that a figure is told at its home. Figures are told in the order in which they are handed in.
    pub fn tell(&mut self, figure: &str) {
        let Some(page) = self.first_page(figure) else { return };
        let count = self.counts.entry(page).or_default();
        let part = count.checked_div(FIGURES_A_PAGE).unwrap_or_default();
        *count = count.saturating_add(1);
        if part > 0 {
            self.further.insert(figure.to_owned(), part);
        }
        if !is_of_sheet(figure) {
            self.told.insert(figure.to_owned());
        }
    }

    /// Says that a figure is told by a table of a page.
    pub fn tell_at(&mut self, figure: &str, page: String) {
        self.by_table.insert(figure.to_owned(), page);
    }

    /// The page of a sheet.
    #[must_use]
    pub fn page(&self, sheet: &SheetName) -> Option<&str> {
        self.files.get(sheet).map(String::as_str)
    }

    /// The page on which a figure is told; none where it is not.
    #[must_use]
    pub fn page_of_figure(&self, figure: &str) -> Option<String> {
        if let Some(page) = self.by_table.get(figure) {
            return Some(page.clone());
        }
        if !is_of_sheet(figure) && !self.told.contains(figure) {
            return None;
        }
        let first = self.first_page(figure)?;
        Some(match self.further.get(figure) {
            Some(part) => further_page(&first, *part),
            None => first,
        })
    }

    /// Page and place at which a figure is told: `thing/pull-cart.html#cost.2026`.
    #[must_use]
    pub fn home(&self, figure: &str) -> Option<String> {
        let figure = told_with(figure);
        // A kind has its short name where no thing is called so.
        if let Some(kind) = figure.strip_prefix("stock/totals/").filter(|_| !self.told.contains(figure)) {
            return self.home(&format!("stock/{kind}"));
        }
        Some(format!("{}#{}", self.page_of_figure(figure)?, self.anchor_of(figure)))
    }

    /// The place of a figure on its page: its name, without that of the sheet whose page it is. No two of a page have the same.
    #[must_use]
    pub fn anchor_of(&self, figure: &str) -> String {
        let mut parts = figure.splitn(3, '/');
        let (kind, name, rest) = (parts.next().unwrap_or(""), parts.next(), parts.next());
        let on_sheet = self.first_page(figure).is_some_and(|page| !page.starts_with("why/"));
        match (name, rest) {
            // Most links of a site lead to an order.
            (Some(_), Some("cost-of-goods")) if on_sheet && kind == "order" => "goods".to_owned(),
            (Some(_), Some("costs-of-selling")) if on_sheet && kind == "order" => "selling".to_owned(),
            (Some(_), Some(rest)) if on_sheet && kind == "order" => place_of(rest),
            (Some(_), Some(rest)) if on_sheet => place_of(&format!("{kind}/{rest}")),
            (Some(_), None) if on_sheet => place_of(kind),
            _ => place_of(figure),
        }
    }

    /// The page to which a figure belongs, told or not.
    #[must_use]
    pub fn first_page(&self, figure: &str) -> Option<String> {
        let mut parts = figure.split('/');
        let (kind, name) = (parts.next()?, parts.next()?);
        let sheet = |kind: SheetKind| self.page(&SheetName::new(kind, name)).map(str::to_owned);
        match kind {
            "cost" | "lot" => sheet(SheetKind::Thing),
            "stock" => Some(sheet(SheetKind::Thing).unwrap_or_else(|| "why/stock.html".to_owned())),
            "batch" => sheet(SheetKind::Batch),
            "order" => sheet(SheetKind::Order),
            "pays" => {
                let group = match (name, parts.next()) {
                    ("all", _) => None,
                    ("groups", Some("all")) => Some("all"),
                    (name, _) => Some(name),
                };
                let kinds = [SheetKind::Line, SheetKind::Channel, SheetKind::Thing];
                let of = |group: &str| kinds.into_iter().find_map(|kind| self.page(&SheetName::new(kind, group)));
                Some(group.and_then(of).unwrap_or("why/pays.html").to_owned())
            }
            "year" => Some(format!("why/year-{}.html", file_name(name))),
            _ => Some(format!("why/{}.html", file_name(kind))),
        }
    }
}

/// The figure with which a figure is told: the parts of a lot with the whole of it, paid and full cost, which every
/// derivation of a cost has, with that, and a sale's margin with the sale.
#[must_use]
pub fn told_with(figure: &str) -> &str {
    if figure.starts_with("lot/") {
        let end = figure.match_indices('/').nth(2).map_or(figure.len(), |(end, _)| end);
        return figure.get(..end).unwrap_or(figure);
    }
    // What a sale left is its margin.
    if let Some((whole, "margin")) = figure.rsplit_once('/').filter(|(whole, _)| whole.starts_with("order/")) {
        return whole;
    }
    let is_cost = figure.starts_with("cost/") || figure.starts_with("batch/");
    match figure.rsplit_once('/') {
        Some((whole, "paid" | "full")) if is_cost && whole.contains('/') => whole,
        _ => figure,
    }
}

/// Whether a figure is one of those that are told wherever their sheet stands.
fn is_of_sheet(figure: &str) -> bool {
    ["batch/", "order/", "lot/"].iter().any(|kind| figure.starts_with(kind))
}

/// A further page of a page: `thing/oak.html` has `thing/oak.why-1.html`, which no sheet's file can be called.
#[must_use]
pub fn further_page(page: &str, part: usize) -> String {
    format!("{}.why-{part}.html", page.strip_suffix(".html").unwrap_or(page))
}

/// A page of a long table: `order` of `orders.html` in March is `orders.list-2026-03.html`.
#[must_use]
pub(super) fn table_page(page: &str, table: &str, part: &str) -> String {
    format!("{}.{table}-{part}.html", page.strip_suffix(".html").unwrap_or(page))
}

/// The link from a page to a page or to a place on one. Both are named from the site's folder.
#[must_use]
pub(super) fn link_from(page: &str, to: &str) -> String {
    let (file, place) = to.split_once('#').map_or((to, None), |(file, place)| (file, Some(place)));
    if let Some(place) = place.filter(|_| file == page) {
        return format!("#{place}");
    }
    match (page.split_once('/'), file.split_once('/')) {
        (None, _) => to.to_owned(),
        (Some((here, _)), Some((there, _))) if here == there => to.split_once('/').map_or(to, |(_, rest)| rest).to_owned(),
        (Some(_), _) => format!("../{to}"),
    }
}

fn folder_of(kind: SheetKind) -> &'static str {
    match kind {
        SheetKind::Thing => "thing/",
        SheetKind::Batch => "batch/",
        SheetKind::Order => "order/",
        SheetKind::Channel => "channel/",
        SheetKind::Line => "line/",
        SheetKind::Price => "price/",
        SheetKind::Place => "place/",
        SheetKind::List => "",
    }
}

/// A name as the name of a file: small ASCII letters, digits and hyphens; letters with marks lose these, others are written by their number.
fn file_name(name: &str) -> String {
    let mut out = String::new();
    for letter in name.nfd() {
        match letter {
            'a'..='z' | '0'..='9' => out.push(letter),
            'A'..='Z' => out.push(letter.to_ascii_lowercase()),
            '\u{300}'..='\u{36f}' => {}
            letter if letter.is_ascii() => out.push('-'),
            letter => out.push_str(&format!("u{:x}", u32::from(letter))),
        }
        if out.len() >= MOST_LETTERS {
            break;
        }
    }
    let device = |name: &str| name.len() == 4 && (name.starts_with("com") || name.starts_with("lpt"));
    if out.is_empty() || RESERVED.contains(&out.as_str()) || device(&out) {
        out.push_str("-x");
    }
    out
}

/// Words as a place on a page; no two have the same.
fn place_of(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for byte in words.bytes() {
        match byte {
            b'/' => out.push('.'),
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' => out.push(char::from(byte)),
            other => out.push_str(&format!("~{other:02x}")),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn thing(name: &str) -> SheetName {
        SheetName::new(SheetKind::Thing, name)
    }

    #[test]
    fn no_two_sheets_share_a_file_even_where_a_disk_can_t_tell_letters_apart() {
        let names =
            ["PC-1", "pc-1", "Pc-1", "con", "CON", "crème", "creme", "木", "a_b", "a-b", "", "com1", "aux-x", &"x".repeat(500)];
        let sheets = names.iter().flat_map(|name| [thing(name), SheetName::new(SheetKind::Batch, *name)]);
        let sheets: Vec<SheetName> = sheets.collect();
        let addresses = Addresses::of(sheets.clone());
        let mut files: Vec<&str> = sheets.iter().filter_map(|sheet| addresses.page(sheet)).collect();
        assert_eq!(files.len(), sheets.len());
        for file in &files {
            let name = file.split_once('/').expect("a folder").1.strip_suffix(".html").expect("a page");
            assert!(name.bytes().all(|byte| matches!(byte, b'a'..=b'z' | b'0'..=b'9' | b'-')), "{file}");
            assert!(!RESERVED.contains(&name) && !name.is_empty() && name.len() < 80 && name != "com1", "{file}");
        }
        files.sort_unstable();
        files.dedup();
        assert_eq!(files.len(), sheets.len());
        assert_eq!(addresses.page(&thing("pc-1")), Some("thing/pc-1.html"));
        assert_eq!(addresses.page(&thing("creme")), Some("thing/creme.html"));
        assert_eq!(addresses.page(&thing("木")), Some("thing/u6728.html"));
    }

    #[test]
    fn a_link_leads_from_any_folder_and_stays_within_the_site() {
        assert_eq!(link_from("index.html", "thing/a.html#x"), "thing/a.html#x");
        assert_eq!(link_from("thing/b.html", "thing/a.html#x"), "a.html#x");
        assert_eq!(link_from("thing/a.html", "thing/a.html#x"), "#x");
        assert_eq!(link_from("thing/a.html", "page.css"), "../page.css");
        assert_eq!(link_from("order/a.html", "thing/a.html"), "../thing/a.html");
    }

    #[test]
    fn only_figures_that_are_told_have_a_home() {
        let mut addresses = Addresses::of([thing("oak"), SheetName::new(SheetKind::Order, "W-1")]);
        addresses.tell("cost/oak/2026");
        addresses.tell("cost/oak/2026/wear");
        assert_eq!(addresses.home("cost/oak/2026/wear").as_deref(), Some("thing/oak.html#cost.2026.wear"));
        assert_eq!(addresses.home("cost/oak/2026/paid").as_deref(), Some("thing/oak.html#cost.2026"));
        assert_eq!(addresses.home("cost/oak/2027/paid"), None);
        assert_eq!(addresses.home("lot/oak/RO-1/wear").as_deref(), Some("thing/oak.html#lot.RO-1"));
        assert_eq!(told_with("cost/paid"), "cost/paid", "a thing may be called so");
        assert_eq!(addresses.home("order/W-1/margin").as_deref(), Some("order/w-1.html#order"));
        assert_eq!(addresses.home("order/W-1/revenue").as_deref(), Some("order/w-1.html#revenue"));
        assert_eq!(addresses.home("order/W-2"), None);
        assert_eq!(addresses.home("nonsense"), None);
    }

    #[test]
    fn a_page_tells_only_so_many_figures_and_a_further_page_the_rest() {
        let mut addresses = Addresses::of([thing("oak")]);
        for number in 0..=FIGURES_A_PAGE {
            addresses.tell(&format!("lot/oak/{number}"));
        }
        assert_eq!(addresses.page_of_figure("lot/oak/0").as_deref(), Some("thing/oak.html"));
        assert_eq!(addresses.page_of_figure(&format!("lot/oak/{FIGURES_A_PAGE}")).as_deref(), Some("thing/oak.why-1.html"));
    }

    #[test]
    fn figures_that_differ_have_places_that_differ() {
        assert_ne!(place_of("lot/a/b.c"), place_of("lot/a/b/c"));
        assert_eq!(place_of("lot/é/1"), "lot.~c3~a9.1");
        assert_eq!(Addresses::default().anchor_of("year/2026/line-1"), "year.2026.line-1");
    }
}
