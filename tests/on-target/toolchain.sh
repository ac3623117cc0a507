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

# What runs on the host is built as the tests of README are, so that the library and what others have written is compiled for all
# of them at once: the arguments of cargo for programs of the default members.
as_tested="--quiet --features ffi,defmt,embedded-hal-async,heapless,record"

# One folder for all that is built for microcontrollers: what runs on the host while it is made, and what programs and cores share, is
# made once.
builds=$(mkdir -p "${CARGO_TARGET_DIR:-target}/on-target/build" && cd "${CARGO_TARGET_DIR:-target}/on-target/build" && pwd)

# Features of firmware that has the library with all that any of the programs in QEMU needs, so that it is compiled once for a core.
firmware_features=$(printf 'gaugewright/%s,' defmt embedded-hal-async heapless record)

# `rustup target add` if the target can be had so.
use_rustup() { rustup target add "$1" >/dev/null 2>&1; }

# Debian's compiler builds the core library from source, once for all levels of optimisation; the nightly switch it needs is
# for that alone.
debian_ready=
use_debian() {
    [ -n "$debian_ready" ] && return
    if ! { [ -x /usr/bin/rustc ] && [ -x /usr/bin/cargo ] && ls /usr/src/rustc-*/library >/dev/null 2>&1; }; then
        for package in rustc-web cargo-web rust-web-src; do install_package $package; done
    fi
    debian_ready=yes
}

# Nothing here reads what a debugger needs, and without it firmware takes a fifth less to build. Each function keeps its size.
export CARGO_PROFILE_RELEASE_DEBUG=0

# The linker lies in any toolchain of rustup, or is Debian's.
linker=
find_linker() {
    [ -n "$linker" ] && return
    linker=$(ls "$(rustc --print sysroot 2>/dev/null)"/lib/rustlib/*/bin/rust-lld 2>/dev/null | head -1 || true)
    [ -n "$linker" ] && return
    command -v ld.lld >/dev/null || install_package lld
    linker=ld.lld
}

nm=$(command -v llvm-nm || command -v nm || true)
# linked LIBRARY IMAGE FUNCTION...: an image of these functions and what they need, from this library alone. Fails, and says
# why, if one is missing or needs more.
linked() {
    local library=$1 image=$2 flavor=
    shift 2
    find_linker
    [[ $linker == *rust-lld ]] && flavor="-flavor gnu"
    $linker $flavor --gc-sections --entry=0 $(printf -- '-u %s ' "$@") "$library" -o "$image" 2>"$image.txt" ||
        { cat "$image.txt"; return 1; }
    local function names
    names=" $("$nm" "$image" | awk '$2 == "T" { printf "%s ", $3 }')"
    for function in "$@"; do [[ $names == *" $function "* ]] || { echo "no $function"; return 1; }; done
}

# build_for TARGET CRATE-FOLDER TARGET-FOLDER [cargo arguments]: builds a release; sets `how` it was built. `verb` is the
# command of cargo, if it is not `build`.
build_for() {
    local target=$1 manifest=$2/Cargo.toml directory=$3
    shift 3
    if use_rustup "$target"; then
        how="rustup target"
        cargo ${verb:-build} --quiet --release --manifest-path "$manifest" --target "$target" --target-dir "$directory" "$@"
    else
        how="core built from source"
        use_debian
        find_linker
        local variable
        variable=CARGO_TARGET_$(tr 'a-z.-' 'A-Z__' <<<"$target")_LINKER
        env "$variable=$linker" RUSTC=/usr/bin/rustc RUSTC_BOOTSTRAP=1 /usr/bin/cargo ${verb:-build} --quiet --release \
            -Zbuild-std=core --config 'profile.release.package.core.opt-level=3' \
            --config 'profile.release.package.compiler_builtins.opt-level=3' --manifest-path "$manifest" --target "$target" --target-dir "$directory" "$@"
    fi
}
