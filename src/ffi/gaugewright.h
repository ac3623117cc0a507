// gaugewright for C: from the raw codes of a strain-gauge bridge and a temperature to mechanical strain.
//
//     #include "kernels.h"  // made by the host: replay channels.toml --c-header kernels.h; it includes this header
//
//     // At the start, for all that lies in flash: it is what the host made.
//     if (gw_seal_check(&kernel_strut, sizeof kernel_strut, &kernel_strut_seal, NULL) != GW_STATUS_OK) { stop(); }
//
//     static gw_point point = GW_NO_POINT; // until the first temperature, readings have a flag
//
//     // On each temperature update, here in sixteenths of a degree:
//     point = gw_kernel_at(&kernel_strut, sixteenths * (GW_STEPS_PER_DEGREE / 16));
//
//     // Every sample, with its flags, which gw_flags_message has words for:
//     gw_reading reading = gw_point_reading(&point, code);
//     log(gw_nanostrain(reading.strain), reading.flags);
//
// Every function is total: whatever numbers a struct holds, the result is defined. A pointer may be null, which is reported
// (for an error it means that none is asked for); else it points to as many values of its type as the call is about, which
// are aligned, live during the call, and are used by nobody else while they are written. What is written need not be initialised;
// it is left alone where the status is not GW_STATUS_OK.
//
// Memory: the library keeps no pointer beyond a call, allocates nothing and has no state; texts live forever. Any thread or
// interrupt may call any function, on structs that nobody writes meanwhile.
// Units: codes are those of the converter; temperatures are in Q20 degrees Celsius, steps of 2^-20 C; strains are in Q34,
// steps of 2^-34 or 0.058 nanostrain.
// Names: gw_ and the type, then what is done. Constants that the host makes are words, `static const` in flash.
#ifndef GAUGEWRIGHT_H
#define GAUGEWRIGHT_H

// Made by tests/c/header from src/ffi: changes belong there.

#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

// ---------- Readings: all that a logger needs whose kernels the host has made ----------

// How a call went: GW_STATUS_OK or another GW_STATUS_... .
typedef uint32_t gw_status;

// Why a call was refused. After GW_STATUS_OK all of it is 0.
typedef struct {
    gw_status code; // What kind of error.
    uint32_t field; // What it is about: a GW_FIELD_..., GW_QUANTITY_..., GW_PART_... or GW_CHOICE_...; 0 if nothing.
    double value; // Its value, in the unit that the name of the field states. NaN: missing.
    double low; // The smallest value allowed, in the same unit; see the status.
    double high; // The largest value allowed, in the same unit; see the status.
} gw_error;

#define GW_STATUS_OK 0u // It went well.
#define GW_STATUS_NULL 1u // A pointer is null; nothing was written but the error.

// Steps of a temperature in one degree Celsius: a thermometer that counts sixteenths of a degree gives
// counts * (GW_STEPS_PER_DEGREE / 16), for counts of -32768 to 32767.
#define GW_STEPS_PER_DEGREE 1048576

// A temperature in Q20 degrees Celsius from thousandths of a degree Celsius, rounded down. Beyond +-2047 C it is that of the
// nearest end, which no kernel's range contains, so that it is flagged. Takes a 64-bit division: once a
// temperature, not once a sample.
int32_t gw_temperature_from_millicelsius(int32_t thousandths);

// Strain in nanostrain, rounded down: 1 nanostrain is 17.18 steps.
int32_t gw_nanostrain(int32_t strain);

#define GW_FLAG_TEMPERATURE_OUTSIDE 1u // The temperature lies outside the declared range: the strain is that of the nearest end.

// The strain lies outside the declared range: right while the code is in gw_kernel_ranges, else that of the nearest end.
#define GW_FLAG_STRAIN_OUTSIDE 2u

// The code is at a rail: an open or shorted gauge, a broken lead, or too much signal. The strain says nothing.
#define GW_FLAG_CODE_AT_RAIL 4u
#define GW_FLAG_NULL 0x80000000u // The pointer to the kernel or point was null: the strain is 0 and says nothing.

// A reading in one number: the four bytes of the strain in the low half, the flags in the high one. A struct of two words
// would be returned through memory. The functions without _packed make a struct of it, at no cost.
typedef uint64_t gw_packed_reading;

// Strain and flags of one sample.
typedef struct {
    int32_t strain; // In Q34 (steps of 0.058 nanostrain), from -2^31 to 2^31 - 1.
    uint32_t flags; // GW_FLAG_... or-ed together; 0 if all was in range. In words: gw_flags_message.
} gw_reading;

#define GW_FORMAT 1u // Format of the constants that this header belongs to.

// What constants are checked against.
typedef struct {
    uint32_t format; // Of the constants and their meaning: GW_FORMAT of the library that made them.
    uint32_t checksum; // CRC-32 (that of Ethernet) over their bytes.
} gw_seal;

// Seals constants of any kind, such as &kernel, sizeof kernel: format and CRC-32, to be kept beside them. The host writes
// seals with the constants that it makes.
gw_status gw_seal_make(const void *constants, size_t size, gw_seal *seal);

// Looks whether constants are whole: of this library's format, and those that were sealed; at each start, for what lies in
// flash. Constants that are not whole give defined readings that mean nothing. It finds every change of up to 32 bits side by
// side, and is no protection against intent.
gw_status gw_seal_check(const void *constants, size_t size, const gw_seal *seal, gw_error *error);

// A kernel at one temperature. GW_NO_POINT, and no zeros, is what to begin with: its readings have GW_FLAG_NULL.
typedef struct { uint32_t words[9]; } gw_point;

// Strain for a code at the temperature of the point. Any code.
gw_packed_reading gw_point_reading_packed(const gw_point *point, int32_t code);

// A block of samples: the same bits as one call each.
gw_status gw_point_readings(const gw_point *point, const int32_t *codes, gw_reading *readings, size_t count);

#define GW_NO_POINT {{GW_FLAG_NULL, 0, 0, 0, 32, 0, INT32_MAX, 0, 0}} // To start a point with.

// The constants of one channel whose thermal output has degree 4 at most and whose gauge factor has a slope: the usual
// package (for others the host writes a gw_large_kernel). Plain data: copy it, keep it in flash, share it.
typedef struct { uint32_t words[16]; } gw_kernel;

// Strain for a code and a temperature, in one call. Any code and any temperature.
gw_packed_reading gw_kernel_reading_packed(const gw_kernel *kernel, int32_t code, int32_t temperature);

// The point of one temperature, for as many codes as it stays. Outside the declared range it is that of the nearest
// end, and flagged; of a null pointer it is GW_NO_POINT.
gw_point gw_kernel_at(const gw_kernel *kernel, int32_t temperature);

// A block of samples, each with its temperature: the same bits as one call each. Every column has count numbers.
gw_status gw_kernel_readings(const gw_kernel *kernel, const int32_t *codes, const int32_t *temperatures,
    gw_reading *readings, size_t count);

// The readings above as a struct.
static inline gw_reading gw_unpacked(gw_packed_reading packed) {
    uint32_t low = (uint32_t)packed;
    gw_reading reading;
    // Two's complement by arithmetic: a cast of what is above INT32_MAX is up to the compiler.
    reading.strain = low <= 0x7fffffffu ? (int32_t)low : -(int32_t)(0xffffffffu - low) - 1;
    reading.flags = (uint32_t)(packed >> 32);
    return reading;
}
static inline gw_reading gw_kernel_reading(const gw_kernel *kernel, int32_t code, int32_t temperature) {
    return gw_unpacked(gw_kernel_reading_packed(kernel, code, temperature));
}
static inline gw_reading gw_point_reading(const gw_point *point, int32_t code) {
    return gw_unpacked(gw_point_reading_packed(point, code));
}

// ---------- Linear bridges, kernels for every channel, two temperatures, single precision ----------

// As gw_point, for a bridge that is linear.
typedef struct { uint32_t words[10]; } gw_linear_point;

// The same point for a bridge that is linear (GW_STATUS_NOT_LINEAR if it is not): the same bits and flags for
// half the instructions. Worth making where a temperature stays for more than twenty (Cortex-M0) to seventy
// samples (M4).
gw_status gw_point_linear(const gw_point *point, gw_linear_point *linear);

// Strain for a code at the temperature of the point. Any code.
gw_packed_reading gw_linear_point_reading_packed(const gw_linear_point *point, int32_t code);

// A block of samples: the same bits as one call each.
gw_status gw_linear_point_readings(const gw_linear_point *point, const int32_t *codes, gw_reading *readings,
    size_t count);

// As gw_kernel, for every channel of one temperature: degree 5, a cubic gauge factor, a gauge factor of the unloaded gauge or
// of the free foil.
typedef struct { uint32_t words[20]; } gw_large_kernel;

// As gw_kernel_reading_packed.
gw_packed_reading gw_large_kernel_reading_packed(const gw_large_kernel *kernel, int32_t code, int32_t temperature);

// As gw_kernel_at.
gw_point gw_large_kernel_at(const gw_large_kernel *kernel, int32_t temperature);

// As gw_kernel_readings.
gw_status gw_large_kernel_readings(const gw_large_kernel *kernel, const int32_t *codes, const int32_t *temperatures,
    gw_reading *readings, size_t count);

// The constants of a half bridge whose compensating gauge has a temperature of its own, of the usual package. Made by the
// host.
typedef struct { uint32_t words[24]; } gw_compensated_kernel;

