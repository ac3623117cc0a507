# Sourced by scripts that build for microcontrollers.

# One at a time: checks that run beside each other may both need something.
install_package() {
    {
        flock 9 && apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq "$1"
    } 9>"${TMPDIR:-/tmp}/install_package.lock" </dev/null >/dev/null
}

# Which package has RISC-V depends on the release.
install_riscv_emulator() {
    local package
    for package in qemu-system-misc qemu-system-riscv; do
        command -v qemu-system-riscv32 >/dev/null || install_package $package || true
    done
}

install_nightly() { rustc +nightly --version >/dev/null 2>&1 || rustup toolchain install nightly --profile minimal >/dev/null 2>&1; }

# install_tool NAME [cargo arguments]: a program from the registry, where cargo has its own.
install_tool() { command -v "$1" >/dev/null || cargo install --quiet --locked "$@" >/dev/null 2>&1; }
# The header is what this version makes of src/ffi.
install_cbindgen() { install_tool cbindgen --version "^0.29"; }

# `rustup target add` if the target can be had so.
use_rustup() { rustup target add "$1" >/dev/null 2>&1; }

# Debian's compiler builds the core library from source; the nightly switch it needs is for that alone.
debian_ready=
use_debian() {
    [ -n "$debian_ready" ] && return
    if ! { [ -x /usr/bin/rustc ] && [ -x /usr/bin/cargo ] && ls /usr/src/rustc-*/library >/dev/null 2>&1; }; then
        for package in rustc-web cargo-web rust-web-src; do install_package $package; done
    fi
    debian_ready=yes
}

# build_for TARGET CRATE-FOLDER TARGET-FOLDER [cargo arguments]: builds a release; sets `how` it was built.
build_for() {
    local target=$1 manifest=$2/Cargo.toml directory=$3
    shift 3
    if use_rustup "$target"; then
        how="rustup target"
        cargo build --quiet --release --manifest-path "$manifest" --target "$target" --target-dir "$directory" "$@"
    else
        how="core built from source"
        use_debian
        # The linker lies in any toolchain of rustup, or is Debian's.
        local linker
        linker=$(ls "$(rustc --print sysroot 2>/dev/null)"/lib/rustlib/*/bin/rust-lld 2>/dev/null | head -1 || true)
        if [ -z "$linker" ]; then
            command -v ld.lld >/dev/null || install_package lld
            linker=ld.lld
        fi
        local variable
        variable=CARGO_TARGET_$(tr 'a-z.-' 'A-Z__' <<<"$target")_LINKER
        env "$variable=$linker" RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 /usr/bin/cargo build --quiet --release \
            -Zbuild-std=core --manifest-path "$manifest" --target "$target" --target-dir "$directory" "$@"
    fi
}
