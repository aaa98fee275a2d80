//! No text makes the check panic, and every fault lies inside the text.

use proptest::prelude::*;
use sim::scenario::{check, line_of};

const PRODUCTS: &str = include_str!("../scenarios/products.toml");
const SCENARIOS: [&str; 2] = [
    include_str!("../scenarios/thin-front-lawn.toml"),
    include_str!("../scenarios/new-build-lot.toml"),
];

fn checked(text: &str, products: &str) {
    if let Err(faults) = check(text, products) {
        assert!(!faults.is_empty());
        for fault in &faults {
            assert!(
                fault.span.start <= fault.span.end && fault.span.end <= text.len(),
                "{fault:?}"
            );
            assert!(text.is_char_boundary(fault.span.start), "{fault:?}");
            assert!(text.is_char_boundary(fault.span.end), "{fault:?}");
            assert!(line_of(text, &fault.span) >= 1);
            assert!(!fault.message.is_empty());
        }
        assert!(faults.windows(2).all(|pair| pair[0].span.start <= pair[1].span.start));
    }
}

fn boundary(text: &str, at: usize) -> usize {
    (at.min(text.len())..=text.len()).find(|i| text.is_char_boundary(*i)).unwrap_or(text.len())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_text(text in "\\PC{0,200}") {
        checked(&text, PRODUCTS);
    }

    #[test]
    fn toml_like_text(text in "([a-z\\[\\]{}=\"',.0-9 %/\\-]|\n|\\[\\[program\\]\\]\n|id = \"a\"\n|based-on = \"a\"\n){0,60}") {
        checked(&text, PRODUCTS);
    }

    /// A piece of a good scenario is cut out, doubled, or put somewhere else.
    #[test]
    fn mutated_scenarios(
        which in 0usize..2, from in 0usize..4000, length in 0usize..60, to in 0usize..4000,
        junk in "[ -~\n½é\"]{0,6}",
    ) {
        let text = SCENARIOS[which];
        let from = boundary(text, from);
        let end = boundary(text, from + length);
        let cut = format!("{}{junk}{}", &text[..from], &text[end..]);
        checked(&cut, PRODUCTS);
        let to = boundary(text, to);
        let moved = format!("{}{}{}", &text[..to], &text[from..end], &text[to..]);
        checked(&moved, PRODUCTS);
    }

    /// Whole lines are swapped: mostly valid TOML, wrong in meaning.
    #[test]
    fn swapped_lines(which in 0usize..2, a in 0usize..120, b in 0usize..120) {
        let mut lines: Vec<&str> = SCENARIOS[which].lines().collect();
        let (a, b) = (a % lines.len(), b % lines.len());
        lines.swap(a, b);
        checked(&lines.join("\n"), PRODUCTS);
        lines.remove(a);
        checked(&lines.join("\n"), PRODUCTS);
    }

    #[test]
    fn mutated_products(from in 0usize..9000, length in 0usize..40, junk in "[ -~]{0,4}") {
        let from = boundary(PRODUCTS, from);
        let end = boundary(PRODUCTS, from + length);
        let cut = format!("{}{junk}{}", &PRODUCTS[..from], &PRODUCTS[end..]);
        checked(SCENARIOS[0], &cut);
    }
}

/// Depth must not overflow the stack, of the parser's or of ours.
#[test]
fn deep_texts() {
    for depth in [100, 3000, 200_000] {
        checked(&format!("[constants]\n{}a = 1\n", "a.".repeat(depth)), PRODUCTS);
        checked(&format!("x = {}", "[".repeat(depth)), PRODUCTS);
        checked(&format!("x = {}", "{a=".repeat(depth)), PRODUCTS);
        checked(&format!("[{}a]\nb = 1\n", "program.".repeat(depth)), PRODUCTS);
    }
}

/// Line ends of either kind and a byte-order mark are no faults.
#[test]
fn text_from_any_editor() {
    let text = SCENARIOS[0].replace('\n', "\r\n");
    assert!(check(&text, PRODUCTS).is_ok(), "{:?}", check(&text, PRODUCTS));
    let marked = format!("\u{feff}{}", SCENARIOS[0]);
    assert!(check(&marked, PRODUCTS).is_ok(), "{:?}", check(&marked, PRODUCTS));
}
