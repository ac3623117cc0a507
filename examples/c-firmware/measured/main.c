// Not an example: what ../run measures. The kernels of the kernels.h that it has made, over edges and random inputs, as hashes
// that have to be those of the Rust firmware, and the instructions of a call.
#include <stddef.h>

#include "board.h"
#include "gaugewright.h"
#include "kernels.h"
#include "report.h"

#if defined(__riscv)
static void start_counter(void) {}

// Instructions, which this core counts itself.
static uint32_t counter(void) {
    uint32_t count;
    __asm volatile("csrr %0, minstret" : "=r"(count)::"memory");
    return count;
}

static uint64_t nanoseconds(uint32_t before, uint32_t after) { return after - before; }
#else
// Ticks of the timer in one second: an address that the linker script sets.
extern const uint8_t _timer_hz;

// The timer runs down. Under QEMU's -icount shift=0 an instruction takes a nanosecond.
#define SYST ((volatile uint32_t *)0xe000e010u)

static void start_counter(void) {
    SYST[1] = 0x00ffffff;
    SYST[2] = 0;
    SYST[0] = 5; // on, by the processor's clock, without an interrupt
    while (SYST[2] == 0) {
    }
}

static uint32_t counter(void) { return SYST[2]; }

// Between two looks at the counter, at most 2^24 ticks apart.
static uint64_t nanoseconds(uint32_t before, uint32_t after) {
    uint32_t ticks = (before - after) & 0x00ffffff;
    return (uint64_t)ticks * 1000000000u / (uint32_t)(uintptr_t)&_timer_hz;
}
#endif

static uint64_t with_reading(uint64_t hash, int32_t number, uint32_t flags) {
    return hashed(hashed_word(hash, (uint32_t)number), (uint8_t)flags);
}

