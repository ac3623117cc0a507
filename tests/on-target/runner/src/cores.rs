//! The seven cores, and the emulated board that each is tried on.

/// A core and how to start it.
pub struct Core {
    pub name: &'static str,
    pub target: &'static str,
    /// Named to the compiler where the target leaves out what the core has: the DSP instructions of the M33.
    pub processor: Option<&'static str>,
    /// Memory file of the board, in `examples/firmware/memory`, without its ending.
    pub memory: &'static str,
    /// The board has the I2C bus that the live logger needs.
    pub has_bus: bool,
    /// Emulator with its board.
    pub emulator: &'static [&'static str],
}

pub const CORES: [Core; 7] = [
    Core {
        name: "M0",
        target: "thumbv6m-none-eabi",
        processor: None,
        memory: "qemu-microbit",
        has_bus: false,
        emulator: &["qemu-system-arm", "-M", "microbit"],
    },
    Core {
        name: "M3",
        target: "thumbv7m-none-eabi",
        processor: None,
        memory: "qemu-mps2",
        has_bus: true,
        emulator: &["qemu-system-arm", "-M", "mps2-an385"],
    },
    Core {
        name: "M4F",
        target: "thumbv7em-none-eabihf",
        processor: None,
        memory: "qemu-mps2",
        has_bus: true,
        emulator: &["qemu-system-arm", "-M", "mps2-an386"],
    },
    Core {
        name: "M7",
        target: "thumbv7em-none-eabihf",
        processor: None,
        memory: "qemu-mps2",
        has_bus: true,
        emulator: &["qemu-system-arm", "-M", "mps2-an500"],
    },
    Core {
        name: "M33",
        target: "thumbv8m.main-none-eabihf",
        processor: Some("cortex-m33"),
        memory: "qemu-mps2-an505",
        has_bus: false,
        emulator: &["qemu-system-arm", "-M", "mps2-an505"],
    },
    Core {
        name: "RV32IMAC",
        target: "riscv32imac-unknown-none-elf",
        processor: None,
        memory: "qemu-virt",
        has_bus: false,
        emulator: &["qemu-system-riscv32", "-M", "virt", "-bios", "none"],
    },
    Core {
        name: "RV32IMAFC",
        target: "riscv32imafc-unknown-none-elf",
        processor: None,
        memory: "qemu-virt",
        has_bus: false,
        emulator: &["qemu-system-riscv32", "-M", "virt", "-bios", "none"],
    },
];