// As gw_compensated_kernel, for every channel of two temperatures.
typedef struct { uint32_t words[29]; } gw_large_compensated_kernel;

// Strain for a code and the temperatures of the gauge that measures and of the one that compensates. Either outside its
// range is flagged.
gw_packed_reading gw_compensated_kernel_reading_packed(const gw_compensated_kernel *kernel, int32_t code,
    int32_t temperature, int32_t compensating);

// The constants of one pair of temperatures: as gw_kernel_at.
gw_point gw_compensated_kernel_at(const gw_compensated_kernel *kernel, int32_t temperature, int32_t compensating);

// As gw_kernel_readings, with both temperatures of each sample.
gw_status gw_compensated_kernel_readings(const gw_compensated_kernel *kernel, const int32_t *codes,
    const int32_t *temperatures, const int32_t *compensating, gw_reading *readings, size_t count);

// As gw_compensated_kernel_reading_packed.
gw_packed_reading gw_large_compensated_kernel_reading_packed(const gw_large_compensated_kernel *kernel, int32_t code,
    int32_t temperature, int32_t compensating);

// As gw_compensated_kernel_at.
gw_point gw_large_compensated_kernel_at(const gw_large_compensated_kernel *kernel, int32_t temperature,
    int32_t compensating);

// As gw_compensated_kernel_readings.
gw_status gw_large_compensated_kernel_readings(const gw_large_compensated_kernel *kernel, const int32_t *codes,
    const int32_t *temperatures, const int32_t *compensating, gw_reading *readings, size_t count);

// The usual package in single precision, for a processor that has it in hardware. Codes and temperatures are those of the
// other kernels. Made by the host, with its error bound.
typedef struct { uint32_t words[17]; } gw_float_kernel;

// What is left of such a kernel while the temperature stays.
typedef struct { uint32_t words[9]; } gw_float_point;

// Strain and flags of one sample in floating point.
typedef struct {
    float strain; // A ratio: 1e-6 is a microstrain.
    uint32_t flags; // As in gw_reading.
} gw_float_reading;

// As gw_float_kernel, for every channel of one temperature.
typedef struct { uint32_t words[21]; } gw_large_float_kernel;

// The usual package of two temperatures in single precision.
typedef struct { uint32_t words[26]; } gw_float_compensated_kernel;

// As gw_float_compensated_kernel, for every channel of two temperatures.
typedef struct { uint32_t words[31]; } gw_large_float_compensated_kernel;

// Strain for a code and a temperature, in one call.
gw_packed_reading gw_float_kernel_reading_packed(const gw_float_kernel *kernel, int32_t code, int32_t temperature);

// The constants of one temperature: as gw_kernel_at.
gw_float_point gw_float_kernel_at(const gw_float_kernel *kernel, int32_t temperature);

// As gw_kernel_readings.
gw_status gw_float_kernel_readings(const gw_float_kernel *kernel, const int32_t *codes, const int32_t *temperatures,
    gw_float_reading *readings, size_t count);

// As gw_float_kernel_reading_packed.
gw_packed_reading gw_large_float_kernel_reading_packed(const gw_large_float_kernel *kernel, int32_t code,
    int32_t temperature);

// As gw_float_kernel_at.
gw_float_point gw_large_float_kernel_at(const gw_large_float_kernel *kernel, int32_t temperature);

// As gw_float_kernel_readings.
gw_status gw_large_float_kernel_readings(const gw_large_float_kernel *kernel, const int32_t *codes,
    const int32_t *temperatures, gw_float_reading *readings, size_t count);

// As gw_compensated_kernel_reading_packed.
gw_packed_reading gw_float_compensated_kernel_reading_packed(const gw_float_compensated_kernel *kernel, int32_t code,
    int32_t temperature, int32_t compensating);

// As gw_compensated_kernel_at.
gw_float_point gw_float_compensated_kernel_at(const gw_float_compensated_kernel *kernel, int32_t temperature,
    int32_t compensating);

// As gw_compensated_kernel_readings.
gw_status gw_float_compensated_kernel_readings(const gw_float_compensated_kernel *kernel, const int32_t *codes,
    const int32_t *temperatures, const int32_t *compensating, gw_float_reading *readings, size_t count);

// As gw_compensated_kernel_reading_packed.
gw_packed_reading gw_large_float_compensated_kernel_reading_packed(const gw_large_float_compensated_kernel *kernel,
    int32_t code, int32_t temperature, int32_t compensating);

// As gw_compensated_kernel_at.
gw_float_point gw_large_float_compensated_kernel_at(const gw_large_float_compensated_kernel *kernel,
    int32_t temperature, int32_t compensating);

// As gw_compensated_kernel_readings.
gw_status gw_large_float_compensated_kernel_readings(const gw_large_float_compensated_kernel *kernel,
    const int32_t *codes, const int32_t *temperatures, const int32_t *compensating, gw_float_reading *readings, size_t count);

// Strain for a code at the temperature of the point. Any code.
gw_packed_reading gw_float_point_reading_packed(const gw_float_point *point, int32_t code);

// A block of samples: the same bits as one call each.
gw_status gw_float_point_readings(const gw_float_point *point, const int32_t *codes, gw_float_reading *readings,
    size_t count);

static inline gw_reading gw_linear_point_reading(const gw_linear_point *point, int32_t code) {
    return gw_unpacked(gw_linear_point_reading_packed(point, code));
}
static inline gw_reading gw_large_kernel_reading(const gw_large_kernel *kernel, int32_t code, int32_t temperature) {
    return gw_unpacked(gw_large_kernel_reading_packed(kernel, code, temperature));
}
static inline gw_reading gw_compensated_kernel_reading(const gw_compensated_kernel *kernel, int32_t code,
                                                       int32_t temperature, int32_t compensating) {
    return gw_unpacked(gw_compensated_kernel_reading_packed(kernel, code, temperature, compensating));
}
static inline gw_reading gw_large_compensated_kernel_reading(const gw_large_compensated_kernel *kernel, int32_t code,
                                                             int32_t temperature, int32_t compensating) {
    return gw_unpacked(gw_large_compensated_kernel_reading_packed(kernel, code, temperature, compensating));
}
static inline gw_float_reading gw_float_unpacked(gw_packed_reading packed) {
    union {
        uint32_t bits;
        float strain;
    } low;
    gw_float_reading reading;
    low.bits = (uint32_t)packed;
    reading.strain = low.strain;
    reading.flags = (uint32_t)(packed >> 32);
    return reading;
}
static inline gw_float_reading gw_float_kernel_reading(const gw_float_kernel *kernel, int32_t code, int32_t temperature) {
    return gw_float_unpacked(gw_float_kernel_reading_packed(kernel, code, temperature));
}
static inline gw_float_reading gw_large_float_kernel_reading(const gw_large_float_kernel *kernel, int32_t code,
                                                             int32_t temperature) {
    return gw_float_unpacked(gw_large_float_kernel_reading_packed(kernel, code, temperature));
}
static inline gw_float_reading gw_float_compensated_kernel_reading(const gw_float_compensated_kernel *kernel, int32_t code,
                                                                   int32_t temperature, int32_t compensating) {
    return gw_float_unpacked(gw_float_compensated_kernel_reading_packed(kernel, code, temperature, compensating));
}
static inline gw_float_reading gw_large_float_compensated_kernel_reading(
    const gw_large_float_compensated_kernel *kernel, int32_t code, int32_t temperature, int32_t compensating) {
    return gw_float_unpacked(gw_large_float_compensated_kernel_reading_packed(kernel, code, temperature, compensating));
}
static inline gw_float_reading gw_float_point_reading(const gw_float_point *point, int32_t code) {
    return gw_float_unpacked(gw_float_point_reading_packed(point, code));
}

// ---------- Temperature from codes: platinum, thermistors, thermocouples, and the last usable one ----------

#define GW_THERMOMETER_OUTSIDE 1u // The temperature is outside the thermometer's range, and given as that of the nearest end.
#define GW_THERMOMETER_SHORTED 2u // The sensor is shorted. The temperature has no meaning.
#define GW_THERMOMETER_OPEN 4u // The sensor is open: the code is at a rail of the converter. The temperature has no meaning.
#define GW_THERMOMETER_COLD_JUNCTION_OUTSIDE 8u // The cold junction is outside its range; its EMF is that of the nearest end.
#define GW_THERMOMETER_STALE 16u // The last usable reading is older than allowed; this is its temperature.
#define GW_THERMOMETER_ONE_SENSOR 32u // One of two sensors is not usable; this is the temperature of the other.
#define GW_THERMOMETER_NO_READING 0x40000000u // There is no usable reading yet. The temperature is 0 and has no meaning.
#define GW_THERMOMETER_NULL 0x80000000u // The pointer was null. The temperature is 0 and has no meaning.

// Temperature in the low half, flags in the high one.
typedef uint64_t gw_packed_temperature;

// A platinum resistor or a thermistor behind a converter.
typedef struct { uint32_t words[85]; } gw_resistance_thermometer;

// A thermocouple behind a converter.
typedef struct { uint32_t words[348]; } gw_thermocouple;

// A temperature and its flags.
typedef struct {
    int32_t temperature; // Q20 degrees Celsius, as every kernel takes it.
    uint32_t flags; // GW_THERMOMETER_... or-ed together; 0 if all was in order.
} gw_temperature_reading;

