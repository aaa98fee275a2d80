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

    /// Writes the value, indented by two spaces a level.
    pub(super) fn write(&self, level: usize, out: &mut String) {
        match self {
            Json::Flag(flag) => out.push_str(&flag.to_string()),
            Json::Number(number) => out.push_str(&number.to_string()),
            Json::Text(text) => quote(text, out),
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
}

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
        let value = Json::object([
            ("a\"b", Json::text("x\\y\n\u{1}")),
            ("n", Json::List(vec![Json::Number(1.0), Json::Number(0.5), Json::Flag(true)])),
            ("e", Json::Object(vec![])),
        ]);
        let mut out = String::new();
        value.write(0, &mut out);
        assert_eq!(
            out,
            "{\n  \"a\\\"b\": \"x\\\\y\\n\\u0001\",\n  \"n\": [\n    1,\n    0.5,\n    true\n  ],\n  \
             \"e\": {}\n}"
        );
    }
}
