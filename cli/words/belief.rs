//! How far to believe a result: the page for clients, read for its lists, so that they stand in one
//! place only.

/// The page.
const PAGE: &str = include_str!("../../scenarios/HOW-FAR.md");

/// What the model leaves out, an entry a line of the page.
pub fn left_out() -> Vec<&'static str> {
    section("What it leaves out").lines().filter_map(|l| l.strip_prefix("- ")).collect()
}

/// The same within a line, without what stands in brackets or after a semicolon.
pub fn in_a_line() -> String {
    let short = |entry: &'static str| entry.split(['(', ';']).next().unwrap_or(entry).trim_end();
    left_out().into_iter().map(short).collect::<Vec<_>>().join("; ")
}

/// How the model did against published trials, in a few sentences.
pub fn tried() -> String {
    let part = section("Where it was right").split("<!-- hits: begin").nth(1).unwrap_or("");
    let paragraph = part.split("-->\n").nth(1).unwrap_or("");
    joined(paragraph.split("\n\n").next().unwrap_or(""))
}

/// Where it came out wrong: "Barriers keeping in cold soil (0 of 2 results near)".
pub fn wrong() -> Vec<String> {
    let items = section("Where it was wrong").lines().filter_map(|l| l.strip_prefix("- **"));
    items.filter_map(|item| Some(item[..=item.find(" near)")? + 5].replace("**", ""))).collect()
}

/// What it means for a decision, each in bold on the page.
pub fn advice() -> Vec<String> {
    let part = joined(section("What that means when you decide"));
    let bold = part.split("- **").skip(1).filter_map(|item| item.split("**").next());
    bold.map(|said| format!("{}.", said.trim_end_matches([',', '.']))).collect()
}

/// The text below a heading of the page, up to the next.
fn section(heading: &str) -> &'static str {
    let from = PAGE.find(&format!("\n## {heading}\n")).map_or("", |at| &PAGE[at + 1..]);
    let below = from.split_once('\n').map_or("", |(_, below)| below);
    below.split("\n## ").next().unwrap_or("")
}

/// Lines of a paragraph as one.
fn joined(paragraph: &str) -> String {
    paragraph.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A heading or a marker that changed would leave a list empty.
    #[test]
    fn every_list_of_the_page_is_found() {
        assert!(left_out().iter().any(|entry| entry.starts_with("grubs")), "{:?}", left_out());
        assert!(left_out().len() >= 5 && !in_a_line().contains('('), "{}", in_a_line());
        assert!(tried().starts_with("We play ") && tried().ends_with(')'), "{}", tried());
        let items = PAGE.matches(" near). ").count();
        assert!(items > 5 && wrong().len() == items, "{:?}", wrong());
        assert!(wrong().iter().all(|item| item.ends_with(" near)") && !item.contains('*')));
        assert!(advice().len() >= 5, "{:?}", advice());
        assert!(advice().iter().all(|said| said.ends_with('.') && said.len() > 20));
    }
}
