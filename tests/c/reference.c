// The library from C, on the host: committed bits and records, channels compiled here, zero and span on site, refused input, null
// pointers, kernels of any bytes. Built with sanitizers by tests/c/run; ends with a failure at the first thing that is wrong.
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "gaugewright.h"
#include "counted_kernels.h"
#include "every_key.h"
#include "gondola_kernels.h"

#define CHECK(fact)                                                                                 \
    do {                                                                                            \
        if (!(fact)) {                                                                              \
            fprintf(stderr, "%s:%d: not so: %s\n", __FILE__, __LINE__, #fact);                      \
            exit(1);                                                                                \
        }                                                                                           \
    } while (0)

// Steps of Q34.
static const double STEPS = 17179869184.0;

static uint64_t state = 1;

// A small generator: the same numbers everywhere.
static uint32_t anything(void) {
    state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(state >> 32);
}

static void fill(void *place, size_t size) {
    unsigned char *bytes = place;
    for (size_t i = 0; i < size; i++) {
        bytes[i] = (unsigned char)anything();
    }
}

// The gauges of tests/data/gauges.csv and polynomials.csv that the committed vectors are made with.
static gw_gauge gauge(double factor, double slope, double matched, double stated, const double *curve, uint32_t terms) {
    gw_channel channel;
    CHECK(gw_channel_default(&channel) == GW_STATUS_OK);
    gw_gauge gauge = channel.gauge;
    gauge.gauge_factor = factor;
    gauge.gauge_factor_slope = slope;
    gauge.matched_expansion = matched;
    gauge.stated_for = stated;
    gauge.fitted_low = -200.0;
    gauge.fitted_high = 300.0;
    gauge.thermal_output_terms = terms;
    memcpy(gauge.thermal_output, curve, terms * sizeof *curve);
    return gauge;
}

static const double STEEL[] = {-43.2121, 3.16913, -0.0628625, 0.000248734, -1.69725e-7};
static const double STEEL_FIVE[] = {-43.2385, 3.16944, -0.0628563, 0.000248703, -1.69891e-7, 6.62953e-13};
static const double ALUMINIUM[] = {-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7};
static const double TITANIUM[] = {-32.9603, 2.70279, -0.0608708, 0.000233371, -1.62185e-7};
static const double TITANIUM_FIVE[] = {-32.9684, 2.70288, -0.0608689, 0.000233361, -1.62236e-7, 2.01801e-13};
static const double NICKEL_FIVE[] = {-23.1342, 1.16756, -0.00798067, -2.23353e-5, 5.72517e-8, -1.32042e-14};

enum { DESCRIBED = 7 };

static const char *const NAMES[DESCRIBED] = {"wide",       "mild",         "degree five", "cubic factor",
                                            "fine codes", "coarse codes", "instrument"};

static gw_channel quarter(gw_gauge measuring, double lead, double full_scale, double code, double celsius) {
    gw_channel channel;
    CHECK(gw_channel_default(&channel) == GW_STATUS_OK);
    channel.gauge = measuring;
    channel.circuit = GW_CIRCUIT_QUARTER_THREE_WIRE;
    channel.gauge_resistance = 350.0;
    channel.lead_resistance = lead;
    channel.converter_bits = 24;
    channel.full_scale_ratio = full_scale;
    channel.balance_code = code;
    channel.balance_temperature = celsius;
    return channel;
}

static gw_channel described(int which) {
    gw_gauge steel = gauge(2.085, 0.94, 11.0, 2.0, STEEL, 5);
    gw_gauge aluminium = gauge(2.065, 1.07, 23.0, 2.0, ALUMINIUM, 5);
    gw_channel channel = quarter(steel, 1.2, 1.0 / 64.0, 98765.25, 21.5);
    channel.strain_limit = 34500.0;
    switch (which) {
    case 0:
        break;
    case 1:
        channel = quarter(aluminium, 1.2, 1.0 / 128.0, -123456.75, 18.5);
        channel.strain_limit = 5200.0;
        channel.temperature_low = -80.0;
        channel.temperature_high = 100.0;
        break;
    case 2:
        channel.gauge = gauge(2.045, 0.91, 9.0, 2.0, TITANIUM_FIVE, 6);
        break;
    case 3:
        channel = quarter(gauge(2.085, 0.6, 11.0, 2.0, STEEL_FIVE, 6), 0.8, 1.0 / 64.0, -400000.5, 150.0);
        channel.gauge.gauge_factor_square = 1.5e-7;
        channel.gauge.gauge_factor_cube = -2.0e-10;
        channel.circuit = GW_CIRCUIT_QUARTER_TWO_WIRE;
        channel.gauge_resistance = 120.0;
        channel.specimen_expansion = 16.2;
        channel.strain_limit = 20000.0;
        break;
    case 4:
        channel = quarter(gauge(2.045, 0.91, 9.0, 2.0, TITANIUM, 5), 2.5, 1.0 / 128.0, 31000000.5, 20.0);
        channel.converter_bits = 32;
        channel.strain_limit = 10000.0;
        break;
    case 5:
        channel = quarter(gauge(2.18, -0.97, 13.0, 2.1, NICKEL_FIVE, 6), 0.0, 1.0 / 64.0, -777.5, 25.0);
        channel.gauge_resistance = 1000.0;
        channel.converter_bits = 16;
        break;
    default:
        channel = quarter(aluminium, 0.0, NAN, 1234.0, 30.0);
        channel.circuit = GW_CIRCUIT_INSTRUMENT;
        channel.reading_step = 0.01;
        channel.instrument_gauge_factor = 2.0;
        channel.strain_limit = 8000.0;
        break;
    }
    return channel;
}

// A word of a kernel, so that the tests reach what the library has in it.
static long strain_limit(const gw_large_kernel *kernel) { return (long)(int32_t)kernel->words[8]; }

// Every line of the committed vectors, from kernels that are compiled here.
static void committed_bits(const char *path) {
    gw_large_kernel kernels[DESCRIBED];
    for (int i = 0; i < DESCRIBED; i++) {
        gw_channel channel = described(i);
        gw_error error;
        gw_status status = gw_large_kernel_build(&channel, &kernels[i], &error);
        char words[256];
        gw_error_message(&error, words, sizeof words);
        if (status != GW_STATUS_OK) {
            fprintf(stderr, "%s: %s\n", NAMES[i], words);
        }
        CHECK(status == GW_STATUS_OK && error.code == GW_STATUS_OK);
    }
    FILE *file = fopen(path, "r");
    CHECK(file != NULL);
    char line[256];
    int lines = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        char name[32];
        int32_t code, temperature, strain, split;
        uint32_t flags;
        if (line[0] == '#' || strncmp(line, "channel,", 8) == 0) {
            continue;
        }
        CHECK(sscanf(line, "%31[^,],%" SCNd32 ",%" SCNd32 ",%" SCNd32 ",%" SCNu32 ",%" SCNd32, name, &code,
                     &temperature, &strain, &flags, &split) == 6);
        int which = 0;
        while (which < DESCRIBED && strcmp(NAMES[which], name) != 0) {
            which++;
        }
        CHECK(which < DESCRIBED);
        const gw_large_kernel *kernel = &kernels[which];
        gw_reading one = gw_large_kernel_reading(kernel, code, temperature);
        CHECK(one.strain == strain && one.flags == flags);
        gw_point point = gw_large_kernel_at(kernel, temperature);
        gw_reading by_point = gw_point_reading(&point, code);
        CHECK(by_point.strain == split);
        // The two paths differ by a step or two, and so by a flag where the strain limit lies between them.
        int on_both_sides = labs((long)split) <= strain_limit(kernel) && labs((long)strain) > strain_limit(kernel);
        CHECK(by_point.flags == (on_both_sides ? flags & ~GW_FLAG_STRAIN_OUTSIDE : flags));
        gw_reading block;
        CHECK(gw_large_kernel_readings(kernel, &code, &temperature, &block, 1) == GW_STATUS_OK);
        CHECK(block.strain == strain && block.flags == flags);
        CHECK(gw_point_readings(&point, &code, &block, 1) == GW_STATUS_OK && block.strain == split);
        gw_linear_point linear;
        if (gw_point_linear(&point, &linear) == GW_STATUS_OK) {
            gw_reading short_path = gw_linear_point_reading(&linear, code);
            CHECK(short_path.strain == split && short_path.flags == by_point.flags);
            CHECK(gw_linear_point_readings(&linear, &code, &block, 1) == GW_STATUS_OK && block.strain == split);
        }
        lines++;
    }
    CHECK(fclose(file) == 0);
    CHECK(lines == 1400);
    printf("committed bits: %d lines\n", lines);
}