// Temperature for a code, any code. Flags: OUTSIDE, SHORTED, OPEN.
gw_packed_temperature gw_resistance_thermometer_reading_packed(const gw_resistance_thermometer *thermometer,
    int32_t code);

// The lowest and the highest code of the range, ends included.
gw_status gw_resistance_thermometer_codes(const gw_resistance_thermometer *thermometer, int32_t *low, int32_t *high);

// Temperature of the hot junction for a code and the temperature of the cold one (Q20 degrees Celsius), any of both. Flags:
// OUTSIDE, OPEN, COLD_JUNCTION_OUTSIDE. Those of the cold junction's own thermometer are left to the caller.
gw_packed_temperature gw_thermocouple_reading_packed(const gw_thermocouple *thermocouple, int32_t code,
    int32_t cold_junction);

// Temperature at a gauge between two sensors, fraction (Q16, 0 to 65536; more is 65536, and flagged OUTSIDE) of the way from the
// first to the second, with the flags of both; ONE_SENSOR where one is not usable. A null pointer and no reading count as OPEN.
gw_packed_temperature gw_sensor_pair_reading_packed(uint32_t fraction, gw_temperature_reading first,
    gw_temperature_reading second);

// As gw_flags_message, for the flags of a temperature; 160 bytes are enough.
size_t gw_thermometer_flags_message(uint32_t flags, char *buffer, size_t size);

// The readings above as a struct.
static inline gw_temperature_reading gw_temperature_unpacked(gw_packed_temperature packed) {
    gw_reading halves = gw_unpacked(packed);
    gw_temperature_reading reading;
    reading.temperature = halves.strain;
    reading.flags = halves.flags;
    return reading;
}
static inline gw_temperature_reading gw_resistance_thermometer_reading(const gw_resistance_thermometer *thermometer,
                                                                       int32_t code) {
    return gw_temperature_unpacked(gw_resistance_thermometer_reading_packed(thermometer, code));
}
static inline gw_temperature_reading gw_thermocouple_reading(const gw_thermocouple *thermocouple, int32_t code,
                                                             int32_t cold_junction) {
    return gw_temperature_unpacked(gw_thermocouple_reading_packed(thermocouple, code, cold_junction));
}
static inline gw_temperature_reading gw_sensor_pair_reading(uint32_t fraction, gw_temperature_reading first,
                                                            gw_temperature_reading second) {
    return gw_temperature_unpacked(gw_sensor_pair_reading_packed(fraction, first, second));
}

// The last usable temperature of a sensor that is read less often than the bridge. Time is a counter that wraps, of any
// unit. Yours to keep; gw_last_reading_start makes it.
typedef struct {
    uint32_t limit; // A reading is stale when it is older, in units of the counter.
    int32_t temperature; // Q20 degrees Celsius.
    uint32_t flags; // GW_THERMOMETER_... of that reading.
    uint32_t updated_at; // Time of that reading, in units of the counter.
    uint32_t unusable; // Readings that were not usable, so far.
} gw_last_reading;

// Starts without a reading. A reading that is older than limit will be stale.
gw_status gw_last_reading_start(gw_last_reading *last, uint32_t limit);

// A new reading and its time. One that is open, shorted, of a null pointer or no reading is counted, not kept.
gw_status gw_last_reading_update(gw_last_reading *last, gw_temperature_reading reading, uint32_t now);

// The last usable temperature, with its flags, and STALE if it is too old; NO_READING before the first. Call it at least
// once in UINT32_MAX - limit of the counter. A time before the reading is stale, too.
gw_packed_temperature gw_last_reading_at_packed(gw_last_reading *last, uint32_t now);

static inline gw_temperature_reading gw_last_reading_at(gw_last_reading *last, uint32_t now) {
    return gw_temperature_unpacked(gw_last_reading_at_packed(last, now));
}

// ---------- Rosettes, and the uncertainty of a sample ----------

// Constants of a rosette of three grids, for angles and transverse sensitivities.
typedef struct { uint32_t words[9]; } gw_rosette;

// State of strain of a surface, Q34. Along x it is mean + half_difference, along y mean - half_difference.
typedef struct {
    int32_t mean; // Mean of two strains at right angles.
    int32_t half_difference; // Half of strain along x less strain along y.
    int32_t half_shear; // Half of the engineering shear strain, positive where the right angle between x and y gets smaller.
    uint32_t flags; // GW_FLAG_... of the grids, and of a component that was clamped.
} gw_plane_strain;

// Principal strains, Q34.
typedef struct {
    int32_t first; // The larger strain.
    int32_t second; // The smaller strain.
    int32_t half_shear; // Half the greatest engineering shear strain in the plane.
    uint32_t flags; // GW_FLAG_... of the state, and of a strain that was clamped.
} gw_principal;

// Elastic constants at the temperature of the part.
typedef struct {
    float modulus; // Elastic modulus, GPa; 0.001 to 2000.
    float poisson_ratio; // Poisson ratio, 0 to 0.5.
} gw_elasticity;

// Principal stresses of a free surface (plane stress).
typedef struct {
    float first; // The larger one, MPa; its direction is that of the first strain.
    float second; // The smaller one, MPa.
    float in_plane_shear; // Greatest shear in the plane, MPa.
    float von_mises; // Equivalent stress after von Mises, MPa.
    float tresca; // Equivalent stress after Tresca, MPa.
    uint32_t flags; // GW_FLAG_... of the state of strain.
} gw_stress;

// State of strain from the mechanical strains of grids a, b and c: grids are three readings, whose flags it has too.
// Rounded once to nearest; a component beyond the format is clamped, with GW_FLAG_STRAIN_OUTSIDE.
gw_status gw_rosette_strain(const gw_rosette *rosette, const gw_reading *grids, gw_plane_strain *strain);

// Principal strains of a state of strain, in integers. The root is rounded to nearest; what is beyond the format is
// clamped, with GW_FLAG_STRAIN_OUTSIDE.
gw_status gw_principal_strain(const gw_plane_strain *strain, gw_principal *principal);

// Direction of the first principal strain: degrees counter-clockwise from the x axis, above -90 and up to 90, in single
// precision; NaN where both principal strains are equal, so that there is none.
gw_status gw_principal_direction(const gw_plane_strain *strain, float *degrees);

// Principal stresses of a state of strain, in single precision, for an isotropic material below yield. GW_STATUS_INVALID for
// elastic constants out of range. A computed stress is no proof that a part is safe.
gw_status gw_principal_stress(const gw_plane_strain *strain, const gw_elasticity *elasticity, gw_stress *stress,
    gw_error *error);

// Constants of a channel's uncertainty, for every kind of gauge factor.
typedef struct { uint32_t words[50]; } gw_uncertainty;

// The uncertainty at one temperature, made by gw_uncertainty_at.
typedef struct { uint32_t words[6]; } gw_uncertainty_point;

// The uncertainty at a temperature (Q20 degrees Celsius), in single precision. GW_STATUS_INVALID for a
// temperature outside the channel's range, GW_STATUS_OVERFLOW where an uncertainty could exceed 125 000 microstrain.
gw_status gw_uncertainty_at(const gw_uncertainty *uncertainty, int32_t temperature, gw_uncertainty_point *point,
    gw_error *error);

// Combined standard uncertainty of a strain, both Q34, in integers: never below that of the channel's constants, and at most 10 steps
// (0.6 nanostrain) and 8 parts in a million above. Any strain. -1 for a null pointer.
int32_t gw_uncertainty_standard(const gw_uncertainty_point *point, int32_t strain);

// ---------- On site: zero, span, a record for the next start, faults of the wiring, a shunt ----------

//     // At the start, after the seals: the kernel of the record, if there is one of this channel; else that of the flash.
//     gw_kernel kernel = kernel_strut;
//     if (gw_kernel_record_read(stored, GW_RECORD_BYTES, &read, &identity, NULL, &error) == GW_STATUS_OK &&
//         identity.description == description_strut) { kernel = read; }
//
//     // On request, without load: the zero, a record of it, and a new point.
//     gw_zero zero = {sum, count, temperature};
//     gw_identity identity = {description_strut, zero, GW_SPAN_ONE, 2026, 3, 14, "strut"};
//     if (gw_kernel_adjust(&adjustable_strut, &zero, GW_SPAN_ONE, &made, &error) == GW_STATUS_OK &&
//         gw_kernel_record_write(&made, &identity, NULL, bytes, sizeof bytes, &error) == GW_STATUS_OK) { kernel = made; }

#define GW_SPAN_ONE 0x80000000u // A span correction of one, Q31.

// The constants from which gw_kernel_adjust computes the kernel of a measured zero and span. Made by the host for a channel
// whose file has a table [channel.on_site]; the zero of others is that of the file.
typedef struct { uint64_t words[28]; } gw_adjustable_kernel;

// Codes of the unloaded channel as their sum and how many they are, and the temperature at which they were read.
typedef struct {
    int64_t sum; // Sum of the codes. Leave out codes whose reading has GW_FLAG_CODE_AT_RAIL.
    uint32_t count; // How many codes: 1 to 65 536; 0 in the record of a kernel without a measured zero.
    int32_t temperature; // Temperature of the gauge, Q20 degrees Celsius.
} gw_zero;

