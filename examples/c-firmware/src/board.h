// What the logger needs of a board: converters, thermometers, and a place for the log.
#ifndef BOARD_H
#define BOARD_H

#include <stdint.h>

enum { BRIDGES = 2 };

struct board_sample {
    uint32_t seconds;
    // Of each bridge: the converter's signed code, and the temperature at its gauge, in sixteenths of a degree Celsius (as many
    // digital thermometers give it).
    int32_t code[BRIDGES];
    int16_t sixteenths[BRIDGES];
    // The first sample has to have new temperatures.
    int temperature_is_new;
};

// Waits for the next sample; 0 at the end of the record.
int next_sample(struct board_sample *sample);

// Text to the log.
void say(const char *text);
void say_number(int32_t number);

// Ends the program: 0 is success.
void finish(int status) __attribute__((noreturn));

#endif
