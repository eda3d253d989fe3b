//! Part III: what came in, what waits, and where it went, to six digits.
//!
//! On the cash basis by the marks of what is not paid, so that each amount counts once, on the later of paid and gone.

pub(in crate::year) mod came_in;
pub(in crate::year) mod cost_of_goods;
pub(in crate::year) mod goods_cost;
pub(in crate::year) mod unpaid;
pub(in crate::year) mod ways_out;
