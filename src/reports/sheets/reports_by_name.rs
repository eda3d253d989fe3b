//! The reports of the same time, found by name: so that each sheet takes from them what is its own.

use std::collections::{BTreeMap, BTreeSet};

use crate::names::ThingId;
use crate::reports::{CostReport, PaysGroup, PaysReport, PlaceList, ProductCost, StockItem, StockReport, UseCost, Variance};

/// What reports say, by the names of things, batches and groups.
#[derive(Debug)]
pub struct ReportsByName<'r> {
    costs: BTreeMap<&'r str, &'r ProductCost>,
    stock: BTreeMap<&'r str, Vec<&'r StockItem>>,
    used_in: BTreeMap<&'r str, Vec<(&'r ProductCost, &'r UseCost)>>,
    variances: BTreeMap<&'r str, Vec<&'r Variance>>,
    groups: BTreeMap<(&'r str, &'r str), &'r PaysGroup>,
    /// The end of the names of costs and margins: nothing for the whole book, `/2026` for a year; none where figures have no name for the time.
    pub(super) when: Option<&'r str>,
    /// The products and the places that have a sheet of their own for their price, or what lies there.
    priced: BTreeSet<ThingId>,
    places: BTreeSet<&'r str>,
}

impl<'r> ReportsByName<'r> {
    /// Goes through the reports once.
    #[must_use]
    pub fn of(cost: &'r CostReport, stock: &'r StockReport, pays: &'r PaysReport, when: Option<&'r str>) -> Self {
        let mut reports = Self {
            costs: cost.products.iter().map(|product| (product.name.as_str(), product)).collect(),
            stock: BTreeMap::new(),
            used_in: BTreeMap::new(),
            variances: BTreeMap::new(),
            groups: pays.groups.iter().map(|group| ((group.by.as_str(), group.name.as_str()), group)).collect(),
            when,
            priced: BTreeSet::new(),
            places: BTreeSet::new(),
        };
        for item in &stock.items {
            reports.stock.entry(&item.name).or_default().push(item);
        }
        for product in &cost.products {
            for used in &product.uses {
                reports.used_in.entry(&used.name).or_default().push((product, used));
            }
            for batch in &product.batches {
                reports.variances.entry(&batch.name).or_default().extend(&batch.variances);
            }
        }
        reports
    }

    /// The same, knowing which prices and places have a sheet.
    #[must_use]
    pub fn with_sheets(mut self, priced: &[ThingId], places: &'r [PlaceList]) -> Self {
        self.priced.extend(priced);
        self.places.extend(places.iter().map(|place| place.name.as_str()));
        self
    }

    pub(super) fn has_price_sheet(&self, thing: ThingId) -> bool {
        self.priced.contains(&thing)
    }

    pub(super) fn has_place_sheet(&self, place: &str) -> bool {
        self.places.contains(place)
    }

    /// What a thing costs, where it is made.
    #[must_use]
    pub fn cost(&self, thing: &str) -> Option<&'r ProductCost> {
        self.costs.get(thing).copied()
    }

    pub(super) fn stock(&self, thing: &str) -> &[&'r StockItem] {
        self.stock.get(thing).map_or(&[], Vec::as_slice)
    }

    pub(super) fn used_in(&self, thing: &str) -> &[(&'r ProductCost, &'r UseCost)] {
        self.used_in.get(thing).map_or(&[], Vec::as_slice)
    }

    pub(super) fn variances(&self, batch: &str) -> &[&'r Variance] {
        self.variances.get(batch).map_or(&[], Vec::as_slice)
    }

    pub(super) fn group(&self, by: &str, name: &str) -> Option<&'r PaysGroup> {
        self.groups.get(&(by, name)).copied()
    }
}
