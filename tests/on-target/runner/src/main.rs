mod cores;
mod elf;
mod emulator;
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let core = cores::CORES.iter().find(|c| c.name == a[1]).unwrap();
    let f = emulator::Firmware { core, elf: (&a[2]).into() };
    let s = elf::Sizes::of(&f.elf).unwrap();
    println!("flash {} ram {}", s.flash, s.ram);
    for n in ["fixed_reading", "fixed_at", "fixed_point", "nothing", "f32_reading"] { println!("{n} {:?}", s.function(n)); }
    for l in f.report(&[]).unwrap() { println!("{l}"); }
}
