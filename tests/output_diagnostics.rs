//! Faults of a scenario as a person sees them.

use std::ops::Range;

use sim::scenario::{Fault, Severity};
use swardplay::diagnostic::render;

fn fault(severity: Severity, span: Range<usize>) -> Fault {
    Fault {
        code: "unknown-key",
        severity,
        message: "unknown key `heigth`".into(),
        span,
        expected: "a key of a mowing".into(),
        help: Some("did you mean `height`?".into()),
    }
}

const TEXT: &str = "[lawn]\narea = 1\nheigth = \"3 in\"\n";

#[test]
fn a_fault_has_its_line_a_caret_what_was_expected_and_a_near_miss() {
    let text = render("lawn.toml", TEXT, &[fault(Severity::Error, 16..22)], false);
    assert_eq!(
        text,
        "error[unknown-key]: unknown key `heigth`
 --> lawn.toml:3:1
  |
3 | heigth = \"3 in\"
  | ^^^^^^ a key of a mowing
  |
  = help: did you mean `height`?

1 error in lawn.toml; nothing was played
"
    );
}

#[test]
fn errors_come_before_cautions() {
    let faults = [
        fault(Severity::Caution, 0..6),
        fault(Severity::Error, 7..11),
        fault(Severity::Error, 16..22),
    ];
    let text = render("lawn.toml", TEXT, &faults, false);
    let caution = text.find("caution[unknown-key]").unwrap();
    assert!(text.rfind("error[unknown-key]").unwrap() < caution, "{text}");
    assert!(text.ends_with("2 errors and 1 caution in lawn.toml; nothing was played\n"), "{text}");
    let alone = render("lawn.toml", TEXT, &faults[..1], false);
    assert!(alone.ends_with("1 caution in lawn.toml\n"), "{alone}");
}

#[test]
fn colours_appear_only_where_asked_for() {
    let faults = [fault(Severity::Error, 16..22)];
    assert!(!render("lawn.toml", TEXT, &faults, false).contains('\u{1b}'));
    assert!(render("lawn.toml", TEXT, &faults, true).contains('\u{1b}'));
}

#[test]
fn whatever_the_span_and_the_text_a_fault_is_shown() {
    let wide = "é".repeat(5000);
    let texts = ["", "\n", "é", TEXT, &TEXT.replace('\n', "\r\n"), "\u{1b}[31mred\u{7}", &wide];
    for text in texts {
        let ends = [0, 1, 2, 3, 7, 16, 22, text.len(), text.len() + 9, usize::MAX];
        for start in ends {
            for end in ends {
                let faults = [fault(Severity::Error, start..end)];
                let shown = render("l\u{1b}.toml", text, &faults, false);
                assert!(shown.contains("unknown key `heigth`"), "{shown}");
                assert!(!shown.contains('\u{1b}'), "{shown}");
                assert!(shown.len() < 4000, "{}", shown.len());
            }
        }
    }
}

#[test]
fn a_flood_of_faults_is_counted_not_shown() {
    let faults = vec![fault(Severity::Error, 16..22); 900];
    let text = render("lawn.toml", TEXT, &faults, false);
    assert!(text.contains("... and 860 more\n900 errors in lawn.toml"), "{text}");
}
