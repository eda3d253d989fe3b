//! Words of the trade that begin no line of the language: how what they mean is written, and which form shows it.

/// A word of the trade: the words that people ask for it by, how it is written, and the form whose page follows.
pub(super) struct TradeWord {
    /// The words, in small letters.
    pub(super) words: &'static [&'static str],
    /// How it is written.
    pub(super) says: &'static str,
    /// The word of the language with which it is.
    pub(super) form: &'static str,
}

/// All of them.
pub(super) const TRADE_WORDS: &[TradeWord] = &[
    TradeWord {
        words: &["waste", "wastage", "yield", "offcuts"],
        says: "Waste stands in what a recipe needs: where a quarter of the wood is wasted, a piece that holds 3.5 bf needs 3.5 / 0.75 = 4.67 bf. \
               An offcut that is kept is a line of the batch, `kept 2 bf oak-offcut worth 3.00`.",
        form: "needs",
    },
    TradeWord {
        words: &["order", "orders", "ordered", "commission", "deposit", "advance", "down-payment"],
        says: "An order is written when money comes or goods go. A deposit is `received DATE from \"Mrs. Dell\"` with a line \
               `100.00 for order \"D-1\"`; the sale, `sold DATE via CHANNEL order \"D-1\"`, uses it. A promise alone moves nothing; \
               `noted DATE \"…\"` keeps it.",
        form: "received",
    },
    TradeWord {
        words: &["consign", "consigned", "consignment", "gallery"],
        says: "Goods go to a shop on consignment with `sent DATE to PLACE` and stay yours; what it sells is `sold DATE via CHANNEL`, what it hands \
               back unsold is `brought-back DATE from PLACE`. The channel is defined with `consignment 40%`.",
        form: "sent",
    },
    TradeWord {
        words: &["refund", "refunded", "return", "returns"],
        says: "What a buyer brings back is `returned`, with what becomes of the goods and of the money; goods that go back to a supplier are \
               `sent-back`; a supplier's money back without goods is `credited`.",
        form: "returned",
    },
    TradeWord {
        words: &["helper", "hire", "hired", "wages", "wage", "help", "subcontractor", "outside-work"],
        says: "Hired time stands in its batch, with who did it and what it costs: `took 3h sanding by sam for 60.00`. It is paid \
               that day, unless the `helper` is defined with `paid later`: then `paid DATE to sam` with a line `60.00 for sam` pays it.",
        form: "took",
    },
    TradeWord {
        words: &["rent", "power", "electricity", "subscription", "monthly", "every", "recurring", "repeat", "insurance"],
        says: "Each payment is an entry of its own, one a month: `paid 2026-03-01 to \"the landlord\"` with a line `150.00 for rent`, where `rent` is an \
               `expense` with its `form line`. Nothing repeats by itself. With `counts as overhead` it also stands in what a piece costs in full. A subscription that buyers pay \
               ahead is `received DATE from \"…\"` with a line `25.00 for order \"club 1\"` for each delivery, whose sale names that order.",
        form: "paid",
    },
    TradeWord {
        words: &[
            "repair",
            "repairs",
            "repaired",
            "mend",
            "mending",
            "service",
            "job",
            "teaching",
            "class",
            "lesson",
            "workshop-taught",
        ],
        says: "Work for a customer that makes no product, a repair or a class, is a sale of an `income`: `sold DATE via CHANNEL` with a line `25.00 for \
               repairs`, where `repairs` is an `income`. What material it took is `used-up DATE on CHANNEL`, its time `worked DATE` with a line \
               `30m mending on CHANNEL`.",
        form: "income",
    },
    TradeWord {
        words: &["account", "bill", "debt", "owe", "owed", "terms"],
        says: "What is not paid at once has a line `unpaid`; it is paid later by `paid DATE to NAME` with `110.00 for bought DATE` or \
               `110.00 for receipt \"118\"`.",
        form: "unpaid",
    },
    TradeWord {
        words: &[
            "lost", "broken", "breakage", "scrap", "spoiled", "spoilt", "damage", "damaged", "theft", "stolen", "mold", "rot",
        ],
        says: "Pieces lost while they are made are a line of the batch, `lost 1 stool \"split\"`, beside the good ones that `made` counts. What is lost later is \
               `scrapped`.",
        form: "scrapped",
    },
    TradeWord {
        words: &["home", "withdrawn", "private", "own-use", "personal"],
        says: "What you keep for yourself is `took-home`, at what it cost; what you give away is `gave`.",
        form: "took-home",
    },
    TradeWord {
        words: &["gift", "donation", "donated", "raffle", "prize", "charity", "sample", "free"],
        says: "What is given away is `gave DATE to \"the school\" as donation`, `as gift`, `as sample` or `as thanks`; a prize for a raffle that serves the \
               public is a donation.",
        form: "gave",
    },
    TradeWord {
        words: &["warranty", "replacement", "guarantee"],
        says: "A piece that goes out in place of a faulty one is `used-up DATE on CHANNEL`, with the channel by which the other was sold: what it cost counts there. \
               The faulty one, where it comes back, is `returned`, and `scrapped` on its line.",
        form: "used-up",
    },
    TradeWord {
        words: &["machine", "saw", "equipment", "depreciation", "asset", "clamp", "clamps"],
        says: "What is kept for years is a `tool`, defined once, and bought like goods: `1 band-saw for 900.00`.",
        form: "tool",
    },
    TradeWord {
        words: &["blade", "sandpaper", "wear", "consumable", "consumables", "abrasive", "abrasives"],
        says: "What wears off in making is a material `as wear`. A step takes its share of it by the minute, `wears 1 sanding-disc per 30 min`; a recipe by the \
               piece, `needs 1 saw-blade per 200 ea`.",
        form: "wears",
    },
    TradeWord {
        words: &["miles", "mileage", "travel", "car", "trip"],
        says: "A drive is an entry, `drove DATE 34 mi \"to the yard and back\"`; with `on CHANNEL` it counts for a fair.",
        form: "drove",
    },
    TradeWord {
        words: &["booth", "stall", "fair", "fee", "fees", "table-fee"],
        says: "What a fair costs is paid in an entry of its own, `60.00 for booth-fee on CHANNEL` in `paid`; fees that a channel takes of each sale stand in the \
               `channel`, `fee 6.5% of total`.",
        form: "channel",
    },
    TradeWord {
        words: &["tax", "vat", "sales-taxes", "form"],
        says: "Sales tax is a line of the sale, `sales-tax 5.10` on top or `sales-tax 6% included`. Where an expense stands on the tax form is said once in its \
               `expense`, `form line 22`; `kerfbook year Y` shows the form.",
        form: "sales-tax",
    },
    TradeWord {
        words: &["inventory", "stocktake", "stock-take", "counting", "shelf"],
        says: "A count is `counted DATE` with a line for what is there; what is less is a loss, what is more comes in as found.",
        form: "counted",
    },
    TradeWord {
        words: &["royalty", "royalties", "licence", "license", "plan", "plans"],
        says: "A plan that was bought is a `pattern`; it may say how many pieces it `allows`, what a licence costs, and a `royalty`.",
        form: "pattern",
    },
    TradeWord {
        words: &["hours", "time", "labor", "labour"],
        says: "Time in a batch is `took 1h 30m cutting`; time on nothing in particular is `worked DATE` with a line `30m general`. What an hour of yours is to be worth \
               is `owner time 20.00 per h` in the `shop`.",
        form: "took",
    },
    TradeWord {
        words: &["shipping-cost", "ship", "delivery", "mail", "courier"],
        says: "`freight` is what a supplier charges in `bought`, `shipping` what the buyer pays in `sold`, `postage` what you pay the carrier.",
        form: "postage",
    },
    TradeWord {
        words: &[
            "loan",
            "capital",
            "money",
            "own-money",
            "put-in",
            "drawings",
            "draw",
            "drew",
            "owner-draw",
            "withdrawal",
            "investment",
            "equity",
        ],
        says: "Own money that goes into the shop or out of it is not kept, nor is a loan: the book keeps goods, what they cost and what they bring. `noted DATE \
               \"2000.00 put in\"` keeps it as a text, which counts nothing; the interest on a loan is an expense. Things of your own are `contributed`, goods that you \
               take for yourself `took-home`.",
        form: "noted",
    },
    TradeWord {
        words: &["bounced", "bounce", "bad-check", "chargeback"],
        says: "Money that did not come is no entry: take out the `received` that was written for it, or in the sale write `unpaid` for `paid`; then it is owed again. \
               What the bank asks for it is `paid DATE to NAME` with a line `12.00 for NAME`, an expense.",
        form: "unpaid",
    },
    TradeWord {
        words: &["gift-certificate", "certificate", "certificates", "gift-card", "voucher", "vouchers"],
        says: "A gift certificate is money for a later order: `received DATE from \"…\"` with a line `50.00 for order \"certificate 1\"`. The sale names that order in its head, \
               `sold DATE via CHANNEL order \"certificate 1\"`, and takes it off. Where it is spent in parts, each part is an order of its own.",
        form: "received",
    },
    TradeWord {
        words: &["exchange", "exchanged", "swap", "swapped-out"],
        says: "A buyer's exchange is two entries: `returned DATE via CHANNEL` with a line `1 hat, refunded 38.00, back to stock`, and `sold DATE via CHANNEL` for what \
               went out. Goods against other goods, as with another maker, are `swapped`.",
        form: "returned",
    },
    TradeWord {
        words: &["seconds", "second", "flawed", "irregulars", "imperfect"],
        says: "A piece with a flaw that is sold for less is sold at its price, `1 hat at 25.00`; where there are many, they are a product of their own, `product hat-second \"…\"`, \
               and the batch has `made 7 hat, 1 hat-second` with `shared by price`. What can't be sold is `lost`.",
        form: "made",
    },
    TradeWord {
        words: &["piecework", "piece-work", "piece-rate", "per-piece", "pieces"],
        says: "Work that is paid by the piece is a time with the sum for it: for 10 pieces at 2.50, `took 2h folding by tom for 25.00`.",
        form: "took",
    },
    TradeWord {
        words: &["correction", "corrected", "mistake", "error", "wrong"],
        says: "What was written wrong is written right where it stands: the book is text files, and an entry may be changed as long as its year is not closed. All figures follow from the \
               entries. A `note \"…\"` in the entry may say why.",
        form: "note",
    },
    TradeWord {
        words: &["change", "float", "cash-box", "till", "petty-cash"],
        says: "Change that is put into the cash box is still the shop's money, and no entry. `cash 200.00` in a sale is what the sales brought, without the change; `over` and \
               `short` say how the box differs from it.",
        form: "cash",
    },
];

/// What is said of a word of the trade.
pub(super) fn trade_word(typed: &str) -> Option<&'static TradeWord> {
    let typed = typed.trim().to_lowercase().replace(' ', "-");
    TRADE_WORDS.iter().find(|one| one.words.contains(&typed.as_str()))
}

#[cfg(test)]
mod tests {
    use super::TRADE_WORDS;
    use crate::syntax::form_help;

    #[test]
    fn each_word_stands_once_and_leads_to_a_form() {
        let mut words: Vec<&str> = TRADE_WORDS.iter().flat_map(|one| one.words).copied().collect();
        let count = words.len();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), count);
        for one in TRADE_WORDS {
            assert!(form_help(one.form).is_some(), "{}", one.form);
            assert!(one.words.iter().all(|word| word.to_lowercase() == **word), "{:?}", one.words);
        }
    }
}
