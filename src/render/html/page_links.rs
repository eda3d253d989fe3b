//! The links of one page: from its place in the site to everything that it names.

use std::borrow::Cow;
use std::sync::Arc;

use minijinja::value::Value;

use super::addresses::{Addresses, link_from};
use crate::reports::{SheetCell, SheetName};

/// A link within the site, of letters that need no escaping anywhere.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Link(String);

impl Link {
    /// Where it leads.
    pub(super) fn as_str(&self) -> &str {
        &self.0
    }
}

impl From<Link> for Value {
    fn from(Link(link): Link) -> Self {
        // Templates set it without quotes, so nothing else than these may stand in it.
        let is_plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-_.~/#".contains(&byte);
        if link.bytes().all(is_plain) {
            return Self::from_safe_string(link);
        }
        let mut out = String::with_capacity(link.len() + 16);
        for byte in link.bytes() {
            match is_plain(byte) {
                true => out.push(char::from(byte)),
                false => out.push_str(&format!("%{byte:02x}")),
            }
        }
        Self::from_safe_string(out)
    }
}

/// A link as a template gets it: empty where there is none.
pub(super) fn link_value(link: Option<Link>) -> Value {
    link.map_or_else(|| Value::from(""), Value::from)
}

/// The links of a page. A page that stands alone has none.
#[derive(Clone, Debug, Default)]
pub(super) struct PageLinks {
    site: Option<(Arc<Addresses>, String)>,
}

impl PageLinks {
    /// The links of a page of a site, by its file.
    pub(super) fn of(site: &Arc<Addresses>, page: &str) -> Self {
        Self { site: Some((Arc::clone(site), page.to_owned())) }
    }

    /// The link to the derivation of a figure.
    pub(super) fn figure(&self, figure: &str) -> Option<Link> {
        let (site, page) = self.site.as_ref()?;
        Some(Link(link_from(page, &site.home(figure)?)))
    }

    /// The place of a figure on its page.
    pub(super) fn anchor(&self, figure: &str) -> String {
        self.site.as_ref().map_or_else(String::new, |(site, _)| site.anchor_of(figure))
    }

    /// The link to a sheet.
    pub(super) fn sheet(&self, sheet: &SheetName) -> Option<Link> {
        let (site, page) = self.site.as_ref()?;
        Some(Link(link_from(page, site.page(sheet)?)))
    }

    /// The link to a file of the site; nothing where the page stands alone.
    pub(super) fn file(&self, file: &str) -> Option<Link> {
        let (_, page) = self.site.as_ref()?;
        Some(Link(link_from(page, file)))
    }

    /// Where a cell leads: to the derivation of its figure, or to the sheet that it stands for.
    pub(super) fn cell(&self, cell: &SheetCell) -> Option<Link> {
        let figure = cell.figure.as_deref().and_then(|figure| self.figure(figure));
        figure.or_else(|| {
            let (site, page) = self.site.as_ref()?;
            let to = cell.sheet.as_ref().map_or(Some(page.as_str()), |sheet| site.page(sheet))?;
            match cell.table {
                Some(table) => Some(Link(link_from(page, &format!("{to}#table-{table}")))),
                None => cell.sheet.is_some().then(|| Link(link_from(page, to))),
            }
        })
    }

    /// `home("cost/pull-cart")`: the link to a figure's derivation, empty where it is not told.
    pub(super) fn home_function(&self) -> Value {
        let links = self.clone();
        Value::from_function(move |figure: Cow<'_, str>| link_value(links.figure(&figure)))
    }

    /// `page_of("thing", "pull-cart")`: the link to a page of a thing, batch, order, channel or line, empty where there is none.
    pub(super) fn page_function(&self) -> Value {
        use crate::reports::SheetKind::{Batch, Channel, Line, List, Order, Place, Price, Thing};
        let links = self.clone();
        Value::from_function(move |kind: Cow<'_, str>, name: Cow<'_, str>| {
            let kinds = [
                ("thing", Thing),
                ("batch", Batch),
                ("order", Order),
                ("channel", Channel),
                ("line", Line),
                ("price", Price),
                ("place", Place),
                ("list", List),
            ];
            let kind = kinds.into_iter().find(|(word, _)| *word == kind).map(|(_, kind)| kind);
            link_value(kind.and_then(|kind| links.sheet(&SheetName::new(kind, name.replace('/', "_")))))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_needs_no_quotes_whatever_stands_in_it() {
        let value = Value::from(Link("thing/a b\"'<x>=`é.html#y".to_owned()));
        assert_eq!(value.to_string(), "thing/a%20b%22%27%3cx%3e%3d%60%c3%a9.html#y");
        assert!(value.is_safe());
    }
}
