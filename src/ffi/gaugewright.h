// gaugewright for C: from the raw codes of a strain-gauge bridge and a temperature to mechanical strain.
//
// Every function is total: whatever numbers a struct holds, the result is defined. A pointer may be null, which is
// reported; otherwise it has to point to a value of its type that is aligned and lives during the call.
//
// Ownership: the library keeps no pointer beyond a call, allocates nothing and has no state; texts live forever.
// Threads: every function may be called from any thread or interrupt at once, as long as nobody writes a struct that
// another reads or writes.
// Units: codes are those of the converter; temperatures are in Q20 degrees Celsius, steps of 2^-20 C;
// strains are in Q34, steps of 2^-34 or 0.058 nanostrain. Numbers of a
// channel are in the units named at each field.
#ifndef GAUGEWRIGHT_H
#define GAUGEWRIGHT_H

// Made by cbindgen from src/ffi (tests/c/header): changes belong there.

#include <stddef.h>
#include <stdint.h>

// A fact that the compiler checks, and how a type is aligned, in each of the three languages.
#if defined(__cplusplus)
#define GW_ASSERT(fact) static_assert(fact, #fact)
#define GW_ALIGNMENT(type) alignof(type)
#else
#define GW_ALIGNMENT(type) offsetof(struct { char byte; type value; }, value)
#if defined(__STDC_VERSION__) && __STDC_VERSION__ >= 201112L
#define GW_ASSERT(fact) _Static_assert(fact, #fact)
#else
#define GW_JOINED(a, b) a##b
#define GW_ASSERTION(fact, line) extern char GW_JOINED(gw_assertion_, line)[(fact) ? 1 : -1]
#define GW_ASSERT(fact) GW_ASSERTION(fact, __LINE__)
#endif
#endif

