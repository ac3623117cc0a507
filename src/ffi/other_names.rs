//! The same for names that errors of the library have but no function for C gives, so that a number means one thing
//! wherever it is logged. They are not in the header.

/// Limit of the span correction (%).
pub const GW_FIELD_SPAN_LIMIT: u32 = 28;
/// Shunt resistance (ohm).
pub const GW_FIELD_SHUNT_RESISTANCE: u32 = 30;
/// Shunt tolerance (%).
pub const GW_FIELD_SHUNT_TOLERANCE: u32 = 31;
/// Resistor tolerance (%).
pub const GW_FIELD_RESISTOR_TOLERANCE: u32 = 32;
/// Temperature rise of the leads (C).
pub const GW_FIELD_LEAD_TEMPERATURE_RISE: u32 = 33;
/// Strain to be simulated by a shunt (microstrain).
pub const GW_FIELD_SIMULATED_STRAIN: u32 = 35;
/// Number of compensating gauges with a temperature of their own.
pub const GW_FIELD_COMPENSATING_GAUGES: u32 = 40;
/// Balance temperature of the compensating gauge (C).
pub const GW_FIELD_COMPENSATING_BALANCE_TEMPERATURE: u32 = 41;
/// Resistance of the temperature sensor (ohm).
pub const GW_FIELD_SENSOR_RESISTANCE: u32 = 43;
/// Resistance of the temperature sensor at 0 C (ohm).
pub const GW_FIELD_RESISTANCE_AT_ZERO: u32 = 44;
/// Callendar-Van Dusen constant (per degree to its power).
pub const GW_FIELD_CALLENDAR_VAN_DUSEN: u32 = 45;
/// Measured resistance (ohm).
pub const GW_FIELD_MEASURED_RESISTANCE: u32 = 46;
/// Sensor voltage over reference voltage.
pub const GW_FIELD_SENSOR_RATIO: u32 = 47;
/// Reference resistor (ohm).
pub const GW_FIELD_REFERENCE_RESISTOR: u32 = 48;
/// Dissipation constant (mW/C).
pub const GW_FIELD_DISSIPATION_CONSTANT: u32 = 49;
/// Power in the temperature sensor (mW).
pub const GW_FIELD_SENSOR_POWER: u32 = 50;
/// Current through the temperature sensor (mA).
pub const GW_FIELD_SENSOR_CURRENT: u32 = 51;
/// Thermocouple EMF (mV).
pub const GW_FIELD_THERMOCOUPLE_EMF: u32 = 52;
/// Cold junction temperature (C).
pub const GW_FIELD_COLD_JUNCTION_TEMPERATURE: u32 = 53;
/// Full-scale EMF (mV).
pub const GW_FIELD_FULL_SCALE_EMF: u32 = 54;
/// Codes of the thermometer's range.
pub const GW_FIELD_THERMOMETER_CODES: u32 = 55;
/// Code at the upper end of the thermometer's range.
pub const GW_FIELD_LAST_CODE: u32 = 56;
/// Pieces of the curve, a power of two.
pub const GW_FIELD_CURVE_PIECES: u32 = 57;
/// Time constant (s).
pub const GW_FIELD_TIME_CONSTANT: u32 = 58;
/// Sampling interval (s).
pub const GW_FIELD_SAMPLING_INTERVAL: u32 = 59;
/// Fraction of the way between two sensors.
pub const GW_FIELD_FRACTION_OF_WAY: u32 = 60;
/// Steinhart-Hart coefficient (1/K).
pub const GW_FIELD_THERMISTOR_COEFFICIENT: u32 = 61;
/// Thermistor beta (K).
pub const GW_FIELD_THERMISTOR_BETA: u32 = 62;
/// Slope of 1/T against ln R of the thermistor (1/K).
pub const GW_FIELD_THERMISTOR_SLOPE: u32 = 63;
/// Difference of ln R between two thermistor points.
pub const GW_FIELD_THERMISTOR_POINTS: u32 = 64;
/// Angle of a grid (degrees).
pub const GW_FIELD_GRID_ANGLE: u32 = 65;
/// Angle between two grids (degrees).
pub const GW_FIELD_GRID_SEPARATION: u32 = 66;
/// Error of the strain state over that of the grids.
pub const GW_FIELD_ROSETTE_GAIN: u32 = 67;
/// Declared strain of the grids (microstrain).
pub const GW_FIELD_GRID_STRAIN: u32 = 68;
/// Elastic modulus (GPa).
pub const GW_FIELD_ELASTIC_MODULUS: u32 = 69;
/// Lower end of the temperature range of the modulus (C).
pub const GW_FIELD_MODULUS_LOW: u32 = 70;
/// Upper end of the temperature range of the modulus (C).
pub const GW_FIELD_MODULUS_HIGH: u32 = 71;
/// Standard uncertainty of the elastic modulus (%).
pub const GW_FIELD_MODULUS_UNCERTAINTY: u32 = 72;
/// Standard uncertainty of the Poisson ratio.
pub const GW_FIELD_POISSON_UNCERTAINTY: u32 = 73;
/// Standard uncertainty of the strain (microstrain).
pub const GW_FIELD_STRAIN_UNCERTAINTY: u32 = 74;
/// Shared part of the standard uncertainty (microstrain).
pub const GW_FIELD_SHARED_UNCERTAINTY: u32 = 75;
/// Correlation of two strains.
pub const GW_FIELD_CORRELATION: u32 = 76;
/// Determinant of the correlations.
pub const GW_FIELD_CORRELATION_DETERMINANT: u32 = 77;
/// Number of points of the fit.
pub const GW_FIELD_FIT_POINTS: u32 = 78;
/// Spread of the temperatures of the fit (C).
pub const GW_FIELD_FIT_TEMPERATURE_SPREAD: u32 = 79;
/// Share of the highest power that is independent of the lower ones.
pub const GW_FIELD_FIT_INDEPENDENCE: u32 = 80;
/// Degree of the fit.
pub const GW_FIELD_FIT_DEGREE: u32 = 81;
/// Standard uncertainty of a point of the fit.
pub const GW_FIELD_FIT_UNCERTAINTY: u32 = 82;
/// Number of points of the fit that come with an uncertainty.
pub const GW_FIELD_FIT_UNCERTAINTIES: u32 = 83;
/// Reading of the chamber run (microstrain).
pub const GW_FIELD_CHAMBER_READING: u32 = 84;
/// Applied strain (microstrain).
pub const GW_FIELD_APPLIED_STRAIN: u32 = 85;
/// Gauge factor over the reference's.
pub const GW_FIELD_GAUGE_FACTOR_RATIO: u32 = 86;
/// Coverage probability (%).
pub const GW_FIELD_COVERAGE_PROBABILITY: u32 = 87;
/// Significance level (%).
pub const GW_FIELD_SIGNIFICANCE_LEVEL: u32 = 88;
/// Degrees of freedom.
pub const GW_FIELD_DEGREES_OF_FREEDOM: u32 = 89;
/// Temperature at which an expansion is asked for (C).
pub const GW_FIELD_EXPANSION_TEMPERATURE: u32 = 90;
/// Lower end of the expansion's temperature range (C).
pub const GW_FIELD_EXPANSION_LOW: u32 = 91;
/// Upper end of the expansion's temperature range (C).
pub const GW_FIELD_EXPANSION_HIGH: u32 = 92;
/// Temperature that an expansion counts from (C).
pub const GW_FIELD_EXPANSION_ORIGIN: u32 = 93;
/// Expansion coefficient (ppm/C).
pub const GW_FIELD_EXPANSION_COEFFICIENT: u32 = 94;
/// Coefficient of an expansion polynomial (per degree to its power).
pub const GW_FIELD_EXPANSION_TERM: u32 = 95;
/// Change of length over length of an expansion.
pub const GW_FIELD_EXPANSION_STRAIN: u32 = 96;
/// Number of points of an expansion table.
pub const GW_FIELD_EXPANSION_POINTS: u32 = 97;
/// Temperature of a point of an expansion table (C).
pub const GW_FIELD_EXPANSION_POINT_TEMPERATURE: u32 = 98;
/// Standard uncertainty of an expansion coefficient (ppm/C).
pub const GW_FIELD_EXPANSION_UNCERTAINTY: u32 = 99;
/// Relative standard uncertainty of an expansion (%).
pub const GW_FIELD_EXPANSION_RELATIVE_UNCERTAINTY: u32 = 100;
/// Lower end of the temperature window (C).
pub const GW_FIELD_WINDOW_LOW: u32 = 101;
/// Upper end of the temperature window (C).
pub const GW_FIELD_WINDOW_HIGH: u32 = 102;
/// Largest error of the temperature (C).
pub const GW_FIELD_TEMPERATURE_ERROR: u32 = 103;
/// Number of matches on offer.
pub const GW_FIELD_OFFERED_MATCHES: u32 = 104;
/// Resistance coefficient of the foil (per degree to its power).
pub const GW_FIELD_FOIL_COEFFICIENT: u32 = 105;
/// Standard uncertainty of a resistance coefficient (per degree to its power).
pub const GW_FIELD_FOIL_UNCERTAINTY: u32 = 106;
/// Lower end of the temperature range of the foil's resistance (C).
pub const GW_FIELD_FOIL_LOW: u32 = 107;
/// Upper end of the temperature range of the foil's resistance (C).
pub const GW_FIELD_FOIL_HIGH: u32 = 108;
/// Relative standard uncertainty of the gauge factor (%).
pub const GW_FIELD_GAUGE_FACTOR_UNCERTAINTY: u32 = 109;
/// Standard uncertainty of the temperature (C).
pub const GW_FIELD_TEMPERATURE_UNCERTAINTY: u32 = 110;
/// Measured thermal output (microstrain).
pub const GW_FIELD_MEASURED_THERMAL_OUTPUT: u32 = 111;
/// Standard uncertainty of the thermal output (microstrain).
pub const GW_FIELD_THERMAL_OUTPUT_UNCERTAINTY: u32 = 112;
/// Standard uncertainty of the gauge factor's slope (%/100 C).
pub const GW_FIELD_GAUGE_FACTOR_SLOPE_UNCERTAINTY: u32 = 113;
/// Standard uncertainty of the balance temperature (C).
pub const GW_FIELD_BALANCE_TEMPERATURE_UNCERTAINTY: u32 = 114;
/// Standard uncertainty of the thermometer (C).
pub const GW_FIELD_THERMOMETER_UNCERTAINTY: u32 = 115;
/// Standard uncertainty of the thermal output's slope (microstrain/C).
pub const GW_FIELD_THERMAL_OUTPUT_SLOPE_UNCERTAINTY: u32 = 116;
/// Standard uncertainty of the lead resistance (ohm).
pub const GW_FIELD_LEAD_RESISTANCE_UNCERTAINTY: u32 = 117;
/// Standard uncertainty of the leads' temperature rise (C).
pub const GW_FIELD_LEAD_TEMPERATURE_UNCERTAINTY: u32 = 118;
/// Relative standard uncertainty of the output ratio (%).
pub const GW_FIELD_RATIO_UNCERTAINTY: u32 = 119;
/// Standard deviation of the samples (codes).
pub const GW_FIELD_READING_NOISE: u32 = 120;
/// Standard uncertainty of the balance code (codes).
pub const GW_FIELD_BALANCE_NOISE: u32 = 121;
/// Error bound of the kernel (nanostrain).
pub const GW_FIELD_KERNEL_BOUND: u32 = 122;
/// Strain (microstrain).
pub const GW_FIELD_STRAIN: u32 = 123;
/// Allowed error (microstrain).
pub const GW_FIELD_ALLOWED_ERROR: u32 = 124;
/// Size of the reading that an error is a part of (microstrain).
pub const GW_FIELD_PERCENT_READING: u32 = 125;
/// Width of the declared temperatures over that of the fit's points.
pub const GW_FIELD_FIT_RANGE: u32 = 126;

/// Constant of the thermometer's curve.
pub const GW_QUANTITY_CURVE_CONSTANT: u32 = 210;
/// Thermocouple EMF for the full scale.
pub const GW_QUANTITY_THERMOCOUPLE_EMF: u32 = 211;
/// Sum of a rosette's constants.
pub const GW_QUANTITY_ROSETTE_CONSTANTS: u32 = 214;
/// Uncertainty in steps of strain.
pub const GW_QUANTITY_UNCERTAINTY_ROW: u32 = 215;
