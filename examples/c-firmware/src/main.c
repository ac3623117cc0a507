// A logger: strain of two bridges, corrected on the microcontroller. The kernels are constants in flash (kernels.h, made by the
// host from gondola.toml); nothing is computed in floating point. src/board.c is what you replace for a board of yours.
#include <stddef.h>

#include "board.h"
#include "gaugewright.h"
#include "kernels.h"

static const struct channel {
    const char *name;
    const gw_kernel *kernel;
    const gw_seal *seal;
} channels[BRIDGES] = {
    {"strut_north", &kernel_strut_north, &seal_strut_north},
    {"boom_root", &kernel_boom_root, &seal_boom_root},
};

// Once, at the start: each kernel in flash is the one that the host made.
static int kernels_are_whole(void) {
    for (size_t i = 0; i < BRIDGES; i++) {
        if (gw_kernel_check(channels[i].kernel, channels[i].seal, NULL) != GW_STATUS_OK) {
            say(channels[i].name);
            say(": the kernel in flash is damaged, or made for another version of the library\n");
            return 0;
        }
    }
    return 1;
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

    if (!kernels_are_whole()) {
        return 1;
    }
    say("seconds, and each bridge in nanostrain\n");
    while (next_sample(&sample)) {
        say_number((int32_t)sample.seconds);
        for (size_t i = 0; i < BRIDGES; i++) {
            // On each temperature update: the constants of that temperature.
            if (sample.temperature_is_new) {
                int32_t steps = sample.sixteenths[i] * (GW_STEPS_PER_DEGREE / 16);
                points[i] = gw_kernel_at(channels[i].kernel, steps);
            }
            // Every sample.
            log_reading(channels[i].name, gw_point_reading(&points[i], sample.code[i]));
        }
        say("\n");
    }
    return 0;
}