// What an error is about: inputs (GW_FIELD_...), numbers of a kernel, parts of its error bound, and its two paths. A number
// keeps its meaning. Some are of errors that only the library in Rust gives.
// gauge factor
#define GW_FIELD_GAUGE_FACTOR 1u
// gauge factor at temperature over gauge factor
#define GW_FIELD_GAUGE_FACTOR_CURVE 2u
// coefficient of gauge factor change (per degree to its power)
#define GW_FIELD_GAUGE_FACTOR_COEFFICIENT 3u
// gauge factor the thermal output is stated for
#define GW_FIELD_STATED_GAUGE_FACTOR 4u
// instrument gauge factor
#define GW_FIELD_INSTRUMENT_GAUGE_FACTOR 5u
// thermal output
#define GW_FIELD_THERMAL_OUTPUT 6u
// degree of the thermal output polynomial
#define GW_FIELD_THERMAL_OUTPUT_DEGREE 7u
// thermal output coefficient (microstrain per degree to its power)
#define GW_FIELD_THERMAL_OUTPUT_COEFFICIENT 8u
// lower end of the fitted temperature range (C)
#define GW_FIELD_FITTED_LOW 9u
// upper end of the fitted temperature range (C)
#define GW_FIELD_FITTED_HIGH 10u
// lower end of the declared temperature range (C)
#define GW_FIELD_TEMPERATURE_LOW 11u
// upper end of the declared temperature range (C)
#define GW_FIELD_TEMPERATURE_HIGH 12u
// width of the declared temperature range (C)
#define GW_FIELD_TEMPERATURE_WIDTH 13u
// temperature (C)
#define GW_FIELD_TEMPERATURE 14u
// reference temperature (C)
#define GW_FIELD_REFERENCE_TEMPERATURE 15u
// expansion coefficient the gauge is matched to (ppm/C)
#define GW_FIELD_MATCHED_EXPANSION 16u
// expansion coefficient of the specimen (ppm/C)
#define GW_FIELD_SPECIMEN_EXPANSION 17u
// transverse sensitivity (%)
#define GW_FIELD_TRANSVERSE_SENSITIVITY 18u
// Poisson ratio of the calibration beam
#define GW_FIELD_CALIBRATION_POISSON_RATIO 19u
// gauge resistance (ohm)
#define GW_FIELD_GAUGE_RESISTANCE 20u
// lead resistance (ohm)
#define GW_FIELD_LEAD_RESISTANCE 21u
// completion resistance (ohm)
#define GW_FIELD_COMPLETION_RESISTANCE 22u
// reference half-bridge resistance (ohm)
#define GW_FIELD_REFERENCE_RESISTANCE 23u
// Poisson ratio of the specimen
#define GW_FIELD_POISSON_RATIO 24u
// input resistance (ohm)
#define GW_FIELD_INPUT_RESISTANCE 25u
// converter bits
#define GW_FIELD_CONVERTER_BITS 26u
// full-scale ratio (V/V)
#define GW_FIELD_FULL_SCALE_RATIO 27u
// limit of the span correction (%)
#define GW_FIELD_SPAN_LIMIT 28u
// bridge
#define GW_FIELD_BRIDGE 29u
// shunt resistance (ohm)
#define GW_FIELD_SHUNT_RESISTANCE 30u
// shunt tolerance (%)
#define GW_FIELD_SHUNT_TOLERANCE 31u
// resistor tolerance (%)
#define GW_FIELD_RESISTOR_TOLERANCE 32u
// temperature rise of the leads (C)
#define GW_FIELD_LEAD_TEMPERATURE_RISE 33u
// span correction
#define GW_FIELD_SPAN_CORRECTION 34u
// strain to be simulated by a shunt (microstrain)
#define GW_FIELD_SIMULATED_STRAIN 35u
// strain per count (microstrain)
#define GW_FIELD_READING_STEP 36u
// balance code
#define GW_FIELD_BALANCE_CODE 37u
// bridge output ratio at balance (V/V)
#define GW_FIELD_BALANCE_RATIO 38u
// balance temperature (C)
#define GW_FIELD_BALANCE_TEMPERATURE 39u
// number of compensating gauges with a temperature of their own
#define GW_FIELD_COMPENSATING_GAUGES 40u
// balance temperature of the compensating gauge (C)
#define GW_FIELD_COMPENSATING_BALANCE_TEMPERATURE 41u
// declared strain range (microstrain)
#define GW_FIELD_STRAIN_RANGE 42u
// resistance of the temperature sensor (ohm)
#define GW_FIELD_SENSOR_RESISTANCE 43u
// resistance of the temperature sensor at 0 C (ohm)
#define GW_FIELD_RESISTANCE_AT_ZERO 44u
// Callendar-Van Dusen constant (per degree to its power)
#define GW_FIELD_CALLENDAR_VAN_DUSEN 45u
// measured resistance (ohm)
#define GW_FIELD_MEASURED_RESISTANCE 46u
// sensor voltage over reference voltage
#define GW_FIELD_SENSOR_RATIO 47u
// reference resistor (ohm)
#define GW_FIELD_REFERENCE_RESISTOR 48u
// dissipation constant (mW/C)
#define GW_FIELD_DISSIPATION_CONSTANT 49u
// power in the temperature sensor (mW)
#define GW_FIELD_SENSOR_POWER 50u
// current through the temperature sensor (mA)
#define GW_FIELD_SENSOR_CURRENT 51u
// thermocouple EMF (mV)
#define GW_FIELD_THERMOCOUPLE_EMF 52u
// cold junction temperature (C)
#define GW_FIELD_COLD_JUNCTION_TEMPERATURE 53u
// full-scale EMF (mV)
#define GW_FIELD_FULL_SCALE_EMF 54u
// codes of the thermometer's range
#define GW_FIELD_THERMOMETER_CODES 55u
// code at the upper end of the thermometer's range
#define GW_FIELD_LAST_CODE 56u
// pieces of the curve, a power of two
#define GW_FIELD_CURVE_PIECES 57u
// time constant (s)
#define GW_FIELD_TIME_CONSTANT 58u
// sampling interval (s)
#define GW_FIELD_SAMPLING_INTERVAL 59u
// fraction of the way between two sensors
#define GW_FIELD_FRACTION_OF_WAY 60u
// Steinhart-Hart coefficient (1/K)
#define GW_FIELD_THERMISTOR_COEFFICIENT 61u
// thermistor beta (K)
#define GW_FIELD_THERMISTOR_BETA 62u
// slope of 1/T against ln R of the thermistor (1/K)
#define GW_FIELD_THERMISTOR_SLOPE 63u
// difference of ln R between two thermistor points
#define GW_FIELD_THERMISTOR_POINTS 64u
// angle of a grid (degrees)
#define GW_FIELD_GRID_ANGLE 65u
// angle between two grids (degrees)
#define GW_FIELD_GRID_SEPARATION 66u
// error of the strain state over that of the grids
#define GW_FIELD_ROSETTE_GAIN 67u
// declared strain of the grids (microstrain)
#define GW_FIELD_GRID_STRAIN 68u
// elastic modulus (GPa)
#define GW_FIELD_ELASTIC_MODULUS 69u
// lower end of the temperature range of the modulus (C)
#define GW_FIELD_MODULUS_LOW 70u
// upper end of the temperature range of the modulus (C)
#define GW_FIELD_MODULUS_HIGH 71u
// standard uncertainty of the elastic modulus (%)
#define GW_FIELD_MODULUS_UNCERTAINTY 72u
// standard uncertainty of the Poisson ratio
#define GW_FIELD_POISSON_UNCERTAINTY 73u
// standard uncertainty of the strain (microstrain)
#define GW_FIELD_STRAIN_UNCERTAINTY 74u
// shared part of the standard uncertainty (microstrain)
#define GW_FIELD_SHARED_UNCERTAINTY 75u
// correlation of two strains
#define GW_FIELD_CORRELATION 76u
// determinant of the correlations
#define GW_FIELD_CORRELATION_DETERMINANT 77u
// number of points of the fit
#define GW_FIELD_FIT_POINTS 78u
// spread of the temperatures of the fit (C)
#define GW_FIELD_FIT_TEMPERATURE_SPREAD 79u
// share of the highest power that is independent of the lower ones
#define GW_FIELD_FIT_INDEPENDENCE 80u
// degree of the fit
#define GW_FIELD_FIT_DEGREE 81u
// standard uncertainty of a point of the fit
#define GW_FIELD_FIT_UNCERTAINTY 82u
// number of points of the fit that come with an uncertainty
#define GW_FIELD_FIT_UNCERTAINTIES 83u
// reading of the chamber run (microstrain)
#define GW_FIELD_CHAMBER_READING 84u
// applied strain (microstrain)
#define GW_FIELD_APPLIED_STRAIN 85u
// gauge factor over the reference's
#define GW_FIELD_GAUGE_FACTOR_RATIO 86u
// coverage probability (%)
#define GW_FIELD_COVERAGE_PROBABILITY 87u
// significance level (%)
#define GW_FIELD_SIGNIFICANCE_LEVEL 88u
// degrees of freedom
#define GW_FIELD_DEGREES_OF_FREEDOM 89u
// temperature at which an expansion is asked for (C)
#define GW_FIELD_EXPANSION_TEMPERATURE 90u
// lower end of the expansion's temperature range (C)
#define GW_FIELD_EXPANSION_LOW 91u
// upper end of the expansion's temperature range (C)
#define GW_FIELD_EXPANSION_HIGH 92u
// temperature that an expansion counts from (C)
#define GW_FIELD_EXPANSION_ORIGIN 93u
// expansion coefficient (ppm/C)
#define GW_FIELD_EXPANSION_COEFFICIENT 94u
// coefficient of an expansion polynomial (per degree to its power)
#define GW_FIELD_EXPANSION_TERM 95u
// change of length over length of an expansion
#define GW_FIELD_EXPANSION_STRAIN 96u
// number of points of an expansion table
#define GW_FIELD_EXPANSION_POINTS 97u
// temperature of a point of an expansion table (C)
#define GW_FIELD_EXPANSION_POINT_TEMPERATURE 98u
// standard uncertainty of an expansion coefficient (ppm/C)
#define GW_FIELD_EXPANSION_UNCERTAINTY 99u
// relative standard uncertainty of an expansion (%)
#define GW_FIELD_EXPANSION_RELATIVE_UNCERTAINTY 100u
// lower end of the temperature window (C)
#define GW_FIELD_WINDOW_LOW 101u
// upper end of the temperature window (C)
#define GW_FIELD_WINDOW_HIGH 102u
// largest error of the temperature (C)
#define GW_FIELD_TEMPERATURE_ERROR 103u
// number of matches on offer
#define GW_FIELD_OFFERED_MATCHES 104u
// resistance coefficient of the foil (per degree to its power)
#define GW_FIELD_FOIL_COEFFICIENT 105u
// standard uncertainty of a resistance coefficient (per degree to its power)
#define GW_FIELD_FOIL_UNCERTAINTY 106u
// lower end of the temperature range of the foil's resistance (C)
#define GW_FIELD_FOIL_LOW 107u
// upper end of the temperature range of the foil's resistance (C)
#define GW_FIELD_FOIL_HIGH 108u
// relative standard uncertainty of the gauge factor (%)
#define GW_FIELD_GAUGE_FACTOR_UNCERTAINTY 109u
// standard uncertainty of the temperature (C)
#define GW_FIELD_TEMPERATURE_UNCERTAINTY 110u
// measured thermal output (microstrain)
#define GW_FIELD_MEASURED_THERMAL_OUTPUT 111u
// standard uncertainty of the thermal output (microstrain)
#define GW_FIELD_THERMAL_OUTPUT_UNCERTAINTY 112u
// standard uncertainty of the gauge factor's slope (%/100 C)
#define GW_FIELD_GAUGE_FACTOR_SLOPE_UNCERTAINTY 113u
// standard uncertainty of the balance temperature (C)
#define GW_FIELD_BALANCE_TEMPERATURE_UNCERTAINTY 114u
// standard uncertainty of the thermometer (C)
#define GW_FIELD_THERMOMETER_UNCERTAINTY 115u
// standard uncertainty of the thermal output's slope (microstrain/C)
#define GW_FIELD_THERMAL_OUTPUT_SLOPE_UNCERTAINTY 116u
// standard uncertainty of the lead resistance (ohm)
#define GW_FIELD_LEAD_RESISTANCE_UNCERTAINTY 117u
// standard uncertainty of the leads' temperature rise (C)
#define GW_FIELD_LEAD_TEMPERATURE_UNCERTAINTY 118u
// relative standard uncertainty of the output ratio (%)
#define GW_FIELD_RATIO_UNCERTAINTY 119u
// standard deviation of the samples (codes)
#define GW_FIELD_READING_NOISE 120u
// standard uncertainty of the balance code (codes)
#define GW_FIELD_BALANCE_NOISE 121u
// error bound of the kernel (nanostrain)
#define GW_FIELD_KERNEL_BOUND 122u
// strain (microstrain)
#define GW_FIELD_STRAIN 123u
// allowed error (microstrain)
#define GW_FIELD_ALLOWED_ERROR 124u
// size of the reading that an error is a part of (microstrain)
#define GW_FIELD_PERCENT_READING 125u
// width of the declared temperatures over that of the fit's points
#define GW_FIELD_FIT_RANGE 126u
// coefficient of the forced strain (microstrain per degree to its power)
#define GW_FIELD_FORCED_STRAIN_COEFFICIENT 127u
// gauge factor times forced strain
#define GW_FIELD_FORCED_CHANGE 128u
// bits of a word
#define GW_FIELD_WORD_BITS 129u
// bits below the value of a word
#define GW_FIELD_WORD_SHIFT 130u
// bytes of a transfer
#define GW_FIELD_TRANSFER_BYTES 131u
// place of a status byte in a transfer
#define GW_FIELD_STATUS_BYTE 132u
// mask of a status byte
#define GW_FIELD_STATUS_MASK 133u
// bits of a good status outside of its mask
#define GW_FIELD_STATUS_OUTSIDE_MASK 134u
// width of a checksum (bits, a multiple of 8)
#define GW_FIELD_CHECKSUM_BITS 135u
// checksum of the characters 123456789
#define GW_FIELD_CHECKSUM_CHECK 136u
// pattern that means no data
#define GW_FIELD_NO_DATA_PATTERN 137u
// temperature per step of a register (C)
#define GW_FIELD_REGISTER_STEP 138u
// number of codes in a mean
#define GW_FIELD_CODES_IN_MEAN 139u
// length of a name (bytes)
#define GW_FIELD_NAME_LENGTH 140u
// year of a date
#define GW_FIELD_DATE_YEAR 141u
// month of a date
#define GW_FIELD_DATE_MONTH 142u
// day of a date
#define GW_FIELD_DATE_DAY 143u
// lowest code of a kernel
#define GW_FIELD_LOWEST_CODE 144u
// highest code of a kernel
#define GW_FIELD_HIGHEST_CODE 145u
// code with the shunt
#define GW_FIELD_SHUNT_CODE 146u
// change of code by the shunt
#define GW_FIELD_SHUNT_CHANGE 147u
// strain over the codes in use (microstrain)
#define GW_QUANTITY_SIGNAL_GAIN 201u
// bridge curvature
#define GW_QUANTITY_BRIDGE_CURVATURE 202u
// bridge non-linearity and gauge factor change together
#define GW_QUANTITY_DIVISOR 203u
// nearest code of the declared range
#define GW_QUANTITY_CODE_WINDOW 204u
// thermal output constant
#define GW_QUANTITY_THERMAL_OUTPUT_CONSTANT 205u
// gauge factor constant
#define GW_QUANTITY_GAUGE_FACTOR_CONSTANT 206u
// gauge factor times strain
#define GW_QUANTITY_SIGNAL 207u
// strain value
#define GW_QUANTITY_STRAIN_VALUE 208u
// cancellation in the package's polynomials
#define GW_QUANTITY_CANCELLATION 209u
// constant of the thermometer's curve
#define GW_QUANTITY_CURVE_CONSTANT 210u
// thermocouple EMF for the full scale
#define GW_QUANTITY_THERMOCOUPLE_EMF 211u
// thermal output degree for the kernel type
#define GW_QUANTITY_THERMAL_OUTPUT_DEGREE 212u
// gauge factor degree for the kernel type
#define GW_QUANTITY_GAUGE_FACTOR_DEGREE 213u
// sum of a rosette's constants
#define GW_QUANTITY_ROSETTE_CONSTANTS 214u
// uncertainty in steps of strain
#define GW_QUANTITY_UNCERTAINTY_ROW 215u
// constants of the product of thermal and mechanical change for the kernel type
#define GW_QUANTITY_PRODUCT_CONSTANTS 216u
// gauge factor (2^-28)
#define GW_QUANTITY_GAUGE_FACTOR 217u
// remainder of the gauge factor's polynomial (nanostrain)
#define GW_QUANTITY_GAUGE_FACTOR_REMAINDER 218u
// rounding of constants
#define GW_PART_CONSTANTS 301u
// rounding of operations
#define GW_PART_OPERATIONS 302u
// remainder of the reciprocal
#define GW_PART_RECIPROCAL 303u
// rounding of the result
#define GW_PART_OUTPUT 304u
// error of the temperature
#define GW_PART_TEMPERATURE 305u
// remainder of the circuit's map
#define GW_PART_CIRCUIT 306u
// remainder of the gauge factor's polynomial
#define GW_PART_GAUGE_FACTOR 307u
// one call
#define GW_PATH_ONE_CALL 501u
// the split path
#define GW_PATH_SPLIT 502u

