//! Lessons for print: questions with boxes to tick on the first pages, answers on the pages behind.
//! One file that needs nothing beside it.

use std::fmt::Write as _;

use sim::scenario::letter;

use super::told::{Question, Table, Told};
use crate::words::name::simulated;

/// One lesson of a sheet.
#[derive(Clone, Debug)]
pub struct Page {
    /// The question.
    pub question: Question,
    /// The answer.
    pub told: Told,
    /// Choices that are right, or may be.
    pub right: Vec<usize>,
    /// The picture, as SVG text.
    pub picture: String,
}

/// Widths in mm fit both A4 and Letter: 210 and 216 mm less the margins.
const STYLE: &str = "\
@page { margin: 14mm 15mm }
* { box-sizing: border-box }
body { font: 11pt/1.4 'DejaVu Sans', Verdana, sans-serif; color: #222; max-width: 178mm; margin: 6mm auto; padding: 0 4mm }
h1 { font-size: 18pt; margin: 0 0 2mm }
h2 { font-size: 13pt; margin: 0 0 1mm; break-after: avoid }
h3 { font-size: 11pt; margin: 4mm 0 1mm; break-after: avoid }
p { margin: 0 0 2mm }
.line { border-bottom: 0.3mm solid #555; display: inline-block; height: 6mm }
.who { display: flex; gap: 8mm; margin: 4mm 0 6mm }
.who span:nth-child(1) { flex: 2 } .who span:nth-child(2) { flex: 1 }
.who i { display: inline-block; border-bottom: 0.3mm solid #555; width: 75% }
.lesson { break-inside: avoid; border-top: 0.4mm solid #222; padding: 4mm 0 5mm }
.change { border-left: 1mm solid #555; padding-left: 3mm }
.small { font-size: 9pt; color: #444 }
ul.choices { list-style: none; margin: 2mm 0 2mm; padding: 0 }
ul.choices li { margin: 1.5mm 0; padding-left: 8mm; text-indent: -8mm }
.box { display: inline-block; width: 4.5mm; height: 4.5mm; border: 0.4mm solid #222; margin-right: 3.5mm; vertical-align: -0.8mm; text-indent: 0 }
.why { border-bottom: 0.3mm solid #999; height: 8mm }
.answers { break-before: page }
.answer { border-top: 0.4mm solid #222; padding: 4mm 0 5mm }
.answer + .answer { break-before: page }
.verdict { font-weight: bold }
.picture img { width: 100%; max-height: 118mm; object-fit: contain; object-position: left }
.months { overflow-x: auto }
table { border-collapse: collapse; font-size: 9pt; break-inside: avoid }
th, td { text-align: right; padding: 0.4mm 3mm; border-bottom: 0.2mm solid #ccc; font-weight: normal }
th:first-child, td:first-child { text-align: left }
thead th { font-weight: bold; max-width: 40mm; vertical-align: bottom }
ol { margin: 0 0 2mm; padding-left: 6mm } ol li { margin: 0.8mm 0 }
ul { margin: 0 0 2mm; padding-left: 6mm }
@media print {
body { margin: 0; padding: 0; max-width: none; font-size: 10pt; line-height: 1.35 }
.months { display: none }
.picture img { max-height: 96mm }
.answers h1 { font-size: 14pt; margin: 0 }
.answer { padding: 2mm 0 0 }
}
";

/// The sheet.
pub fn html(pages: &[Page], members: u32) -> String {
    let mut out =
        String::from("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
    out.push_str("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
    let title = match pages {
        [only] => only.question.title.clone(),
        _ => "What comes of it?".to_string(),
    };
    let title = safe(&title);
    let _ = writeln!(out, "<title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>");
    let _ = writeln!(
        out,
        "<h1>{}</h1>",
        if pages.len() == 1 { "Guess first, look second" } else { title.as_str() }
    );
    out.push_str(
        "<p>One thing is changed on a lawn. What comes of it? Tick one answer and say why, before you \
         turn to the answers. The lawns are invented; the answers come from playing them.</p>\n\
         <p class=\"who\"><span>Name <i>&nbsp;</i></span><span>Date <i>&nbsp;</i></span></p>\n",
    );
    for (number, page) in pages.iter().enumerate() {
        question(&mut out, page, number + 1, pages.len());
    }
    out.push_str("<div class=\"answers\">\n<h1>Answers</h1>\n");
    let _ = writeln!(
        out,
        "<p class=\"small\">From {}, the same with the change and without. {}</p>",
        simulated(members),
        super::LABEL
    );
    for (number, page) in pages.iter().enumerate() {
        answer(&mut out, page, number + 1, pages.len());
    }
    out.push_str("</div>\n</body>\n</html>\n");
    out
}

/// "3. Title", or the title alone where there is one lesson.
fn head(page: &Page, number: usize, of: usize) -> String {
    let title = safe(&page.question.title);
    if of == 1 { title } else { format!("{number}. {title}") }
}

fn question(out: &mut String, page: &Page, number: usize, of: usize) {
    let asked = &page.question;
    let _ = writeln!(out, "<section class=\"lesson\">\n<h2>{}</h2>", head(page, number, of));
    let _ = writeln!(out, "<p>{}</p>", safe(&asked.story));
    let change = asked.change.trim_end_matches('.');
    let _ = writeln!(out, "<p class=\"change\">The change: {}.</p>", safe(change));
    let _ = writeln!(out, "<p class=\"small\">{}</p>", safe(&asked.played));
    let _ = writeln!(out, "<p><b>{}</b></p>\n<ul class=\"choices\">", safe(&asked.question));
    for (letter, says) in &asked.choices {
        let _ = writeln!(out, "<li><span class=\"box\"></span>{letter}&ensp;{}</li>", safe(says));
    }
    out.push_str("</ul>\n<p class=\"small\">Because</p>\n<div class=\"why\"></div>\n</section>\n");
}

fn answer(out: &mut String, page: &Page, number: usize, of: usize) {
    let told = &page.told;
    let mut letters: Vec<char> = page.right.iter().map(|at| letter(*at)).collect();
    letters.sort_unstable();
    let letters: Vec<String> = letters.into_iter().map(String::from).collect();
    let _ = writeln!(
        out,
        "<section class=\"answer\">\n<h2>{} &ndash; {}</h2>",
        head(page, number, of),
        letters.join(" or ")
    );
    let _ = writeln!(out, "<p class=\"verdict\">{}</p>", safe(&told.verdict));
    let _ = writeln!(out, "<p>{}</p>\n<p>{}</p>", safe(&told.size), safe(&told.counts));
    out.push_str("<h3>From cause to effect, in the middle of the futures (half have more, half less)</h3>\n<ol>\n");
    for link in &told.chain {
        let _ = writeln!(out, "<li>{}</li>", safe(link));
    }
    out.push_str("</ol>\n");
    let _ = writeln!(
        out,
        "<p class=\"picture\"><img alt=\"{}\" src=\"data:image/svg+xml,{}\"></p>",
        safe(&told.size),
        escaped(&page.picture)
    );
    table(out, &told.table);
    out.push_str("<h3>How far to believe it</h3>\n");
    for line in told.popular.iter().chain(&told.belief) {
        let _ = match line.strip_prefix("- ") {
            Some(item) => writeln!(out, "<ul><li>{}</li></ul>", safe(item)),
            None => writeln!(out, "<p>{}</p>", safe(line)),
        };
    }
    out.push_str("</section>\n");
}

fn table(out: &mut String, table: &Table) {
    // On paper the picture says the same.
    let _ = writeln!(
        out,
        "<div class=\"months\"><h3>{}</h3>\n<table>\n<thead><tr><th></th>",
        safe(&table.heading)
    );
    for column in &table.columns {
        let _ = write!(out, "<th>{}</th>", safe(column));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for (time, cells) in &table.rows {
        let _ = write!(out, "<tr><td>{}</td>", safe(time));
        for cell in cells {
            let _ = write!(out, "<td>{}</td>", safe(cell));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table></div>\n");
}

/// Text that a page shows as it is.
fn safe(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// Bytes of a picture as a page's own address takes them (RFC 3986, section 2.1).
fn escaped(svg: &str) -> String {
    let mut out = String::with_capacity(svg.len() * 5 / 4);
    for byte in svg.bytes() {
        match byte {
            b'"' | b'#' | b'%' | b'&' | b'<' | b'>' | b'\n' | 0x80.. => {
                let _ = write!(out, "%{byte:02X}");
            }
            byte => out.push(char::from(byte)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_and_pictures_cannot_break_out_of_the_page() {
        assert_eq!(safe("<b> & \"x\""), "&lt;b&gt; &amp; &quot;x&quot;");
        assert_eq!(escaped("<a b=\"#1\">ü</a>"), "%3Ca b=%22%231%22%3E%C3%BC%3C/a%3E");
    }
}
