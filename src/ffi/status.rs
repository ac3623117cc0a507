//! How a call went. What the statuses beyond these two are stands in `error.rs`.

/// How a call went: GW_STATUS_OK or another GW_STATUS_... .
pub type gw_status = u32;

/// It went well.
pub const GW_STATUS_OK: gw_status = 0;
/// A pointer is null; nothing was written but the error.
pub const GW_STATUS_NULL: gw_status = 1;

/// Why a call was refused. After GW_STATUS_OK all of it is 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(C)]
pub struct gw_error {
    /// What kind of error.
    pub code: gw_status,
    /// What it is about: a GW_FIELD_..., GW_QUANTITY_..., GW_PART_... or GW_CHOICE_...; 0 if nothing.
    pub field: u32,
    /// Its value, in the unit that the name of the field states. NaN: missing.
    pub value: f64,
    /// The smallest value allowed, in the same unit; see the status.
    pub low: f64,
    /// The largest value allowed, in the same unit; see the status.
    pub high: f64,
}