// The kernel of the usual package gives what the large one gives; a promise is kept or said to be missed.
static void both_kernels(void) {
    gw_channel channel = described(1);
    gw_kernel kernel;
    gw_large_kernel large;
    gw_bound bound;
    gw_ranges ranges, of_large;
    CHECK(gw_kernel_build(&channel, &kernel, NULL) == GW_STATUS_OK);
    CHECK(gw_large_kernel_build(&channel, &large, NULL) == GW_STATUS_OK);
    CHECK(gw_kernel_ranges(&kernel, &ranges) == GW_STATUS_OK);
    CHECK(gw_large_kernel_ranges(&large, &of_large) == GW_STATUS_OK);
    CHECK(memcmp(&ranges, &of_large, sizeof ranges) == 0);
    CHECK(ranges.temperature_low == -80 * GW_STEPS_PER_DEGREE && ranges.temperature_high == 100 * GW_STEPS_PER_DEGREE);
    for (int i = 0; i < 100000; i++) {
        int32_t code = (int32_t)(anything() >> (i % 16)), temperature = (int32_t)(anything() >> (i % 7));
        CHECK(gw_kernel_reading_packed(&kernel, code, temperature) ==
              gw_large_kernel_reading_packed(&large, code, temperature));
    }
    CHECK(gw_kernel_error_bound(&kernel, &bound) == GW_STATUS_OK);
    CHECK(bound.reading > 0.1 && bound.reading < 0.5 && bound.point > 0.1 && bound.point < 0.5);
    gw_error error;
    channel.error_within = 0.5;
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_OK);
    channel.error_within = 0.01;
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_BOUND);
    CHECK(error.high == 0.01 && error.value > 0.1 && error.field >= GW_PART_CONSTANTS);
    // Degree five has no room in the small one.
    channel = described(2);
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_OVERFLOW);
    CHECK(error.field == GW_QUANTITY_THERMAL_OUTPUT_DEGREE && error.value == 5.0 && error.high == 4.0);
}

// Kernels that the host made of the flight: of two temperatures, and in single precision. Each block has the bits of one call; a
// point is within a nanostrain of it, and single precision within its bound of the integers.
static void other_kernels(void) {
    enum { SAMPLES = 64 };
    int32_t codes[SAMPLES], warm[SAMPLES], cold[SAMPLES];
    gw_reading block[SAMPLES], large_block[SAMPLES];
    gw_float_reading float_block[SAMPLES], large_float_block[SAMPLES];
    for (int i = 0; i < SAMPLES; i++) {
        codes[i] = (int32_t)(anything() % 400000u) - 200000;
        warm[i] = (int32_t)(anything() % (100u << 20)) - 60 * GW_STEPS_PER_DEGREE;
        cold[i] = warm[i] - (int32_t)(anything() % (2u << 20));
    }
    CHECK(gw_compensated_kernel_readings(&kernel_counted_pair, codes, warm, cold, block, SAMPLES) == GW_STATUS_OK);
    CHECK(gw_large_compensated_kernel_readings(&kernel_counted_large_pair, codes, warm, cold, large_block, SAMPLES) == GW_STATUS_OK);
    CHECK(gw_float_compensated_kernel_readings(&float_kernel_counted_pair, codes, warm, cold, float_block, SAMPLES) == GW_STATUS_OK);
    CHECK(gw_large_float_compensated_kernel_readings(&float_kernel_counted_large_pair, codes, warm, cold, large_float_block,
                                                     SAMPLES) == GW_STATUS_OK);
    int clear = 0;
    for (int i = 0; i < SAMPLES; i++) {
        gw_reading one = gw_compensated_kernel_reading(&kernel_counted_pair, codes[i], warm[i], cold[i]);
        CHECK(one.strain == block[i].strain && one.flags == block[i].flags);
        gw_point point = gw_compensated_kernel_at(&kernel_counted_pair, warm[i], cold[i]);
        CHECK(labs((long)gw_point_reading(&point, codes[i]).strain - one.strain) <= 17);
        gw_float_reading in_float =
            gw_float_compensated_kernel_reading(&float_kernel_counted_pair, codes[i], warm[i], cold[i]);
        CHECK(in_float.strain == float_block[i].strain && in_float.flags == one.flags);
        CHECK(fabs((double)in_float.strain - one.strain / STEPS) < 3e-9);
        gw_float_point float_point = gw_float_compensated_kernel_at(&float_kernel_counted_pair, warm[i], cold[i]);
        CHECK(fabs((double)gw_float_point_reading(&float_point, codes[i]).strain - one.strain / STEPS) < 3e-9);
        clear += one.flags == 0;

        one = gw_large_compensated_kernel_reading(&kernel_counted_large_pair, codes[i], warm[i], cold[i]);
        CHECK(one.strain == large_block[i].strain && one.flags == large_block[i].flags);
        point = gw_large_compensated_kernel_at(&kernel_counted_large_pair, warm[i], cold[i]);
        CHECK(labs((long)gw_point_reading(&point, codes[i]).strain - one.strain) <= 17);
        in_float = gw_large_float_compensated_kernel_reading(&float_kernel_counted_large_pair, codes[i], warm[i], cold[i]);
        CHECK(in_float.strain == large_float_block[i].strain && in_float.flags == one.flags);
        float_point = gw_large_float_compensated_kernel_at(&float_kernel_counted_large_pair, warm[i], cold[i]);
        CHECK(fabs((double)gw_float_point_reading(&float_point, codes[i]).strain - (double)in_float.strain) < 3e-9);
        CHECK(fabs((double)in_float.strain - one.strain / STEPS) < 3e-9);

        one = gw_large_kernel_reading(&kernel_counted_any, codes[i], warm[i]);
        in_float = gw_large_float_kernel_reading(&float_kernel_counted_any, codes[i], warm[i]);
        CHECK(in_float.flags == one.flags && fabs((double)in_float.strain - one.strain / STEPS) < 3e-9);
        CHECK(gw_large_float_kernel_readings(&float_kernel_counted_any, &codes[i], &warm[i], float_block, 1) == GW_STATUS_OK);
        CHECK(float_block[0].strain == in_float.strain);
        float_point = gw_large_float_kernel_at(&float_kernel_counted_any, warm[i]);
        CHECK(gw_float_point_readings(&float_point, &codes[i], float_block, 1) == GW_STATUS_OK);
        CHECK(fabs((double)float_block[0].strain - (double)in_float.strain) < 3e-9);

        one = gw_kernel_reading(&kernel_counted_wide, codes[i], warm[i]);
        in_float = gw_float_kernel_reading(&float_kernel_counted_wide, codes[i], warm[i]);
        CHECK(in_float.flags == one.flags && fabs((double)in_float.strain - one.strain / STEPS) < 6e-9);
        CHECK(gw_float_kernel_readings(&float_kernel_counted_wide, &codes[i], &warm[i], float_block, 1) == GW_STATUS_OK);
        CHECK(float_block[0].strain == in_float.strain);
        float_point = gw_float_kernel_at(&float_kernel_counted_wide, warm[i]);
        CHECK(fabs((double)gw_float_point_reading(&float_point, codes[i]).strain - (double)in_float.strain) < 6e-9);
    }
    CHECK(clear > SAMPLES / 2);
    puts("two temperatures and single precision: blocks, points and calls agree");
}

