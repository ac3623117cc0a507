//! What the figures were measured on.

/// Instruction sets that make a difference here, and whether the build may use them.
const FEATURES: [(&str, bool); 7] = [
    ("sse2", cfg!(target_feature = "sse2")),
    // The first on x86-64 with a signed product of 32 by 32 bits in vectors.
    ("sse4.1", cfg!(target_feature = "sse4.1")),
    ("avx2", cfg!(target_feature = "avx2")),
    ("fma", cfg!(target_feature = "fma")),
    ("avx512f", cfg!(target_feature = "avx512f")),
    ("avx512dq", cfg!(target_feature = "avx512dq")),
    ("neon", cfg!(target_feature = "neon")),
];

/// Prints processor and instruction sets.
pub fn print() {
    println!("host: {}", processor());
    print!("built for {}, with", std::env::consts::ARCH);
    for (name, _) in FEATURES.iter().filter(|(_, enabled)| *enabled) {
        print!(" {name}");
    }
    println!();
}

/// The processor's name where the system tells it.
fn processor() -> String {
    std::fs::read_to_string("/proc/cpuinfo")
        .ok()
        .and_then(|text| {
            let line = text.lines().find(|line| line.starts_with("model name"))?;
            Some(line.split_once(": ")?.1.to_owned())
        })
        .unwrap_or_else(|| "unknown processor".to_owned())
}
