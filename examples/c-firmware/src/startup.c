// Start of a Cortex-M: vector table, memory, main. Nothing of a particular board but the linker script's memory.
#include <stdint.h>

#include "board.h"

extern uint32_t _stack_top, _data_start, _data_end, _data_stored, _bss_start, _bss_end;

int main(void);

void reset(void) {
#if defined(__ARM_FP)
    // The floating-point unit is off after reset: full access to coprocessors 10 and 11.
    *(volatile uint32_t *)0xe000ed88u |= 0xfu << 20;
    __asm volatile("dsb\n\tisb" ::: "memory");
#endif
    const uint32_t *from = &_data_stored;
    for (uint32_t *to = &_data_start; to < &_data_end; to++) {
        *to = *from++;
    }
    for (uint32_t *to = &_bss_start; to < &_bss_end; to++) {
        *to = 0;
    }
    finish(main());
}

static void fault(void) {
    say("fault\n");
    finish(1);
}

// The first entry is an address of memory, the others are functions.
union entry {
    void (*handler)(void);
    const uint32_t *stack;
};

__attribute__((section(".vectors"), used)) static const union entry VECTORS[16] = {
    {.stack = &_stack_top}, {reset}, {fault}, {fault}, {fault}, {fault}, {fault}, {0},
    {0},                    {0},     {0},     {fault}, {fault}, {0},     {fault}, {fault},
};
