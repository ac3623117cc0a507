//! Every tolerance of the tests, in one place, with its reason.

/// The double-precision model against values given with 25 digits, in microstrain. Seen: 1e-11, which is
/// the rounding of `f64` on thermal outputs of several thousand microstrain.
pub const REFERENCE_MICROSTRAIN: f64 = 1e-10;

/// The double-precision network against exact output ratios. Seen: 3e-16; the ratio itself is rounded to
/// `f64` there and in the data.
pub const REFERENCE_RATIO: f64 = 2e-15;

/// The whole circuit by its nodes, as a shunt needs it, against exact output ratios: the conductance of a short
/// lead drowns the shunt's beside it, and so it loses digits as the simulator does. Seen: 1.1e-12, which is
/// 0.002 nanostrain.
pub const NODAL_RATIO: f64 = 4e-12;

/// The circuit simulator against exact output ratios: its authors' matrix solver loses the digits that a
/// lead of a fraction of an ohm beside a gauge of hundreds costs. Stated with the data: 5.4e-12.
pub const SIMULATOR_RATIO: f64 = 6e-12;

/// What the double-precision model itself may be off, in nanostrain, when kernels are compared with it.
pub const REFERENCE_NANOSTRAIN: f64 = 1e-4;

/// Promised for the fixed-point kernel, nanostrain.
pub const FIXED_WIDE: f64 = 0.5;
pub const FIXED_MILD: f64 = 0.4;

/// Promised for the `f32` kernel, nanostrain.
pub const FLOAT_WIDE: f64 = 20.0;
pub const FLOAT_MILD: f64 = 5.0;

/// A bound more than this many times the worst error found is too slack.
pub const SLACK: f64 = 3.5;

/// The same for `f32`: worst-case roundings all one way are far rarer there, since the size of a rounding
/// varies over the range while the bound takes the largest.
pub const FLOAT_SLACK: f64 = 5.0;

/// The mean error of fixed point over a sweep, nanostrain. A step is 0.058. What the products drop is made
/// up for in whole steps, which leaves half a step on the split path; the rounding of a channel's constant
/// and of its second power, the same at all temperatures or nearly so, is another step at most.
pub const FIXED_BIAS: f64 = 1.5 * 0.0583;
