//! Tools that leave.
//!
//! What a tool cost and how it is recovered is the year's matter; here it only leaves, on its day, for what it fetched.

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::names::ToolId;
use crate::sources::Span;
use crate::units::Fixed6;

impl Engine<'_> {
    /// Retires the oldest tool of that name that is still there.
    pub(crate) fn cost_retired(&mut self, tool: ToolId, proceeds: Fixed6, line: Span) {
        let date = self.now.date;
        match self.tools.iter_mut().find(|account| account.tool == tool && account.retired.is_none()) {
            Some(account) => account.retired = Some((date, proceeds)),
            None => {
                let told = errors::no_such_tool_left(self, tool, line);
                self.found.push(told);
            }
        }
    }
}
