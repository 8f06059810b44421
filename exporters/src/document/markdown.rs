//! What an author writes in Markdown, as blocks: headings, paragraphs, lists, emphasis, links. Everything else stays words.

use pulldown_cmark::{Event, Parser, Tag, TagEnd};

use super::model::{Block, Inline};

/// The blocks of a text; `name` begins the anchors of its headings.
pub(crate) fn blocks(text: &str, name: &str) -> Vec<Block> {
    let mut reader = Reader {
        name,
        ..Reader::default()
    };
    for event in Parser::new(text) {
        reader.take(event);
    }
    reader.end_paragraph();
    reader.blocks
}

#[derive(Default)]
struct Reader<'a> {
    name: &'a str,
    blocks: Vec<Block>,
    runs: Vec<Inline>,
    /// Entries of the list that is open; `None` outside of lists.
    entries: Option<Vec<Vec<Inline>>>,
    /// How many lists are open one inside another.
    depth: usize,
    headings: usize,
    strong: usize,
    emphasis: usize,
    link: Option<String>,
}

impl Reader<'_> {
    fn take(&mut self, event: Event) {
        match event {
            Event::Start(Tag::Strong) => self.strong += 1,
            Event::End(TagEnd::Strong) => self.strong -= 1,
            Event::Start(Tag::Emphasis) => self.emphasis += 1,
            Event::End(TagEnd::Emphasis) => self.emphasis -= 1,
            Event::Start(Tag::Link { dest_url, .. }) => {
                let leads = ["https://", "http://"]
                    .iter()
                    .any(|lead| dest_url.starts_with(lead));
                self.link = leads.then(|| dest_url.to_string());
            }
            Event::End(TagEnd::Link) => self.link = None,
            Event::Start(Tag::List(_)) => {
                self.end_paragraph();
                self.depth += 1;
                self.entries.get_or_insert_default();
            }
            Event::End(TagEnd::List(_)) => {
                self.end_paragraph();
                self.depth -= 1;
                if self.depth == 0 {
                    self.blocks.extend(self.entries.take().map(Block::List));
                }
            }
            Event::End(TagEnd::Heading(_)) => {
                self.headings += 1;
                let runs = std::mem::take(&mut self.runs);
                let words = runs.iter().map(Inline::words).collect();
                let anchor = format!("{}-{}", self.name, self.headings);
                self.blocks.push(Block::Heading(anchor, words));
            }
            Event::End(
                TagEnd::Paragraph | TagEnd::Item | TagEnd::CodeBlock | TagEnd::HtmlBlock,
            ) => self.end_paragraph(),
            Event::Text(words)
            | Event::Code(words)
            | Event::Html(words)
            | Event::InlineHtml(words) => self.add(&words),
            Event::SoftBreak | Event::HardBreak => self.add(" "),
            _ => {}
        }
    }

    fn add(&mut self, words: &str) {
        let words = words.to_owned();
        self.runs.push(match &self.link {
            Some(to) => Inline::Link(words, to.clone()),
            None if self.strong > 0 => Inline::Strong(words),
            None if self.emphasis > 0 => Inline::Emphasis(words),
            None => Inline::Text(words),
        });
    }

    fn end_paragraph(&mut self) {
        let runs = std::mem::take(&mut self.runs);
        if runs.iter().all(|run| run.words().trim().is_empty()) {
            return;
        }
        match &mut self.entries {
            Some(entries) => entries.push(runs),
            None => self.blocks.push(Block::Paragraph(runs)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_subset_is_read_and_the_rest_stays_words() {
        let text = "# Use\n\nKeep *dry*, **level**.\n\n- one\n- [two](https://example.org)\n- [three](javascript:x)\n\n<script>x</script>";
        let blocks = blocks(text, "said");
        let [
            Block::Heading(anchor, title),
            Block::Paragraph(said),
            Block::List(list),
            Block::Paragraph(html),
        ] = blocks.as_slice()
        else {
            panic!("{blocks:?}");
        };
        assert_eq!((anchor.as_str(), title.as_str()), ("said-1", "Use"));
        assert_eq!(said[1], Inline::Emphasis("dry".to_owned()));
        assert_eq!(said[3], Inline::Strong("level".to_owned()));
        let to = "https://example.org".to_owned();
        assert_eq!(list[1], [Inline::Link("two".to_owned(), to)]);
        assert_eq!(list[2], [Inline::Text("three".to_owned())]);
        assert_eq!(html[0].words(), "<script>x</script>");
    }
}
