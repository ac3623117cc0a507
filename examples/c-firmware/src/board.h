// What the firmware needs of the processor: a report by semihosting, and a count of instructions.
#ifndef BOARD_H
#define BOARD_H

#include <stdint.h>

// Text to the host.
void say(const char *text);
void say_number(int64_t number);
void say_hexadecimal(uint64_t number, int digits);

// Ends the program: 0 is success.
void finish(int status) __attribute__((noreturn));

// Ticks of the timer, which runs down, and what is left of it. Under QEMU's -icount shift=0 an instruction takes a
// nanosecond.
void start_counter(void);
uint32_t counter(void);
// Nanoseconds between two looks at the counter, at most 2^24 ticks apart.
uint64_t nanoseconds(uint32_t before, uint32_t after);

#endif
