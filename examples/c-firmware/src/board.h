// What the logger needs of a board: converters, thermometers, a place for the log, and storage.
#ifndef BOARD_H
#define BOARD_H

#include <stddef.h>
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

// Codes of a bridge without load, and the temperature at its gauge: what an operator has the logger take on site.
struct board_zero {
    int64_t sum;
    uint32_t count;
    int16_t sixteenths;
};
void read_unloaded(struct board_zero *zero);

// Storage that outlives the power: reads all bytes of a place for one record, and replaces them.
void load(uint8_t *bytes, size_t size);
void store(const uint8_t *bytes, size_t size);

// Text to the log.
void say(const char *text);
void say_number(int32_t number);

// Ends the program: 0 is success.
void finish(int status) __attribute__((noreturn));

#endif
