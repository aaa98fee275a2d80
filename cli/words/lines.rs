//! Lines no wider than a terminal.

/// Widest line, characters.
const WIDTH: usize = 92;

/// One paragraph, wrapped: its first line indented by `first` spaces, the rest by `rest`. Runs of
/// spaces inside a line stay as they are.
pub fn wrap(text: &str, first: usize, rest: usize) -> String {
    wrap_to(WIDTH, text, first, rest)
}

/// The same, on lines of at most `width` characters.
pub fn wrap_to(width: usize, text: &str, first: usize, rest: usize) -> String {
    let mut out = String::new();
    let mut line = " ".repeat(first);
    let mut empty = true;
    for word in text.trim().split(' ') {
        let long = line.chars().count() + 1 + word.chars().count() > width;
        if long && !empty {
            out.push_str(line.trim_end());
            out.push('\n');
            line = " ".repeat(rest);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    out.push_str(line.trim_end());
    out.push('\n');
    out
}

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn a_long_line_goes_on_below_with_its_indent() {
        let text = wrap(&"lawn ".repeat(30), 2, 4);
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines.iter().all(|l| l.chars().count() <= 92));
        assert!(lines[0].starts_with("  lawn") && lines[1].starts_with("    lawn"));
        assert_eq!(text.matches("lawn").count(), 30);
    }

    #[test]
    fn columns_set_with_spaces_keep_their_place() {
        assert_eq!(wrap("better      crabgrass", 2, 14), "  better      crabgrass\n");
    }
}
