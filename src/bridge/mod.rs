//! Bridge circuits: from arms and leads to the constants of one rational map.
//!
//! Every circuit here, with its leads, its unbalance and the instrument's input resistance, turns a
//! change of gauge resistance into a change of output ratio `x = r - r0` by a fraction of two linear
//! functions (a property of any linear network in one of its resistances). Its inverse is
//! `signal = gain * x / (1 - curvature * x)`, where the signal is the relative change of gauge resistance,
//! gauge factor times strain. So one kernel serves all, with two constants.
//!
//! ```text
//!            VEX+
//!          /      \           r = (V(OUT+) - V(OUT-)) / Vex
//!   completion     upper      positive when the gauge is stretched
//!        |           |
//!      OUT+         OUT-
//!        |           |
//!      gauge       lower
//!          \      /
//!            VEX-
//! ```

mod quarter;

pub use quarter::Bridge;

/// The constants of the rational map from a change of output ratio to gauge factor times strain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Curve {
    /// Gauge factor times strain for a small change of ratio.
    pub gain: f64,
    /// `1 - curvature * x` is the divisor.
    pub curvature: f64,
}
