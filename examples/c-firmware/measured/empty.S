/* A return and nothing else: what a call costs without a function. */
    .syntax unified
    .thumb
    .text
    .global empty
    .type empty, %function
    .thumb_func
empty:
    bx lr
    .section .note.GNU-stack, "", %progbits
