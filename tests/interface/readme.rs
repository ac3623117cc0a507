//! The documents say what the code does: sizes, versions, features, recorded figures. (tests/kernel/accuracy.rs checks README's
//! table of errors.)

use gaugewright::*;
use support::*;

const README: &str = "README.md";
const DESIGN: &str = "src/kernel/design.md";

/// The document has each of these words.
#[track_caller]
fn says<S: AsRef<str>>(path: &str, words: impl IntoIterator<Item = S>) {
    let text = document(path);
    for words in words {
        assert!(text.contains(words.as_ref()), "{path} does not say: {}", words.as_ref());
    }
}

/// The rows of the tables in a text, without heads and rules.
fn rows(text: &str) -> Vec<Vec<&str>> {
    let lines: Vec<&str> = text.lines().collect();
    let is_head = |at: usize| lines.get(at + 1).is_some_and(|below| below.starts_with("|---"));
    let is_row = |at: usize| lines[at].starts_with("| ") && !is_head(at);
    (0..lines.len())
        .filter(|at| is_row(*at))
        .map(|at| lines[at].trim_matches('|').split('|').map(str::trim).collect())
        .collect()
}

fn section<'a>(text: &'a str, title: &str) -> &'a str {
    let rest = text.split(&format!("\n## {title}\n")).nth(1).unwrap_or_else(|| panic!("no section {title}"));
    rest.split("\n## ").next().unwrap()
}

fn manifest(key: &str) -> String {
    let text = document("Cargo.toml");
    let line = text.lines().find(|line| line.starts_with(&format!("{key} = "))).unwrap();
    line.split('"').nth(1).unwrap().to_owned()
}

#[test]
fn sizes() {
    let rows = [
        ("`fixed::Kernel` (degree 4, linear gauge factor)", size_of::<fixed::Kernel>()),
        (
            "`fixed::Kernel<4, 1, 1>` (with the product of thermal and mechanical change)",
            size_of::<fixed::Kernel<4, 1, 1>>(),
        ),
        ("`fixed::Kernel<5, 3, 1>` (any channel)", size_of::<fixed::Kernel<5, 3, 1>>()),
        ("`fixed::OperatingPoint`", size_of::<fixed::OperatingPoint>()),
        ("`fixed::LinearPoint`", size_of::<fixed::LinearPoint>()),
        ("`float::Kernel<f32>`", size_of::<float::Kernel<f32>>()),
        ("`float::OperatingPoint<f32>`", size_of::<float::OperatingPoint<f32>>()),
        (
            "`rosette::FixedRosetteKernel`, `rosette::RosetteKernel<f32>`",
            size_of::<rosette::FixedRosetteKernel>(),
        ),
    ];
    says(DESIGN, rows.map(|(what, bytes)| format!("| {what} | {bytes} |")));
    says(README, [format!("to {} bytes of integer constants", size_of::<fixed::Kernel>())]);
}

#[test]
fn versions() {
    let (version, compiler) = (manifest("version"), manifest("rust-version"));
    let (minor, _) = version.rsplit_once('.').unwrap();
    says(
        README,
        [
            format!("Version {version}."),
            format!("gaugewright = \"{minor}\""),
            format!("Rust {compiler} or newer"),
        ],
    );
    says("DEVELOPERS.md", [format!("Rust {compiler} for the library")]);
}

/// What calls from C cost and take, as recorded.
#[test]
fn figures_of_c() {
    const PATH: &str = "examples/c-firmware/README.md";
    let text = document(PATH);
    let rows = |text: &'static str| text.lines().filter(|line| line.starts_with("| "));
    let mut shown = 0;
    let whole = [
        include_str!("../../examples/c-firmware/recorded/instructions.md"),
        include_str!("../../examples/c-firmware/recorded/logger.md"),
    ];
    says(PATH, whole.into_iter().flat_map(rows));
    for row in rows(include_str!("../../examples/c-firmware/recorded/bytes.md")) {
        let target = row.split('`').nth(1);
        if target.is_none_or(|target| text.contains(&format!("| `{target}` |"))) {
            says(PATH, [row]);
            shown += 1;
        }
    }
    assert_eq!(shown, 4);
}

/// Each feature of the manifest has its row, and each row its feature.
#[test]
fn features() {
    let text = document("Cargo.toml");
    let table = text.split("[features]").nth(1).unwrap().split("\n[").next().unwrap();
    let mut features: Vec<_> = table
        .lines()
        .filter(|line| !line.starts_with('#') && line.contains(" = "))
        .map(|line| line.split(' ').next().unwrap().to_owned())
        .filter(|name| name != "default")
        .collect();
    let readme = document(README);
    let rows = rows(section(&readme, "Features"));
    let mut shown: Vec<_> = rows.iter().map(|row| row[0].trim_matches('`').to_owned()).collect();
    // `.ci/run` builds each feature by the version in its row, which the manifest's own bounds from below.
    let minor = |version: &str| version.strip_prefix("1.").unwrap().parse::<u32>().unwrap();
    assert!(rows.iter().all(|row| minor(row[3]) >= minor(&manifest("rust-version"))));
    features.sort();
    shown.sort();
    assert_eq!(features, shown);
}

