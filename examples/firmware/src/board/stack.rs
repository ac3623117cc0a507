//! How much of the stack a piece of work takes, by painting it.

use core::arch::asm;

const PAINT: u32 = 0x5ca1_ab1e;

unsafe extern "C" {
    /// Where the variables end and the stack may grow to.
    static mut __sheap: u32;
}

/// The stack pointer.
#[inline(always)]
fn pointer() -> *mut u32 {
    let pointer: *mut u32;
    // SAFETY: reads a register.
    unsafe {
        #[cfg(target_arch = "arm")]
        asm!("mov {}, sp", out(reg) pointer, options(nomem, nostack, preserves_flags));
        #[cfg(target_arch = "riscv32")]
        asm!("mv {}, sp", out(reg) pointer, options(nomem, nostack, preserves_flags));
    }
    pointer
}

/// Paints what is free of the stack.
#[inline(always)]
fn paint(top: *mut u32) {
    let mut at = top;
    while at > &raw mut __sheap {
        at = at.wrapping_sub(1);
        // SAFETY: nothing lives between the variables and the stack pointer.
        unsafe { at.write_volatile(PAINT) };
    }
}

/// Bytes below `top` down to the deepest word that is not painted any more.
#[inline(always)]
fn below(top: *mut u32) -> usize {
    let mut at = &raw mut __sheap;
    // SAFETY: reads memory that is there.
    while at < top && unsafe { at.read_volatile() } == PAINT {
        at = at.wrapping_add(1);
    }
    top as usize - at as usize
}

/// Bytes of stack that `work` takes, what it calls included. Interrupts have to be off, or theirs count too.
#[inline(never)]
pub fn taken_by(work: impl FnOnce()) -> usize {
    // This function's own frame is above the pointer, since the pointer is kept in a register that had to be saved
    // first; that of what `work` calls begins at it.
    let top = pointer();
    paint(top);
    work();
    below(top)
}

/// Paints for [`taken_since`]: at the start of a program.
#[inline(never)]
pub fn start() {
    // A margin for what this function itself may still save.
    paint(pointer().wrapping_sub(16));
}

/// Bytes from the top of the stack down to the deepest word used since [`start`], interrupts included.
#[inline(never)]
pub fn taken_since() -> usize {
    unsafe extern "C" {
        static mut _stack_start: u32;
    }
    below(&raw mut _stack_start)
}
