// Not an example: what ../run flies. The demonstration flight, from a file of the host by semihosting, corrected in every way that
// the Rust firmware `flight` has (examples/firmware), by kernels that the host makes of the flight's channel file. Its figures have
// to be those of the host's replay, to the bit.
#include <stddef.h>

#include "board.h"
#include "gaugewright.h"
#include "kernels.h"
#include "report.h"
#include "semihost.h"

static const char STREAM[] = "target/flight.stream";

// The format of the file is in examples/host/src/stream.rs.
enum { CHANNELS = 8, WITH_BLOCK = 5, HEADER_BYTES = 24, ROW_WORDS = 2 * CHANNELS + 1, ROWS_AT_ONCE = 32 };

// Samples that the constants of one temperature serve.
enum { SAMPLES_PER_POINT = 5 };

// What examples/host/src/numbers.rs counts of a path.
struct numbers {
    uint32_t samples, clear, temperature, strain, rail;
    int32_t least, greatest;
    int64_t sum;
    uint64_t hash;
};

// `bits` are those of the strain, `steps` the strain in Q34.
static void add(struct numbers *to, int32_t steps, uint32_t bits, uint32_t flags) {
    if (flags == 0) {
        to->least = to->clear == 0 || steps < to->least ? steps : to->least;
        to->greatest = to->clear == 0 || steps > to->greatest ? steps : to->greatest;
        to->sum += steps;
        to->clear++;
    }
    to->samples++;
    to->temperature += (flags & GW_FLAG_TEMPERATURE_OUTSIDE) != 0;
    to->strain += (flags & GW_FLAG_STRAIN_OUTSIDE) != 0;
    to->rail += (flags & GW_FLAG_CODE_AT_RAIL) != 0;
    to->hash = hashed(hashed_word(to->hash, bits), (uint8_t)flags);
}

static void add_fixed(struct numbers *to, gw_reading reading) {
    add(to, reading.strain, (uint32_t)reading.strain, reading.flags);
}

static void add_single(struct numbers *to, gw_float_reading reading) {
    union {
        float number;
        uint32_t bits;
    } strain = {reading.strain};
    // A power of two: the product is exact. A strain without a flag is within the format.
    int32_t steps = reading.flags == 0 ? (int32_t)(reading.strain * 17179869184.0f) : 0;
    add(to, steps, strain.bits, reading.flags);
}

// A channel, with the functions for kernels of its kind.
struct channel {
    const char *name;
    int (*is_whole)(void);
    gw_reading (*fixed)(int32_t code, int32_t t, int32_t block);
    gw_point (*at)(int32_t t, int32_t block);
    gw_float_reading (*single)(int32_t code, int32_t t, int32_t block);
    gw_float_point (*single_at)(int32_t t, int32_t block);
};

// These functions, for kernels of the two types; behind the types stand the temperatures that the kernels take.
#define KERNELS(name, type, float_type, ...)                                                                             \
    static int whole_##name(void) {                                                                                      \
        return gw_seal_check(&kernel_##name, sizeof kernel_##name, &kernel_##name##_seal, NULL) == GW_STATUS_OK &&         \
               gw_seal_check(&float_kernel_##name, sizeof float_kernel_##name, &float_kernel_##name##_seal, NULL) ==       \
                   GW_STATUS_OK;                                                                                         \
    }                                                                                                                    \
    static gw_reading fixed_##name(int32_t code, int32_t t, int32_t block) {                                             \
        (void)block;                                                                                                     \
        return type##_reading(&kernel_##name, code, __VA_ARGS__);                                                        \
    }                                                                                                                    \
    static gw_point at_##name(int32_t t, int32_t block) {                                                                \
        (void)block;                                                                                                     \
        return type##_at(&kernel_##name, __VA_ARGS__);                                                                   \
    }                                                                                                                    \
    static gw_float_reading single_##name(int32_t code, int32_t t, int32_t block) {                                      \
        (void)block;                                                                                                     \
        return float_type##_reading(&float_kernel_##name, code, __VA_ARGS__);                                            \
    }                                                                                                                    \
    static gw_float_point single_at_##name(int32_t t, int32_t block) {                                                   \
        (void)block;                                                                                                     \
        return float_type##_at(&float_kernel_##name, __VA_ARGS__);                                                       \
    }
#define CHANNEL(name) {#name, whole_##name, fixed_##name, at_##name, single_##name, single_at_##name}

KERNELS(strut_north, gw_kernel, gw_float_kernel, t)
KERNELS(strut_south, gw_large_kernel, gw_large_float_kernel, t) // of degree five
KERNELS(fitting_crown, gw_kernel, gw_float_kernel, t)
KERNELS(fitting_keel, gw_kernel, gw_float_kernel, t)
KERNELS(valve_body, gw_kernel, gw_float_kernel, t)
KERNELS(strut_spare, gw_compensated_kernel, gw_float_compensated_kernel, t, block)
KERNELS(boom_root, gw_kernel, gw_float_kernel, t)
KERNELS(tie_rod, gw_kernel, gw_float_kernel, t)