/// What a reader sees of a snippet is all of it: no line that the documentation would hide, and each is compiled and run.
#[test]
fn snippets_are_shown_whole() {
    let (mut snippets, mut hidden, mut in_snippet) = (0, Vec::new(), false);
    for line in document(README).lines() {
        match line.strip_prefix("```") {
            // With another word behind it, it might not be run.
            Some(kind) if kind.starts_with("rust") => {
                assert_eq!(kind, "rust");
                snippets += 1;
                in_snippet = true;
            }
            Some(_) => in_snippet = false,
            None if in_snippet && (line.trim() == "#" || line.trim_start().starts_with("# ")) => {
                hidden.push(line.to_owned());
            }
            None => {}
        }
    }
    assert!(snippets >= 1 && hidden.is_empty(), "{snippets} snippets, hidden lines {hidden:#?}");
}

/// The error limits of the text, against the constants that the tests use.
#[test]
fn figures_in_the_text() {
    let bridges: usize =
        ["quarter_bridge", "half_bridge_compensating", "half_bridge_poisson_bending", "full_bridge"]
            .into_iter()
            .map(|name| data(name).len())
            .sum();
    let (states, corrections) = (data("rosette_cases").len(), data("end_to_end_cases").len());
    let fixed = rosette::Rosette::delta().fixed_error(units::Microstrain(2_000.0)).unwrap();
    says(
        "src/rosette/mod.rs",
        [format!("{states} states"), format!("are within {:.2} nanostrain of", fixed.principal.0)],
    );
    says(DESIGN, [format!("{corrections} corrections and {bridges} bridges")]);
    for path in [README, DESIGN] {
        let text = document(path);
        assert!(!text.contains("| @") && !text.contains("\n@"), "{path} has an unfilled place");
    }
    // What the documents state is what the tests use, no more and no less.
    let stated = |number: f64| format!("{number:e}");
    says(
        DESIGN,
        [
            format!("{} nanostrain on the test set", stated(tolerance::REFERENCE_NANOSTRAIN)),
            format!("to {} microstrain", stated(tolerance::REFERENCE_MICROSTRAIN)),
            format!("{} V/V", stated(tolerance::REFERENCE_RATIO)),
        ],
    );
    says("src/reference/mod.rs", [format!("below {} nanostrain", stated(tolerance::REFERENCE_NANOSTRAIN))]);
}

/// The recorded runs of the benches have their nine paths, and the seven beside numpy.
#[test]
fn recorded_run_of_the_benches_is_whole() {
    let recorded = document("benches/recorded.md");
    let tables = recorded.split("\n\n").map(rows).filter(|rows| !rows.is_empty());
    assert_eq!(tables.map(|rows| rows.len()).collect::<Vec<_>>(), [9, 7]);
}

/// README's table of costs is the recorded run on three of the cores, cell by cell.
#[test]
fn costs_are_those_of_the_recorded_run() {
    let recorded = document("tests/on-target/recorded.md");
    let cores = ["M0", "M3", "M4F", "M7", "M33", "RV32IMAC", "RV32IMAFC"];
    let titles = [
        "instructions a call",
        "instructions a sample of a block",
        "cycles",
        "bytes",
        "the logger that is set up on site",
    ];
    let heads = titles.map(|what| format!("| {what} | {} |", cores.join(" | ")));
    says("tests/on-target/recorded.md", &heads);
    let tables: Vec<_> = recorded.split("\n\n").map(rows).filter(|rows| !rows.is_empty()).collect();
    assert_eq!(tables.iter().map(Vec::len).collect::<Vec<_>>(), [34, 34, 22, 25, 12]);
    let readme = document(README);
    let cost = section(&readme, "Cost");
    assert!(cost.contains("| of a call | M0 | M4F | RV32IMAC |"));
    let shown = rows(cost);
    assert!((6..=10).contains(&shown.len()), "{} rows", shown.len());
    for row in shown {
        let (kind, what) = row[0].split_once(": ").unwrap_or_else(|| panic!("which figure is {}", row[0]));
        let table = match kind {
            "instructions" => &tables[0],
            "instructions a sample" => &tables[1],
            "cycles" => &tables[2],
            "bytes" => &tables[3],
            other => panic!("{other} are not recorded"),
        };
        let full =
            table.iter().find(|full| full[0] == what).unwrap_or_else(|| panic!("not recorded: {what}"));
        let of = |core: &str| full[1 + cores.iter().position(|name| *name == core).unwrap()];
        assert_eq!(row[1..], ["M0", "M4F", "RV32IMAC"].map(of), "{what}");
    }
}

/// Where README sends its readers, there is something.
#[test]
fn links_lead_to_files() {
    let mut links = 0;
    for path in [README, "DEVELOPERS.md", "examples/c-firmware/README.md", "examples/firmware/README.md"] {
        let folder = repository().join(path).parent().unwrap().to_owned();
        for link in document(path).split("](").skip(1) {
            let link = link.split(')').next().unwrap();
            assert!(folder.join(link).exists(), "{path}: {link} is not there");
            links += 1;
        }
    }
    assert!(links >= 5, "{links} links");
    // The guides are named by their files.
    let readme = document(README);
    let mut named: Vec<_> =
        readme.split("`src/guide/").skip(1).map(|rest| rest.split('`').next().unwrap()).collect();
    named.sort_unstable();
    assert_eq!(named.len(), 9);
    let files = documents("src/guide");
    let files = files.iter().filter(|path| path.ends_with(".md"));
    let files: Vec<_> = files.map(|path| path.trim_start_matches("src/guide/")).collect();
    assert_eq!(named, files);
}