// The kernel for a zero and a span (Q31, GW_SPAN_ONE where none was found), in integers alone: some 10 000 instructions on a
// Cortex-M0. Let it make a kernel of its own and copy that where no interrupt reads; points made before are of the old one.
// GW_STATUS_INVALID for a balance code or a span outside what [channel.on_site] declares, a balance temperature outside
// the channel's range, and a mean of no or more than 65 536 codes.
gw_status gw_kernel_adjust(const gw_adjustable_kernel *adjustable, const gw_zero *zero, uint32_t span,
    gw_kernel *kernel, gw_error *error);

// A span from a shunt calibration: expected over observed change of code, Q31, rounded towards one; sums of equally many codes do
// as well. It is written if the status is GW_STATUS_OK; GW_STATUS_INVALID where there is no ratio from 0.8 to 1.25.
gw_status gw_span_of_codes(int64_t expected, int64_t observed, uint32_t *span, gw_error *error);

#define GW_RECORD_BYTES 192u // Bytes of a record of a gw_kernel.
#define GW_LARGE_RECORD_BYTES 208u // Bytes of a record of a gw_large_kernel.
#define GW_KNOWN_ANSWERS 3u // Known answers of a kernel.

// Whose kernel a record holds.
typedef struct {
    uint64_t description; // Hash of all that the channel file says of the channel but its name: description_... of the host.
    gw_zero zero; // What was measured on site as zero.
    uint32_t span; // Span correction, a ratio in Q31: GW_SPAN_ONE where there is none.
    uint16_t year; // Year of the date, 2000 to 2399.
    uint8_t month; // Month, 1 to 12.
    uint8_t day; // Day of the month, 1 to 31.
    char name[25]; // Name of the channel: 1 to 24 bytes in UTF-8, and a zero byte behind them.
} gw_identity;

// A reading whose result travels with a kernel.
typedef struct {
    int32_t code; // Code of the converter.
    int32_t temperature; // Temperature of the gauge, Q20 degrees Celsius.
    int32_t compensating; // Temperature of the compensating gauge, Q20 degrees Celsius; 0 for a kernel of one temperature.
    int32_t strain; // Strain, Q34.
    uint32_t flags; // Flags of the reading.
} gw_known_answer;

// Writes a kernel, whose it is, and GW_KNOWN_ANSWERS known answers as a record of GW_RECORD_BYTES. answers are null for a
// kernel that was adjusted: then they are what it gives here and now. (Those of the host are of its own kernel, without the
// measured zero: with them a record is refused as GW_STATUS_SELF_TEST.)
gw_status gw_kernel_record_write(const gw_kernel *kernel, const gw_identity *identity, const gw_known_answer *answers,
    uint8_t *bytes, size_t size, gw_error *error);

// Reads a record of a gw_kernel, to be used as it is: length, checksum, the ranges of its numbers and its self-test are looked
// at. Whose it is the caller compares: description of the identity with that of the kernel in flash, and the name.
// GW_STATUS_NO_RECORD for storage that was erased; else a GW_STATUS_RECORD_..., GW_STATUS_FORMAT, GW_STATUS_INVALID,
// GW_STATUS_OVERFLOW, GW_STATUS_REVERSED or GW_STATUS_SELF_TEST..., after which the zero has to be taken anew. identity
// and answers may be null.
gw_status gw_kernel_record_read(const uint8_t *bytes, size_t size, gw_kernel *kernel, gw_identity *identity,
    gw_known_answer *answers, gw_error *error);

// Compares readings with GW_KNOWN_ANSWERS known answers: at each start, as processor and program may have changed since.
// GW_STATUS_SELF_TEST or GW_STATUS_SELF_TEST_FLAGS for the first that differs.
gw_status gw_kernel_self_test(const gw_kernel *kernel, const gw_known_answer *answers, gw_error *error);

// As gw_kernel_record_write, of GW_LARGE_RECORD_BYTES.
gw_status gw_large_kernel_record_write(const gw_large_kernel *kernel, const gw_identity *identity,
    const gw_known_answer *answers, uint8_t *bytes, size_t size, gw_error *error);

// As gw_kernel_record_read.
gw_status gw_large_kernel_record_read(const uint8_t *bytes, size_t size, gw_large_kernel *kernel, gw_identity *identity,
    gw_known_answer *answers, gw_error *error);

// As gw_kernel_self_test.
gw_status gw_large_kernel_self_test(const gw_large_kernel *kernel, const gw_known_answer *answers, gw_error *error);

#define GW_FAULT_ARM_OPEN 1u // The gauge of arm 1 is open; of arms 2 to 4: the next three numbers.
#define GW_FAULT_ARM_SHORTED 5u // The gauge of arm 1 is shorted; of arms 2 to 4: the next three numbers.

// The lead between the gauge of arm 1 and the excitation is broken; of arms 2 to 4: the next three numbers.
#define GW_FAULT_ARM_LEAD_BROKEN 9u
#define GW_FAULT_EXCITATION_LEAD_BROKEN 13u // A lead to the excitation of a full bridge is broken.
#define GW_FAULT_OUTPUT_LEAD_BROKEN 14u // A lead to the output is broken.
#define GW_FAULT_REVERSED 15u // OUT+ and OUT- (or the excitation) are exchanged.
#define GW_FAULTS 16u // Faults are numbers below this one.
#define GW_VERDICT_NONE 0u // The circuit cannot have the fault.
#define GW_VERDICT_CONSISTENT 1u // The fault would give this reading.
#define GW_VERDICT_EXCLUDED 2u // The fault would give another reading.
#define GW_VERDICT_INCONCLUSIVE 3u // The fault leaves the output undetermined, or a reading at rest does not depend on it.

// Codes at rest of a bridge in order, and of each fault that its circuit can have.
typedef struct { uint32_t words[46]; } gw_wiring_check;

// What a reading at rest says of the wiring.
typedef struct {
    uint32_t healthy; // Switch: 1 where a bridge with resistors within the tolerance can give the mean; never at a rail.
    uint32_t at_rail; // Switch: 1 where the mean is at or beyond a rail.
    uint8_t verdicts[GW_FAULTS]; // A GW_VERDICT_... for each fault, at the place of its number.
} gw_report;

// The change of code that a shunt should make.
typedef struct { uint32_t words[6]; } gw_shunt_check;

// What codes of the unloaded channel say of the wiring (the temperature of codes is not used). GW_STATUS_INVALID for a
// mean of no or more than 65 536 codes.
gw_status gw_wiring_report(const gw_wiring_check *check, const gw_zero *codes, gw_report *report, gw_error *error);

// A fault in words, from its number; "unknown fault" for a number that is none. Lives forever.
const char *gw_fault_text(uint32_t fault);

// The changes of code that the shunt can make within its tolerance and the declared spans: from low to high.
gw_status gw_shunt_expected(const gw_shunt_check *check, int32_t *low, int32_t *high);

// The span (Q31, for gw_kernel_adjust) from codes of the unloaded channel without the shunt and with it; each mean is rounded down
// to 2^-14 of a code. GW_STATUS_INVALID for a mean of no or more than 65 536 codes or at a rail, a change that the shunt cannot
// make, and a span outside 0.8 to 1.25.
gw_status gw_shunt_span(const gw_shunt_check *check, const gw_zero *without, const gw_zero *with, uint32_t *span,
    gw_error *error);

// ---------- Kernels that are made on the target ----------

#define GW_CIRCUIT_QUARTER_TWO_WIRE 1u // Quarter bridge on two leads.
#define GW_CIRCUIT_QUARTER_THREE_WIRE 2u // Quarter bridge on three leads; also one without leads, whose resistance is then 0.
#define GW_CIRCUIT_HALF_COMPENSATED 3u // Half bridge with a compensating gauge that feels no strain, at the temperature of the first.
#define GW_CIRCUIT_HALF_POISSON 4u // Half bridge, axial and transverse; needs the Poisson ratio of the specimen.
#define GW_CIRCUIT_HALF_BENDING 5u // Half bridge, bending.
#define GW_CIRCUIT_FULL_BENDING 6u // Full bridge, bending.
#define GW_CIRCUIT_FULL_POISSON 7u // Full bridge, axial and transverse; needs the Poisson ratio of the specimen.
#define GW_CIRCUIT_FULL_TORSION 8u // Full bridge, torsion.
#define GW_CIRCUIT_OPPOSITE_ARMS 9u // Two gauges in opposite arms.

// No circuit: readings of an instrument that shows strain and has taken the bridge's curvature out. Of the
// converter only reading_step counts then.
#define GW_CIRCUIT_INSTRUMENT 10u
#define GW_CONVERTER_BIPOLAR 1u // Codes of an analogue-to-digital converter: converter_bits and full_scale_ratio count.