// Every bit of a kernel counts, and the format of its seal.
static void seals(void) {
    gw_channel channel = described(0);
    gw_kernel kernel;
    gw_seal seal;
    gw_error error;
    CHECK(gw_kernel_build(&channel, &kernel, NULL) == GW_STATUS_OK);
    CHECK(gw_seal_make(&kernel, sizeof kernel, &seal) == GW_STATUS_OK && seal.format == GW_FORMAT);
    CHECK(gw_seal_check(&kernel, sizeof kernel, &seal, &error) == GW_STATUS_OK && error.code == GW_STATUS_OK);
    for (size_t bit = 0; bit < 8 * sizeof kernel; bit++) {
        gw_kernel other = kernel;
        other.words[bit / 32] ^= UINT32_C(1) << bit % 32;
        CHECK(gw_seal_check(&other, sizeof other, &seal, &error) == GW_STATUS_CHECKSUM);
    }
    CHECK(gw_seal_check(&kernel, sizeof kernel - 4, &seal, NULL) == GW_STATUS_CHECKSUM);
    seal.format++;
    CHECK(gw_seal_check(&kernel, sizeof kernel, &seal, NULL) == GW_STATUS_FORMAT);
}

// A record that Rust has written, by its name in tests/data/records.csv.
static size_t committed_record(const char *path, const char *name, uint8_t *bytes, size_t size) {
    FILE *file = fopen(path, "r");
    CHECK(file != NULL);
    char line[1024];
    size_t count = 0;
    while (count == 0 && fgets(line, sizeof line, file) != NULL) {
        const char *digits = strchr(line, ',');
        if (digits == NULL || strlen(name) != (size_t)(digits - line) || memcmp(line, name, strlen(name)) != 0) {
            continue;
        }
        unsigned byte;
        while (count < size && sscanf(digits + 1 + 2 * count, "%2x", &byte) == 1) {
            bytes[count++] = (uint8_t)byte;
        }
    }
    CHECK(fclose(file) == 0);
    return count;
}

// What Rust wrote is read, tested and written again, byte for byte; a changed bit is found.
static void records(const char *path) {
    uint8_t bytes[GW_LARGE_RECORD_BYTES + 1], again[GW_LARGE_RECORD_BYTES];
    gw_kernel kernel;
    gw_large_kernel large;
    gw_identity identity;
    gw_known_answer answers[GW_KNOWN_ANSWERS];
    gw_error error;
    CHECK(committed_record(path, "strut", bytes, sizeof bytes) == GW_RECORD_BYTES);
    CHECK(gw_kernel_record_read(bytes, GW_RECORD_BYTES, &kernel, &identity, answers, &error) == GW_STATUS_OK);
    CHECK(error.code == GW_STATUS_OK && strcmp(identity.name, "strut north") == 0);
    CHECK(identity.year == 2026 && identity.month == 3 && identity.day == 14);
    CHECK(identity.zero.sum == -1234567 && identity.zero.count == 100 && identity.span > GW_SPAN_ONE);
    CHECK(gw_kernel_self_test(&kernel, answers, NULL) == GW_STATUS_OK);
    fill(again, sizeof again);
    CHECK(gw_kernel_record_write(&kernel, &identity, answers, again, sizeof again, &error) == GW_STATUS_OK);
    CHECK(memcmp(again, bytes, GW_RECORD_BYTES) == 0);
    fill(again, sizeof again);
    CHECK(gw_kernel_record_write(&kernel, &identity, NULL, again, GW_RECORD_BYTES, NULL) == GW_STATUS_OK);
    CHECK(memcmp(again, bytes, GW_RECORD_BYTES) == 0);
    // What is not asked for may be null, and what is refused is not written.
    CHECK(gw_kernel_record_read(bytes, GW_RECORD_BYTES, &kernel, NULL, NULL, NULL) == GW_STATUS_OK);
    const gw_kernel before = kernel;
    for (size_t bit = 0; bit < 8 * GW_RECORD_BYTES; bit++) {
        bytes[bit / 8] ^= (uint8_t)(1 << bit % 8);
        CHECK(gw_kernel_record_read(bytes, GW_RECORD_BYTES, &kernel, &identity, answers, &error) != GW_STATUS_OK);
        CHECK(error.code != GW_STATUS_OK && memcmp(&kernel, &before, sizeof kernel) == 0);
        bytes[bit / 8] ^= (uint8_t)(1 << bit % 8);
    }
    CHECK(gw_kernel_record_read(bytes, GW_RECORD_BYTES - 1, &kernel, NULL, NULL, &error) == GW_STATUS_RECORD_LENGTH);
    CHECK(error.value == 191.0 && error.high == 192.0);
    CHECK(gw_kernel_record_write(&kernel, &identity, answers, again, 0, &error) == GW_STATUS_RECORD_LENGTH);
    answers[1].strain++;
    CHECK(gw_kernel_self_test(&kernel, answers, &error) == GW_STATUS_SELF_TEST && error.low == 1.0);
    CHECK(error.high == error.value + 1.0);
    memset(identity.name, 'x', sizeof identity.name);
    CHECK(gw_kernel_record_write(&kernel, &identity, NULL, again, sizeof again, &error) == GW_STATUS_INVALID);
    CHECK(error.field == GW_FIELD_NAME_LENGTH && error.value == 25.0);

    CHECK(committed_record(path, "any channel", bytes, sizeof bytes) == GW_LARGE_RECORD_BYTES);
    CHECK(gw_kernel_record_read(bytes, GW_LARGE_RECORD_BYTES, &kernel, NULL, NULL, NULL) == GW_STATUS_RECORD_KIND);
    CHECK(gw_large_kernel_record_read(bytes, GW_LARGE_RECORD_BYTES, &large, &identity, answers, NULL) == GW_STATUS_OK);
    CHECK(gw_large_kernel_self_test(&large, answers, NULL) == GW_STATUS_OK);
    fill(again, sizeof again);
    CHECK(gw_large_kernel_record_write(&large, &identity, answers, again, sizeof again, NULL) == GW_STATUS_OK);
    CHECK(memcmp(again, bytes, GW_LARGE_RECORD_BYTES) == 0);
    puts("records: those of Rust, byte for byte");
}