// In the order of the stream.
static const struct channel channels[CHANNELS] = {
    CHANNEL(strut_north), CHANNEL(strut_south), CHANNEL(fitting_crown), CHANNEL(fitting_keel),
    CHANNEL(valve_body),  CHANNEL(strut_spare), CHANNEL(boom_root),     CHANNEL(tie_rod),
};

// As they are reported.
enum { FIXED, FIXED_POINT, SINGLE, SINGLE_POINT, PATHS };
static const char *const paths[PATHS] = {"fixed", "fixed-point", "f32", "f32-point"};

static struct {
    struct numbers numbers[PATHS];
    gw_point point;
    gw_float_point single_point;
} state[CHANNELS];

static void correct(const int32_t *row, uint32_t rows) {
    int32_t block = row[2 * WITH_BLOCK + 2];
    for (int i = 0; i < CHANNELS; i++) {
        const struct channel *channel = &channels[i];
        struct numbers *numbers = state[i].numbers;
        int32_t code = *row++, t = *row++;
        row += i == WITH_BLOCK;
        if (rows % SAMPLES_PER_POINT == 0) {
            state[i].point = channel->at(t, block);
            state[i].single_point = channel->single_at(t, block);
        }
        add_fixed(&numbers[FIXED], channel->fixed(code, t, block));
        add_fixed(&numbers[FIXED_POINT], gw_point_reading(&state[i].point, code));
        add_single(&numbers[SINGLE], channel->single(code, t, block));
        add_single(&numbers[SINGLE_POINT], gw_float_point_reading(&state[i].single_point, code));
    }
}

static void say_figure(const char *name, int64_t number) {
    char digits[21];
    char *at = digits + sizeof digits - 1;
    uint64_t size = number < 0 ? 0 - (uint64_t)number : (uint64_t)number;
    *at = '\0';
    do {
        *--at = (char)('0' + size % 10);
        size /= 10;
    } while (size != 0);
    say(name);
    say(number < 0 ? "-" : "");
    say(at);
}

static void say_numbers(const char *channel, const char *path, const struct numbers *it) {
    say("numbers ");
    say(channel);
    say(" ");
    say(path);
    say_figure(" samples=", it->samples);
    say_figure(" clear=", it->clear);
    say_figure(" temperature=", it->temperature);
    say_figure(" strain=", it->strain);
    say_figure(" rail=", it->rail);
    say_figure(" least=", it->least);
    say_figure(" greatest=", it->greatest);
    say_figure(" sum=", it->sum);
    say(" hash=");
    say_hexadecimal(it->hash);
    say("\n");
}

// All bytes that are asked for, or 0.
static int read_all(int file, void *to, uint32_t size) {
    const uintptr_t block[] = {(uintptr_t)file, (uintptr_t)to, size};
    return semihost(SYS_READ, block) == 0;
}

int main(void) {
    static int32_t rows[ROWS_AT_ONCE][ROW_WORDS];
    // Magic (two words), version, rows, bytes in a row, rows a second.
    uint32_t header[HEADER_BYTES / 4];
    int wrong = 0;
    for (int i = 0; i < CHANNELS; i++) {
        wrong |= !channels[i].is_whole();
        for (int path = 0; path < PATHS; path++) {
            state[i].numbers[path].hash = HASH_OF_NOTHING;
        }
    }
    if (wrong) {
        say("a kernel that was not sealed\n");
        return 1;
    }
    const uintptr_t open[] = {(uintptr_t)STREAM, 1 /* binary, to read */, sizeof STREAM - 1};
    int file = semihost(SYS_OPEN, open);
    // The magic is "gwflight".
    if (file == -1 || !read_all(file, header, sizeof header) || header[0] != 0x6c667767u || header[1] != 0x74686769u ||
        header[2] != 1 || header[4] != sizeof rows[0]) {
        say("no stream of this flight: target/flight.stream\n");
        return 1;
    }
    uint32_t all = header[3];
    for (uint32_t done = 0; done < all;) {
        uint32_t count = all - done < ROWS_AT_ONCE ? all - done : ROWS_AT_ONCE;
        if (!read_all(file, rows, count * sizeof rows[0])) {
            say("the stream is cut short\n");
            return 1;
        }
        for (uint32_t i = 0; i < count; i++) {
            correct(rows[i], done++);
        }
    }
    for (int i = 0; i < CHANNELS; i++) {
        for (int path = 0; path < PATHS; path++) {
            say_numbers(channels[i].name, paths[path], &state[i].numbers[path]);
        }
    }
    say_figure("rows=", all);
    say("\n");
    return 0;
}
