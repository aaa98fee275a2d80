//! Changes that leave a text readable: a fuzzer that only turns bytes seldom gets past the parser.

use libfuzzer_sys::fuzzer_mutate;

/// Values that stand at the edge of something.
const HOSTILE: [&str; 40] = [
    "0", "-0.0", "1", "-1", "nan", "inf", "-inf", "1e308", "-1e308", "5e-324", "9223372036854775807",
    "-9223372036854775808", "4294967295", "99999999999999999999", "1e9999", "true", "\"\"", "[]", "{}",
    "\"0 %\"", "\"100 %\"", "\"1e300 %\"", "\"1 day\"", "\"366 days\"", "\"29 Feb\"", "\"31 Dec\"", "\"1 Jan\"",
    "\"0 in\"", "\"1e300 ft2\"", "\"1/0 in\"", "\"\u{130}\u{212a}\u{1f331}\"", "\"\\u0000\"", "\"-5 degF\"",
    "[\"0 %\", \"100 %\"]", "[\"5 %\", \"1 %\"]", "[\"0 %\", \"0 %\", \"0 %\"]", "2024-02-29", "-9999", "9999",
    "[1, 2, 3]",
];

/// Fields of a table that stand at the edge of something.
const FIELDS: [&str; 24] = [
    "", "0", "-0", "nan", "inf", "-9999", "9999", "99999", "1e308", "-1e308", "1e-320", "2012-02-29",
    "2013-02-29", "0000-00-00", "9999-12-31", "-0001-01-01", "20121231", "\"", "\"\"", "T", "-99.9", "\u{a0}1",
    "1,5", "TMAX",
];

/// A small generator: a mutation is decided by the seed that the fuzzer gives.
struct Dice(u64);

impl Dice {
    fn new(seed: u32) -> Dice {
        Dice(u64::from(seed).wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n.max(1) as u64) as usize
    }
}

/// Changes a TOML text: a value, a number in it, a line's place, or any bytes.
pub fn toml(data: &mut [u8], size: usize, max_size: usize, seed: u32) -> usize {
    changed(data, size, max_size, seed, |text, dice| {
        let mut lines: Vec<String> = text.split('\n').map(str::to_string).collect();
        let at = dice.below(lines.len());
        let other = dice.below(lines.len());
        match dice.below(8) {
            0 | 1 => {
                let (key, _) = lines[at].split_once('=')?;
                lines[at] = format!("{key}= {}", HOSTILE[dice.below(HOSTILE.len())]);
            }
            2 | 3 => lines[at] = other_number(&lines[at], dice)?,
            4 => {
                lines.remove(at);
            }
            5 => lines.insert(other, lines[at].clone()),
            6 => lines.swap(at, other),
            _ => {
                let (key, _) = lines[at].split_once('=')?;
                let (_, value) = lines[other].split_once('=')?;
                lines[at] = format!("{key}={value}");
            }
        }
        Some(lines.join("\n"))
    })
}

/// Changes a table: a field, a row's place, or any bytes.
pub fn table(data: &mut [u8], size: usize, max_size: usize, seed: u32) -> usize {
    changed(data, size, max_size, seed, |text, dice| {
        let mut lines: Vec<String> = text.split('\n').map(str::to_string).collect();
        // Most of what is special stands on top.
        let depth = if dice.below(2) == 0 { lines.len() } else { lines.len().min(4) };
        let at = dice.below(depth);
        let other = dice.below(lines.len());
        match dice.below(6) {
            0 | 1 => {
                let mut fields: Vec<&str> = lines[at].split(',').collect();
                let field = dice.below(fields.len());
                fields[field] = FIELDS[dice.below(FIELDS.len())];
                lines[at] = fields.join(",");
            }
            2 => lines[at] = other_number(&lines[at], dice)?,
            3 => {
                lines.remove(at);
            }
            4 => lines.insert(other, lines[at].clone()),
            _ => lines.swap(at, other),
        }
        Some(lines.join("\n"))
    })
}

/// A line with one of its numbers changed.
fn other_number(line: &str, dice: &mut Dice) -> Option<String> {
    let starts: Vec<usize> = line
        .char_indices()
        .filter(|(i, c)| {
            c.is_ascii_digit() && !line[..*i].ends_with(|c: char| c.is_ascii_digit() || c == '.')
        })
        .map(|(i, _)| i)
        .collect();
    let from = *starts.get(dice.below(starts.len()))?;
    let end = line[from..].find(|c: char| !c.is_ascii_digit() && c != '.').map_or(line.len(), |i| from + i);
    let old: f64 = line[from..end].parse().ok()?;
    let new = match dice.below(10) {
        0 => "0".to_string(),
        1 => (old * 10.0).to_string(),
        2 => (old / 10.0).to_string(),
        3 => (old + 1.0).to_string(),
        4 => (old - 1.0).to_string(),
        5 => "99999999999999999999".to_string(),
        6 => (old * 1.01).to_string(),
        7 => (old * 3.0).to_string(),
        8 => (old * 0.3).to_string(),
        _ => dice.below(400).to_string(),
    };
    Some(format!("{}{new}{}", &line[..from], &line[end..]))
}

/// Puts a changed text in the place of the data, in most cases; in the others, and where there is no
/// text to change, the fuzzer's own change of bytes.
fn changed(
    data: &mut [u8],
    size: usize,
    max_size: usize,
    seed: u32,
    change: impl Fn(&str, &mut Dice) -> Option<String>,
) -> usize {
    let mut dice = Dice::new(seed);
    let new = if dice.below(4) == 0 {
        None
    } else {
        let mut text = std::str::from_utf8(&data[..size]).ok().map(str::to_string);
        for _ in 0..=dice.below(3) {
            text = text.and_then(|text| change(&text, &mut dice));
        }
        text
    };
    match new.filter(|new| new.len() <= max_size) {
        Some(new) => {
            data[..new.len()].copy_from_slice(new.as_bytes());
            new.len()
        }
        None => fuzzer_mutate(data, size, max_size),
    }
}
