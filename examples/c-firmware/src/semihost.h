// A call to the emulator or debugger that a core runs under.
#ifndef SEMIHOST_H
#define SEMIHOST_H

enum { SYS_OPEN = 0x01, SYS_WRITE0 = 0x04, SYS_READ = 0x06, SYS_EXIT_EXTENDED = 0x20 };

static inline int semihost(int operation, const void *argument) {
#if defined(__riscv)
    register int a0 __asm("a0") = operation;
    register const void *a1 __asm("a1") = argument;
    // These three instructions mark a call: each of four bytes, and all on one page.
    __asm volatile(".balign 16\n\t.option push\n\t.option norvc\n\tslli x0, x0, 0x1f\n\tebreak\n\tsrai x0, x0, 7\n\t.option pop"
                   : "+r"(a0)
                   : "r"(a1)
                   : "memory");
    return a0;
#else
    register int r0 __asm("r0") = operation;
    register const void *r1 __asm("r1") = argument;
    __asm volatile("bkpt 0xab" : "+r"(r0) : "r"(r1) : "memory");
    return r0;
#endif
}

#endif