// A span correction of one, Q31.
#define GW_SPAN_ONE 2147483648u

// Quarter bridge on two leads.
#define GW_CIRCUIT_QUARTER_TWO_WIRE 1u

// Quarter bridge on three leads; also one without leads, whose resistance is then 0.
#define GW_CIRCUIT_QUARTER_THREE_WIRE 2u

// Half bridge with a compensating gauge that feels no strain, at the temperature of the first.
#define GW_CIRCUIT_HALF_COMPENSATED 3u

// Half bridge, axial and transverse; needs the Poisson ratio of the specimen.
#define GW_CIRCUIT_HALF_POISSON 4u

// Half bridge, bending.
#define GW_CIRCUIT_HALF_BENDING 5u

// Full bridge, bending.
#define GW_CIRCUIT_FULL_BENDING 6u

// Full bridge, axial and transverse; needs the Poisson ratio of the specimen.
#define GW_CIRCUIT_FULL_POISSON 7u

// Full bridge, torsion.
#define GW_CIRCUIT_FULL_TORSION 8u

// Two gauges in opposite arms.
#define GW_CIRCUIT_OPPOSITE_ARMS 9u

// No circuit: readings of an instrument that shows strain and has taken the bridge's curvature out. Of the
// converter only reading_step counts then.
#define GW_CIRCUIT_INSTRUMENT 10u

// Codes of an analogue-to-digital converter: converter_bits and full_scale_ratio count.
#define GW_CONVERTER_BIPOLAR 1u

// Codes of an instrument that shows the ratio of the bridge as if it were strain of a quarter bridge without
// curvature: reading_step and instrument_gauge_factor count.
#define GW_CONVERTER_LINEAR_STRAIN 2u

// Thermal output is a polynomial in degrees Celsius.
#define GW_SCALE_CELSIUS 1u

// Thermal output is a polynomial in degrees Fahrenheit.
#define GW_SCALE_FAHRENHEIT 2u

// A mismatch of expansion counts at the gauge factor of the temperature.
#define GW_MISMATCH_AT_TEMPERATURE 1u

// It counts at the gauge factor of the reference temperature.
#define GW_MISMATCH_AT_REFERENCE 2u

// It counts at the gauge factor that the thermal output is stated for.
#define GW_MISMATCH_STATED 3u

// Thermal output and gauge factor are corrected: mechanical strain.
#define GW_CORRECTION_FULL 1u

// Thermal output alone.
#define GW_CORRECTION_THERMAL_OUTPUT 2u

// Neither: indicated strain.
#define GW_CORRECTION_NONE 3u

// In a gw_error: the circuit.
#define GW_CHOICE_CIRCUIT 401u

// In a gw_error: the kind of converter.
#define GW_CHOICE_CONVERTER 402u

// In a gw_error: the temperature scale of the thermal output.
#define GW_CHOICE_SCALE 403u

// In a gw_error: the scale of the mismatch.
#define GW_CHOICE_MISMATCH_SCALE 404u

// In a gw_error: the correction.
#define GW_CHOICE_CORRECTION 405u

// Format of kernels that this header belongs to.
#define GW_KERNEL_FORMAT 1u

// The temperature lies outside the declared range: the strain is that of the range's nearest end.
#define GW_FLAG_TEMPERATURE_OUTSIDE 1u

// The strain lies outside the declared range. It is right until the code leaves the window of that range;
// beyond, it is that of the window's nearest end.
#define GW_FLAG_STRAIN_OUTSIDE 2u

// The code is at or beyond a rail of the converter: an open or shorted gauge, a broken lead, or too much signal. The
// strain says nothing.
#define GW_FLAG_CODE_AT_RAIL 4u

// The pointer to the kernel or point was null: the strain is 0 and says nothing.
#define GW_FLAG_NULL 2147483648u

// Bytes of a record of a gw_kernel.
#define GW_RECORD_BYTES 192u

// Bytes of a record of a gw_large_kernel.
#define GW_LARGE_RECORD_BYTES 204u

// Known answers of a kernel.
#define GW_KNOWN_ANSWERS 3u

// The temperature is outside the thermometer's range, and given as that of the nearest end.
#define GW_THERMOMETER_OUTSIDE 1u

// The sensor is shorted. The temperature has no meaning.
#define GW_THERMOMETER_SHORTED 2u

// The sensor is open: the code is at a rail of the converter. The temperature has no meaning.
#define GW_THERMOMETER_OPEN 4u

// The cold junction is outside its range; its EMF is that of the nearest end.
#define GW_THERMOMETER_COLD_JUNCTION_OUTSIDE 8u

// The last usable reading is older than allowed; this is its temperature.
#define GW_THERMOMETER_STALE 16u

// One of two sensors is not usable; this is the temperature of the other.
#define GW_THERMOMETER_ONE_SENSOR 32u

// There is no usable reading yet. The temperature is 0 and has no meaning.
#define GW_THERMOMETER_NO_READING 1073741824u

// The pointer was null. The temperature is 0 and has no meaning.
#define GW_THERMOMETER_NULL 2147483648u

// Steps of a temperature in one degree Celsius: a thermometer that counts sixteenths of a degree gives
// counts * (GW_STEPS_PER_DEGREE / 16).
#define GW_STEPS_PER_DEGREE 1048576

// Version that this header belongs to: major in bits 16 and up, minor in 8 to 15, patch in 0 to 7.
#define GW_VERSION 256u

// How a call went: GW_STATUS_OK or another GW_STATUS_... .
typedef uint32_t gw_status;

// The constants of one channel whose thermal output has degree 4 at most and whose gauge factor has a slope: the
// usual package. Plain data: copy it, keep it in flash, share it. Made by the host or by gw_kernel_build; below, x
// is the temperature and d the code, each spread over its range as -1 to 1 in 2^-31.
typedef struct gw_kernel {
  // Thermal output with its sign turned, the highest power first: that of x in 2^-35, each next one doubled.
  int32_t thermal[4];
  // d per code; odd.
  uint32_t code_scale;
  // The lowest code in range, plus 2^31.
  int32_t code_origin;
  // The highest code in range, less code_origin.
  int32_t code_last;
  // Readings beyond this either way are flagged, Q34.
  int32_t strain_limit;
  // Flags of every reading: 0.
  uint32_t flags;
  // x per step of a Q20 temperature; odd.
  uint16_t temperature_scale;
  // Bits of the converter.
  uint8_t bits;
  // Change of gauge factor with its sign turned, the highest power first: that of x in 2^-33, each next one
  // doubled.
  int32_t factor[1];
  // Bridge divisor less one (2^-32) per d, times 2^32, with its sign turned.
  int32_t curvature;
  // The lowest temperature in range, Q20 degrees Celsius, plus 2^31.
  int32_t temperature_origin;
  // The highest temperature in range, Q20, less temperature_origin.
  int32_t temperature_last;
  // Constant term of thermal output, Q34.
  int32_t thermal_offset;
  // Strain (Q34) per d, times 2^32.
  int32_t gain;
} gw_kernel;

// A kernel for every zero and span in declared ranges: the constants from which gw_kernel_adjust computes those of a measured
// one. Plain data, made by the host (replay --c-header, from a channel file with a table [channel.on_site]).
typedef struct gw_adjustable_kernel {
  // Gain over the balance, the highest power first, in 2^-24 of a kernel's steps, each power doubled once more.
  int64_t gain[6];
  // Curvature over the balance, in the same order and steps.
  int64_t curvature[6];
  // Thermal output without its constant, in 2^-24 of a kernel's steps.
  int64_t thermal[4];
  // A kernel in the middle of the ranges. What zero and span do not change is taken from it.
  struct gw_kernel kernel;
  // Lowest balance, codes.
  int32_t balance_low;
  // Highest balance, codes.
  int32_t balance_high;
  // Lowest span, a ratio in Q31.
  uint32_t span_low;
  // Highest span, a ratio in Q31.
  uint32_t span_high;
  // Of the balances with the span worked in, codes.
  int32_t middle;
  // What the two polynomials leave out, in their steps: part of the error bound.
  uint32_t left_out[2];
  // Bits by which a balance is shifted.
  uint8_t shift;
} gw_adjustable_kernel;

// What a stored kernel is checked against.
typedef struct gw_seal {
  // Of the kernel's numbers and their meaning: GW_KERNEL_FORMAT of the library that made it.
  uint32_t format;
  // CRC-32 over the kernel's numbers.
  uint32_t checksum;
} gw_seal;

// Why a call was refused. After GW_STATUS_OK all of it is 0.
typedef struct gw_error {
  // What kind of error.
  gw_status code;
  // What it is about: a GW_FIELD_..., GW_QUANTITY_..., GW_PART_... or GW_CHOICE_...; 0 if nothing.
  uint32_t field;
  // Its value, in the unit that the name of field states.
  double value;
  // The smallest value allowed, in the same unit; see the status.
  double low;
  // The largest value allowed, in the same unit; see the status.
  double high;
} gw_error;

