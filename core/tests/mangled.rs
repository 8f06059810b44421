//! Plans that a fixed seed has mangled, through every stage: findings, never a panic, and every place can be shown. A few
//! seconds of what the fuzzer does by the hour.

use std::fs;
use std::path::{Path, PathBuf};

use jigless_core::load::IncludeReader;

struct Same<'a>(&'a [u8]);

impl IncludeReader for Same<'_> {
    fn read(&self, _: &str) -> Result<Vec<u8>, String> {
        Ok(self.0.to_vec())
    }
}

/// Numbers without end from a seed (xorshift, Marsaglia 2003), so that every run does the same.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % end.max(1) as u64) as usize
    }
}

fn plans(folder: &Path, found: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(folder).expect("the fixtures can be read");
    for entry in entries {
        let path = entry.expect("a readable entry").path();
        if path.is_dir() {
            plans(&path, found);
        } else if path
            .extension()
            .is_some_and(|extension| extension == "yaml")
        {
            found.push(path);
        }
    }
}

fn compile(bytes: &[u8]) {
    let compiled = jigless_core::compile("plan.yaml", bytes, &Same(bytes));
    for finding in compiled.findings.iter() {
        let labels = finding.labels.iter().map(|label| &label.span);
        for span in finding.span.iter().chain(labels) {
            let (line, column) = compiled.sources.file(span.file).line_column(span.start);
            assert!(line >= 1 && column >= 1);
            let _ = compiled.sources.slice(*span);
        }
    }
}

/// Values that stand where others stood.
const STRANGE: &[&str] = &[
    "0",
    "-1",
    "1e308",
    "-1e-300",
    ".nan",
    ".inf",
    "1/0",
    "width",
    "thickness",
    "through",
    "[]",
    "{}",
    "~",
    "\"\"",
    "[1, 2, 3]",
    "{left: 1}",
    "9999999999",
    "0.0001",
    "10000",
    "3/4 in",
    "45 deg",
    "1 mm * 1 mm",
    "a b",
    "é",
];

#[test]
fn mangled_plans_give_findings_and_never_a_panic() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../fixtures");
    let mut files = Vec::new();
    plans(&root, &mut files);
    files.sort();
    let texts: Vec<Vec<u8>> = files
        .iter()
        .map(|file| fs::read(file).expect("a fixture"))
        .filter(|bytes| bytes.len() < 4_000)
        .collect();
    assert!(texts.len() > 150, "only {} plans", texts.len());
    let mut dice = Dice(0x6a69_676c_6573_7321);
    for text in &texts {
        compile(text);
        for _ in 0..3 {
            let mut mangled = text.clone();
            for _ in 0..=dice.below(3) {
                mangle(&mut mangled, &mut dice, &texts);
            }
            compile(&mangled);
        }
    }
}

fn mangle(text: &mut Vec<u8>, dice: &mut Dice, texts: &[Vec<u8>]) {
    if text.is_empty() {
        return;
    }
    match dice.below(6) {
        // Another value after a colon or comma.
        0..=2 => {
            let places: Vec<usize> = (0..text.len() - 1)
                .filter(|&at| b":,[".contains(&text[at]) && text[at + 1] == b' ')
                .collect();
            if places.is_empty() {
                return;
            }
            let start = places[dice.below(places.len())] + 2;
            let end = (start..text.len())
                .find(|&at| b",]}\n".contains(&text[at]))
                .unwrap_or(text.len());
            let value = STRANGE[dice.below(STRANGE.len())];
            text.splice(start.min(end)..end, value.bytes());
        }
        3 => {
            let at = dice.below(text.len());
            text[at] = b"{}[]:,-#&*!|>'\"%@` \n\t\\0\x00\xff"[dice.below(25)];
        }
        4 => {
            let start = dice.below(text.len());
            let end = (start + 1 + dice.below(40)).min(text.len());
            text.drain(start..end);
        }
        // A piece of another plan.
        _ => {
            let other = &texts[dice.below(texts.len())];
            let start = dice.below(other.len());
            let end = (start + 1 + dice.below(120)).min(other.len());
            let at = dice.below(text.len());
            text.splice(at..at, other[start..end].iter().copied());
        }
    }
}
