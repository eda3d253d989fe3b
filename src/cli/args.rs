//! The arguments as they are typed.

use std::path::{Path, PathBuf};

use clap::{Args as Group, Parser, Subcommand, ValueEnum};

/// A shop's day book in plain text: what a piece costs, what is on hand, what pays, and the tax year.
#[derive(Debug, Parser)]
#[command(
    name = "kerfbook",
    version,
    disable_help_subcommand = true,
    max_term_width = 96,
    after_help = "Exit status: 0 no mistakes in the book, 1 mistakes, 2 wrong use of the command."
)]
pub(super) struct Args {
    /// What to do.
    #[command(subcommand)]
    pub(super) command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Mistakes and warnings, and the proof in one line
    Check(CheckArgs),
    /// What does it cost? Cost per unit by product, by batch, over time
    Cost(CostArgs),
    /// What have I? On hand, on the bench, elsewhere; what to reorder
    Stock(StockArgs),
    /// What pays? Products, product lines and channels
    Pays(PaysArgs),
    /// What lies where? A list for each place away from home, to hand over and to settle by
    Places(PlacesArgs),
    /// What must it fetch? A product's least price in each channel, and what it earns
    Price(PriceArgs),
    /// What would it take? What a run of builds needs, takes and costs
    Plan(PlanArgs),
    /// Where did it come from, where did it go? A lot, a batch, an order, a receipt or a thing, both ways
    Trace(TraceArgs),
    /// What goes on the form? The tax year by the form's own lines
    Year(YearArgs),
    /// Is anything lost? The proof, component by component
    Proof(ProofArgs),
    /// Why is a figure what it is? Its derivation, down to file and line
    Why(WhyArgs),
    /// Everything as one folder of linked pages
    Site(SiteArgs),
    /// The pages in a browser on this machine, made anew when a file is saved
    Preview(PreviewArgs),
    /// One layout for the book's text; nothing of what it says changes
    Tidy(TidyArgs),
    /// The JSON Schema of a report
    Schema(SchemaArgs),
    /// Start a book
    New(NewArgs),
    /// Explain a code (K103), a command, a form of the language (bought) or a word of the trade
    /// (waste); `help reference` is the whole reference
    Help(HelpArgs),
}

/// Where the book is.
#[derive(Debug, Group)]
pub(super) struct BookArgs {
    /// The book's folder; else here, or the nearest folder above that holds a `shop` entry
    #[arg(long, value_name = "DIR")]
    pub(super) book: Option<PathBuf>,
    /// The day that counts as today, to warn of days to come
    #[arg(long, value_name = "DATE")]
    pub(super) today: Option<String>,
}

/// Which days.
#[derive(Debug, Group)]
pub(super) struct PeriodArgs {
    /// The first day covered
    #[arg(long, value_name = "DATE", conflicts_with = "year")]
    pub(super) from: Option<String>,
    /// The last day covered
    #[arg(long, value_name = "DATE", conflicts_with = "year")]
    pub(super) to: Option<String>,
    /// One calendar year
    #[arg(long, value_name = "Y")]
    pub(super) year: Option<String>,
}

/// How a report is shown.
#[derive(Debug, Group)]
pub(super) struct ShowArgs {
    /// As text, a page or JSON
    #[arg(long = "as", value_name = "text|html|json", value_enum, default_value_t = Format::Text, hide_possible_values = true, hide_default_value = true)]
    pub(super) format: Format,
    /// Write it to a file, whole or not at all; never over the book or another paper in its folder
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// A folder of templates that replace those of the same name
    #[arg(long, value_name = "DIR")]
    pub(super) templates: Option<PathBuf>,
}

/// How a report is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// Text.
    Text,
    /// A page.
    Html,
    /// JSON.
    Json,
}

/// How findings are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum FindingsFormat {
    /// With the lines of the book.
    Text,
    /// One line each.
    Short,
    /// JSON.
    Json,
}

