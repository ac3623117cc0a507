//! The seven cores, and the emulated board that each is tried on.

/// A core and how to start it.
pub struct Core {
    pub name: &'static str,
    pub target: &'static str,
    /// Memory file of the board, in `examples/firmware/memory`.
    pub memory: &'static str,
    /// Emulator with its board.
    pub emulator: &'static [&'static str],
    /// Bytes of an instruction that returns.
    pub return_bytes: u64,
}

pub const CORES: [Core; 7] = [
    Core {
        name: "M0",
        target: "thumbv6m-none-eabi",
        memory: "qemu-microbit.x",
        emulator: &["qemu-system-arm", "-M", "microbit"],
        return_bytes: 2,
    },
    Core {
        name: "M3",
        target: "thumbv7m-none-eabi",
        memory: "qemu-mps2.x",
        emulator: &["qemu-system-arm", "-M", "mps2-an385"],
        return_bytes: 2,
    },
    Core {
        name: "M4F",
        target: "thumbv7em-none-eabihf",
        memory: "qemu-mps2.x",
        emulator: &["qemu-system-arm", "-M", "mps2-an386"],
        return_bytes: 2,
    },
    Core {
        name: "M7",
        target: "thumbv7em-none-eabihf",
        memory: "qemu-mps2.x",
        emulator: &["qemu-system-arm", "-M", "mps2-an500"],
        return_bytes: 2,
    },
    Core {
        name: "M33",
        target: "thumbv8m.main-none-eabihf",
        memory: "qemu-mps2-an505.x",
        emulator: &["qemu-system-arm", "-M", "mps2-an505"],
        return_bytes: 2,
    },
    Core {
        name: "RV32IMAC",
        target: "riscv32imac-unknown-none-elf",
        memory: "qemu-virt.x",
        emulator: &["qemu-system-riscv32", "-M", "virt", "-bios", "none"],
        return_bytes: 2,
    },
    Core {
        name: "RV32IMAFC",
        target: "riscv32imafc-unknown-none-elf",
        memory: "qemu-virt.x",
        emulator: &["qemu-system-riscv32", "-M", "virt", "-bios", "none"],
        return_bytes: 2,
    },
];
