//! Stage 4: from text to a syntax tree.
//!
//! In: a [`SourceSet`]. Out: a [`SyntaxFile`]. The text is cut before head words into pieces, each is
//! parsed with a grammar that can't fail and lowered at once. Must not: look up names, convert units, or know what a day holds.

mod corrected_line;
mod detail;
mod errors;
mod form_help;
mod grammar;
mod item;
mod line_context;
mod line_of_the_head;
mod lower_amount;
mod lower_definition;
mod lower_detail;
mod lower_head;
mod lower_item;
mod lower_leaf;
mod lower_money;
mod lower_plain;
mod nodes;
mod parse;
mod pieces;
mod placement;
mod placement_errors;
mod placement_heads;
mod placement_kinds;
mod placement_lost_heads;
mod placement_reference;
mod placement_said;
mod placement_table;
mod slip_errors;
mod slips;
mod squeeze;
mod strict_line;
mod tree;
mod unread_line;
mod words;
mod written_line;

pub use detail::{Detail, DetailKind, FeeBase, Figure, ListWord, MoneyWord, Plain, Purpose, Reference, SharedBy};
pub(crate) use errors::RESERVED_NAME;
pub use form_help::{begins_block, form_help, form_words};
pub use item::{Amount, AmountKind, Item, Said, SaidWhat, Side, Sizes};
pub(crate) use placement::may_stand_in_definition;
pub use placement_reference::placement_table_markdown;
pub(crate) use slip_errors::{EXPENSE_BACK, FREIGHT_BACK, HEAD_PART_WORD, NAME_SPELLING, QUANTITY_FIRST};
pub(crate) use slips::{CARD_IS_NO_COST, LOAN_IS_NO_COST, LOAN_IS_NO_INCOME, is_work_word, product};
pub use tree::{Definition, DefinitionWord, Entry, GaveAs, HeadPart, Party, SyntaxFile, Verb};
pub(crate) use unread_line::{head_behind_its_day, verb_of_line};
pub(crate) use words::{LEFT_TO_THE_READER, is_code, is_measuring_unit, is_name, is_reserved};
pub use written_line::{LineIs, WrittenLine, bare_words, written_lines};

#[cfg(test)]
mod tests;

use rayon::prelude::*;

use crate::diagnostics::Diagnostics;
use crate::sources::SourceSet;

/// Reads all files of a book and checks that each line stands where it may. What can't be read, or stands elsewhere, is told line
/// by line, and the rest goes on; the blocks come in the order of the source set, whatever the pieces and threads were.
#[must_use]
pub fn parse_book(sources: &SourceSet, found: &mut Diagnostics) -> SyntaxFile {
    let mut whole = parse_lines(sources, found);
    placement::check_placement(&mut whole, sources, found);
    whole
}

/// Reads all files of a book, wherever their lines stand.
fn parse_lines(sources: &SourceSet, found: &mut Diagnostics) -> SyntaxFile {
    let pieces = pieces::cut_pieces(sources, pieces::piece_of(sources.whole().len()));
    let pieces = pieces.par_iter().with_max_len(1);
    let parsed: Vec<parse::ParsedPiece> = pieces.map(|piece| parse::parse_piece(sources, *piece)).collect();
    let mut whole = SyntaxFile {
        definitions: Vec::with_capacity(parsed.iter().map(|piece| piece.syntax.definitions.len()).sum()),
        entries: Vec::with_capacity(parsed.iter().map(|piece| piece.syntax.entries.len()).sum()),
        poisoned_names: Vec::new(),
    };
    let mut told = Diagnostics::default();
    for piece in parsed {
        whole.definitions.extend(piece.syntax.definitions);
        whole.entries.extend(piece.syntax.entries);
        whole.poisoned_names.extend(piece.syntax.poisoned_names);
        told.append(piece.found);
    }
    slips::shorten_lists(&mut told);
    found.append(told);
    whole
}