#[derive(Debug, Group)]
pub(super) struct CheckArgs {
    #[command(flatten)]
    pub(super) book: BookArgs,
    /// With the book's lines, one line each, or JSON
    #[arg(long = "as", value_name = "text|short|json", value_enum, default_value_t = FindingsFormat::Text, hide_possible_values = true, hide_default_value = true)]
    pub(super) format: FindingsFormat,
    /// Write it to a file, whole or not at all; never over the book or another paper in its folder
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// Check again whenever a file of the book is saved, until Ctrl-C
    #[arg(long, conflicts_with = "out")]
    pub(super) watch: bool,
    /// Make the corrections that can only be meant, show what is different, and leave the rest
    #[arg(long, conflicts_with_all = ["out", "watch"])]
    pub(super) fix: bool,
}

#[derive(Debug, Group)]
pub(super) struct CostArgs {
    /// A product, a material that is made, or a batch
    pub(super) name: Option<String>,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) period: PeriodArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct StockArgs {
    /// The day, at its end; else the book's last
    #[arg(long, value_name = "DATE", conflicts_with_all = ["to", "year"])]
    pub(super) on: Option<String>,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) period: PeriodArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct PaysArgs {
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) period: PeriodArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct PlacesArgs {
    /// A place; else all of them
    pub(super) name: Option<String>,
    /// The slip of what was handed over on a day; else of the last on which something was
    #[arg(long, value_name = "DATE")]
    pub(super) slip: Option<String>,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct PriceArgs {
    /// The product
    pub(super) name: Option<String>,
    /// What an hour of yours is to earn, as in `25 per h`; else the shop's `owner time`
    #[arg(long, value_name = "MONEY per h", num_args = 1..=4, allow_negative_numbers = true)]
    pub(super) earn: Vec<String>,
    /// What part of the price is to be left after the full cost, as in `30%`
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true)]
    pub(super) margin: Option<String>,
    /// A fixed cost to be met: a booth, a drive, a machine; else what the last fair took
    #[arg(long, value_name = "MONEY", allow_negative_numbers = true)]
    pub(super) fixed: Option<String>,
    /// Hours of yours that are to be met beside it, as in `16h`
    #[arg(long, value_name = "TIME")]
    pub(super) hours: Option<String>,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) period: PeriodArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct PlanArgs {
    /// How many of what, as in `6 pull-cart 4 village-set`
    #[arg(value_name = "N NAME", required = true, allow_negative_numbers = true)]
    pub(super) what: Vec<String>,
    /// By which day
    #[arg(long, value_name = "DATE")]
    pub(super) by: Option<String>,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct TraceArgs {
    /// A lot's code, a batch, an order, a receipt, a supplier, a buyer, a channel or a thing; `batch/NAME`, `order/NAME`,
    /// `lot/THING/WHICH`, `receipt/NAME`, `from/NAME`, `buyer/NAME`, `channel/NAME` or `thing/NAME` where a name stands for several
    pub(super) name: String,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct YearArgs {
    /// The tax year; may be left out where the book has but one
    #[arg(value_name = "Y")]
    pub(super) year: Option<String>,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

#[derive(Debug, Group)]
pub(super) struct ProofArgs {
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) show: ShowArgs,
}

/// How a derivation is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum WhyFormat {
    /// Text.
    Text,
    /// JSON.
    Json,
}

#[derive(Debug, Group)]
pub(super) struct WhyArgs {
    /// cost/NAME[/YEAR][/PART], batch/NAME[/PART], lot/THING/WHICH[/PART], order/NAME[/PART], stock/NAME[/DATE],
    /// price/NAME[/CHANNEL/COLUMN], plan/PIECES[/PART] or year/YEAR/line-NUMBER
    ///
    /// Without it, or with how a name begins (`cost`, `lot/red-oak`), lists what can be asked
    pub(super) figure: Option<String>,
    /// Goes through what has a name of its own, down to the entries; JSON does without being asked
    #[arg(long, conflicts_with = "down_to")]
    pub(super) deep: bool,
    /// Goes so many levels down, through what has a name of its own too
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=100))]
    pub(super) down_to: Option<u8>,
    #[command(flatten)]
    pub(super) book: BookArgs,
    /// As text or JSON
    #[arg(long = "as", value_name = "text|json", value_enum, default_value_t = WhyFormat::Text, hide_possible_values = true, hide_default_value = true)]
    pub(super) format: WhyFormat,
    /// Write it to a file, whole or not at all; never over the book or another paper in its folder
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
}