// Codes of the unloaded channel as their sum and how many they are, and the temperature at which they were read.
typedef struct gw_zero {
  // Sum of the codes. Leave out codes at a rail.
  int64_t sum;
  // How many codes: 1 to 65 536. In a record 0 where there is no zero.
  uint32_t count;
  // Temperature of the gauge, Q20 degrees Celsius.
  int32_t temperature;
} gw_zero;

// What the gauge package says. Fields marked *or NaN* are left out by NaN, which is what gw_channel_default
// puts there.
typedef struct gw_gauge {
  // Gauge factor at the reference temperature, 0.1 to 500.
  double gauge_factor;
  // Change of the gauge factor, percent per 100 C.
  double gauge_factor_slope;
  // Relative change of the gauge factor per C^2 and per C^3 from the reference temperature, -1 to 1; usually 0.
  double gauge_factor_square;
  // As said for gauge_factor_square, per C^3.
  double gauge_factor_cube;
  // Thermal output, microstrain per degree to its power, the constant first; -1e6 to 1e6.
  double thermal_output[6];
  // The gauge factor that thermal output is stated for, usually 2.
  double stated_for;
  // Lower end of the range that thermal output was fitted on, in C whatever its scale; -273.15 to 2047.
  double fitted_low;
  // Upper end of that range, C.
  double fitted_high;
  // The temperature that the gauge factor is stated at, C; usually 24.
  double reference_temperature;
  // Expansion that the gauge is matched to, ppm per C, or NaN.
  double matched_expansion;
  // Transverse sensitivity, percent.
  double transverse_sensitivity;
  // Poisson ratio of the beam that the gauge factor was found on, usually 0.285.
  double calibration_poisson_ratio;
  // Number of terms of thermal_output that are stated, 1 to 6; 0 if there is none.
  uint32_t thermal_output_terms;
  // GW_SCALE_...: degrees of the polynomial.
  uint32_t thermal_output_scale;
} gw_gauge;

// A measuring channel: gauge, circuit, leads, converter, balance, ranges and specimen. Start from
// gw_channel_default, so that fields of later versions have a meaning too. Fields marked *or NaN* are left out
// by NaN.
typedef struct gw_channel {
  // The measuring gauge.
  struct gw_gauge gauge;
  // Of each gauge, ohm; 1 to 1e6.
  double gauge_resistance;
  // Of each lead, ohm; 0 to the gauge's resistance.
  double lead_resistance;
  // Of each lead of the output, ohm, or NaN if as the others.
  double output_lead_resistance;
  // In arm 2 (the completion of a quarter bridge, or the second gauge), ohm; 1 to 1e6. NaN if it is not known: it is then
  // solved from the balance code, which makes it the gauge's resistance where that code is 0 and arms 3 and 4 are equal.
  double completion_resistance;
  // In arm 3, as reference_lower in arm 4, ohm; 1 to 1e7, both or NaN. Where they are NaN and arm 2 is stated, the balance
  // code gives their division, and their parallel resistance is taken as half of the gauge's; else both are as the gauge.
  double reference_upper;
  // As reference_upper, in arm 4, ohm.
  double reference_lower;
  // Of the amplifier, ohm, or NaN if it draws no current; 1e3 to 1e15.
  double input_resistance;
  // Poisson ratio of the specimen, 0 to 0.5, for the two circuits that have axial and transverse gauges.
  double poisson_ratio;
  // Ratio of output to excitation at the converter's full scale, V/V.
  double full_scale_ratio;
  // Microstrain per count, of an instrument.
  double reading_step;
  // Gauge factor that the instrument is set to, or NaN if it is that of the gauge.
  double instrument_gauge_factor;
  // Code at rest, or NaN if the channel was not balanced.
  double balance_code;
  // The temperature then, C.
  double balance_temperature;
  // Strain to be measured either way, microstrain, 1 to 62500, or NaN for all that the converter gives.
  double strain_limit;
  // Lowest temperature to be corrected, C, or NaN (then both) for the range that thermal output was fitted on.
  double temperature_low;
  // Highest temperature to be corrected, C, or NaN.
  double temperature_high;
  // Expansion of the specimen, ppm per C, or NaN if it is what the gauge is matched to.
  double specimen_expansion;
  // Factor of a shunt calibration, usually 1.
  double span_correction;
  // The error bound in nanostrain that the kernel has to keep, or NaN for whatever it is.
  double error_within;
  // GW_CIRCUIT_...
  uint32_t circuit;
  // GW_CONVERTER_...
  uint32_t converter;
  // Bits of the converter, 8 to 32.
  uint32_t converter_bits;
  // Switch. Not 0: excitation is sensed at the bridge (full bridges).
  uint32_t remote_sense;
  // Switch. Not 0: the output is wired the other way round.
  uint32_t reversed;
  // GW_MISMATCH_...
  uint32_t mismatch_scale;
  // GW_CORRECTION_...
  uint32_t correction;
  // A number that is not used: 0.
  uint32_t reserved;
} gw_channel;

// A reading in one number: strain in the low half, flags in the high one. A struct of two words would be
// returned through memory.
typedef uint64_t gw_packed_reading;

// What is left of a kernel, of either size, while the temperature stays.
typedef struct gw_point {
  // Flags of every reading: those of the temperature.
  uint32_t flags;
  // Strain (Q34) per d, times 2^32, times the kernel's gauge factor over that at this temperature.
  int32_t gain;
  // d per code; odd.
  uint32_t code_scale;
  // Curvature of the kernel (a factor of d) with its sign turned.
  int32_t curvature;
  // Bits of the converter.
  uint8_t bits;
  // The lowest code in range, plus 2^31.
  int32_t code_origin;
  // The highest code in range, less code_origin.
  int32_t code_last;
  // Thermal output with its sign turned, Q34.
  int32_t thermal;
  // Readings beyond this either way are flagged, Q34.
  int32_t strain_limit;
} gw_point;

// Strain and flags of one sample.
typedef struct gw_reading {
  // In Q34 (steps of 0.058 nanostrain), from -2^31 to 2^31 - 1. Where a flag is raised, the flag says what
  // it is.
  int32_t strain;
  // GW_FLAG_... or-ed together; 0 if all was in range.
  uint32_t flags;
} gw_reading;

// Ranges of a kernel, ends included.
typedef struct gw_ranges {
  // Lowest code.
  int32_t code_low;
  // Highest code.
  int32_t code_high;
  // Lowest temperature, Q20 degrees Celsius.
  int32_t temperature_low;
  // Highest temperature, Q20 degrees Celsius.
  int32_t temperature_high;
} gw_ranges;

// The largest errors of a kernel, for codes and temperatures in range.
typedef struct gw_bound {
  // Of a reading in one call, nanostrain.
  double reading;
  // Of a reading of a point, nanostrain.
  double point;
} gw_bound;

// The constants of any channel: thermal output up to degree 5, gauge factor up to a cubic. Otherwise as gw_kernel; a
// few instructions more a reading.
typedef struct gw_large_kernel {
  // Thermal output with its sign turned, the highest power first: that of x in 2^-35, each next one doubled.
  int32_t thermal[5];
  // d per code; odd.
  uint32_t code_scale;
  // The lowest code in range, plus 2^31.
  int32_t code_origin;
  // The highest code in range, less code_origin.
  int32_t code_last;
  // Readings beyond this either way are flagged, Q34.
  int32_t strain_limit;
  // Flags of every reading: 0.
  uint32_t flags;
  // x per step of a Q20 temperature; odd.
  uint16_t temperature_scale;
  // Bits of the converter.
  uint8_t bits;
  // Change of gauge factor with its sign turned, the highest power first: that of x in 2^-33, each next one
  // doubled.
  int32_t factor[3];
  // Bridge divisor less one (2^-32) per d, times 2^32, with its sign turned.
  int32_t curvature;
  // The lowest temperature in range, Q20 degrees Celsius, plus 2^31.
  int32_t temperature_origin;
  // The highest temperature in range, Q20, less temperature_origin.
  int32_t temperature_last;
  // Constant term of thermal output, Q34.
  int32_t thermal_offset;
  // Strain (Q34) per d, times 2^32.
  int32_t gain;
} gw_large_kernel;

// The last usable temperature of a sensor that is read less often than the bridge. Time is a counter that wraps, of any
// unit. Yours to keep; gw_last_reading_start makes it.
typedef struct gw_last_reading {
  // A reading is stale when it is older.
  uint32_t limit;
  // Q20 degrees Celsius.
  int32_t temperature;
  // GW_THERMOMETER_... of that reading.
  uint32_t flags;
  // Time of that reading.
  uint32_t updated_at;
  // Readings that were not usable, so far.
  uint32_t unusable;
} gw_last_reading;

// A temperature and its flags.
typedef struct gw_temperature_reading {
  // Q20 degrees Celsius, as every kernel takes it.
  int32_t temperature;
  // GW_THERMOMETER_... or-ed together; 0 if all was in order.
  uint32_t flags;
} gw_temperature_reading;

// Temperature in the low half, flags in the high one.
typedef uint64_t gw_packed_temperature;