// Constants that the host made: whole, and for the balance of the channel the readings of its kernel, within both bounds.
static void zero_and_span(void) {
    const gw_zero zero = {INT64_C(167622) * 64, 64, 37 * (GW_STEPS_PER_DEGREE / 2)};
    gw_kernel kernel;
    gw_error error;
    uint32_t span;
    CHECK(gw_kernel_self_test(&kernel_strut_north, answers_strut_north, NULL) == GW_STATUS_OK);
    CHECK(gw_seal_check(&adjustable_strut_north, sizeof adjustable_strut_north, &adjustable_strut_north_seal, &error) == GW_STATUS_OK);
    CHECK(gw_kernel_adjust(&adjustable_strut_north, &zero, GW_SPAN_ONE, &kernel, &error) == GW_STATUS_OK);
    CHECK(gw_nanostrain(gw_kernel_reading(&kernel, 167622, zero.temperature).strain) == 0);
    int clear = 0;
    for (int i = 0; i < 100000; i++) {
        int32_t code = (int32_t)(anything() >> 10) - 2097152;
        int32_t temperature = (int32_t)(anything() % (180u << 20)) - 80 * GW_STEPS_PER_DEGREE;
        gw_reading of_host = gw_kernel_reading(&kernel_strut_north, code, temperature);
        gw_reading of_site = gw_kernel_reading(&kernel, code, temperature);
        if (of_host.flags == 0 && of_site.flags == 0) {
            CHECK(labs((long)of_host.strain - (long)of_site.strain) <= 12);
            clear++;
        }
    }
    CHECK(clear > 90000);
    const gw_kernel before = kernel;
    gw_zero other = zero;
    other.sum = INT64_C(2000001) * 64;
    CHECK(gw_kernel_adjust(&adjustable_strut_north, &other, GW_SPAN_ONE, &kernel, &error) == GW_STATUS_INVALID);
    CHECK(error.field == GW_FIELD_BALANCE_CODE && error.value == 2000001.0 && error.high == 2000000.0);
    CHECK(gw_kernel_adjust(&adjustable_strut_north, &zero, GW_SPAN_ONE + 1, &kernel, &error) == GW_STATUS_INVALID);
    CHECK(error.field == GW_FIELD_SPAN_CORRECTION && error.low == 1.0 && error.high == 1.0);
    CHECK(memcmp(&kernel, &before, sizeof kernel) == 0);
    CHECK(gw_span_of_codes(10000, 8000, &span, NULL) == GW_STATUS_OK && span == GW_SPAN_ONE + GW_SPAN_ONE / 4);
    CHECK(gw_span_of_codes(10000, -8000, &span, &error) == GW_STATUS_INVALID && isnan(error.value));
    // Of any bytes something defined comes out.
    for (int i = 0; i < 20000; i++) {
        gw_adjustable_kernel any;
        gw_kernel inner;
        gw_identity identity;
        gw_known_answer answers[GW_KNOWN_ANSWERS];
        uint8_t bytes[GW_RECORD_BYTES];
        fill(&any, sizeof any);
        fill(&other, sizeof other);
        fill(&identity, sizeof identity);
        fill(answers, sizeof answers);
        fill(bytes, sizeof bytes);
        memcpy(&inner, &any.words[16], sizeof inner);
        if (i % 2 == 0) {
            // Any temperature, any balance, any span.
            inner.words[12] = UINT32_C(1) << 31;
            inner.words[13] = INT32_MAX;
            memcpy(&any.words[16], &inner, sizeof inner);
            any.words[24] = UINT64_C(0x7fffffff80000000);
            any.words[25] = UINT64_C(0xffffffff00000000);
            other.count = 1 + anything() % 65536;
            other.sum = (int64_t)(int32_t)anything() * other.count;
            CHECK(gw_kernel_adjust(&any, &other, anything(), &kernel, &error) == GW_STATUS_OK);
        }
        gw_kernel_adjust(&any, &other, anything(), &kernel, &error);
        gw_span_of_codes((int64_t)any.words[0], (int64_t)any.words[1], &span, &error);
        CHECK(gw_kernel_self_test(&inner, answers, &error) != GW_STATUS_OK);
        CHECK(gw_kernel_record_write(&inner, &identity, answers, bytes, sizeof bytes, &error) != GW_STATUS_OK);
        CHECK(gw_kernel_record_read(bytes, sizeof bytes, &kernel, &identity, answers, &error) != GW_STATUS_OK);
    }
    puts("zero and span: those of the host within the bounds");
}

