// A board that is none: samples from a table, the log by semihosting to an emulator or a debugger. On a board of yours
// next_sample waits for the timer and reads converters and thermometers; say writes to a memory card or a radio; load and store
// have a page of flash or an EEPROM.
#include "board.h"

#include <stddef.h>

#include "semihost.h"

// Rows of the demonstration flight (examples/flight), which is invented. The last two are what can go wrong: a strut so cold
// that it leaves the declared range, and then a broken lead.
static const struct board_sample RECORD[] = {
    {0, {167471, 105009}, {288, 200}, 1},         // on the ground, nothing hangs on the gondola
    {800, {514105, 667770}, {120, 148}, 1},       // it hangs
    {2400, {175927, 663442}, {-1236, -1199}, 1},  // tropopause
    {2401, {175931, 663440}, {-1236, -1199}, 0},  // the temperatures are read more rarely than the bridges
    {4400, {520530, 664694}, {594, -812}, 1},     // float: the strut is in the sun, the boom is not
    {8800, {497674, 953189}, {-315, -338}, 1},    // gusts on the way down
    {10000, {142172, -89900}, {269, 216}, 1},     // landed
    {10001, {175931, -89900}, {-1290, 216}, 1},
    {10002, {8388607, -89900}, {-1290, 216}, 0},
};

int next_sample(struct board_sample *sample) {
    static size_t next;
    if (next == sizeof RECORD / sizeof *RECORD) {
        return 0;
    }
    *sample = RECORD[next++];
    return 1;
}

// Sixty-four samples in the hangar, at 18.5 C.
void read_unloaded(struct board_zero *zero) { *zero = (struct board_zero){10727840, 64, 296}; }

// Begins as erased flash does; this one is empty again at the next power-up.
static uint8_t storage[256];
static int is_written;

void load(uint8_t *bytes, size_t size) {
    for (size_t i = 0; i < size && i < sizeof storage; i++) {
        bytes[i] = is_written ? storage[i] : 0xff;
    }
}

void store(const uint8_t *bytes, size_t size) {
    for (size_t i = 0; i < size && i < sizeof storage; i++) {
        storage[i] = bytes[i];
    }
    is_written = 1;
}

#define APPLICATION_EXIT 0x20026u

void say(const char *text) { semihost(SYS_WRITE0, text); }

void say_number(int32_t number) {
    char digits[12];
    char *at = digits + sizeof digits - 1;
    uint32_t size = number < 0 ? 0 - (uint32_t)number : (uint32_t)number;
    *at = '\0';
    do {
        *--at = (char)('0' + size % 10);
        size /= 10;
    } while (size != 0);
    if (number < 0) {
        *--at = '-';
    }
    say(at);
}

void finish(int status) {
    const uint32_t block[] = {APPLICATION_EXIT, (uint32_t)status};
    semihost(SYS_EXIT_EXTENDED, block);
    for (;;) {
    }
}