// The same for a bridge that is linear.
typedef struct gw_linear_point {
  // Strain (Q34) per d, times 2^32: as in gw_point.
  int32_t gain;
  // d per code; odd.
  uint32_t code_scale;
  // The lowest code in range, plus 2^31.
  int32_t code_origin;
  // The highest code in range, less code_origin.
  int32_t code_last;
  // Bits of the converter.
  uint8_t bits;
  // Flags of every reading whose code is in the next range.
  uint32_t flags;
  // d of the lowest code in the next range, plus 2^31.
  int32_t offset;
  // The lowest code whose strain is in range, plus 2^31.
  int32_t clear_origin;
  // The highest code whose strain is in range, less clear_origin.
  int32_t clear_last;
  // Thermal output with its sign turned, Q34.
  int32_t thermal;
} gw_linear_point;

// Whose kernel a record holds.
typedef struct gw_identity {
  // Hash of the description that the kernel was made from: description_... beside a kernel that the host made.
  uint64_t description;
  // What was measured on site as zero.
  struct gw_zero zero;
  // Span correction, a ratio in Q31: GW_SPAN_ONE where there is none.
  uint32_t span;
  // Year of the date, 2000 to 2399.
  uint16_t year;
  // Month, 1 to 12.
  uint8_t month;
  // Day of the month, 1 to 31.
  uint8_t day;
  // Name of the channel: 1 to 24 bytes in UTF-8, and a zero byte behind them.
  char name[25];
} gw_identity;

// A reading whose result travels with a kernel.
typedef struct gw_known_answer {
  // Code of the converter.
  int32_t code;
  // Temperature of the gauge, Q20 degrees Celsius.
  int32_t temperature;
  // 0: for kernels of two temperatures, which C does not have.
  int32_t compensating;
  // Strain, Q34.
  int32_t strain;
  // Flags of the reading.
  uint32_t flags;
} gw_known_answer;

// A platinum resistor or a thermistor behind a converter. Made by the host.
typedef struct gw_resistance_thermometer {
  // Made by the host.
  uint32_t words[85];
} gw_resistance_thermometer;

// A thermocouple behind a converter. Made by the host.
typedef struct gw_thermocouple {
  // Made by the host.
  uint32_t words[348];
} gw_thermocouple;

// It went well.
#define GW_STATUS_OK 0u

// A pointer is null; nothing was written but the error.
#define GW_STATUS_NULL 1u

// An input is missing, not finite or out of range: field says which, value what it is (NaN: missing), low
// and high what is allowed.
#define GW_STATUS_INVALID 2u

// The channel is sound but a number of its kernel does not fit: field is a GW_QUANTITY_..., value its
// magnitude, high the largest that fits.
#define GW_STATUS_OVERFLOW 3u

// The error bound is larger than the error limit: field is its largest GW_PART_..., value the bound and high
// the limit, both in nanostrain; low is the GW_PATH_... whose bound it is.
#define GW_STATUS_BOUND 4u

// A choice is none of those that there are: field is a GW_CHOICE_..., value what was given, low and high
// the first and last that there are.
#define GW_STATUS_CHOICE 5u

// The kernel was made for another format: value is its format, high that of the library.
#define GW_STATUS_FORMAT 6u

// The kernel is not the one that was sealed: value is its checksum, high the sealed one.
#define GW_STATUS_CHECKSUM 7u

// The bridge is not linear, so that its point has no shorter path.
#define GW_STATUS_NOT_LINEAR 8u

// The upper end of a range lies below its lower one: field is the upper end, value what it is, and low the lower
// end.
#define GW_STATUS_REVERSED 9u

// As many bytes are no such record, or have no room for it: value is their number, high that of the record.
#define GW_STATUS_RECORD_LENGTH 10u

// The bytes do not begin as a record does, as in storage that was never written: value is what their first four are as a number,
// the lowest byte first, high what they are in a record.
#define GW_STATUS_NO_RECORD 11u

// A record of another version: value is its version, high that of the library.
#define GW_STATUS_RECORD_VERSION 12u

// A record of another kind of kernel: value is its kind and sizes, a byte each, as a number, the lowest byte first, high
// what they are for the kernel that was asked for.
#define GW_STATUS_RECORD_KIND 13u

// A record whose bytes have changed: value is their checksum, high the one that was written.
#define GW_STATUS_RECORD_CHECKSUM 14u

// The name in a record, or for one, is no text in UTF-8, or does not end with zeros.
#define GW_STATUS_RECORD_NAME 15u

// A known answer has another strain here: low is the number of the answer, from 0, value the strain here and high the
// known one, both in Q34.
#define GW_STATUS_SELF_TEST 16u

// A known answer has the same strain here and other flags: low is the number of the answer, from 0, value are the flags here
// and high the known ones.
#define GW_STATUS_SELF_TEST_FLAGS 17u

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

// Looks whether the constants are whole: as gw_kernel_check for a kernel.
//
// Pointers:
// Each pointer is null or points to its type; error to room that nobody else uses.
gw_status gw_adjustable_kernel_check(const struct gw_adjustable_kernel *adjustable,
                                     const struct gw_seal *seal,
                                     struct gw_error *error);

// The kernel for a zero and a span (Q31, GW_SPAN_ONE where none was found), in integers alone: some 10 000 instructions on a
// Cortex-M0. kernel is written if the status is GW_STATUS_OK and left alone otherwise, so the kernel in use stays:
// GW_STATUS_INVALID for a balance code, a balance temperature or a span outside its declared range, and for a mean of
// no or more than 65 536 codes. error may be null; else it is written in any case.
//
// Pointers:
// Each pointer is null or points to its type; kernel (not initialised, if need be) and error to room that nobody else
// uses.
gw_status gw_kernel_adjust(const struct gw_adjustable_kernel *adjustable,
                           const struct gw_zero *zero,
                           uint32_t span,
                           struct gw_kernel *kernel,
                           struct gw_error *error);

// A span from a shunt calibration: expected over observed change of code, Q31, rounded towards one; sums of equally many codes do
// as well. It is written if the status is GW_STATUS_OK; GW_STATUS_INVALID where there is no ratio from 0.8 to 1.25.
// error may be null.
//
// Pointers:
// Each pointer is null or points to its type; span (not initialised, if need be) and error to room that nobody else uses.
gw_status gw_span_of_codes(int64_t expected,
                           int64_t observed,
                           uint32_t *span,
                           struct gw_error *error);

// Writes a channel of which nothing is known: what has to be stated is NaN or 0, which is refused, the rest is
// usual.
//
// Pointers:
// channel is null or points to room for a gw_channel that nobody else uses; it need not be initialised.
gw_status gw_channel_default(struct gw_channel *channel);

// What a status means; "unknown status" for a number that is none. Lives forever.
const char *gw_status_text(gw_status status);

// Name of what an error is about, with its unit, from the field of a gw_error; "" for 0, "unknown" for a
// number that is none. Lives forever.
const char *gw_name_text(uint32_t field);

// Compiles a channel to a kernel, which is written if the status is GW_STATUS_OK and left alone otherwise.
// error may be null; else it is written in any case. Takes double precision, in software where the core has
// none: some 50 KB of code (35 KB optimised for size) and 7 million instructions on a Cortex-M0, 3 million on an
// M4. For channels that are entered or balanced on the target; a kernel that is known beforehand is better made
// by the host (replay --c-header).
//
// Pointers:
// Each pointer is null or points to its type; kernel (not initialised, if need be) and error to room that
// nobody else uses.
gw_status gw_kernel_build(const struct gw_channel *channel, struct gw_kernel *kernel, struct gw_error *error);

// Seals a kernel: its format and checksum, to be kept beside it where it is stored.
//
// Pointers:
// Each pointer is null or points to its type; seal (not initialised, if need be) to room that nobody else uses.
gw_status gw_kernel_seal(const struct gw_kernel *kernel, struct gw_seal *seal);

// Looks whether a kernel is whole: of this library's format, and the one that was sealed. error may be null. A
// kernel that is not whole gives defined readings that mean nothing.
//
// Pointers:
// Each pointer is null or points to its type; error to room that nobody else uses.
gw_status gw_kernel_check(const struct gw_kernel *kernel, const struct gw_seal *seal, struct gw_error *error);

// Strain for a code and a temperature in Q20 degrees Celsius, in one call. Any code and any temperature. In C,
// gw_kernel_reading of the header gives it as a struct, for nothing.
//
// Pointers:
// kernel is null or points to its type.
gw_packed_reading gw_kernel_reading_packed(const struct gw_kernel *kernel, int32_t code, int32_t temperature);

// The constants of one temperature (Q20 degrees Celsius), for as many codes as it stays. Outside the declared range they are
// those of the nearest end, and flagged. Those of a null pointer give strain 0 with GW_FLAG_NULL for every code.
//
// Pointers:
// kernel is null or points to its type.
struct gw_point gw_kernel_at(const struct gw_kernel *kernel,
                             int32_t temperature);

// A block of samples, each with its temperature: the same bits as one call each.
//
// Pointers:
// kernel is null or points to its type; codes and temperatures are null or point to count numbers each,
// readings to room for count readings that nobody else uses.
gw_status gw_kernel_readings(const struct gw_kernel *kernel,
                             const int32_t *codes,
                             const int32_t *temperatures,
                             struct gw_reading *readings,
                             size_t count);

// Ranges in which the kernel corrects; what is beyond is clamped to them and flagged.
//
// Pointers:
// Each pointer is null or points to its type; ranges (not initialised, if need be) to room that nobody else uses.
gw_status gw_kernel_ranges(const struct gw_kernel *kernel, struct gw_ranges *ranges);