// A small generator (xorshift; Marsaglia, 2003), the one of tests/on-target/src/measured/sweep.rs.
static uint32_t random_bits(uint32_t *state) {
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

static int32_t random_between(uint32_t *state, int32_t low, int32_t high) {
    uint32_t span = (uint32_t)high - (uint32_t)low;
    uint64_t above = ((uint64_t)random_bits(state) * ((uint64_t)span + 1)) >> 32;
    return (int32_t)((uint32_t)low + (uint32_t)above);
}

static int32_t below(int32_t number) { return number == INT32_MIN ? number : number - 1; }

static int32_t above(int32_t number) { return number == INT32_MAX ? number : number + 1; }

enum { EDGES = 13, RANDOM = 1000 };

static void edges(int32_t low, int32_t high, int32_t *to) {
    const int32_t all[EDGES] = {INT32_MIN, INT32_MIN + 1, below(low), low,           above(low),
                                -1,        0,             1,          below(high),   high,
                                above(high), INT32_MAX - 1, INT32_MAX};
    for (int i = 0; i < EDGES; i++) {
        to[i] = all[i];
    }
}

struct sweep {
    uint32_t inputs;
    uint64_t one_call, by_point;
    int wrong;
};

static void sample(struct sweep *sweep, const gw_large_kernel *kernel, int32_t code, int32_t temperature) {
    gw_linear_point linear;
    gw_reading called = gw_large_kernel_reading(kernel, code, temperature);
    sweep->one_call = with_reading(sweep->one_call, called.strain, called.flags);
    gw_point point = gw_large_kernel_at(kernel, temperature);
    gw_reading reading = gw_point_reading(&point, code);
    sweep->by_point = with_reading(sweep->by_point, reading.strain, reading.flags);
    if (gw_point_linear(&point, &linear) == GW_STATUS_OK) {
        gw_reading same = gw_linear_point_reading(&linear, code);
        sweep->wrong |= same.strain != reading.strain || same.flags != reading.flags;
    }
    sweep->inputs++;
}

static struct sweep swept(const gw_large_kernel *kernel) {
    struct sweep sweep = {0, HASH_OF_NOTHING, HASH_OF_NOTHING, 0};
    gw_ranges ranges;
    int32_t codes[EDGES], temperatures[EDGES];
    sweep.wrong |= gw_large_kernel_ranges(kernel, &ranges) != GW_STATUS_OK;
    edges(ranges.code_low, ranges.code_high, codes);
    edges(ranges.temperature_low, ranges.temperature_high, temperatures);
    for (int i = 0; i < EDGES; i++) {
        for (int k = 0; k < EDGES; k++) {
            sample(&sweep, kernel, codes[i], temperatures[k]);
        }
    }
    uint32_t state = 0x2545f491u;
    for (int i = 0; i < RANDOM; i++) {
        int32_t code, temperature;
        if (i % 2 == 0) {
            code = random_between(&state, ranges.code_low, ranges.code_high);
            temperature = random_between(&state, ranges.temperature_low, ranges.temperature_high);
        } else {
            code = (int32_t)random_bits(&state);
            temperature = (int32_t)random_bits(&state);
        }
        sample(&sweep, kernel, code, temperature);
    }
    return sweep;
}

// Thermometers over the codes and cold junctions of tests/on-target/src/measured/thermometers.rs.
static void thermometers(void) {
    static const int32_t edges[] = {INT32_MIN, INT32_MIN + 1, -8388608, -8388607,      -1,       0,
                                    1,         8388606,       8388607,  INT32_MAX - 1, INT32_MAX};
    enum { ENDS = sizeof edges / sizeof *edges, ALL = ENDS * ENDS + 2000 };
    uint64_t platinum = HASH_OF_NOTHING, thermocouple = HASH_OF_NOTHING;
    uint32_t state = 0x12345678;
    for (int i = 0; i < ALL; i++) {
        int32_t code, cold_junction;
        if (i < ENDS * ENDS) {
            code = edges[i / ENDS];
            cold_junction = edges[i % ENDS];
        } else if ((i - ENDS * ENDS) % 4 == 0) {
            code = (int32_t)random_bits(&state);
            cold_junction = (int32_t)random_bits(&state);
        } else {
            code = random_between(&state, -700000, 8388607);
            cold_junction = random_between(&state, -41 * GW_STEPS_PER_DEGREE, 86 * GW_STEPS_PER_DEGREE);
        }
        gw_temperature_reading reading = gw_resistance_thermometer_reading(&thermometer_platinum, code);
        platinum = with_reading(platinum, reading.temperature, reading.flags);
        reading = gw_thermocouple_reading(&thermometer_thermocouple, code, cold_junction);
        thermocouple = with_reading(thermocouple, reading.temperature, reading.flags);
    }
    say("sweep platinum in C inputs=");
    say_number(ALL);
    say(" fixed=");
    say_hexadecimal(platinum);
    say("\nsweep thermocouple inputs=");
    say_number(ALL);
    say(" fixed=");
    say_hexadecimal(thermocouple);
    say("\n");
}

// Instructions, as tests/on-target/src/counts.rs has them: many calls, less the same loop calling a bare return.
enum { SAMPLES = 32, ROUNDS = 64 };

struct input {
    int32_t code, temperature;
};

static struct input inputs[SAMPLES];

// In range of the kernel that is counted, as those of counts.rs.
static void draw_inputs(const gw_kernel *ranges_of, int of_pair) {
    gw_ranges ranges;
    uint32_t state = 1;
    (void)gw_kernel_ranges(ranges_of, &ranges);
    for (int i = 0; i < SAMPLES;) {
        int32_t t = random_between(&state, ranges.temperature_low, ranges.temperature_high);
        int32_t code = random_between(&state, ranges.code_low, ranges.code_high);
        gw_reading reading = of_pair ? gw_compensated_kernel_reading(&kernel_counted_pair, code, t, t)
                                     : gw_kernel_reading(ranges_of, code, t);
        if (reading.flags == 0) {
            inputs[i++] = (struct input){code, t};
        }
    }
}

// Any in these ranges.
static void draw_any(uint32_t state, int32_t low, int32_t high, int32_t temperature_low, int32_t temperature_high) {
    for (int i = 0; i < SAMPLES; i++) {
        int32_t code = random_between(&state, low, high);
        inputs[i] = (struct input){code, random_between(&state, temperature_low, temperature_high)};
    }
}

static void tell_count(const char *name, uint64_t all, uint64_t bare) {
    const uint64_t calls = ROUNDS * SAMPLES;
    say("count ");
    say(name);
    say(" instructions=");
    // The empty one is a call and a return.
    say_number((int32_t)(((all - bare) * 100 / calls + 200 + 50) / 100));
    say("\n");
}

// In the place of each: the return and nothing else (empty.S).
void empty(void);

// A function that counts `called`, of the type `result (*) parameters`, with `arguments` (of the input `it`), against the empty one.
#define COUNTED(name, result, parameters, called, arguments)                                        \
    typedef result(*path_##name) parameters;                                                        \
    static uint64_t time_of_##name(path_##name function) {                                          \
        uint32_t before = counter();                                                                \
        for (int round = 0; round < ROUNDS; round++) {                                              \
            for (const struct input *it = inputs; it < inputs + SAMPLES; it++) {                    \
                (void)function arguments;                                                           \
            }                                                                                       \
        }                                                                                           \
        return nanoseconds(before, counter());                                                      \
    }                                                                                               \
    static void count_##name(void) {                                                                \
        path_##name volatile all = called, none = (path_##name)empty;                               \
        tell_count(#name, time_of_##name(all), time_of_##name(none));                               \
    }

static gw_point point;
static gw_linear_point linear;
static gw_float_point float_point;
static gw_uncertainty_point uncertainty;
static gw_plane_strain strain;

// Three strains of two numbers.
static const gw_reading *grids(const struct input *of) {
    static gw_reading three[3];
    three[0].strain = of->code;
    three[1].strain = of->temperature;
    three[2].strain = of->code ^ of->temperature;
    return three;
}

COUNTED(fixed_reading, gw_packed_reading, (const gw_kernel *, int32_t, int32_t), gw_kernel_reading_packed,
        (&kernel_counted_wide, it->code, it->temperature))
COUNTED(fixed_at, gw_point, (const gw_kernel *, int32_t), gw_kernel_at, (&kernel_counted_wide, it->temperature))
COUNTED(fixed_point, gw_packed_reading, (const gw_point *, int32_t), gw_point_reading_packed, (&point, it->code))
COUNTED(fixed_point_linear, gw_packed_reading, (const gw_linear_point *, int32_t), gw_linear_point_reading_packed,
        (&linear, it->code))
COUNTED(fixed_reading_any, gw_packed_reading, (const gw_large_kernel *, int32_t, int32_t), gw_large_kernel_reading_packed,
        (&kernel_counted_wide_large, it->code, it->temperature))
COUNTED(fixed_compensated, gw_packed_reading, (const gw_compensated_kernel *, int32_t, int32_t, int32_t),
        gw_compensated_kernel_reading_packed, (&kernel_counted_pair, it->code, it->temperature, it->temperature))
COUNTED(fixed_compensated_at, gw_point, (const gw_compensated_kernel *, int32_t, int32_t), gw_compensated_kernel_at,
        (&kernel_counted_pair, it->temperature, it->temperature))
COUNTED(f32_reading, gw_packed_reading, (const gw_float_kernel *, int32_t, int32_t), gw_float_kernel_reading_packed,
        (&float_kernel_counted_wide, it->code, it->temperature))
COUNTED(f32_at, gw_float_point, (const gw_float_kernel *, int32_t), gw_float_kernel_at,
        (&float_kernel_counted_wide, it->temperature))
COUNTED(f32_point, gw_packed_reading, (const gw_float_point *, int32_t), gw_float_point_reading_packed,
        (&float_point, it->code))
COUNTED(platinum_fixed, gw_packed_temperature, (const gw_resistance_thermometer *, int32_t),
        gw_resistance_thermometer_reading_packed, (&thermometer_platinum, it->code))
COUNTED(thermocouple_fixed, gw_packed_temperature, (const gw_thermocouple *, int32_t, int32_t), gw_thermocouple_reading_packed,
        (&thermometer_thermocouple, it->code, it->temperature))
COUNTED(uncertainty_fixed, int32_t, (const gw_uncertainty_point *, int32_t), gw_uncertainty_standard, (&uncertainty, it->code))
COUNTED(rosette_fixed, gw_status, (const gw_rosette *, const gw_reading *, gw_plane_strain *), gw_rosette_strain,
        (&rosette_counted, grids(it), &strain))

static int counts(void) {
    draw_inputs(&kernel_counted_wide, 0);
    count_fixed_reading();
    count_fixed_reading_any();
    count_fixed_at();
    point = gw_kernel_at(&kernel_counted_wide, 60 * GW_STEPS_PER_DEGREE);
    count_fixed_point();
    count_f32_reading();
    count_f32_at();
    float_point = gw_float_kernel_at(&float_kernel_counted_wide, 60 * GW_STEPS_PER_DEGREE);
    count_f32_point();
    int wrong = gw_uncertainty_at(&uncertainty_counted, 60 * GW_STEPS_PER_DEGREE, &uncertainty, NULL) != GW_STATUS_OK;
    count_uncertainty_fixed();
    draw_inputs(&kernel_counted_linear, 0);
    point = gw_kernel_at(&kernel_counted_linear, 60 * GW_STEPS_PER_DEGREE);
    wrong |= gw_point_linear(&point, &linear) != GW_STATUS_OK;
    count_fixed_point_linear();
    draw_inputs(&kernel_counted_mild, 1);
    count_fixed_compensated();
    count_fixed_compensated_at();
    draw_any(3, 700000, 2000000, -40 * GW_STEPS_PER_DEGREE, 85 * GW_STEPS_PER_DEGREE);
    count_platinum_fixed();
    count_thermocouple_fixed();
    draw_any(5, -170000000, 170000000, -170000000, 170000000);
    count_rosette_fixed();
    return wrong;
}

// The first channel of the sweep (its gauge is gauge_on_steel of tests/data), compiled here in double precision: to be the
// kernel that the host made, to the bit.
static int made_here(void) {
    static const double curve[] = {-43.2121, 3.16913, -0.0628625, 0.000248734, -1.69725e-7};
    gw_channel channel;
    gw_large_kernel kernel;
    gw_error error;
    int wrong = gw_channel_default(&channel) != GW_STATUS_OK;
    channel.gauge.gauge_factor = 2.085;
    channel.gauge.gauge_factor_slope = 0.94;
    channel.gauge.matched_expansion = 11.0;
    channel.gauge.fitted_low = -200.0;
    channel.gauge.fitted_high = 300.0;
    channel.gauge.thermal_output_terms = sizeof curve / sizeof *curve;
    for (size_t i = 0; i < sizeof curve / sizeof *curve; i++) {
        channel.gauge.thermal_output[i] = curve[i];
    }
    channel.circuit = GW_CIRCUIT_QUARTER_THREE_WIRE;
    channel.gauge_resistance = 350.0;
    channel.lead_resistance = 1.2;
    channel.converter_bits = 24;
    channel.full_scale_ratio = 1.0 / 64.0;
    channel.balance_code = 98765.25;
    channel.balance_temperature = 21.5;
    channel.strain_limit = 34500.0;
    uint32_t before = counter();
    gw_status status = gw_large_kernel_build(&channel, &kernel, &error);
    uint64_t taken = nanoseconds(before, counter());
    char words[256];
    if (status != GW_STATUS_OK && gw_error_message(&error, words, sizeof words) > 0) {
        say(words);
        say("\n");
    }
    wrong |= status != GW_STATUS_OK;
    wrong |= gw_seal_check(&kernel, sizeof kernel, &kernel_sweep_wide_seal, NULL) != GW_STATUS_OK;
    say("made here: thousand instructions=");
    say_number((int32_t)(taken / 1000));
    say("\n");
    return wrong;
}

// Zeros and spans of a channel that is balanced on site, and a record: the hash that the host has found with the library in Rust.
static int on_site(void) {
    uint64_t hash = HASH_OF_NOTHING, adjusting = 0;
    gw_kernel kernel;
    gw_zero zero;
    int wrong = gw_seal_check(&adjustable_counted, sizeof adjustable_counted, &adjustable_counted_seal, NULL) != GW_STATUS_OK;
    for (int32_t k = 0; k < ZEROS; k++) {
        int32_t steps = k - ZEROS / 2;
        zero.count = 1 + (uint32_t)k * 4095;
        zero.sum = (int64_t)(BALANCE_HIGH / (ZEROS / 2) - 1) * steps * (int64_t)zero.count + steps;
        zero.temperature = (k * 8 - 40) * GW_STEPS_PER_DEGREE;
        for (int i = 0; i < 3; i++) {
            gw_seal seal;
            uint32_t before = counter();
            wrong |= gw_kernel_adjust(&adjustable_counted, &zero, spans[i], &kernel, NULL) != GW_STATUS_OK;
            adjusting += nanoseconds(before, counter());
            wrong |= gw_seal_make(&kernel, sizeof kernel, &seal) != GW_STATUS_OK;
            hash = hashed_word(hash, seal.checksum);
        }
    }
    gw_identity identity = {UINT64_C(0x0123456789abcdef), zero, spans[2], 2026, 3, 14, "counted"};
    gw_known_answer answers[GW_KNOWN_ANSWERS];
    uint8_t bytes[GW_RECORD_BYTES];
    wrong |= gw_kernel_record_write(&kernel, &identity, NULL, bytes, sizeof bytes, NULL) != GW_STATUS_OK;
    for (size_t i = 0; i < sizeof bytes; i++) {
        hash = hashed(hash, bytes[i]);
    }
    // Many, as a tick is up to a thousand instructions.
    uint32_t before = counter();
    for (int round = 0; round < ROUNDS; round++) {
        wrong |= gw_kernel_record_read(bytes, sizeof bytes, &kernel, &identity, answers, NULL) != GW_STATUS_OK;
    }
    uint64_t reading = nanoseconds(before, counter()) / ROUNDS;
    before = counter();
    for (int round = 0; round < ROUNDS; round++) {
        wrong |= gw_kernel_self_test(&kernel, answers, NULL) != GW_STATUS_OK;
    }
    uint64_t testing = nanoseconds(before, counter()) / ROUNDS;
    wrong |= hash != on_site_hash;
    say("on site: hash=");
    say_hexadecimal(hash);
    say(" adjust=");
    say_number((int32_t)(adjusting / (3 * ZEROS)));
    say(" read=");
    say_number((int32_t)reading);
    say(" test=");
    say_number((int32_t)testing);
    say("\n");
    return wrong;
}

int main(void) {
    int wrong = 0;
    start_counter();
    for (size_t i = 0; i < CHANNELS; i++) {
        const struct channel *channel = &channels[i];
        wrong |= gw_seal_check(channel->kernel, sizeof *channel->kernel, channel->seal, NULL) != GW_STATUS_OK;
        struct sweep sweep = swept(channel->kernel);
        wrong |= sweep.wrong;
        say("sweep ");
        say(channel->name);
        say(" inputs=");
        say_number((int32_t)sweep.inputs);
        say(" fixed=");
        say_hexadecimal(sweep.one_call);
        say(" fixed-point=");
        say_hexadecimal(sweep.by_point);
        say("\n");
    }
    thermometers();
    wrong |= counts();
    wrong |= made_here();
    wrong |= on_site();
    return wrong;
}
