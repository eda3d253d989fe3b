//! The parse of a piece as one flat list, each node with the length of its subtree.
//!
//! In: pest's tokens. Out: nodes with spans of the whole source set. Walking them is stepping through a slice: nothing is
//! counted or cloned, and pest's own tokens are dropped at once.

use pest::Token;
use pest::iterators::Pairs;

use crate::sources::Span;
use crate::syntax::grammar::Rule;

/// What the grammar read at one place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Node {
    /// By which rule.
    pub(crate) rule: Rule,
    /// Where, in the whole source set.
    pub(crate) span: Span,
    /// How many nodes it and all below it are.
    size: usize,
}

/// A node and what lies below it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Branch<'t> {
    /// The node.
    pub(crate) node: Node,
    /// The nodes below it.
    pub(crate) inner: Siblings<'t>,
}

/// Nodes side by side.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Siblings<'t> {
    nodes: &'t [Node],
}

impl<'t> Siblings<'t> {
    /// All nodes of a parse.
    pub(crate) fn of(nodes: &'t [Node]) -> Self {
        Self { nodes }
    }

    /// The next node's rule.
    pub(crate) fn peek(&self) -> Option<Rule> {
        self.nodes.first().map(|node| node.rule)
    }

    /// The nodes before the first of a rule.
    pub(crate) fn until(self, rule: Rule) -> Self {
        let end = self.nodes.iter().position(|node| node.rule == rule).unwrap_or(self.nodes.len());
        Self { nodes: self.nodes.get(..end).unwrap_or_default() }
    }

    /// The nodes from the first of a rule on.
    pub(crate) fn starting_at(self, rule: Rule) -> Self {
        let start = self.nodes.iter().position(|node| node.rule == rule).unwrap_or(self.nodes.len());
        Self { nodes: self.nodes.get(start..).unwrap_or_default() }
    }

    /// Where the next node stands.
    pub(crate) fn peek_span(&self) -> Option<Span> {
        self.nodes.first().map(|node| node.span)
    }

    /// The next node, where it was read by this rule.
    pub(crate) fn when(&mut self, rule: Rule) -> Option<Branch<'t>> {
        if self.peek() == Some(rule) { self.next() } else { None }
    }
}

impl<'t> Iterator for Siblings<'t> {
    type Item = Branch<'t>;

    fn next(&mut self) -> Option<Branch<'t>> {
        let (node, after) = self.nodes.split_first()?;
        let below = node.size.saturating_sub(1).min(after.len());
        let (inner, rest) = after.split_at(below);
        self.nodes = rest;
        Some(Branch { node: *node, inner: Siblings { nodes: inner } })
    }
}

/// Lays a parse out flat. `base` is where the piece begins in the source set; `piece` is its text as written, which may differ
/// from the parsed text byte for byte (curly quotes), so that ends are moved out to whole characters.
pub(crate) fn flatten(pairs: Pairs<'_, Rule>, base: u32, piece: &str, nodes: &mut Vec<Node>) {
    nodes.clear();
    let mut open: Vec<usize> = Vec::with_capacity(8);
    for token in pairs.tokens() {
        match token {
            Token::Start { rule, pos } => {
                let mut start = pos.pos();
                while !piece.is_char_boundary(start) {
                    start -= 1;
                }
                let start = base.saturating_add(offset(start));
                open.push(nodes.len());
                nodes.push(Node { rule, span: Span::new(start, start), size: 1 });
            }
            Token::End { pos, .. } => {
                let mut end = pos.pos();
                while !piece.is_char_boundary(end) {
                    end += 1;
                }
                let length = nodes.len();
                if let Some(at) = open.pop()
                    && let Some(node) = nodes.get_mut(at)
                {
                    node.span.end = base.saturating_add(offset(end));
                    node.size = length - at;
                }
            }
        }
    }
}

/// A position as a number of a span; the source set is below four gigabytes.
fn offset(position: usize) -> u32 {
    u32::try_from(position).unwrap_or(u32::MAX)
}
