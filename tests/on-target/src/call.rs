//! How what is measured is called: a function of its own for each path, and what is taken off the count.

/// The ordinary return type of Rust, so that a call costs what it costs in a firmware.
#[macro_export]
macro_rules! paths {
    ($($name:ident($kernel:ident: $type:ty, $code:ident, $t:ident) -> $result:ty { $body:expr })*) => {
        $(
            #[unsafe(no_mangle)]
            #[inline(never)]
            pub fn $name($kernel: $type, $code: i32, $t: Temperature) -> $result {
                $body
            }
        )*
    };
}
#[cfg(target_arch = "arm")]
core::arch::global_asm!(
    ".syntax unified",
    ".thumb_func",
    ".globl nothing",
    "nothing:",
    "bx lr",
    ".thumb_func",
    ".globl countdown",
    "countdown:",
    "1:",
    "subs r0, r0, #1",
    "bne 1b",
    "bx lr"
);
#[cfg(target_arch = "riscv32")]
core::arch::global_asm!(
    ".globl nothing",
    "nothing:",
    "ret",
    ".globl countdown",
    "countdown:",
    "1:",
    "addi a0, a0, -1",
    "bnez a0, 1b",
    "ret"
);

// SAFETY: one looks at nothing and returns, the other counts its argument down in a register that is its own.
unsafe extern "C" {
    /// In the place of a path: the return and nothing else. A function of Rust would keep a frame pointer.
    pub safe fn nothing(kernel: *const (), code: i32, t: i32);

    /// Two instructions for each round, and the return.
    pub safe fn countdown(rounds: u32);
}
