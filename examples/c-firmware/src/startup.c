// Start of a Cortex-M or a RISC-V core: vector table, memory, main. Nothing of a particular board but the linker script's memory.
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

// RISC-V takes it by its address, a multiple of four.
__attribute__((aligned(4), used)) static void fault(void) {
    say("fault\n");
    finish(1);
}

#if defined(__riscv)
// The first instructions of memory, in machine mode: a stack, and where exceptions go.
__attribute__((naked, section(".vectors"), used)) static void start(void) {
    __asm volatile("la sp, _stack_top\n\tla t0, fault\n\tcsrw mtvec, t0\n\tj reset");
}
#else
// The first entry is an address of memory, the others are functions.
union entry {
    void (*handler)(void);
    const uint32_t *stack;
};

__attribute__((section(".vectors"), used)) static const union entry VECTORS[16] = {
    {.stack = &_stack_top}, {reset}, {fault}, {fault}, {fault}, {fault}, {fault}, {0},
    {0},                    {0},     {0},     {fault}, {fault}, {0},     {fault}, {fault},
};
#endif
