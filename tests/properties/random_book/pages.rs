//! A book's blocks as files: as they were written, or cut and shuffled otherwise.

use super::block::Block;
use super::dice::Dice;

/// The files of a book: path and text.
pub(crate) type Pages = Vec<(String, String)>;

/// One file of definitions, and one for each month.
pub(crate) fn by_month(definitions: &[Block], entries: &[Block]) -> Pages {
    let mut pages: Pages = vec![("shop.kerf".to_owned(), definitions.iter().map(Block::text).collect())];
    for entry in entries {
        let month = entry.day.as_deref().and_then(|day| day.get(..7)).unwrap_or("none");
        let path = format!("{month}.kerf");
        match pages.iter_mut().find(|(other, _)| *other == path) {
            Some((_, text)) => text.push_str(&entry.text()),
            None => pages.push((path, entry.text())),
        }
    }
    pages.sort();
    pages
}

/// The same blocks in any order and in any files; with `lines_too`, the details of each block in any order.
pub(crate) fn shuffled(definitions: &[Block], entries: &[Block], dice: &mut Dice, lines_too: bool) -> Pages {
    let mut blocks: Vec<Block> = definitions.iter().chain(entries).cloned().collect();
    dice.shuffle(&mut blocks);
    let files = dice.below(6) + 1;
    let mut pages: Pages = Vec::new();
    for mut block in blocks {
        if lines_too {
            dice.shuffle(&mut block.lines);
        }
        let path = format!("{}/{}.kerf", dice.below(2), dice.below(files));
        match pages.iter_mut().find(|(other, _)| *other == path) {
            Some((_, text)) => text.push_str(&block.text()),
            None => pages.push((path, block.text())),
        }
    }
    pages.sort();
    pages
}