// Codes of an instrument that shows the ratio of the bridge as if it were strain of a quarter bridge without
// curvature: reading_step and instrument_gauge_factor count.
#define GW_CONVERTER_LINEAR_STRAIN 2u
#define GW_SCALE_CELSIUS 1u // Thermal output is a polynomial in degrees Celsius.
#define GW_SCALE_FAHRENHEIT 2u // Thermal output is a polynomial in degrees Fahrenheit.
#define GW_BASIS_AT_BALANCE 1u // The gauge factor refers to the resistance at balance.
#define GW_BASIS_UNLOADED_GAUGE 2u // To that of the bonded gauge at its temperature, without load.
#define GW_BASIS_FREE_FOIL 3u // To that of the free foil at its temperature: forced_strain counts.
#define GW_MISMATCH_AT_TEMPERATURE 1u // A mismatch of expansion counts at the gauge factor of the temperature.
#define GW_MISMATCH_AT_REFERENCE 2u // It counts at the gauge factor of the reference temperature.
#define GW_MISMATCH_STATED 3u // It counts at the gauge factor that the thermal output is stated for.
#define GW_CORRECTION_FULL 1u // Thermal output and gauge factor are corrected: mechanical strain.
#define GW_CORRECTION_THERMAL_OUTPUT 2u // Thermal output alone.
#define GW_CORRECTION_NONE 3u // Neither: indicated strain.
#define GW_CHOICE_CIRCUIT 401u // In a gw_error: the circuit.
#define GW_CHOICE_CONVERTER 402u // In a gw_error: the kind of converter.
#define GW_CHOICE_SCALE 403u // In a gw_error: the temperature scale of the thermal output.
#define GW_CHOICE_MISMATCH_SCALE 404u // In a gw_error: the scale of the mismatch.
#define GW_CHOICE_CORRECTION 405u // In a gw_error: the correction.
#define GW_CHOICE_BASIS 406u // In a gw_error: the basis of the gauge factor.

// What the gauge package says. Fields marked *or NaN* are left out by NaN, which is what gw_channel_default
// puts there.
typedef struct {
    double gauge_factor; // Gauge factor at the reference temperature, 0.1 to 500.
    double gauge_factor_slope; // Change of the gauge factor, percent per 100 C.
    // Relative change of the gauge factor per C^2 and per C^3 from the reference temperature, -1 to 1; usually 0.
    double gauge_factor_square;
    double gauge_factor_cube; // As said for gauge_factor_square, per C^3.
    double thermal_output[6]; // Thermal output, microstrain per degree to its power, the constant first; -1e6 to 1e6.
    double stated_for; // The gauge factor that thermal output is stated for, usually 2.
    double fitted_low; // Lower end of the range that thermal output was fitted on, in C whatever its scale; -273.15 to 2047.
    double fitted_high; // Upper end of that range, C.
    double reference_temperature; // The temperature that the gauge factor is stated at, C; usually 24.
    double matched_expansion; // Expansion that the gauge is matched to, ppm per C, or NaN.
    double transverse_sensitivity; // Transverse sensitivity, percent.
    double calibration_poisson_ratio; // Poisson ratio of the beam that the gauge factor was found on, usually 0.285.
    // With GW_BASIS_FREE_FOIL: the strain that the specimen forces on the foil, microstrain per degree from the reference
    // temperature to its power, the constant first; -1e6 to 1e6.
    double forced_strain[4];
    uint32_t thermal_output_terms; // Number of terms of thermal_output that are stated, 1 to 6; 0 if there is none.
    uint32_t thermal_output_scale; // GW_SCALE_...: degrees of the polynomial.
    // GW_BASIS_...: the resistance that the gauge factor refers to. Others than the first take a gw_large_kernel.
    uint32_t gauge_factor_basis;
    uint32_t reserved; // A number that is not used: 0.
} gw_gauge;

// A measuring channel: gauge, circuit, leads, converter, balance, ranges and specimen. Start from
// gw_channel_default, so that fields of later versions have a meaning too. Fields marked *or NaN* are left out
// by NaN.
typedef struct {
    gw_gauge gauge; // The measuring gauge.
    double gauge_resistance; // Of each gauge, ohm; 1 to 1e6.
    double lead_resistance; // Of each lead, ohm; 0 to the gauge's resistance.
    double output_lead_resistance; // Of each lead of the output, ohm, or NaN if as the others.
    // In arm 2 (the completion of a quarter bridge, or the second gauge), ohm; 1 to 1e6. NaN if it is not known: it is then
    // solved from the balance code, which makes it the gauge's resistance where that code is 0 and arms 3 and 4 are equal.
    double completion_resistance;
    // In arm 3, as reference_lower in arm 4, ohm; 1 to 1e7, both or NaN. Where they are NaN and arm 2 is stated, the balance
    // code gives their division, and their parallel resistance is taken as half of the gauge's; else both are as the gauge.
    double reference_upper;
    double reference_lower; // As reference_upper, in arm 4, ohm.
    double input_resistance; // Of the amplifier, ohm, or NaN if it draws no current; 1e3 to 1e15.
    double poisson_ratio; // Poisson ratio of the specimen, 0 to 0.5, for the two circuits that have axial and transverse gauges.
    double full_scale_ratio; // Ratio of output to excitation at the converter's full scale, V/V.
    double reading_step; // Microstrain per count, of an instrument.
    double instrument_gauge_factor; // Gauge factor that the instrument is set to, or NaN if it is that of the gauge.
    double balance_code; // Code at rest, or NaN if the channel was not balanced.
    double balance_temperature; // The temperature then, C.
    double strain_limit; // Strain to be measured either way, microstrain, 1 to 62500, or NaN for all that the converter gives.
    // Lowest temperature to be corrected, C, or NaN (then both) for the range that thermal output was fitted on.
    double temperature_low;
    double temperature_high; // Highest temperature to be corrected, C, or NaN.
    double specimen_expansion; // Expansion of the specimen, ppm per C, or NaN if it is what the gauge is matched to.
    double span_correction; // Factor of a shunt calibration, usually 1.
    double error_within; // The error bound in nanostrain that the kernel has to keep, or NaN for whatever it is.
    uint32_t circuit; // GW_CIRCUIT_...
    uint32_t converter; // GW_CONVERTER_...
    uint32_t converter_bits; // Bits of the converter, 8 to 32.
    uint32_t remote_sense; // Switch. Not 0: excitation is sensed at the bridge (full bridges).
    uint32_t reversed; // Switch. Not 0: the output is wired the other way round.
    uint32_t mismatch_scale; // GW_MISMATCH_...
    uint32_t correction; // GW_CORRECTION_...
    uint32_t reserved; // A number that is not used: 0.
} gw_channel;

// Writes a channel of which nothing is known: what has to be stated is NaN or 0, which is refused, the rest is
// usual.
gw_status gw_channel_default(gw_channel *channel);

// Ranges of a kernel, ends included.
typedef struct {
    int32_t code_low; // Lowest code.
    int32_t code_high; // Highest code.
    int32_t temperature_low; // Lowest temperature, Q20 degrees Celsius.
    int32_t temperature_high; // Highest temperature, Q20 degrees Celsius.
} gw_ranges;

// The largest errors of a kernel, for codes and temperatures in range.
typedef struct {
    double reading; // Of a reading in one call, nanostrain.
    double point; // Of a reading of a point, nanostrain.
} gw_bound;

// Ranges in which the kernel corrects; what is beyond is clamped to them and flagged.
gw_status gw_kernel_ranges(const gw_kernel *kernel, gw_ranges *ranges);

// As gw_kernel_ranges.
gw_status gw_large_kernel_ranges(const gw_large_kernel *kernel, gw_ranges *ranges);

// The largest error of the kernel's arithmetic, in double precision. Of a kernel that is not whole the numbers mean nothing,
// and may be NaN or infinite.
gw_status gw_kernel_error_bound(const gw_kernel *kernel, gw_bound *bound);

// As gw_kernel_error_bound.
gw_status gw_large_kernel_error_bound(const gw_large_kernel *kernel, gw_bound *bound);

// Compiles a channel to a kernel, which is written if the status is GW_STATUS_OK and left alone otherwise. Takes double
// precision, in software where the core has none: some 50 KB of code (35 KB optimised for size) and 7 million instructions on
// a Cortex-M0, 3 million on an M4. For channels that are entered on the target; a kernel that is known beforehand is
// better made by the host (replay --c-header).
gw_status gw_kernel_build(const gw_channel *channel, gw_kernel *kernel, gw_error *error);

// As gw_kernel_build.
gw_status gw_large_kernel_build(const gw_channel *channel, gw_large_kernel *kernel, gw_error *error);

// ---------- What went wrong, and which library this is ----------

#define GW_STATUS_INVALID 2u // An input is missing, not finite or out of range: value is not from low to high.
#define GW_STATUS_OVERFLOW 3u // A number of the kernel does not fit: a GW_QUANTITY_..., its magnitude, and the largest that fits.

// The error bound exceeds the limit (nanostrain): the largest GW_PART_..., the bound, the GW_PATH_... in low, the limit.
#define GW_STATUS_BOUND 4u

// A choice is none of those that there are: a GW_CHOICE_..., what was given, the first and last that there are.
#define GW_STATUS_CHOICE 5u
#define GW_STATUS_FORMAT 6u // Constants of another format: theirs, and in high that of the library.
#define GW_STATUS_CHECKSUM 7u // The constants are not those that were sealed: their checksum, and in high the sealed one.
#define GW_STATUS_NOT_LINEAR 8u // The bridge is not linear, so that its point has no shorter path.
#define GW_STATUS_REVERSED 9u // The upper end of a range, value, lies below its lower one, low.
#define GW_STATUS_RECORD_LENGTH 10u // As many bytes are no such record, or have no room for it: high is the record's.

