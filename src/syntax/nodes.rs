//! The parse of a piece as one flat list, each node with the length of its subtree.
//!
//! In: lines as written. Out: nodes with spans of the whole source set. Walking them is stepping through a slice: nothing is
//! counted or cloned, and pest's own tokens are dropped at once.

use pest::{Parser as _, Token};

use crate::sources::Span;
use crate::syntax::grammar::{BookGrammar, Rule};
use crate::syntax::squeeze::squeeze;

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

/// Parses whole lines and lays the parse out flat; `base` is where they begin in the source set. `None` where the rule doesn't
/// fit, which can't be for `piece` and lines that end with a line break.
pub(crate) fn parse_lines(rule: Rule, written: &str, base: u32) -> Option<Vec<Node>> {
    let squeezed = squeeze(written);
    let pairs = BookGrammar::parse(rule, &squeezed.text).ok()?;
    let mut nodes: Vec<Node> = Vec::with_capacity(written.len() / 6);
    let (mut starts, mut ends) = (squeezed.way_back(written), squeezed.way_back(written));
    let mut open: Vec<usize> = Vec::with_capacity(8);
    for token in pairs.tokens() {
        match token {
            Token::Start { rule, pos } => {
                let start = base.saturating_add(offset(starts.of(pos.pos())));
                open.push(nodes.len());
                nodes.push(Node { rule, span: Span::new(start, start), size: 1 });
            }
            Token::End { pos, .. } => {
                let end = base.saturating_add(offset(ends.end_of(pos.pos())));
                let length = nodes.len();
                if let Some(at) = open.pop()
                    && let Some(node) = nodes.get_mut(at)
                {
                    node.span.end = end.max(node.span.start);
                    node.size = length - at;
                }
            }
        }
    }
    Some(nodes)
}

/// A position as a number of a span; the source set is below four gigabytes.
fn offset(position: usize) -> u32 {
    u32::try_from(position).unwrap_or(u32::MAX)
}