#[derive(Debug, Group)]
pub(super) struct SiteArgs {
    /// The folder to write: a new or empty one, or a site that was written before
    #[arg(long, value_name = "DIR")]
    pub(super) out: PathBuf,
    #[command(flatten)]
    pub(super) book: BookArgs,
    #[command(flatten)]
    pub(super) period: PeriodArgs,
    /// A folder of templates that replace those of the same name
    #[arg(long, value_name = "DIR")]
    pub(super) templates: Option<PathBuf>,
}

#[derive(Debug, Group)]
pub(super) struct PreviewArgs {
    #[command(flatten)]
    pub(super) book: BookArgs,
    /// The port of 127.0.0.1, 0 for any that is free; else the first free one from 8017 on
    #[arg(long, value_name = "N")]
    pub(super) port: Option<u16>,
    /// A folder of templates that replace those of the same name
    #[arg(long, value_name = "DIR")]
    pub(super) templates: Option<PathBuf>,
}

#[derive(Debug, Group)]
pub(super) struct TidyArgs {
    /// Only these files of the book; `-` alone reads standard input and writes to standard output
    #[arg(value_name = "FILE")]
    pub(super) files: Vec<PathBuf>,
    /// Write nothing; name the files that are not tidy, and end with status 1 where there are any
    #[arg(long)]
    pub(super) check: bool,
    /// The book's folder; else here, or the nearest folder above that holds a `shop` entry
    #[arg(long, value_name = "DIR")]
    pub(super) book: Option<PathBuf>,
}

#[derive(Debug, Group)]
pub(super) struct SchemaArgs {
    /// cost, stock, pays, year, proof, check or why
    pub(super) name: String,
}

#[derive(Debug, Group)]
pub(super) struct NewArgs {
    /// The folder to begin it in: a new or empty one
    pub(super) dir: PathBuf,
    /// The day of the first entries
    #[arg(long, value_name = "DATE")]
    pub(super) today: Option<String>,
}

#[derive(Debug, Group)]
pub(super) struct HelpArgs {
    /// A code (K103), a command (cost), or a word with which an entry, a definition or a line begins (bought)
    #[arg(value_name = "CODE|COMMAND|FORM")]
    pub(super) topic: Option<String>,
}

/// A path as it can be typed into a shell.
pub(super) fn as_typed(path: &Path) -> String {
    let text = path.display().to_string();
    let plain = |letter: char| letter.is_alphanumeric() || "/._-".contains(letter);
    if text.chars().all(plain) { text } else { format!("'{}'", text.replace('\'', "'\\''")) }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_arguments_do_not_contradict_each_other() {
        Args::command().debug_assert();
    }

    #[test]
    fn a_path_is_quoted_where_a_shell_would_part_it() {
        assert_eq!(as_typed(Path::new("books/2026")), "books/2026");
        assert_eq!(as_typed(Path::new("my book")), "'my book'");
        assert_eq!(as_typed(Path::new("it's")), "'it'\\''s'");
    }

    #[test]
    fn a_year_and_days_at_once_are_refused() {
        assert!(Args::try_parse_from(["kerfbook", "pays", "--year", "2026", "--from", "2026-01-01"]).is_err());
        assert!(Args::try_parse_from(["kerfbook", "stock", "--on", "2026-06-30", "--to", "2026-06-30"]).is_err());
        assert!(Args::try_parse_from(["kerfbook", "stock", "--on", "2026-06-30", "--from", "2026-01-01"]).is_ok());
    }
}