// The bytes begin as no record does: their first four as a number, lowest first, and in high those of a record.
#define GW_STATUS_NO_RECORD 11u
#define GW_STATUS_RECORD_VERSION 12u // A record of another version: high is that of the library.
#define GW_STATUS_RECORD_KIND 13u // A record of another kind: kind and sizes, a byte each, as a number, and in high those asked for.
#define GW_STATUS_RECORD_CHECKSUM 14u // A record whose bytes have changed: their checksum, and in high the one that was written.
#define GW_STATUS_RECORD_NAME 15u // The name in a record, or for one, is no text in UTF-8, or does not end with zeros.
#define GW_STATUS_SELF_TEST 16u // A known answer, the number low from 0, has another strain here (Q34), and in high the known one.
#define GW_STATUS_SELF_TEST_FLAGS 17u // A known answer has the same strain here and other flags: as above.

// What a status means; "unknown status" for a number that is none. Lives forever.
const char *gw_status_text(gw_status status);

// Name of what an error is about, with its unit, from the field of a gw_error; "" for 0, "unknown" for a
// number that is none. Lives forever.
const char *gw_name_text(uint32_t field);

// An error in a sentence, with its numbers, into a buffer of the caller. Always ended by a zero byte if size
// is not 0, cut off where it does not fit (256 bytes are enough). Gives the length of the whole sentence without
// its end; 0 if a pointer is null. It links the printing of doubles, which is large: where there is no room for that,
// gw_status_text and gw_name_text have the words alone; one of them links the words of both.
size_t gw_error_message(const gw_error *error, char *buffer, size_t size);

// The names of all flags that are set, separated by ", ", into a buffer of the caller: "clear" for 0; bits that are no
// flag by their number, as "unknown 0x00000010". Always ended by a zero byte if size is not 0, cut off where it does
// not fit (128 bytes are enough). Gives the length of the whole text without its end; 0 if the pointer is null.
size_t gw_flags_message(uint32_t flags, char *buffer, size_t size);

#define GW_VERSION 256u // Version that this header belongs to: major in bits 16 and up, minor in 8 to 15, patch in 0 to 7.

// Version number of the library that is linked: the same as GW_VERSION if header and library belong together.
uint32_t gw_version(void);

// The same in words, such as "1.2.3"; lives forever.
const char *gw_version_text(void);

