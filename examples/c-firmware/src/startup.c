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

__attribute__((section(".vectors"), used)) static const void *const VECTORS[16] = {
    &_stack_top,         (const void *)reset, (const void *)fault, (const void *)fault,
    (const void *)fault, (const void *)fault, (const void *)fault, 0,
    0,                   0,                   0,                   (const void *)fault,
    (const void *)fault, 0,                   (const void *)fault, (const void *)fault,
};
