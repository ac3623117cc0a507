// What both measured programs write: hashes.
#ifndef REPORT_H
#define REPORT_H

#include <stdint.h>

#include "board.h"

#define HASH_OF_NOTHING UINT64_C(0xcbf29ce484222325)

// FNV-1a, continued from the hash of what came before.
static inline uint64_t hashed(uint64_t hash, uint8_t byte) { return (hash ^ byte) * UINT64_C(0x100000001b3); }

// Four bytes, the lowest first.
static inline uint64_t hashed_word(uint64_t hash, uint32_t word) {
    for (int shift = 0; shift < 32; shift += 8) {
        hash = hashed(hash, (uint8_t)(word >> shift));
    }
    return hash;
}

static inline void say_hexadecimal(uint64_t number) {
    char text[17];
    for (int i = 0; i < 16; i++) {
        text[i] = "0123456789abcdef"[number >> (60 - 4 * i) & 15];
    }
    text[16] = '\0';
    say(text);
}

#endif