// The largest error of the kernel's arithmetic, in double precision (in software where the core has none). Of a
// kernel that is not whole the numbers mean nothing, and may be NaN or infinite.
//
// Pointers:
// Each pointer is null or points to its type; bound (not initialised, if need be) to room that nobody else uses.
gw_status gw_kernel_error_bound(const struct gw_kernel *kernel, struct gw_bound *bound);

// Compiles a channel to a kernel, which is written if the status is GW_STATUS_OK and left alone otherwise.
// error may be null; else it is written in any case. Takes double precision, in software where the core has
// none: some 50 KB of code (35 KB optimised for size) and 7 million instructions on a Cortex-M0, 3 million on an
// M4. For channels that are entered or balanced on the target; a kernel that is known beforehand is better made
// by the host (replay --c-header).
//
// Pointers:
// Each pointer is null or points to its type; kernel (not initialised, if need be) and error to room that
// nobody else uses.
gw_status gw_large_kernel_build(const struct gw_channel *channel,
                                struct gw_large_kernel *kernel,
                                struct gw_error *error);

// Seals a kernel: its format and checksum, to be kept beside it where it is stored.
//
// Pointers:
// Each pointer is null or points to its type; seal (not initialised, if need be) to room that nobody else uses.
gw_status gw_large_kernel_seal(const struct gw_large_kernel *kernel, struct gw_seal *seal);

// Looks whether a kernel is whole: of this library's format, and the one that was sealed. error may be null. A
// kernel that is not whole gives defined readings that mean nothing.
//
// Pointers:
// Each pointer is null or points to its type; error to room that nobody else uses.
gw_status gw_large_kernel_check(const struct gw_large_kernel *kernel,
                                const struct gw_seal *seal,
                                struct gw_error *error);

// Strain for a code and a temperature in Q20 degrees Celsius, in one call. Any code and any temperature. In C,
// gw_large_kernel_reading of the header gives it as a struct, for nothing.
//
// Pointers:
// kernel is null or points to its type.
gw_packed_reading gw_large_kernel_reading_packed(const struct gw_large_kernel *kernel,
                                                 int32_t code,
                                                 int32_t temperature);

// The constants of one temperature (Q20 degrees Celsius), for as many codes as it stays. Outside the declared range they are
// those of the nearest end, and flagged. Those of a null pointer give strain 0 with GW_FLAG_NULL for every code.
//
// Pointers:
// kernel is null or points to its type.
struct gw_point gw_large_kernel_at(const struct gw_large_kernel *kernel,
                                   int32_t temperature);

// A block of samples, each with its temperature: the same bits as one call each.
//
// Pointers:
// kernel is null or points to its type; codes and temperatures are null or point to count numbers each,
// readings to room for count readings that nobody else uses.
gw_status gw_large_kernel_readings(const struct gw_large_kernel *kernel,
                                   const int32_t *codes,
                                   const int32_t *temperatures,
                                   struct gw_reading *readings,
                                   size_t count);

// Ranges in which the kernel corrects; what is beyond is clamped to them and flagged.
//
// Pointers:
// Each pointer is null or points to its type; ranges (not initialised, if need be) to room that nobody else uses.
gw_status gw_large_kernel_ranges(const struct gw_large_kernel *kernel, struct gw_ranges *ranges);

// The largest error of the kernel's arithmetic, in double precision (in software where the core has none). Of a
// kernel that is not whole the numbers mean nothing, and may be NaN or infinite.
//
// Pointers:
// Each pointer is null or points to its type; bound (not initialised, if need be) to room that nobody else uses.
gw_status gw_large_kernel_error_bound(const struct gw_large_kernel *kernel, struct gw_bound *bound);

// Starts without a reading. A reading that is older than limit will be stale.
//
// Pointers:
// As the head of the header says.
gw_status gw_last_reading_start(struct gw_last_reading *last, uint32_t limit);

// A new reading and its time. One that is open, shorted, of a null pointer or no reading is counted, not kept.
//
// Pointers:
// As the head of the header says.
gw_status gw_last_reading_update(struct gw_last_reading *last, struct gw_temperature_reading reading, uint32_t now);

// The last usable temperature, with its flags, and STALE if it is too old; NO_READING before the first. Call it at least
// once in UINT32_MAX - limit of the counter. A time before the reading is stale, too.
//
// Pointers:
// As the head of the header says.
gw_packed_temperature gw_last_reading_at_packed(struct gw_last_reading *last,
                                                uint32_t now);

// An error in a sentence, with its numbers, into a buffer of the caller. Always ended by a zero byte if size
// is not 0, cut off where it does not fit (256 bytes are enough). Gives the length of the whole sentence without
// its end; 0 if a pointer is null. It links the printing of doubles, which is large: where there is no room for that,
// gw_status_text and gw_name_text have the words alone; one of them links the words of both.
//
// Pointers:
// error is null or points to a gw_error; buffer is null or points to size bytes that nobody else uses.
size_t gw_error_message(const struct gw_error *error, char *buffer, size_t size);

// Strain for a code at the temperature of the point. Any code. In C, gw_point_reading of the header gives it
// as a struct, for nothing.
//
// Pointers:
// point is null or points to its type.
gw_packed_reading gw_point_reading_packed(const struct gw_point *point, int32_t code);

// A block of samples: the same bits as one call each.
//
// Pointers:
// point is null or points to its type; codes is null or points to count numbers, readings to room for
// count readings that nobody else uses.
gw_status gw_point_readings(const struct gw_point *point,
                            const int32_t *codes,
                            struct gw_reading *readings,
                            size_t count);

// The same point for a bridge that is linear (GW_STATUS_NOT_LINEAR if it is not): the same bits and flags for
// half the instructions. Worth making where a temperature stays for more than twenty (Cortex-M0) to seventy
// samples (M4).
//
// Pointers:
// Each pointer is null or points to its type; linear (not initialised, if need be) to room that nobody else uses.
gw_status gw_point_linear(const struct gw_point *point, struct gw_linear_point *linear);

// Strain for a code at the temperature of the point. Any code. In C, gw_linear_point_reading of the header
// gives it as a struct, for nothing.
//
// Pointers:
// point is null or points to its type.
gw_packed_reading gw_linear_point_reading_packed(const struct gw_linear_point *point, int32_t code);

// A block of samples: the same bits as one call each.
//
// Pointers:
// point is null or points to its type; codes is null or points to count numbers, readings to room for
// count readings that nobody else uses.
gw_status gw_linear_point_readings(const struct gw_linear_point *point,
                                   const int32_t *codes,
                                   struct gw_reading *readings,
                                   size_t count);

// The names of all flags that are set, separated by ", ", into a buffer of the caller: "clear" for 0; bits that are no
// flag by their number, as "unknown 0x00000010". Always ended by a zero byte if size is not 0, cut off where it does
// not fit (128 bytes are enough). Gives the length of the whole text without its end; 0 if the pointer is null.
//
// Pointers:
// buffer is null or points to size bytes that nobody else uses.
size_t gw_flags_message(uint32_t flags, char *buffer, size_t size);

// Writes a kernel, whose it is, and its known answers as a record of GW_RECORD_BYTES, which gw_kernel_record_read reads. Known
// answers that came with the kernel compare this processor with the one that made them; where answers is null they are
// those that the kernel gives here and now. bytes is written if the status is GW_STATUS_OK and left alone otherwise: where there is
// no room, or where gw_kernel_record_read would refuse the record. error may be null; else it is written in any case.
//
// Pointers:
// Each pointer is null or points to its type; answers to GW_KNOWN_ANSWERS of them; bytes (not initialised, if need be) to
// room for size bytes, and error, that nobody else uses.
gw_status gw_kernel_record_write(const struct gw_kernel *kernel,
                                 const struct gw_identity *identity,
                                 const struct gw_known_answer *answers,
                                 uint8_t *bytes,
                                 size_t size,
                                 struct gw_error *error);

// Reads a record of a gw_kernel, whole: its length, its checksum, the ranges of its numbers and its self-test are as they
// have to be. What it holds is written if the status is GW_STATUS_OK and left alone otherwise: a GW_STATUS_RECORD_...,
// GW_STATUS_NO_RECORD, GW_STATUS_FORMAT, GW_STATUS_INVALID, GW_STATUS_OVERFLOW, GW_STATUS_REVERSED or a GW_STATUS_SELF_TEST... .
// identity, answers and error may be null.
//
// Pointers:
// Each pointer is null or points to its type; answers to room for GW_KNOWN_ANSWERS of them; bytes to size bytes. What is
// written (not initialised, if need be) nobody else uses.
gw_status gw_kernel_record_read(const uint8_t *bytes,
                                size_t size,
                                struct gw_kernel *kernel,
                                struct gw_identity *identity,
                                struct gw_known_answer *answers,
                                struct gw_error *error);

// Compares readings with the answers that are known: for each start, as processor and program may have changed since.
// GW_STATUS_SELF_TEST or GW_STATUS_SELF_TEST_FLAGS for the first that differs. error may be null.
//
// Pointers:
// Each pointer is null or points to its type; answers to GW_KNOWN_ANSWERS of them; error to room that nobody else uses.
gw_status gw_kernel_self_test(const struct gw_kernel *kernel,
                              const struct gw_known_answer *answers,
                              struct gw_error *error);