// The last usable temperature, its age, its flags in words; and constants and states of any bytes.
static void thermometers(void) {
    gw_last_reading last;
    char words[160];
    fill(&last, sizeof last);
    CHECK(gw_last_reading_start(&last, 50) == GW_STATUS_OK);
    CHECK(gw_last_reading_at(&last, 7).flags == GW_THERMOMETER_NO_READING);
    const gw_temperature_reading cold = {-40 * GW_STEPS_PER_DEGREE, 0}, open = {0, GW_THERMOMETER_OPEN};
    CHECK(gw_last_reading_update(&last, cold, UINT32_MAX - 9) == GW_STATUS_OK);
    CHECK(gw_last_reading_update(&last, open, 30) == GW_STATUS_OK && last.unusable == 1);
    CHECK(gw_last_reading_at(&last, 40).flags == 0 && gw_last_reading_at(&last, 40).temperature == cold.temperature);
    CHECK(gw_last_reading_at(&last, 41).flags == GW_THERMOMETER_STALE && last.temperature == cold.temperature);
    CHECK(gw_thermometer_flags_message(last.flags, words, sizeof words) == 5 && strcmp(words, "stale") == 0);
    CHECK(gw_thermometer_flags_message(UINT32_MAX, words, sizeof words) < sizeof words);
    int32_t low, high;
    CHECK(gw_resistance_thermometer_reading(NULL, 0).flags == GW_THERMOMETER_NULL);
    CHECK(gw_thermocouple_reading(NULL, 0, 0).flags == GW_THERMOMETER_NULL);
    CHECK(gw_resistance_thermometer_codes(NULL, &low, &high) == GW_STATUS_NULL);
    CHECK(gw_last_reading_start(NULL, 0) == GW_STATUS_NULL);
    CHECK(gw_last_reading_update(NULL, cold, 0) == GW_STATUS_NULL);
    CHECK(gw_last_reading_at(NULL, 0).flags == GW_THERMOMETER_NULL);
    CHECK(gw_thermometer_flags_message(1, NULL, 8) == 0);
    const gw_temperature_reading warm = {40 * GW_STEPS_PER_DEGREE, 0};
    CHECK(gw_sensor_pair_reading(65536u / 2, cold, warm).temperature == 0);
    CHECK(gw_sensor_pair_reading(65536u / 2, open, warm).temperature == warm.temperature);
    CHECK(gw_sensor_pair_reading(65536u / 2, open, warm).flags == GW_THERMOMETER_ONE_SENSOR);
    uint32_t flags = 0;
    for (int i = 0; i < 5000; i++) {
        gw_resistance_thermometer resistance;
        gw_thermocouple thermocouple;
        fill(&resistance, sizeof resistance);
        fill(&thermocouple, sizeof thermocouple);
        fill(&last, sizeof last);
        flags |= gw_resistance_thermometer_reading(&resistance, (int32_t)anything()).flags;
        flags |= gw_thermocouple_reading(&thermocouple, (int32_t)anything(), (int32_t)anything()).flags;
        CHECK(gw_resistance_thermometer_codes(&resistance, &low, &high) == GW_STATUS_OK);
        gw_last_reading_at(&last, anything());
        last.flags = anything() >> anything() % 32;
        gw_temperature_reading read = gw_last_reading_at(&last, anything());
        CHECK(gw_last_reading_update(&last, read, anything()) == GW_STATUS_OK);
    }
    CHECK(flags != 0 && flags < 64);
}

// What is missing or wrong is named, with its words.
static void refused(void) {
    gw_channel channel;
    gw_kernel kernel, before;
    gw_error error;
    char words[256];
    fill(&kernel, sizeof kernel);
    before = kernel;
    CHECK(gw_channel_default(&channel) == GW_STATUS_OK);
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_CHOICE && error.field == GW_CHOICE_CIRCUIT);
    CHECK(memcmp(&kernel, &before, sizeof kernel) == 0);
    channel = described(1);
    channel.lead_resistance = -1.0;
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_INVALID);
    CHECK(error.field == GW_FIELD_LEAD_RESISTANCE && error.value == -1.0 && error.low == 0.0 && error.high == 350.0);
    size_t length = gw_error_message(&error, words, sizeof words);
    CHECK(strcmp(words, "lead resistance (ohm) is -1, allowed: 0 to 350") == 0 && length == strlen(words));
    // Cut off, with its end; and no room at all.
    words[5] = 'x';
    CHECK(gw_error_message(&error, words, 5) == length && strcmp(words, "lead") == 0 && words[5] == 'x');
    CHECK(gw_error_message(&error, words, 0) == length && strcmp(words, "lead") == 0);
    channel = described(1);
    channel.gauge.gauge_factor = NAN;
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_INVALID && isnan(error.value));
    channel = described(1);
    channel.temperature_low = NAN;
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_INVALID);
    channel = described(1);
    channel.gauge.thermal_output_terms = 7;
    CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_INVALID);
    CHECK(error.field == GW_FIELD_THERMAL_OUTPUT_DEGREE && error.value == 6.0);
    uint32_t *const choices[] = {&channel.circuit, &channel.converter, &channel.mismatch_scale, &channel.correction,
                                 &channel.gauge.thermal_output_scale, &channel.gauge.gauge_factor_basis};
    for (size_t i = 0; i < sizeof choices / sizeof *choices; i++) {
        const uint32_t none[] = {0, 11, UINT32_MAX};
        for (int k = 0; k < 3; k++) {
            channel = described(1);
            *choices[i] = none[k];
            CHECK(gw_kernel_build(&channel, &kernel, &error) == GW_STATUS_CHOICE && error.value == (double)none[k]);
            CHECK(gw_name_text(error.field)[0] != '\0');
        }
    }
}

