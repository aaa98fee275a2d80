//! A picture of the run inside the page, as data: so its ids, styles and text stay apart from the
//! page's, and nothing in it can run.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, html};

use crate::pictures::Sketch;

/// A picture and its SVG.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// What it shows.
    pub sketch: Sketch,
    /// The SVG's bytes.
    pub svg: Vec<u8>,
}

/// A figure with a caption; nothing where the run has no such picture.
pub(super) fn figure(drawn: Option<&Drawn>, caption: &str) -> Markup {
    html! {
        @if let Some(drawn) = drawn {
            figure class=(drawn.sketch.content.kind()) {
                img src=(format!("data:image/svg+xml;base64,{}", STANDARD.encode(&drawn.svg)))
                    alt=(drawn.sketch.alt);
                @if !caption.is_empty() { figcaption { (caption) } }
            }
        }
    }
}
