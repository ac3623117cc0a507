//! Choices of a channel, as plain numbers: 0 is never one, so that what was forgotten is seen.

/// Quarter bridge on two leads.
pub const GW_CIRCUIT_QUARTER_TWO_WIRE: u32 = 1;
/// Quarter bridge on three leads; also one without leads, whose resistance is then 0.
pub const GW_CIRCUIT_QUARTER_THREE_WIRE: u32 = 2;
/// Half bridge with a compensating gauge that feels no strain, at the temperature of the first.
pub const GW_CIRCUIT_HALF_COMPENSATED: u32 = 3;
/// Half bridge, axial and transverse; needs the Poisson ratio of the specimen.
pub const GW_CIRCUIT_HALF_POISSON: u32 = 4;
/// Half bridge, bending.
pub const GW_CIRCUIT_HALF_BENDING: u32 = 5;
/// Full bridge, bending.
pub const GW_CIRCUIT_FULL_BENDING: u32 = 6;
/// Full bridge, axial and transverse; needs the Poisson ratio of the specimen.
pub const GW_CIRCUIT_FULL_POISSON: u32 = 7;
/// Full bridge, torsion.
pub const GW_CIRCUIT_FULL_TORSION: u32 = 8;
/// Two gauges in opposite arms.
pub const GW_CIRCUIT_OPPOSITE_ARMS: u32 = 9;
/// No circuit: readings of an instrument that shows strain and has taken the bridge's curvature out. Of the
/// converter only `reading_step` counts then.
pub const GW_CIRCUIT_INSTRUMENT: u32 = 10;

/// Codes of an analogue-to-digital converter: `converter_bits` and `full_scale_ratio` count.
pub const GW_CONVERTER_BIPOLAR: u32 = 1;
/// Codes of an instrument that shows the ratio of the bridge as if it were strain of a quarter bridge without
/// curvature: `reading_step` and `instrument_gauge_factor` count.
pub const GW_CONVERTER_LINEAR_STRAIN: u32 = 2;

/// Thermal output is a polynomial in degrees Celsius.
pub const GW_SCALE_CELSIUS: u32 = 1;
/// Thermal output is a polynomial in degrees Fahrenheit.
pub const GW_SCALE_FAHRENHEIT: u32 = 2;

/// The gauge factor refers to the resistance at balance.
pub const GW_BASIS_AT_BALANCE: u32 = 1;
/// To that of the bonded gauge at its temperature, without load.
pub const GW_BASIS_UNLOADED_GAUGE: u32 = 2;
/// To that of the free foil at its temperature: `forced_strain` counts.
pub const GW_BASIS_FREE_FOIL: u32 = 3;

/// A mismatch of expansion counts at the gauge factor of the temperature.
pub const GW_MISMATCH_AT_TEMPERATURE: u32 = 1;
/// It counts at the gauge factor of the reference temperature.
pub const GW_MISMATCH_AT_REFERENCE: u32 = 2;
/// It counts at the gauge factor that the thermal output is stated for.
pub const GW_MISMATCH_STATED: u32 = 3;

/// Thermal output and gauge factor are corrected: mechanical strain.
pub const GW_CORRECTION_FULL: u32 = 1;
/// Thermal output alone.
pub const GW_CORRECTION_THERMAL_OUTPUT: u32 = 2;
/// Neither: indicated strain.
pub const GW_CORRECTION_NONE: u32 = 3;

/// In a gw_error: the circuit.
pub const GW_CHOICE_CIRCUIT: u32 = 401;
/// In a gw_error: the kind of converter.
pub const GW_CHOICE_CONVERTER: u32 = 402;
/// In a gw_error: the temperature scale of the thermal output.
pub const GW_CHOICE_SCALE: u32 = 403;
/// In a gw_error: the scale of the mismatch.
pub const GW_CHOICE_MISMATCH_SCALE: u32 = 404;
/// In a gw_error: the correction.
pub const GW_CHOICE_CORRECTION: u32 = 405;
/// In a gw_error: the basis of the gauge factor.
pub const GW_CHOICE_BASIS: u32 = 406;