// Each function with each of its pointers null.
static void null_pointers(void) {
    gw_channel channel = described(1);
    gw_kernel kernel;
    gw_large_kernel large;
    gw_point point;
    gw_linear_point linear;
    gw_seal seal;
    gw_ranges ranges;
    gw_bound bound;
    gw_reading reading;
    gw_float_reading of_float;
    gw_error error;
    char words[8];
    int32_t number = 0;
    CHECK(gw_kernel_build(&channel, &kernel, NULL) == GW_STATUS_OK);
    CHECK(gw_large_kernel_build(&channel, &large, NULL) == GW_STATUS_OK);
    point = gw_kernel_at(&kernel, 0);
    CHECK(gw_channel_default(NULL) == GW_STATUS_NULL);
    CHECK(gw_kernel_build(NULL, &kernel, &error) == GW_STATUS_NULL && error.code == GW_STATUS_NULL);
    CHECK(gw_kernel_build(&channel, NULL, &error) == GW_STATUS_NULL);
    CHECK(gw_large_kernel_build(NULL, &large, NULL) == GW_STATUS_NULL);
    CHECK(gw_large_kernel_build(&channel, NULL, NULL) == GW_STATUS_NULL);
    const gw_point none = GW_NO_POINT;
    const gw_point of_null = gw_kernel_at(NULL, 0);
    CHECK(memcmp(&none, &of_null, sizeof none) == 0);
    CHECK(gw_kernel_reading(NULL, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_large_kernel_reading(NULL, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_point_reading(NULL, 0).flags == GW_FLAG_NULL);
    CHECK(gw_linear_point_reading(NULL, 0).flags == GW_FLAG_NULL);
    const int32_t codes[] = {INT32_MIN, -1, 0, 123456, INT32_MAX};
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        // A point of a null kernel, and what is made of it, say so for every code.
        const gw_point nothing[] = {gw_kernel_at(NULL, number), gw_large_kernel_at(NULL, number)};
        for (int k = 0; k < 2; k++) {
            gw_reading of_nothing = gw_point_reading(&nothing[k], codes[i]);
            CHECK(of_nothing.flags == GW_FLAG_NULL && of_nothing.strain == 0);
            CHECK(gw_point_linear(&nothing[k], &linear) == GW_STATUS_OK);
            of_nothing = gw_linear_point_reading(&linear, codes[i]);
            CHECK(of_nothing.flags == GW_FLAG_NULL && of_nothing.strain == 0);
        }
    }
    CHECK(gw_seal_make(NULL, 4, &seal) == GW_STATUS_NULL && gw_seal_make(&kernel, 4, NULL) == GW_STATUS_NULL);
    CHECK(gw_seal_make(&kernel, sizeof kernel, &seal) == GW_STATUS_OK);
    CHECK(gw_seal_check(NULL, 4, &seal, &error) == GW_STATUS_NULL && error.code == GW_STATUS_NULL);
    CHECK(gw_seal_check(&kernel, sizeof kernel, NULL, NULL) == GW_STATUS_NULL);
    CHECK(gw_compensated_kernel_reading(NULL, 0, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_large_compensated_kernel_reading(NULL, 0, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_float_kernel_reading(NULL, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_large_float_kernel_reading(NULL, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_float_compensated_kernel_reading(NULL, 0, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_large_float_compensated_kernel_reading(NULL, 0, 0, 0).flags == GW_FLAG_NULL);
    CHECK(gw_float_point_reading(NULL, 0).flags == GW_FLAG_NULL);
    CHECK(gw_large_compensated_kernel_readings(NULL, &number, &number, &number, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_large_float_kernel_readings(NULL, &number, &number, &of_float, 1) == GW_STATUS_NULL);
    CHECK(gw_large_float_compensated_kernel_readings(NULL, &number, &number, &number, &of_float, 1) == GW_STATUS_NULL);
    CHECK(gw_kernel_ranges(NULL, &ranges) == GW_STATUS_NULL && gw_kernel_ranges(&kernel, NULL) == GW_STATUS_NULL);
    CHECK(gw_large_kernel_ranges(NULL, &ranges) == GW_STATUS_NULL);
    CHECK(gw_kernel_error_bound(NULL, &bound) == GW_STATUS_NULL);
    CHECK(gw_kernel_error_bound(&kernel, NULL) == GW_STATUS_NULL);
    CHECK(gw_large_kernel_error_bound(NULL, &bound) == GW_STATUS_NULL);
    CHECK(gw_kernel_readings(NULL, &number, &number, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_kernel_readings(&kernel, NULL, &number, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_kernel_readings(&kernel, &number, NULL, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_kernel_readings(&kernel, &number, &number, NULL, 1) == GW_STATUS_NULL);
    CHECK(gw_kernel_readings(&kernel, &number, &number, &reading, 0) == GW_STATUS_OK);
    CHECK(gw_large_kernel_readings(NULL, &number, &number, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_point_readings(NULL, &number, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_point_readings(&point, NULL, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_point_readings(&point, &number, NULL, 1) == GW_STATUS_NULL);
    CHECK(gw_linear_point_readings(NULL, &number, &reading, 1) == GW_STATUS_NULL);
    CHECK(gw_point_linear(NULL, &linear) == GW_STATUS_NULL && gw_point_linear(&point, NULL) == GW_STATUS_NULL);
    CHECK(gw_point_linear(&point, &linear) == GW_STATUS_NOT_LINEAR);
    CHECK(gw_error_message(NULL, words, sizeof words) == 0);
    CHECK(gw_error_message(&error, NULL, 5) == 0);
}

// Structs of any bytes: whatever comes out, the sanitizers see nothing and the library does not stop.
static void any_bytes(void) {
    uint32_t statuses = 0;
    for (int i = 0; i < 20000; i++) {
        gw_kernel kernel;
        gw_large_kernel large;
        gw_point point;
        gw_linear_point linear;
        gw_channel channel;
        gw_error error;
        gw_bound bound;
        gw_ranges ranges;
        gw_seal seal;
        char words[256];
        fill(&kernel, sizeof kernel);
        fill(&large, sizeof large);
        fill(&point, sizeof point);
        fill(&linear, sizeof linear);
        fill(&channel, sizeof channel);
        fill(&error, sizeof error);
        fill(&seal, sizeof seal);
        if (i % 2 == 0) {
            // Widths and limits at their ends, where arithmetic wraps.
            const int32_t ends[] = {INT32_MIN, -1, 0, INT32_MAX};
            // Strain limit, bits, last code and curvature of a kernel; of a point curvature, bits, last code and strain limit.
            kernel.words[7] = (uint32_t)ends[anything() % 4];
            kernel.words[9] = (uint32_t)(i / 2) << 16;
            kernel.words[6] = (uint32_t)ends[anything() % 4];
            kernel.words[11] = (uint32_t)ends[anything() % 4];
            point.words[3] = 0;
            point.words[4] = (uint32_t)(i / 2);
            point.words[6] = kernel.words[6];
            point.words[8] = kernel.words[7];
        }
        for (int k = 0; k < 8; k++) {
            int32_t code = (int32_t)anything(), temperature = (int32_t)anything();
            gw_kernel_reading(&kernel, code, temperature);
            gw_large_kernel_reading(&large, code, temperature);
            gw_point_reading(&point, code);
            gw_linear_point_reading(&linear, code);
            gw_point of_kernel = gw_kernel_at(&kernel, temperature);
            gw_point_reading(&of_kernel, code);
        }
        if (gw_point_linear(&point, &linear) == GW_STATUS_OK) {
            gw_linear_point_reading(&linear, (int32_t)anything());
        }
        CHECK(gw_kernel_ranges(&kernel, &ranges) == GW_STATUS_OK);
        CHECK(gw_kernel_error_bound(&kernel, &bound) == GW_STATUS_OK);
        CHECK(gw_large_kernel_error_bound(&large, &bound) == GW_STATUS_OK);
        CHECK(gw_seal_check(&kernel, sizeof kernel, &seal, &error) != GW_STATUS_OK);
        statuses |= 1u << gw_kernel_build(&channel, &kernel, &error);
        CHECK(error.code != GW_STATUS_OK);
        // A sound channel with a field of any bytes.
        channel = described(i % DESCRIBED);
        fill((unsigned char *)&channel + anything() % (sizeof channel / 8) * 8, 8);
        statuses |= 1u << gw_large_kernel_build(&channel, &large, &error);
        fill(&error, sizeof error);
        error.code = (uint32_t)i % 20;
        error.field = (uint32_t)i % 450;
        CHECK(gw_error_message(&error, words, sizeof words) > 0);
        CHECK(gw_flags_message(anything(), words, 1 + anything() % sizeof words) > 0);
        gw_nanostrain((int32_t)anything());
    }
    CHECK((statuses & (1u << GW_STATUS_OK)) && (statuses & (1u << GW_STATUS_INVALID)));
    CHECK(statuses & (1u << GW_STATUS_CHOICE));
}

// Every status, name and flag has words of its own, and what is none says so.
static void texts(void) {
    for (gw_status status = 0; status <= GW_STATUS_SELF_TEST_FLAGS; status++) {
        CHECK(strcmp(gw_status_text(status), "unknown status") != 0);
        for (gw_status other = 0; other < status; other++) {
            CHECK(strcmp(gw_status_text(status), gw_status_text(other)) != 0);
        }
    }
    CHECK(strcmp(gw_status_text(GW_STATUS_SELF_TEST_FLAGS + 1), "unknown status") == 0);
    CHECK(strcmp(gw_name_text(1000), "unknown") == 0 && strcmp(gw_name_text(UINT32_MAX), "unknown") == 0);
    CHECK(strcmp(gw_name_text(GW_FIELD_GAUGE_FACTOR), "gauge factor") == 0);
    CHECK(strcmp(gw_name_text(GW_QUANTITY_CODE_WINDOW), "nearest code of the declared range") == 0);
    CHECK(strcmp(gw_name_text(GW_PART_OUTPUT), "rounding of the result") == 0);
    CHECK(strcmp(gw_name_text(0), "") == 0);
    char flags[128];
    CHECK(gw_flags_message(0, flags, sizeof flags) == 5 && strcmp(flags, "clear") == 0);
    CHECK(gw_flags_message(GW_FLAG_STRAIN_OUTSIDE | GW_FLAG_CODE_AT_RAIL, flags, sizeof flags) < sizeof flags);
    CHECK(strcmp(flags, "code at rail, strain outside") == 0);
    CHECK(gw_flags_message(GW_FLAG_NULL | 0x10, flags, sizeof flags) < sizeof flags);
    CHECK(strcmp(flags, "null pointer, unknown 0x00000010") == 0);
    CHECK(gw_version() == GW_VERSION);
    char version[16];
    snprintf(version, sizeof version, "%u.%u.%u", (unsigned)(GW_VERSION >> 16), (unsigned)(GW_VERSION >> 8 & 255),
             (unsigned)(GW_VERSION & 255));
    CHECK(strcmp(version, gw_version_text()) == 0);
    CHECK(gw_nanostrain(17179869) == 999999 && gw_nanostrain(-1) == -1);
    CHECK(gw_temperature_from_millicelsius(-40000) == -40 * GW_STEPS_PER_DEGREE);
    CHECK(gw_temperature_from_millicelsius(INT32_MIN) == -2047 * GW_STEPS_PER_DEGREE);
    CHECK(gw_temperature_from_millicelsius(INT32_MAX) == 2047 * GW_STEPS_PER_DEGREE);
}

// Rosettes that the host made, and what is computed from them.
static void rosettes(void) {
    const gw_reading even[3] = {{1000, 0}, {1000, GW_FLAG_TEMPERATURE_OUTSIDE}, {1000, 0}};
    const gw_elasticity material = {70.0f, 0.25f}, none = {70.0f, 0.75f};
    gw_plane_strain state;
    gw_principal principal;
    gw_stress stress;
    gw_error error;
    float degrees;
    CHECK(gw_seal_check(&rosette_delta, sizeof rosette_delta, &rosette_delta_seal, NULL) == GW_STATUS_OK);
    CHECK(gw_rosette_strain(&rosette_delta, even, &state) == GW_STATUS_OK);
    CHECK(state.mean == 1000 && state.half_difference == 0 && state.half_shear == 0);
    CHECK(state.flags == GW_FLAG_TEMPERATURE_OUTSIDE);
    CHECK(gw_principal_direction(&state, &degrees) == GW_STATUS_OK && isnan(degrees));
    state.half_difference = -300;
    state.half_shear = 400;
    CHECK(gw_principal_strain(&state, &principal) == GW_STATUS_OK && principal.flags == GW_FLAG_TEMPERATURE_OUTSIDE);
    CHECK(principal.first == 1500 && principal.second == 500 && principal.half_shear == 500);
    // tan(2 direction) is 400 over -300.
    CHECK(gw_principal_direction(&state, &degrees) == GW_STATUS_OK && degrees > 63.43f && degrees < 63.44f);
    // A thousand microstrain in both directions: modulus over one less the Poisson ratio.
    const gw_plane_strain stretched = {17179869, 0, 0, 0};
    CHECK(gw_principal_stress(&stretched, &material, &stress, &error) == GW_STATUS_OK && stress.flags == 0);
    CHECK(stress.first > 93.332f && stress.first < 93.334f && stress.second > 93.332f && stress.in_plane_shear == 0.0f);
    CHECK(stress.von_mises > 93.332f && stress.tresca > 93.332f && stress.tresca < 93.334f);
    CHECK(gw_principal_stress(&stretched, &none, &stress, &error) == GW_STATUS_INVALID && stress.first > 93.0f);
    CHECK(error.field == GW_FIELD_POISSON_RATIO && error.value == 0.75 && error.high == 0.5);
    CHECK(gw_rosette_strain(NULL, even, &state) == GW_STATUS_NULL);
    CHECK(gw_rosette_strain(&rosette_delta, NULL, &state) == GW_STATUS_NULL);
    CHECK(gw_rosette_strain(&rosette_delta, even, NULL) == GW_STATUS_NULL);
    CHECK(gw_principal_strain(NULL, &principal) == GW_STATUS_NULL);
    CHECK(gw_principal_direction(&state, NULL) == GW_STATUS_NULL);
    CHECK(gw_principal_stress(&state, NULL, &stress, &error) == GW_STATUS_NULL && error.code == GW_STATUS_NULL);
    puts("rosettes: those of the host");
}

// Wiring, shunt and uncertainty of a half bridge, by constants that the host made.
static void on_site(void) {
    const gw_zero at_rest = {-64 * INT64_C(1000), 64, 0}, shunted = {64 * INT64_C(951000), 64, 0}, none = {0, 0, 0};
    gw_report report;
    gw_error error;
    uint32_t span = 0;
    int32_t low, high;
    CHECK(gw_seal_check(&wiring_half_bending, sizeof wiring_half_bending, &wiring_half_bending_seal, NULL) == GW_STATUS_OK);
    CHECK(gw_wiring_report(&wiring_half_bending, &at_rest, &report, &error) == GW_STATUS_OK);
    CHECK(report.healthy == 1 && report.at_rail == 0 && report.verdicts[GW_FAULT_ARM_OPEN] == GW_VERDICT_EXCLUDED);
    CHECK(report.verdicts[GW_FAULT_OUTPUT_LEAD_BROKEN] == GW_VERDICT_INCONCLUSIVE);
    CHECK(report.verdicts[GW_FAULT_ARM_OPEN + 2] == GW_VERDICT_NONE && report.verdicts[0] == GW_VERDICT_NONE);
    const gw_zero open = {8388607, 1, 0};
    CHECK(gw_wiring_report(&wiring_half_bending, &open, &report, NULL) == GW_STATUS_OK && report.at_rail == 1);
    CHECK(report.healthy == 0 && report.verdicts[GW_FAULT_ARM_OPEN] == GW_VERDICT_CONSISTENT);
    CHECK(gw_wiring_report(&wiring_half_bending, &none, &report, &error) == GW_STATUS_INVALID && report.at_rail == 1);
    CHECK(error.field == GW_FIELD_CODES_IN_MEAN && error.low == 1.0);
    CHECK(gw_wiring_report(&wiring_half_bending, NULL, &report, NULL) == GW_STATUS_NULL);
    CHECK(strcmp(gw_fault_text(GW_FAULT_ARM_LEAD_BROKEN + 1), "lead of arm 2 broken") == 0);
    CHECK(strcmp(gw_fault_text(GW_FAULT_REVERSED), "polarity reversed") == 0);
    CHECK(strcmp(gw_fault_text(GW_FAULTS), "unknown fault") == 0 && strcmp(gw_fault_text(UINT32_MAX), "unknown fault") == 0);

    CHECK(gw_seal_check(&shunt_half_bending, sizeof shunt_half_bending, &shunt_half_bending_seal, NULL) == GW_STATUS_OK);
    CHECK(gw_shunt_expected(&shunt_half_bending, &low, &high) == GW_STATUS_OK && low == 941958 && high == 962908);
    CHECK(gw_shunt_expected(&shunt_half_bending, NULL, &high) == GW_STATUS_NULL);
    CHECK(gw_shunt_span(&shunt_half_bending, &at_rest, &shunted, &span, &error) == GW_STATUS_OK);
    CHECK(span > GW_SPAN_ONE - GW_SPAN_ONE / 100 && span < GW_SPAN_ONE + GW_SPAN_ONE / 100);
    // The span is one that the adjustable kernel takes.
    gw_kernel kernel;
    const gw_zero zero = {at_rest.sum, at_rest.count, 20 * GW_STEPS_PER_DEGREE};
    CHECK(gw_kernel_adjust(&adjustable_half_bending, &zero, span, &kernel, &error) == GW_STATUS_OK);
    CHECK(gw_shunt_span(&shunt_half_bending, &shunted, &at_rest, &span, &error) == GW_STATUS_INVALID);
    CHECK(error.field == GW_FIELD_SHUNT_CHANGE && error.value == -952000.0 && error.low == 941958.0);
    CHECK(gw_shunt_span(&shunt_half_bending, &at_rest, &shunted, NULL, &error) == GW_STATUS_NULL);

    gw_uncertainty_point point;
    const gw_uncertainty *uncertainty = &uncertainty_half_bending;
    CHECK(gw_seal_check(uncertainty, sizeof *uncertainty, &uncertainty_half_bending_seal, NULL) == GW_STATUS_OK);
    CHECK(gw_uncertainty_at(uncertainty, 20 * GW_STEPS_PER_DEGREE, &point, &error) == GW_STATUS_OK);
    // 40 codes of noise, each of 0.9 nanostrain.
    int32_t standard = gw_nanostrain(gw_uncertainty_standard(&point, 0));
    CHECK(standard >= 35 && standard <= 37);
    CHECK(gw_uncertainty_at(uncertainty, 101 * GW_STEPS_PER_DEGREE, &point, &error) == GW_STATUS_INVALID);
    CHECK(error.field == GW_FIELD_TEMPERATURE && error.low == -80.0 && error.high == 100.0);
    CHECK(gw_uncertainty_at(NULL, 0, &point, &error) == GW_STATUS_NULL && gw_uncertainty_standard(NULL, 0) == -1);

    // Of any bytes something defined comes out.
    for (int i = 0; i < 20000; i++) {
        gw_rosette rosette;
        gw_wiring_check wiring;
        gw_shunt_check shunt;
        gw_uncertainty any;
        gw_reading grids[3];
        gw_plane_strain state;
        gw_zero zeros[2];
        fill(&rosette, sizeof rosette);
        fill(&wiring, sizeof wiring);
        fill(&shunt, sizeof shunt);
        fill(&any, sizeof any);
        fill(grids, sizeof grids);
        fill(zeros, sizeof zeros);
        fill(&point, sizeof point);
        if (i % 2 == 0) {
            zeros[0].count = 1 + anything() % 65536;
            zeros[1].count = 1 + anything() % 65536;
            zeros[0].sum >>= 16;
            zeros[1].sum >>= 16;
        }
        CHECK(gw_rosette_strain(&rosette, grids, &state) == GW_STATUS_OK);
        gw_uncertainty_standard(&point, (int32_t)anything());
        CHECK(gw_uncertainty_at(&any, (int32_t)anything(), &point, &error) == error.code);
        CHECK(gw_wiring_report(&wiring, &zeros[0], &report, &error) == error.code);
        CHECK(gw_shunt_span(&shunt, &zeros[0], &zeros[1], &span, &error) == error.code);
    }
    puts("on site: wiring, shunt and uncertainty by constants of the host");
}

// A block with more room claimed than there is: for the sanitizer, which has to see it in the library too.
static void overrun(void) {
    gw_channel channel = described(1);
    gw_kernel kernel;
    CHECK(gw_kernel_build(&channel, &kernel, NULL) == GW_STATUS_OK);
    gw_point point = gw_kernel_at(&kernel, 0);
    int32_t codes[4] = {0, 1, 2, 3};
    gw_reading *readings = malloc(3 * sizeof *readings);
    CHECK(readings != NULL && gw_point_readings(&point, codes, readings, 4) == GW_STATUS_OK);
    free(readings);
}

int main(int count, char **arguments) {
    CHECK(count >= 2);
    if (strcmp(arguments[1], "overrun") == 0) {
        overrun();
        return 0;
    }
    CHECK(count == 3);
    committed_bits(arguments[1]);
    records(arguments[2]);
    zero_and_span();
    thermometers();
    both_kernels();
    other_kernels();
    seals();
    refused();
    null_pointers();
    any_bytes();
    texts();
    rosettes();
    on_site();
    puts("all is as it should be");
    return 0;
}
