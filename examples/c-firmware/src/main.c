// A logger: strain of two bridges, corrected on the microcontroller. The kernels are constants in flash (kernels.h, made by the
// host from gondola.toml); nothing is computed in floating point. The strut's zero is taken on site and kept with its kernel in a
// record, for the next start. src/board.c is what you replace for a board of yours.
#include <stddef.h>

#include "board.h"
#include "gaugewright.h"
#include "kernels.h"

static const struct channel {
    const char *name;
    const gw_kernel *kernel;
    const gw_seal *seal;
    const gw_known_answer *answers;
} channels[BRIDGES] = {
    {"strut_north", &kernel_strut_north, &kernel_strut_north_seal, answers_strut_north},
    {"boom_root", &kernel_boom_root, &kernel_boom_root_seal, answers_boom_root},
};
enum { STRUT = 0 };

// Once, at the start: each kernel in flash is the one that the host made.
static int kernels_are_whole(void) {
    for (size_t i = 0; i < BRIDGES; i++) {
        if (gw_seal_check(channels[i].kernel, sizeof *channels[i].kernel, channels[i].seal, NULL) != GW_STATUS_OK) {
            say(channels[i].name);
            say(": the kernel in flash is damaged, or made for another version of the library\n");
            return 0;
        }
        // And this processor gives the readings of the computer that made it.
        if (gw_kernel_self_test(channels[i].kernel, channels[i].answers, NULL) != GW_STATUS_OK) {
            say(channels[i].name);
            say(": a known reading differs\n");
            return 0;
        }
    }
    return gw_seal_check(&adjustable_strut_north, sizeof adjustable_strut_north, &adjustable_strut_north_seal, NULL) == GW_STATUS_OK;
}

// The strut's kernel as it was stored, if there is a whole record of this strut.
static int kernel_of_record(gw_kernel *kernel) {
    uint8_t bytes[GW_RECORD_BYTES];
    gw_identity identity;
    load(bytes, sizeof bytes);
    if (gw_kernel_record_read(bytes, sizeof bytes, kernel, &identity, NULL, NULL) != GW_STATUS_OK ||
        identity.description != description_strut_north) {
        return 0;
    }
    say(identity.name);
    say(": kernel of the record, zero of ");
    say_number((int32_t)identity.zero.count);
    say(" codes\n");
    return 1;
}

// On site, without load: the kernel of the measured zero, in integers. A zero that is refused changes nothing.
static void take_zero(gw_kernel *kernel) {
    uint8_t bytes[GW_RECORD_BYTES];
    struct board_zero read;
    gw_error error;
    read_unloaded(&read);
    gw_zero zero = {read.sum, read.count, read.sixteenths * (GW_STEPS_PER_DEGREE / 16)};
    gw_identity identity = {description_strut_north, zero, GW_SPAN_ONE, 2026, 3, 14, "strut_north"};
    if (gw_kernel_adjust(&adjustable_strut_north, &zero, GW_SPAN_ONE, kernel, &error) != GW_STATUS_OK) {
        say("strut_north: the zero is refused\n"); // error has the field, its value and what is allowed
    } else if (gw_kernel_record_write(kernel, &identity, NULL, bytes, sizeof bytes, &error) != GW_STATUS_OK) {
        say("strut_north: no record can be written\n");
    } else {
        store(bytes, sizeof bytes);
        say("strut_north: zero taken, record written\n");
    }
}

// A flagged strain is not a measurement: log the flags with it, always.
static void log_reading(const char *name, gw_reading reading) {
    say(" ");
    say(name);
    say(" ");
    say_number(gw_nanostrain(reading.strain));
    if (reading.flags != 0) {
        char words[128];
        gw_flags_message(reading.flags, words, sizeof words);
        say(" (");
        say(words);
        say(")");
    }
}

int main(void) {
    struct board_sample sample;
    gw_point points[BRIDGES];
    gw_kernel strut = *channels[STRUT].kernel;

    if (!kernels_are_whole()) {
        return 1;
    }
    if (!kernel_of_record(&strut)) {
        say("strut_north: no record\n");
        take_zero(&strut);
        // As at the next start. The kernel of the flash, or that of the zero, stays where there is none.
        (void)kernel_of_record(&strut);
    }
    say("seconds, and each bridge in nanostrain\n");
    while (next_sample(&sample)) {
        say_number((int32_t)sample.seconds);
        for (size_t i = 0; i < BRIDGES; i++) {
            // On each temperature update: the constants of that temperature.
            if (sample.temperature_is_new) {
                int32_t steps = sample.sixteenths[i] * (GW_STEPS_PER_DEGREE / 16);
                points[i] = gw_kernel_at(i == STRUT ? &strut : channels[i].kernel, steps);
            }
            // Every sample.
            log_reading(channels[i].name, gw_point_reading(&points[i], sample.code[i]));
        }
        say("\n");
    }
    return 0;
}