// What an error is about: inputs (GW_FIELD_...), numbers of a kernel, parts of its error bound, and its two paths. A number
// keeps its meaning. Some are of errors that only the library in Rust gives.
#define GW_FIELD_GAUGE_FACTOR 1u // gauge factor
#define GW_FIELD_GAUGE_FACTOR_CURVE 2u // gauge factor at temperature over gauge factor
#define GW_FIELD_GAUGE_FACTOR_COEFFICIENT 3u // coefficient of gauge factor change (per degree to its power)
#define GW_FIELD_STATED_GAUGE_FACTOR 4u // gauge factor the thermal output is stated for
#define GW_FIELD_INSTRUMENT_GAUGE_FACTOR 5u // instrument gauge factor
#define GW_FIELD_THERMAL_OUTPUT 6u // thermal output
#define GW_FIELD_THERMAL_OUTPUT_DEGREE 7u // degree of the thermal output polynomial
#define GW_FIELD_THERMAL_OUTPUT_COEFFICIENT 8u // thermal output coefficient (microstrain per degree to its power)
#define GW_FIELD_FITTED_LOW 9u // lower end of the fitted temperature range (C)
#define GW_FIELD_FITTED_HIGH 10u // upper end of the fitted temperature range (C)
#define GW_FIELD_TEMPERATURE_LOW 11u // lower end of the declared temperature range (C)
#define GW_FIELD_TEMPERATURE_HIGH 12u // upper end of the declared temperature range (C)
#define GW_FIELD_TEMPERATURE_WIDTH 13u // width of the declared temperature range (C)
#define GW_FIELD_TEMPERATURE 14u // temperature (C)
#define GW_FIELD_REFERENCE_TEMPERATURE 15u // reference temperature (C)
#define GW_FIELD_MATCHED_EXPANSION 16u // expansion coefficient the gauge is matched to (ppm/C)
#define GW_FIELD_SPECIMEN_EXPANSION 17u // expansion coefficient of the specimen (ppm/C)
#define GW_FIELD_TRANSVERSE_SENSITIVITY 18u // transverse sensitivity (%)
#define GW_FIELD_CALIBRATION_POISSON_RATIO 19u // Poisson ratio of the calibration beam
#define GW_FIELD_GAUGE_RESISTANCE 20u // gauge resistance (ohm)
#define GW_FIELD_LEAD_RESISTANCE 21u // lead resistance (ohm)
#define GW_FIELD_COMPLETION_RESISTANCE 22u // completion resistance (ohm)
#define GW_FIELD_REFERENCE_RESISTANCE 23u // reference half-bridge resistance (ohm)
#define GW_FIELD_POISSON_RATIO 24u // Poisson ratio of the specimen
#define GW_FIELD_INPUT_RESISTANCE 25u // input resistance (ohm)
#define GW_FIELD_CONVERTER_BITS 26u // converter bits
#define GW_FIELD_FULL_SCALE_RATIO 27u // full-scale ratio (V/V)
#define GW_FIELD_SPAN_LIMIT 28u // limit of the span correction (%)
#define GW_FIELD_BRIDGE 29u // bridge
#define GW_FIELD_SHUNT_RESISTANCE 30u // shunt resistance (ohm)
#define GW_FIELD_SHUNT_TOLERANCE 31u // shunt tolerance (%)
#define GW_FIELD_RESISTOR_TOLERANCE 32u // resistor tolerance (%)
#define GW_FIELD_LEAD_TEMPERATURE_RISE 33u // temperature rise of the leads (C)
#define GW_FIELD_SPAN_CORRECTION 34u // span correction
#define GW_FIELD_SIMULATED_STRAIN 35u // strain to be simulated by a shunt (microstrain)
#define GW_FIELD_READING_STEP 36u // strain per count (microstrain)
#define GW_FIELD_BALANCE_CODE 37u // balance code
#define GW_FIELD_BALANCE_RATIO 38u // bridge output ratio at balance (V/V)
#define GW_FIELD_BALANCE_TEMPERATURE 39u // balance temperature (C)
#define GW_FIELD_COMPENSATING_GAUGES 40u // number of compensating gauges with a temperature of their own
#define GW_FIELD_COMPENSATING_BALANCE_TEMPERATURE 41u // balance temperature of the compensating gauge (C)
#define GW_FIELD_STRAIN_RANGE 42u // declared strain range (microstrain)
#define GW_FIELD_SENSOR_RESISTANCE 43u // resistance of the temperature sensor (ohm)
#define GW_FIELD_RESISTANCE_AT_ZERO 44u // resistance of the temperature sensor at 0 C (ohm)
#define GW_FIELD_CALLENDAR_VAN_DUSEN 45u // Callendar-Van Dusen constant (per degree to its power)
#define GW_FIELD_MEASURED_RESISTANCE 46u // measured resistance (ohm)
#define GW_FIELD_SENSOR_RATIO 47u // sensor voltage over reference voltage
#define GW_FIELD_REFERENCE_RESISTOR 48u // reference resistor (ohm)
#define GW_FIELD_DISSIPATION_CONSTANT 49u // dissipation constant (mW/C)
#define GW_FIELD_SENSOR_POWER 50u // power in the temperature sensor (mW)
#define GW_FIELD_SENSOR_CURRENT 51u // current through the temperature sensor (mA)
#define GW_FIELD_THERMOCOUPLE_EMF 52u // thermocouple EMF (mV)
#define GW_FIELD_COLD_JUNCTION_TEMPERATURE 53u // cold junction temperature (C)
#define GW_FIELD_FULL_SCALE_EMF 54u // full-scale EMF (mV)
#define GW_FIELD_THERMOMETER_CODES 55u // codes of the thermometer's range
#define GW_FIELD_LAST_CODE 56u // code at the upper end of the thermometer's range
#define GW_FIELD_CURVE_PIECES 57u // pieces of the curve, a power of two
#define GW_FIELD_FRACTION_OF_WAY 60u // fraction of the way between two sensors
#define GW_FIELD_THERMISTOR_COEFFICIENT 61u // Steinhart-Hart coefficient (1/K)
#define GW_FIELD_THERMISTOR_BETA 62u // thermistor beta (K)
#define GW_FIELD_THERMISTOR_SLOPE 63u // slope of 1/T against ln R of the thermistor (1/K)
#define GW_FIELD_THERMISTOR_POINTS 64u // difference of ln R between two thermistor points
#define GW_FIELD_GRID_ANGLE 65u // angle of a grid (degrees)
#define GW_FIELD_GRID_SEPARATION 66u // angle between two grids (degrees)
#define GW_FIELD_ROSETTE_GAIN 67u // error of the strain state over that of the grids
#define GW_FIELD_GRID_STRAIN 68u // declared strain of the grids (microstrain)
#define GW_FIELD_ELASTIC_MODULUS 69u // elastic modulus (GPa)
#define GW_FIELD_MODULUS_LOW 70u // lower end of the temperature range of the modulus (C)
#define GW_FIELD_MODULUS_HIGH 71u // upper end of the temperature range of the modulus (C)
#define GW_FIELD_MODULUS_UNCERTAINTY 72u // standard uncertainty of the elastic modulus (%)
#define GW_FIELD_POISSON_UNCERTAINTY 73u // standard uncertainty of the Poisson ratio
#define GW_FIELD_STRAIN_UNCERTAINTY 74u // standard uncertainty of the strain (microstrain)
#define GW_FIELD_SHARED_UNCERTAINTY 75u // shared part of the standard uncertainty (microstrain)
#define GW_FIELD_CORRELATION 76u // correlation of two strains
#define GW_FIELD_CORRELATION_DETERMINANT 77u // determinant of the correlations
#define GW_FIELD_FIT_POINTS 78u // number of points of the fit
#define GW_FIELD_FIT_TEMPERATURE_SPREAD 79u // spread of the temperatures of the fit (C)
#define GW_FIELD_FIT_INDEPENDENCE 80u // share of the highest power that is independent of the lower ones
#define GW_FIELD_FIT_DEGREE 81u // degree of the fit
#define GW_FIELD_FIT_UNCERTAINTY 82u // standard uncertainty of a point of the fit
#define GW_FIELD_FIT_UNCERTAINTIES 83u // number of points of the fit that come with an uncertainty
#define GW_FIELD_CHAMBER_READING 84u // reading of the chamber run (microstrain)
#define GW_FIELD_APPLIED_STRAIN 85u // applied strain (microstrain)
#define GW_FIELD_GAUGE_FACTOR_RATIO 86u // gauge factor over the reference's
#define GW_FIELD_COVERAGE_PROBABILITY 87u // coverage probability (%)
#define GW_FIELD_SIGNIFICANCE_LEVEL 88u // significance level (%)
#define GW_FIELD_DEGREES_OF_FREEDOM 89u // degrees of freedom
#define GW_FIELD_EXPANSION_TEMPERATURE 90u // temperature at which an expansion is asked for (C)
#define GW_FIELD_EXPANSION_LOW 91u // lower end of the expansion's temperature range (C)
#define GW_FIELD_EXPANSION_HIGH 92u // upper end of the expansion's temperature range (C)
#define GW_FIELD_EXPANSION_ORIGIN 93u // temperature that an expansion counts from (C)
#define GW_FIELD_EXPANSION_COEFFICIENT 94u // expansion coefficient (ppm/C)
#define GW_FIELD_EXPANSION_TERM 95u // coefficient of an expansion polynomial (per degree to its power)
#define GW_FIELD_EXPANSION_STRAIN 96u // change of length over length of an expansion
#define GW_FIELD_EXPANSION_POINTS 97u // number of points of an expansion table
#define GW_FIELD_EXPANSION_POINT_TEMPERATURE 98u // temperature of a point of an expansion table (C)
#define GW_FIELD_EXPANSION_UNCERTAINTY 99u // standard uncertainty of an expansion coefficient (ppm/C)
#define GW_FIELD_EXPANSION_RELATIVE_UNCERTAINTY 100u // relative standard uncertainty of an expansion (%)
#define GW_FIELD_WINDOW_LOW 101u // lower end of the temperature window (C)
#define GW_FIELD_WINDOW_HIGH 102u // upper end of the temperature window (C)
#define GW_FIELD_TEMPERATURE_ERROR 103u // largest error of the temperature (C)
#define GW_FIELD_OFFERED_MATCHES 104u // number of matches on offer
#define GW_FIELD_FOIL_COEFFICIENT 105u // resistance coefficient of the foil (per degree to its power)
#define GW_FIELD_FOIL_UNCERTAINTY 106u // standard uncertainty of a resistance coefficient (per degree to its power)
#define GW_FIELD_FOIL_LOW 107u // lower end of the temperature range of the foil's resistance (C)
#define GW_FIELD_FOIL_HIGH 108u // upper end of the temperature range of the foil's resistance (C)
#define GW_FIELD_GAUGE_FACTOR_UNCERTAINTY 109u // relative standard uncertainty of the gauge factor (%)
#define GW_FIELD_TEMPERATURE_UNCERTAINTY 110u // standard uncertainty of the temperature (C)
#define GW_FIELD_MEASURED_THERMAL_OUTPUT 111u // measured thermal output (microstrain)
#define GW_FIELD_THERMAL_OUTPUT_UNCERTAINTY 112u // standard uncertainty of the thermal output (microstrain)
#define GW_FIELD_GAUGE_FACTOR_SLOPE_UNCERTAINTY 113u // standard uncertainty of the gauge factor's slope (%/100 C)
#define GW_FIELD_BALANCE_TEMPERATURE_UNCERTAINTY 114u // standard uncertainty of the balance temperature (C)
#define GW_FIELD_THERMOMETER_UNCERTAINTY 115u // standard uncertainty of the thermometer (C)
#define GW_FIELD_THERMAL_OUTPUT_SLOPE_UNCERTAINTY 116u // standard uncertainty of the thermal output's slope (microstrain/C)
#define GW_FIELD_LEAD_RESISTANCE_UNCERTAINTY 117u // standard uncertainty of the lead resistance (ohm)
#define GW_FIELD_LEAD_TEMPERATURE_UNCERTAINTY 118u // standard uncertainty of the leads' temperature rise (C)
#define GW_FIELD_RATIO_UNCERTAINTY 119u // relative standard uncertainty of the output ratio (%)
#define GW_FIELD_READING_NOISE 120u // standard deviation of the samples (codes)
#define GW_FIELD_BALANCE_NOISE 121u // standard uncertainty of the balance code (codes)
#define GW_FIELD_KERNEL_BOUND 122u // error bound of the kernel (nanostrain)
#define GW_FIELD_STRAIN 123u // strain (microstrain)
#define GW_FIELD_ALLOWED_ERROR 124u // allowed error (microstrain)
#define GW_FIELD_PERCENT_READING 125u // size of the reading that an error is a part of (microstrain)
#define GW_FIELD_FIT_RANGE 126u // width of the declared temperatures over that of the fit's points
#define GW_FIELD_FORCED_STRAIN_COEFFICIENT 127u // coefficient of the forced strain (microstrain per degree to its power)
#define GW_FIELD_FORCED_CHANGE 128u // gauge factor times forced strain
#define GW_FIELD_WORD_BITS 129u // bits of a word
#define GW_FIELD_WORD_SHIFT 130u // bits below the value of a word
#define GW_FIELD_TRANSFER_BYTES 131u // bytes of a transfer
#define GW_FIELD_STATUS_BYTE 132u // place of a status byte in a transfer
#define GW_FIELD_STATUS_MASK 133u // mask of a status byte
#define GW_FIELD_STATUS_OUTSIDE_MASK 134u // bits of a good status outside of its mask
#define GW_FIELD_CHECKSUM_BITS 135u // width of a checksum (bits, a multiple of 8)
#define GW_FIELD_CHECKSUM_CHECK 136u // checksum of the characters 123456789
#define GW_FIELD_NO_DATA_PATTERN 137u // pattern that means no data
#define GW_FIELD_REGISTER_STEP 138u // temperature per step of a register (C)
#define GW_FIELD_CODES_IN_MEAN 139u // number of codes in a mean
#define GW_FIELD_NAME_LENGTH 140u // length of a name (bytes)
#define GW_FIELD_DATE_YEAR 141u // year of a date
#define GW_FIELD_DATE_MONTH 142u // month of a date
#define GW_FIELD_DATE_DAY 143u // day of a date
#define GW_FIELD_LOWEST_CODE 144u // lowest code of a kernel
#define GW_FIELD_HIGHEST_CODE 145u // highest code of a kernel
#define GW_FIELD_SHUNT_CODE 146u // code with the shunt
#define GW_FIELD_SHUNT_CHANGE 147u // change of code by the shunt
#define GW_FIELD_STRAIN_RATIO 148u // strain across the gauge over strain along it
#define GW_FIELD_STRAIN_RATIO_UNCERTAINTY 149u // standard uncertainty of the ratio of strains
#define GW_FIELD_TRANSVERSE_SENSITIVITY_UNCERTAINTY 150u // standard uncertainty of the transverse sensitivity (%)
#define GW_FIELD_ANGLE_UNCERTAINTY 151u // standard uncertainty of an angle (degrees)
#define GW_FIELD_RESIDUAL_UNCERTAINTY 152u // standard uncertainty of the residuals (microstrain)
#define GW_FIELD_QUANTISATION 153u // half width of the rounding to a code (codes)
#define GW_QUANTITY_SIGNAL_GAIN 201u // strain over the codes in use (microstrain)
#define GW_QUANTITY_BRIDGE_CURVATURE 202u // bridge curvature
#define GW_QUANTITY_DIVISOR 203u // bridge non-linearity and gauge factor change together
#define GW_QUANTITY_CODE_WINDOW 204u // nearest code of the declared range
#define GW_QUANTITY_THERMAL_OUTPUT_CONSTANT 205u // thermal output constant
#define GW_QUANTITY_GAUGE_FACTOR_CONSTANT 206u // gauge factor constant
#define GW_QUANTITY_SIGNAL 207u // gauge factor times strain
#define GW_QUANTITY_STRAIN_VALUE 208u // strain value
#define GW_QUANTITY_CANCELLATION 209u // cancellation in the package's polynomials
#define GW_QUANTITY_CURVE_CONSTANT 210u // constant of the thermometer's curve
#define GW_QUANTITY_THERMOCOUPLE_EMF 211u // thermocouple EMF for the full scale
#define GW_QUANTITY_THERMAL_OUTPUT_DEGREE 212u // thermal output degree for the kernel type
#define GW_QUANTITY_GAUGE_FACTOR_DEGREE 213u // gauge factor degree for the kernel type
#define GW_QUANTITY_ROSETTE_CONSTANTS 214u // sum of a rosette's constants
#define GW_QUANTITY_UNCERTAINTY_ROW 215u // uncertainty in steps of strain
#define GW_QUANTITY_PRODUCT_CONSTANTS 216u // constants of the product of thermal and mechanical change for the kernel type
#define GW_QUANTITY_GAUGE_FACTOR 217u // gauge factor (2^-28)
#define GW_QUANTITY_GAUGE_FACTOR_REMAINDER 218u // remainder of the gauge factor's polynomial (nanostrain)
#define GW_PART_CONSTANTS 301u // rounding of constants
#define GW_PART_OPERATIONS 302u // rounding of operations
#define GW_PART_RECIPROCAL 303u // remainder of the reciprocal
#define GW_PART_OUTPUT 304u // rounding of the result
#define GW_PART_TEMPERATURE 305u // error of the temperature
#define GW_PART_CIRCUIT 306u // remainder of the circuit's map
#define GW_PART_GAUGE_FACTOR 307u // remainder of the gauge factor's polynomial
#define GW_PATH_ONE_CALL 501u // one call
#define GW_PATH_SPLIT 502u // the split path