// As gw_kernel_record_write, of GW_LARGE_RECORD_BYTES.
//
// Pointers:
// As there.
gw_status gw_large_kernel_record_write(const struct gw_large_kernel *kernel,
                                       const struct gw_identity *identity,
                                       const struct gw_known_answer *answers,
                                       uint8_t *bytes,
                                       size_t size,
                                       struct gw_error *error);

// As gw_kernel_record_read.
//
// Pointers:
// As there.
gw_status gw_large_kernel_record_read(const uint8_t *bytes,
                                      size_t size,
                                      struct gw_large_kernel *kernel,
                                      struct gw_identity *identity,
                                      struct gw_known_answer *answers,
                                      struct gw_error *error);

// As gw_kernel_self_test.
//
// Pointers:
// As there.
gw_status gw_large_kernel_self_test(const struct gw_large_kernel *kernel,
                                    const struct gw_known_answer *answers,
                                    struct gw_error *error);

// Temperature for a code, any code. Flags: OUTSIDE, SHORTED, OPEN.
//
// Pointers:
// As the head of the header says.
gw_packed_temperature gw_resistance_thermometer_reading_packed(const struct gw_resistance_thermometer *thermometer,
                                                               int32_t code);

// Range of a thermometer: its codes, and the temperatures at them.
//
// Pointers:
// As the head of the header says.
gw_status gw_resistance_thermometer_ranges(const struct gw_resistance_thermometer *thermometer,
                                           struct gw_ranges *ranges);

// Temperature of the hot junction for a code and the temperature of the cold one (Q20 degrees Celsius), any of both. Flags:
// OUTSIDE, OPEN, COLD_JUNCTION_OUTSIDE. Those of the cold junction's own thermometer are left to the caller.
//
// Pointers:
// As the head of the header says.
gw_packed_temperature gw_thermocouple_reading_packed(const struct gw_thermocouple *thermocouple,
                                                     int32_t code,
                                                     int32_t cold_junction);

// As gw_flags_message, for the flags of a temperature; 160 bytes are enough.
//
// Pointers:
// As the head of the header says.
size_t gw_thermometer_flags_message(uint32_t flags, char *buffer, size_t size);

// A temperature in Q20 degrees Celsius from thousandths of a degree Celsius, rounded down. Beyond +-2047 C it is that of the
// nearest end, which no kernel's range contains, so that it is flagged. Takes a 64-bit division: once a
// temperature, not once a sample.
int32_t gw_temperature_from_millicelsius(int32_t thousandths);

// Strain in nanostrain, rounded down: 1 nanostrain is 17.18 steps.
int32_t gw_nanostrain(int32_t strain);

// Version number of the library that is linked: the same as GW_VERSION if header and library belong together.
uint32_t gw_version(void);

