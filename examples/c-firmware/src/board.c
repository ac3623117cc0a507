#include "board.h"

// Ticks of the timer in one second: an address that the linker script sets.
extern const uint8_t _timer_hz;

static int semihost(int operation, const void *argument) {
    register int r0 __asm("r0") = operation;
    register const void *r1 __asm("r1") = argument;
    __asm volatile("bkpt 0xab" : "+r"(r0) : "r"(r1) : "memory");
    return r0;
}

enum { SYS_WRITE0 = 0x04, SYS_EXIT_EXTENDED = 0x20 };
#define APPLICATION_EXIT 0x20026u

void say(const char *text) { semihost(SYS_WRITE0, text); }

void say_number(int64_t number) {
    char digits[24];
    char *at = digits + sizeof digits - 1;
    uint64_t size = number < 0 ? 0 - (uint64_t)number : (uint64_t)number;
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

void say_hexadecimal(uint64_t number, int digits) {
    char text[17];
    for (int i = 0; i < digits; i++) {
        text[i] = "0123456789abcdef"[number >> (4 * (digits - 1 - i)) & 15];
    }
    text[digits] = '\0';
    say(text);
}

void finish(int status) {
    const uint32_t block[] = {APPLICATION_EXIT, (uint32_t)status};
    semihost(SYS_EXIT_EXTENDED, block);
    for (;;) {
    }
}

#define SYST ((volatile uint32_t *)0xe000e010u)

void start_counter(void) {
    SYST[1] = 0x00ffffff;
    SYST[2] = 0;
    SYST[0] = 5; // on, by the processor's clock, without an interrupt
    while (SYST[2] == 0) {
    }
}

uint32_t counter(void) { return SYST[2]; }

uint64_t nanoseconds(uint32_t before, uint32_t after) {
    uint32_t ticks = (before - after) & 0x00ffffff;
    return (uint64_t)ticks * 1000000000u / (uint32_t)(uintptr_t)&_timer_hz;
}
