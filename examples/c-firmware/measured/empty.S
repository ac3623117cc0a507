/* A return and nothing else: what a call costs without a function. */
#if !defined(__riscv)
    .syntax unified
    .thumb
    .thumb_func
#endif
    .text
    .global empty
empty:
#if defined(__riscv)
    ret
#else
    bx lr
#endif
    .type empty, %function
    .section .note.GNU-stack, "", %progbits
