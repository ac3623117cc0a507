/* A return and nothing else: what a call costs without a function. */
    .syntax unified
    .thumb
    .text
    .macro empty name
    .global \name
    .type \name, %function
    .thumb_func
\name:
    bx lr
    .endm
    empty empty_reading
    empty empty_at
    empty empty_point
    empty empty_linear
    empty empty_large
    .section .note.GNU-stack, "", %progbits
