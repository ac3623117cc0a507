//! Numbers for the names of an error: those of fields from 1, of quantities from 201, of parts from 301. A number
//! keeps its meaning: what is new takes the next free one of its kind. What no function for C gives is in
//! `other_names`.

/// Gauge factor.
pub const GW_FIELD_GAUGE_FACTOR: u32 = 1;
/// Gauge factor at temperature over gauge factor.
pub const GW_FIELD_GAUGE_FACTOR_CURVE: u32 = 2;
/// Coefficient of gauge factor change (per degree to its power).
pub const GW_FIELD_GAUGE_FACTOR_COEFFICIENT: u32 = 3;
/// Gauge factor the thermal output is stated for.
pub const GW_FIELD_STATED_GAUGE_FACTOR: u32 = 4;
/// Instrument gauge factor.
pub const GW_FIELD_INSTRUMENT_GAUGE_FACTOR: u32 = 5;
/// Thermal output.
pub const GW_FIELD_THERMAL_OUTPUT: u32 = 6;
/// Degree of the thermal output polynomial.
pub const GW_FIELD_THERMAL_OUTPUT_DEGREE: u32 = 7;
/// Thermal output coefficient (microstrain per degree to its power).
pub const GW_FIELD_THERMAL_OUTPUT_COEFFICIENT: u32 = 8;
/// Lower end of the fitted temperature range (C).
pub const GW_FIELD_FITTED_LOW: u32 = 9;
/// Upper end of the fitted temperature range (C).
pub const GW_FIELD_FITTED_HIGH: u32 = 10;
/// Lower end of the declared temperature range (C).
pub const GW_FIELD_TEMPERATURE_LOW: u32 = 11;
/// Upper end of the declared temperature range (C).
pub const GW_FIELD_TEMPERATURE_HIGH: u32 = 12;
/// Width of the declared temperature range (C).
pub const GW_FIELD_TEMPERATURE_WIDTH: u32 = 13;
/// Temperature (C).
pub const GW_FIELD_TEMPERATURE: u32 = 14;
/// Reference temperature (C).
pub const GW_FIELD_REFERENCE_TEMPERATURE: u32 = 15;
/// Expansion coefficient the gauge is matched to (ppm/C).
pub const GW_FIELD_MATCHED_EXPANSION: u32 = 16;
/// Expansion coefficient of the specimen (ppm/C).
pub const GW_FIELD_SPECIMEN_EXPANSION: u32 = 17;
/// Transverse sensitivity (%).
pub const GW_FIELD_TRANSVERSE_SENSITIVITY: u32 = 18;
/// Poisson ratio of the calibration beam.
pub const GW_FIELD_CALIBRATION_POISSON_RATIO: u32 = 19;
/// Gauge resistance (ohm).
pub const GW_FIELD_GAUGE_RESISTANCE: u32 = 20;
/// Lead resistance (ohm).
pub const GW_FIELD_LEAD_RESISTANCE: u32 = 21;
/// Completion resistance (ohm).
pub const GW_FIELD_COMPLETION_RESISTANCE: u32 = 22;
/// Reference half-bridge resistance (ohm).
pub const GW_FIELD_REFERENCE_RESISTANCE: u32 = 23;
/// Poisson ratio of the specimen.
pub const GW_FIELD_POISSON_RATIO: u32 = 24;
/// Input resistance (ohm).
pub const GW_FIELD_INPUT_RESISTANCE: u32 = 25;
/// Converter bits.
pub const GW_FIELD_CONVERTER_BITS: u32 = 26;
/// Full-scale ratio (V/V).
pub const GW_FIELD_FULL_SCALE_RATIO: u32 = 27;
/// Bridge.
pub const GW_FIELD_BRIDGE: u32 = 29;
/// Span correction.
pub const GW_FIELD_SPAN_CORRECTION: u32 = 34;
/// Strain per count (microstrain).
pub const GW_FIELD_READING_STEP: u32 = 36;
/// Balance code.
pub const GW_FIELD_BALANCE_CODE: u32 = 37;
/// Bridge output ratio at balance (V/V).
pub const GW_FIELD_BALANCE_RATIO: u32 = 38;
/// Balance temperature (C).
pub const GW_FIELD_BALANCE_TEMPERATURE: u32 = 39;
/// Declared strain range (microstrain).
pub const GW_FIELD_STRAIN_RANGE: u32 = 42;

/// Strain over the codes in use (microstrain).
pub const GW_QUANTITY_SIGNAL_GAIN: u32 = 201;
/// Bridge curvature.
pub const GW_QUANTITY_BRIDGE_CURVATURE: u32 = 202;
/// Bridge non-linearity and gauge factor change together.
pub const GW_QUANTITY_DIVISOR: u32 = 203;
/// Nearest code of the declared range.
pub const GW_QUANTITY_CODE_WINDOW: u32 = 204;
/// Thermal output constant.
pub const GW_QUANTITY_THERMAL_OUTPUT_CONSTANT: u32 = 205;
/// Gauge factor constant.
pub const GW_QUANTITY_GAUGE_FACTOR_CONSTANT: u32 = 206;
/// Gauge factor times strain.
pub const GW_QUANTITY_SIGNAL: u32 = 207;
/// Strain value.
pub const GW_QUANTITY_STRAIN_VALUE: u32 = 208;
/// Cancellation in the package's polynomials.
pub const GW_QUANTITY_CANCELLATION: u32 = 209;
/// Thermal output degree for the kernel type.
pub const GW_QUANTITY_THERMAL_OUTPUT_DEGREE: u32 = 212;
/// Gauge factor degree for the kernel type.
pub const GW_QUANTITY_GAUGE_FACTOR_DEGREE: u32 = 213;

/// Rounding of constants.
pub const GW_PART_CONSTANTS: u32 = 301;
/// Rounding of operations.
pub const GW_PART_OPERATIONS: u32 = 302;
/// Remainder of the reciprocal.
pub const GW_PART_RECIPROCAL: u32 = 303;
/// Rounding of the result.
pub const GW_PART_OUTPUT: u32 = 304;
/// Error of the temperature.
pub const GW_PART_TEMPERATURE: u32 = 305;
/// What the map leaves out of the circuit.
pub const GW_PART_CIRCUIT: u32 = 306;