// The same in words, such as "1.2.3"; lives forever.
const char *gw_version_text(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

// Where the library has each field: a compiler, or an option, that lays structs out in another way stops here. (A double
// and a number of 64 bits are aligned as on the target, to four or eight bytes.)
GW_ASSERT(sizeof(gw_gauge) == 144 && GW_ALIGNMENT(gw_gauge) == GW_ALIGNMENT(double));
GW_ASSERT(offsetof(gw_gauge, gauge_factor) == 0);
GW_ASSERT(offsetof(gw_gauge, gauge_factor_slope) == 8);
GW_ASSERT(offsetof(gw_gauge, gauge_factor_square) == 16);
GW_ASSERT(offsetof(gw_gauge, gauge_factor_cube) == 24);
GW_ASSERT(offsetof(gw_gauge, thermal_output) == 32);
GW_ASSERT(offsetof(gw_gauge, stated_for) == 80);
GW_ASSERT(offsetof(gw_gauge, fitted_low) == 88);
GW_ASSERT(offsetof(gw_gauge, fitted_high) == 96);
GW_ASSERT(offsetof(gw_gauge, reference_temperature) == 104);
GW_ASSERT(offsetof(gw_gauge, matched_expansion) == 112);
GW_ASSERT(offsetof(gw_gauge, transverse_sensitivity) == 120);
GW_ASSERT(offsetof(gw_gauge, calibration_poisson_ratio) == 128);
GW_ASSERT(offsetof(gw_gauge, thermal_output_terms) == 136);
GW_ASSERT(offsetof(gw_gauge, thermal_output_scale) == 140);
GW_ASSERT(sizeof(gw_channel) == 328 && GW_ALIGNMENT(gw_channel) == GW_ALIGNMENT(double));
GW_ASSERT(offsetof(gw_channel, gauge) == 0);
GW_ASSERT(offsetof(gw_channel, gauge_resistance) == 144);
GW_ASSERT(offsetof(gw_channel, lead_resistance) == 152);
GW_ASSERT(offsetof(gw_channel, output_lead_resistance) == 160);
GW_ASSERT(offsetof(gw_channel, completion_resistance) == 168);
GW_ASSERT(offsetof(gw_channel, reference_upper) == 176);
GW_ASSERT(offsetof(gw_channel, reference_lower) == 184);
GW_ASSERT(offsetof(gw_channel, input_resistance) == 192);
GW_ASSERT(offsetof(gw_channel, poisson_ratio) == 200);
GW_ASSERT(offsetof(gw_channel, full_scale_ratio) == 208);
GW_ASSERT(offsetof(gw_channel, reading_step) == 216);
GW_ASSERT(offsetof(gw_channel, instrument_gauge_factor) == 224);
GW_ASSERT(offsetof(gw_channel, balance_code) == 232);
GW_ASSERT(offsetof(gw_channel, balance_temperature) == 240);
GW_ASSERT(offsetof(gw_channel, strain_limit) == 248);
GW_ASSERT(offsetof(gw_channel, temperature_low) == 256);
GW_ASSERT(offsetof(gw_channel, temperature_high) == 264);
GW_ASSERT(offsetof(gw_channel, specimen_expansion) == 272);
GW_ASSERT(offsetof(gw_channel, span_correction) == 280);
GW_ASSERT(offsetof(gw_channel, error_within) == 288);
GW_ASSERT(offsetof(gw_channel, circuit) == 296);
GW_ASSERT(offsetof(gw_channel, converter) == 300);
GW_ASSERT(offsetof(gw_channel, converter_bits) == 304);
GW_ASSERT(offsetof(gw_channel, remote_sense) == 308);
GW_ASSERT(offsetof(gw_channel, reversed) == 312);
GW_ASSERT(offsetof(gw_channel, mismatch_scale) == 316);
GW_ASSERT(offsetof(gw_channel, correction) == 320);
GW_ASSERT(offsetof(gw_channel, reserved) == 324);
GW_ASSERT(sizeof(gw_kernel) == 64 && GW_ALIGNMENT(gw_kernel) == 4);
GW_ASSERT(offsetof(gw_kernel, thermal) == 0);
GW_ASSERT(offsetof(gw_kernel, code_scale) == 16);
GW_ASSERT(offsetof(gw_kernel, code_origin) == 20);
GW_ASSERT(offsetof(gw_kernel, code_last) == 24);
GW_ASSERT(offsetof(gw_kernel, strain_limit) == 28);
GW_ASSERT(offsetof(gw_kernel, flags) == 32);
GW_ASSERT(offsetof(gw_kernel, temperature_scale) == 36);
GW_ASSERT(offsetof(gw_kernel, bits) == 38);
GW_ASSERT(offsetof(gw_kernel, factor) == 40);
GW_ASSERT(offsetof(gw_kernel, curvature) == 44);
GW_ASSERT(offsetof(gw_kernel, temperature_origin) == 48);
GW_ASSERT(offsetof(gw_kernel, temperature_last) == 52);
GW_ASSERT(offsetof(gw_kernel, thermal_offset) == 56);
GW_ASSERT(offsetof(gw_kernel, gain) == 60);
GW_ASSERT(sizeof(gw_error) == 32 && GW_ALIGNMENT(gw_error) == GW_ALIGNMENT(double));
GW_ASSERT(offsetof(gw_error, code) == 0);
GW_ASSERT(offsetof(gw_error, field) == 4);
GW_ASSERT(offsetof(gw_error, value) == 8);
GW_ASSERT(offsetof(gw_error, low) == 16);
GW_ASSERT(offsetof(gw_error, high) == 24);
GW_ASSERT(sizeof(gw_seal) == 8 && GW_ALIGNMENT(gw_seal) == 4);
GW_ASSERT(offsetof(gw_seal, format) == 0);
GW_ASSERT(offsetof(gw_seal, checksum) == 4);
GW_ASSERT(sizeof(gw_point) == 36 && GW_ALIGNMENT(gw_point) == 4);
GW_ASSERT(offsetof(gw_point, flags) == 0);
GW_ASSERT(offsetof(gw_point, gain) == 4);
GW_ASSERT(offsetof(gw_point, code_scale) == 8);
GW_ASSERT(offsetof(gw_point, curvature) == 12);
GW_ASSERT(offsetof(gw_point, bits) == 16);
GW_ASSERT(offsetof(gw_point, code_origin) == 20);
GW_ASSERT(offsetof(gw_point, code_last) == 24);
GW_ASSERT(offsetof(gw_point, thermal) == 28);
GW_ASSERT(offsetof(gw_point, strain_limit) == 32);
GW_ASSERT(sizeof(gw_reading) == 8 && GW_ALIGNMENT(gw_reading) == 4);
GW_ASSERT(offsetof(gw_reading, strain) == 0);
GW_ASSERT(offsetof(gw_reading, flags) == 4);
GW_ASSERT(sizeof(gw_ranges) == 16 && GW_ALIGNMENT(gw_ranges) == 4);
GW_ASSERT(offsetof(gw_ranges, code_low) == 0);
GW_ASSERT(offsetof(gw_ranges, code_high) == 4);
GW_ASSERT(offsetof(gw_ranges, temperature_low) == 8);
GW_ASSERT(offsetof(gw_ranges, temperature_high) == 12);
GW_ASSERT(sizeof(gw_bound) == 16 && GW_ALIGNMENT(gw_bound) == GW_ALIGNMENT(double));
GW_ASSERT(offsetof(gw_bound, reading) == 0);
GW_ASSERT(offsetof(gw_bound, point) == 8);
GW_ASSERT(sizeof(gw_large_kernel) == 76 && GW_ALIGNMENT(gw_large_kernel) == 4);
GW_ASSERT(offsetof(gw_large_kernel, thermal) == 0);
GW_ASSERT(offsetof(gw_large_kernel, code_scale) == 20);
GW_ASSERT(offsetof(gw_large_kernel, code_origin) == 24);
GW_ASSERT(offsetof(gw_large_kernel, code_last) == 28);
GW_ASSERT(offsetof(gw_large_kernel, strain_limit) == 32);
GW_ASSERT(offsetof(gw_large_kernel, flags) == 36);
GW_ASSERT(offsetof(gw_large_kernel, temperature_scale) == 40);
GW_ASSERT(offsetof(gw_large_kernel, bits) == 42);
GW_ASSERT(offsetof(gw_large_kernel, factor) == 44);
GW_ASSERT(offsetof(gw_large_kernel, curvature) == 56);
GW_ASSERT(offsetof(gw_large_kernel, temperature_origin) == 60);
GW_ASSERT(offsetof(gw_large_kernel, temperature_last) == 64);
GW_ASSERT(offsetof(gw_large_kernel, thermal_offset) == 68);
GW_ASSERT(offsetof(gw_large_kernel, gain) == 72);
GW_ASSERT(sizeof(gw_linear_point) == 40 && GW_ALIGNMENT(gw_linear_point) == 4);
GW_ASSERT(offsetof(gw_linear_point, gain) == 0);
GW_ASSERT(offsetof(gw_linear_point, code_scale) == 4);
GW_ASSERT(offsetof(gw_linear_point, code_origin) == 8);
GW_ASSERT(offsetof(gw_linear_point, code_last) == 12);
GW_ASSERT(offsetof(gw_linear_point, bits) == 16);
GW_ASSERT(offsetof(gw_linear_point, flags) == 20);
GW_ASSERT(offsetof(gw_linear_point, offset) == 24);
GW_ASSERT(offsetof(gw_linear_point, clear_origin) == 28);
GW_ASSERT(offsetof(gw_linear_point, clear_last) == 32);
GW_ASSERT(offsetof(gw_linear_point, thermal) == 36);
GW_ASSERT(sizeof(gw_adjustable_kernel) == 224 && GW_ALIGNMENT(gw_adjustable_kernel) == GW_ALIGNMENT(double));
GW_ASSERT(offsetof(gw_adjustable_kernel, gain) == 0);
GW_ASSERT(offsetof(gw_adjustable_kernel, curvature) == 48);
GW_ASSERT(offsetof(gw_adjustable_kernel, thermal) == 96);
GW_ASSERT(offsetof(gw_adjustable_kernel, kernel) == 128);
GW_ASSERT(offsetof(gw_adjustable_kernel, balance_low) == 192);
GW_ASSERT(offsetof(gw_adjustable_kernel, balance_high) == 196);
GW_ASSERT(offsetof(gw_adjustable_kernel, span_low) == 200);
GW_ASSERT(offsetof(gw_adjustable_kernel, span_high) == 204);
GW_ASSERT(offsetof(gw_adjustable_kernel, middle) == 208);
GW_ASSERT(offsetof(gw_adjustable_kernel, left_out) == 212);
GW_ASSERT(offsetof(gw_adjustable_kernel, shift) == 220);
GW_ASSERT(sizeof(gw_zero) == 16 && GW_ALIGNMENT(gw_zero) == GW_ALIGNMENT(double));
GW_ASSERT(offsetof(gw_zero, sum) == 0);
GW_ASSERT(offsetof(gw_zero, count) == 8);
GW_ASSERT(offsetof(gw_zero, temperature) == 12);
GW_ASSERT(sizeof(gw_identity) == 64 && GW_ALIGNMENT(gw_identity) == GW_ALIGNMENT(double));
GW_ASSERT(offsetof(gw_identity, description) == 0);
GW_ASSERT(offsetof(gw_identity, zero) == 8);
GW_ASSERT(offsetof(gw_identity, span) == 24);
GW_ASSERT(offsetof(gw_identity, year) == 28);
GW_ASSERT(offsetof(gw_identity, month) == 30);
GW_ASSERT(offsetof(gw_identity, day) == 31);
GW_ASSERT(offsetof(gw_identity, name) == 32);
GW_ASSERT(sizeof(gw_known_answer) == 20 && GW_ALIGNMENT(gw_known_answer) == 4);
GW_ASSERT(offsetof(gw_known_answer, code) == 0);
GW_ASSERT(offsetof(gw_known_answer, temperature) == 4);
GW_ASSERT(offsetof(gw_known_answer, compensating) == 8);
GW_ASSERT(offsetof(gw_known_answer, strain) == 12);
GW_ASSERT(offsetof(gw_known_answer, flags) == 16);
GW_ASSERT(sizeof(gw_resistance_thermometer) == 340 && GW_ALIGNMENT(gw_resistance_thermometer) == 4);
GW_ASSERT(offsetof(gw_resistance_thermometer, words) == 0);
GW_ASSERT(sizeof(gw_thermocouple) == 1392 && GW_ALIGNMENT(gw_thermocouple) == 4);
GW_ASSERT(offsetof(gw_thermocouple, words) == 0);
GW_ASSERT(sizeof(gw_temperature_reading) == 8 && GW_ALIGNMENT(gw_temperature_reading) == 4);
GW_ASSERT(offsetof(gw_temperature_reading, temperature) == 0);
GW_ASSERT(offsetof(gw_temperature_reading, flags) == 4);
GW_ASSERT(sizeof(gw_last_reading) == 20 && GW_ALIGNMENT(gw_last_reading) == 4);
GW_ASSERT(offsetof(gw_last_reading, limit) == 0);
GW_ASSERT(offsetof(gw_last_reading, temperature) == 4);
GW_ASSERT(offsetof(gw_last_reading, flags) == 8);
GW_ASSERT(offsetof(gw_last_reading, updated_at) == 12);
GW_ASSERT(offsetof(gw_last_reading, unusable) == 16);

// A packed reading as a struct.
static inline gw_reading gw_unpacked(gw_packed_reading packed) {
    gw_reading reading;
    uint32_t low = (uint32_t)packed;
    // Two's complement by arithmetic: a cast of what is above INT32_MAX is up to the compiler.
    reading.strain = low <= 0x7fffffffu ? (int32_t)low : -(int32_t)(0xffffffffu - low) - 1;
    reading.flags = (uint32_t)(packed >> 32);
    return reading;
}

// Strain for a code and a temperature in Q20 degrees Celsius, in one call. Any code, any temperature.
static inline gw_reading gw_kernel_reading(const gw_kernel *kernel, int32_t code, int32_t temperature) {
    return gw_unpacked(gw_kernel_reading_packed(kernel, code, temperature));
}

// The same of the kernel that has room for every channel.
static inline gw_reading gw_large_kernel_reading(const gw_large_kernel *kernel, int32_t code, int32_t temperature) {
    return gw_unpacked(gw_large_kernel_reading_packed(kernel, code, temperature));
}

// Strain for a code at the temperature of the point. Any code.
static inline gw_reading gw_point_reading(const gw_point *point, int32_t code) {
    return gw_unpacked(gw_point_reading_packed(point, code));
}

// The same where the bridge is linear.
static inline gw_reading gw_linear_point_reading(const gw_linear_point *point, int32_t code) {
    return gw_unpacked(gw_linear_point_reading_packed(point, code));
}

// A packed temperature as a struct.
static inline gw_temperature_reading gw_temperature_unpacked(gw_packed_temperature packed) {
    gw_reading halves = gw_unpacked(packed);
    gw_temperature_reading reading;
    reading.temperature = halves.strain;
    reading.flags = halves.flags;
    return reading;
}

// Temperature for a code. Any code.
static inline gw_temperature_reading
gw_resistance_thermometer_reading(const gw_resistance_thermometer *thermometer, int32_t code) {
    return gw_temperature_unpacked(gw_resistance_thermometer_reading_packed(thermometer, code));
}

// Temperature of the hot junction for a code and the temperature of the cold one. Any of both.
static inline gw_temperature_reading
gw_thermocouple_reading(const gw_thermocouple *thermocouple, int32_t code, int32_t cold_junction) {
    return gw_temperature_unpacked(gw_thermocouple_reading_packed(thermocouple, code, cold_junction));
}

// The last usable temperature.
static inline gw_temperature_reading gw_last_reading_at(gw_last_reading *last, uint32_t now) {
    return gw_temperature_unpacked(gw_last_reading_at_packed(last, now));
}

#endif