// ---------- Where the library has each field ----------

// A compiler, or an option, that lays structs out in another way stops here. (A double and a number of 64 bits are aligned as on
// the target, to four or eight bytes.)
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
#define GW_LIES(type, size, as) GW_ASSERT(sizeof(type) == (size) && GW_ALIGNMENT(type) == GW_ALIGNMENT(as))
#define GW_AT(type, field, offset) GW_ASSERT(offsetof(type, field) == (offset))
GW_LIES(gw_gauge, 184, double);
GW_AT(gw_gauge, gauge_factor, 0); GW_AT(gw_gauge, gauge_factor_slope, 8); GW_AT(gw_gauge, gauge_factor_square, 16);
GW_AT(gw_gauge, gauge_factor_cube, 24); GW_AT(gw_gauge, thermal_output, 32); GW_AT(gw_gauge, stated_for, 80);
GW_AT(gw_gauge, fitted_low, 88); GW_AT(gw_gauge, fitted_high, 96); GW_AT(gw_gauge, reference_temperature, 104);
GW_AT(gw_gauge, matched_expansion, 112); GW_AT(gw_gauge, transverse_sensitivity, 120); GW_AT(gw_gauge, calibration_poisson_ratio, 128);
GW_AT(gw_gauge, thermal_output_terms, 168); GW_AT(gw_gauge, thermal_output_scale, 172); GW_AT(gw_gauge, forced_strain, 136);
GW_AT(gw_gauge, gauge_factor_basis, 176); GW_AT(gw_gauge, reserved, 180);
GW_LIES(gw_channel, 368, double);
GW_AT(gw_channel, gauge, 0); GW_AT(gw_channel, gauge_resistance, 184); GW_AT(gw_channel, lead_resistance, 192);
GW_AT(gw_channel, output_lead_resistance, 200); GW_AT(gw_channel, completion_resistance, 208); GW_AT(gw_channel, reference_upper, 216);
GW_AT(gw_channel, reference_lower, 224); GW_AT(gw_channel, input_resistance, 232); GW_AT(gw_channel, poisson_ratio, 240);
GW_AT(gw_channel, full_scale_ratio, 248); GW_AT(gw_channel, reading_step, 256); GW_AT(gw_channel, instrument_gauge_factor, 264);
GW_AT(gw_channel, balance_code, 272); GW_AT(gw_channel, balance_temperature, 280); GW_AT(gw_channel, strain_limit, 288);
GW_AT(gw_channel, temperature_low, 296); GW_AT(gw_channel, temperature_high, 304); GW_AT(gw_channel, specimen_expansion, 312);
GW_AT(gw_channel, span_correction, 320); GW_AT(gw_channel, error_within, 328); GW_AT(gw_channel, circuit, 336);
GW_AT(gw_channel, converter, 340); GW_AT(gw_channel, converter_bits, 344); GW_AT(gw_channel, remote_sense, 348);
GW_AT(gw_channel, reversed, 352); GW_AT(gw_channel, mismatch_scale, 356); GW_AT(gw_channel, correction, 360);
GW_AT(gw_channel, reserved, 364);
GW_LIES(gw_error, 32, double);
GW_AT(gw_error, code, 0); GW_AT(gw_error, field, 4); GW_AT(gw_error, value, 8);
GW_AT(gw_error, low, 16); GW_AT(gw_error, high, 24);
GW_LIES(gw_seal, 8, uint32_t);
GW_AT(gw_seal, format, 0); GW_AT(gw_seal, checksum, 4);
GW_LIES(gw_reading, 8, uint32_t);
GW_AT(gw_reading, strain, 0); GW_AT(gw_reading, flags, 4);
GW_LIES(gw_ranges, 16, uint32_t);
GW_AT(gw_ranges, code_low, 0); GW_AT(gw_ranges, code_high, 4); GW_AT(gw_ranges, temperature_low, 8);
GW_AT(gw_ranges, temperature_high, 12);
GW_LIES(gw_bound, 16, double);
GW_AT(gw_bound, reading, 0); GW_AT(gw_bound, point, 8);
GW_LIES(gw_zero, 16, double);
GW_AT(gw_zero, sum, 0); GW_AT(gw_zero, count, 8); GW_AT(gw_zero, temperature, 12);
GW_LIES(gw_identity, 64, double);
GW_AT(gw_identity, description, 0); GW_AT(gw_identity, zero, 8); GW_AT(gw_identity, span, 24);
GW_AT(gw_identity, year, 28); GW_AT(gw_identity, month, 30); GW_AT(gw_identity, day, 31);
GW_AT(gw_identity, name, 32);
GW_LIES(gw_known_answer, 20, uint32_t);
GW_AT(gw_known_answer, code, 0); GW_AT(gw_known_answer, temperature, 4); GW_AT(gw_known_answer, compensating, 8);
GW_AT(gw_known_answer, strain, 12); GW_AT(gw_known_answer, flags, 16);
GW_LIES(gw_plane_strain, 16, uint32_t);
GW_AT(gw_plane_strain, mean, 0); GW_AT(gw_plane_strain, half_difference, 4); GW_AT(gw_plane_strain, half_shear, 8);
GW_AT(gw_plane_strain, flags, 12);
GW_LIES(gw_principal, 16, uint32_t);
GW_AT(gw_principal, first, 0); GW_AT(gw_principal, second, 4); GW_AT(gw_principal, half_shear, 8);
GW_AT(gw_principal, flags, 12);
GW_LIES(gw_elasticity, 8, uint32_t);
GW_AT(gw_elasticity, modulus, 0); GW_AT(gw_elasticity, poisson_ratio, 4);
GW_LIES(gw_stress, 24, uint32_t);
GW_AT(gw_stress, first, 0); GW_AT(gw_stress, second, 4); GW_AT(gw_stress, in_plane_shear, 8);
GW_AT(gw_stress, von_mises, 12); GW_AT(gw_stress, tresca, 16); GW_AT(gw_stress, flags, 20);
GW_LIES(gw_report, 24, uint32_t);
GW_AT(gw_report, healthy, 0); GW_AT(gw_report, at_rail, 4); GW_AT(gw_report, verdicts, 8);
GW_LIES(gw_rosette, 36, uint32_t);
GW_LIES(gw_wiring_check, 184, uint32_t);
GW_LIES(gw_shunt_check, 24, uint32_t);
GW_LIES(gw_uncertainty, 200, uint32_t);
GW_LIES(gw_uncertainty_point, 24, uint32_t);
GW_LIES(gw_kernel, 64, uint32_t);
GW_LIES(gw_point, 36, uint32_t);
GW_LIES(gw_linear_point, 40, uint32_t);
GW_LIES(gw_large_kernel, 80, uint32_t);
GW_LIES(gw_compensated_kernel, 96, uint32_t);
GW_LIES(gw_large_compensated_kernel, 116, uint32_t);
GW_LIES(gw_float_kernel, 68, uint32_t);
GW_LIES(gw_large_float_kernel, 84, uint32_t);
GW_LIES(gw_float_compensated_kernel, 104, uint32_t);
GW_LIES(gw_large_float_compensated_kernel, 124, uint32_t);
GW_LIES(gw_float_point, 36, uint32_t);
GW_LIES(gw_adjustable_kernel, 224, uint64_t);
GW_LIES(gw_resistance_thermometer, 340, uint32_t);
GW_LIES(gw_thermocouple, 1392, uint32_t);
GW_LIES(gw_temperature_reading, 8, uint32_t); GW_AT(gw_temperature_reading, temperature, 0); GW_AT(gw_temperature_reading, flags, 4);
GW_LIES(gw_last_reading, 20, uint32_t);
GW_AT(gw_last_reading, limit, 0); GW_AT(gw_last_reading, temperature, 4); GW_AT(gw_last_reading, flags, 8);
GW_AT(gw_last_reading, updated_at, 12); GW_AT(gw_last_reading, unusable, 16);
GW_LIES(gw_float_reading, 8, uint32_t); GW_AT(gw_float_reading, strain, 0); GW_AT(gw_float_reading, flags, 4);

#ifdef __cplusplus
}  // extern "C"
#endif

#endif
