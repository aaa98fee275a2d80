//! JSON text with its members in the order given.

/// A JSON value.
#[derive(Clone)]
pub(super) enum Json {
    /// True or false.
    Flag(bool),
    /// A finite number.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Json>),
    /// Members in their order.
    Object(Vec<(String, Json)>),
}

impl Json {
    pub(super) fn text(text: impl Into<String>) -> Json {
        Json::Text(text.into())
    }

    pub(super) fn texts<'a>(all: impl Iterator<Item = &'a str>) -> Json {
        Json::List(all.map(Json::text).collect())
    }

    /// An object of these members.
    pub(super) fn object<const N: usize>(members: [(&str, Json); N]) -> Json {
        Json::Object(members.into_iter().map(|(name, value)| (name.to_string(), value)).collect())
    }

    /// The object with further members at its end; anything else as it is.
    pub(super) fn with<const N: usize>(self, members: [(&str, Json); N]) -> Json {
        match self {
            Json::Object(mut all) => {
                all.extend(members.map(|(name, value)| (name.to_string(), value)));
                Json::Object(all)
            }
            other => other,
        }
    }

    /// Writes the value, indented by two spaces a level; what is short stays on its line.
    pub(super) fn write(&self, level: usize, out: &mut String) {
        let mut flat = String::new();
        self.write_flat(&mut flat);
        if flat.len() + 2 * level <= WIDTH {
            out.push_str(&flat);
            return;
        }
        match self {
            Json::Flag(_) | Json::Number(_) | Json::Text(_) => out.push_str(&flat),
            Json::List(all) => {
                let all = all.iter().map(|value| (None, value));
                lines('[', ']', all.collect(), level, out);
            }
            Json::Object(all) => {
                let all = all.iter().map(|(name, value)| (Some(name.as_str()), value));
                lines('{', '}', all.collect(), level, out);
            }
        }
    }

    /// Writes the value on one line.
    fn write_flat(&self, out: &mut String) {
        match self {
            Json::Flag(flag) => out.push_str(&flag.to_string()),
            Json::Number(number) => out.push_str(&number.to_string()),
            Json::Text(text) => quote(text, out),
            Json::List(all) => {
                out.push('[');
                for (i, value) in all.iter().enumerate() {
                    out.push_str(if i > 0 { ", " } else { "" });
                    value.write_flat(out);
                }
                out.push(']');
            }
            Json::Object(all) => {
                out.push('{');
                for (i, (name, value)) in all.iter().enumerate() {
                    out.push_str(if i > 0 { ", " } else { " " });
                    quote(name, out);
                    out.push_str(": ");
                    value.write_flat(out);
                }
                out.push_str(if all.is_empty() { "}" } else { " }" });
            }
        }
    }
}

/// Columns of a line that several values may share.
const WIDTH: usize = 90;

fn lines(open: char, close: char, all: Vec<(Option<&str>, &Json)>, level: usize, out: &mut String) {
    out.push(open);
    for (i, (name, value)) in all.iter().enumerate() {
        out.push_str(if i > 0 { ",\n" } else { "\n" });
        out.push_str(&"  ".repeat(level + 1));
        if let Some(name) = name {
            quote(name, out);
            out.push_str(": ");
        }
        value.write(level + 1, out);
    }
    if !all.is_empty() {
        out.push('\n');
        out.push_str(&"  ".repeat(level));
    }
    out.push(close);
}

/// RFC 8259, section 7: quotation mark, backslash and control characters are escaped.
fn quote(text: &str, out: &mut String) {
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => out.push_str(&format!("\\u{:04x}", c as u32)),
            c => out.push(c),
        }
    }
    out.push('"');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_written_as_json() {
        let mut value = Json::object([
            ("a\"b", Json::text("x\\y\n\u{1}")),
            ("n", Json::List(vec![Json::Number(1.0), Json::Number(0.5), Json::Flag(true)])),
            ("e", Json::Object(vec![])),
        ]);
        let mut out = String::new();
        value.write(0, &mut out);
        assert_eq!(out, r#"{ "a\"b": "x\\y\n\u0001", "n": [1, 0.5, true], "e": {} }"#);
        let long = "x".repeat(WIDTH);
        value = value.with([("l", Json::text(&long))]);
        out.clear();
        value.write(0, &mut out);
        let lines: Vec<&str> = out.lines().collect();
        assert_eq!((lines.len(), lines[0], lines[5]), (6, "{", "}"));
        assert_eq!((lines[2], lines[3]), ("  \"n\": [1, 0.5, true],", "  \"e\": {},"));
        assert_eq!(lines[4], format!("  \"l\": \"{long}\""));
    }
}
