//! The blocks of a document as elements of HTML.

use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use crate::document::{
    Align, Block, Check, CutLine, Cuts, Document, Figure, Image, Inline, Row, Section, StepBlock,
    Table,
};
use crate::html::escaped;
use crate::svg::paint;

/// A section with its heading.
pub(super) fn section(document: &Document, section: &Section) -> String {
    format!(
        "<section id=\"{}\">\n<h2>{}</h2>\n{}</section>\n",
        section.id,
        escaped(section.title),
        blocks(document, &section.blocks)
    )
}

/// Some blocks, one after the other.
pub(super) fn blocks(document: &Document, blocks: &[Block]) -> String {
    blocks.iter().map(|one| block(document, one)).collect()
}

fn block(document: &Document, block: &Block) -> String {
    match block {
        Block::Heading(id, words) => {
            format!("<h3 id=\"{}\">{}</h3>\n", escaped(id), escaped(words))
        }
        Block::Paragraph(runs) => format!("<p>{}</p>\n", inline(document, runs)),
        Block::List(entries) => {
            let entries = entries
                .iter()
                .map(|runs| format!("<li>{}</li>\n", inline(document, runs)));
            format!("<ul>\n{}</ul>\n", entries.collect::<String>())
        }
        Block::Table(of) => table(document, of),
        Block::Figure(of) => figure(of),
        Block::Step(of) => step(document, of),
        Block::Facts(facts) => {
            let facts = facts.iter().map(|(name, known)| {
                format!("<dt>{}</dt>\n<dd>{}</dd>\n", escaped(name), escaped(known))
            });
            format!("<dl>\n{}</dl>\n", facts.collect::<String>())
        }
        Block::Checks(checks) => checks.iter().map(check).collect(),
        Block::Caution(sentences) => caution(document, sentences),
        Block::Cuts(of) => cuts(of),
    }
}

fn inline(document: &Document, runs: &[Inline]) -> String {
    let run = |run: &Inline| {
        let words = escaped(run.words());
        match run {
            Inline::Text(_) => words,
            Inline::Strong(_) => format!("<strong>{words}</strong>"),
            Inline::Emphasis(_) => format!("<em>{words}</em>"),
            Inline::Anchor(_, anchor) => format!("<a href=\"#{}\">{words}</a>", escaped(anchor)),
            Inline::Page(anchor) => format!(
                "<a href=\"#{}\">{}</a>",
                escaped(anchor),
                escaped(document.words.document.drawing)
            ),
            Inline::Link(_, to) => {
                format!("<a href=\"{}\" rel=\"noreferrer\">{words}</a>", escaped(to))
            }
        }
    };
    runs.iter().map(run).collect()
}

fn ticked(words: &str) -> String {
    format!("<label class=\"tick\"><input type=\"checkbox\"> <span>{words}</span></label>")
}

/// What a part's row or picture is known by.
fn of_part(part: Option<&String>) -> String {
    part.map_or_else(String::new, |part| {
        format!(" data-part=\"{}\"", escaped(part))
    })
}

fn table(document: &Document, table: &Table) -> String {
    let class = |index: usize| match table.columns.get(index).map(|column| column.align) {
        Some(Align::Right) => " class=\"number\"",
        Some(Align::Left) | None => "",
    };
    let heads = table.columns.iter().enumerate().map(|(index, column)| {
        format!(
            "<th scope=\"col\"{}>{}</th>",
            class(index),
            escaped(&column.head)
        )
    });
    let mut text = format!(
        "<div class=\"wide\" role=\"region\" aria-label=\"{0}\" tabindex=\"0\">\n<table>\n<caption>{0}</caption>\n<thead>\n<tr>{1}</tr>\n</thead>\n<tbody>\n",
        escaped(&table.name),
        heads.collect::<String>()
    );
    for Row { cells, part, tick } in &table.rows {
        let cells = cells.iter().enumerate().map(|(index, runs)| {
            let words = inline(document, runs);
            let words = if *tick && index == 0 {
                ticked(&words)
            } else {
                words
            };
            format!("<td{}>{words}</td>", class(index))
        });
        // Writing to a text cannot fail.
        let _ = writeln!(
            text,
            "<tr{}>{}</tr>",
            of_part(part.as_ref()),
            cells.collect::<String>()
        );
    }
    text.push_str("</tbody>\n</table>\n</div>\n");
    text
}

fn figure(figure: &Figure) -> String {
    let seen = match &figure.image {
        Image::Drawn(items, canvas) => paint::inline(*canvas, &figure.alternative, items),
        Image::Photograph(picture) => format!(
            "<img src=\"data:{};base64,{}\" alt=\"{}\" width=\"{}\" height=\"{}\">",
            picture.encoding.media_type(),
            STANDARD.encode(&picture.bytes),
            escaped(&figure.alternative),
            picture.width,
            picture.height
        ),
    };
    let caption = if figure.caption.is_empty() {
        String::new()
    } else {
        format!("<figcaption>{}</figcaption>\n", escaped(&figure.caption))
    };
    format!(
        "<figure{}>\n{seen}\n{caption}</figure>\n",
        of_part(figure.part.as_ref())
    )
}

fn caution(document: &Document, sentences: &[String]) -> String {
    let sentences = sentences
        .iter()
        .map(|said| format!("<p>{}</p>\n", escaped(said)));
    format!(
        "<div class=\"caution\" role=\"note\" aria-label=\"{}\">\n{}</div>\n",
        escaped(document.words.document.caution),
        sentences.collect::<String>()
    )
}

fn step(document: &Document, step: &StepBlock) -> String {
    let words = &document.words.document;
    let mut title = format!("{}. {}", step.number, escaped(&step.title));
    if !step.times.is_empty() {
        let _ = write!(title, " ({})", escaped(&step.times));
    }
    let mut text = format!(
        "<article id=\"{}\" class=\"step\">\n<h3>{title}</h3>\n",
        step.anchor()
    );
    if !step.reason.is_empty() {
        let _ = writeln!(
            text,
            "<p class=\"reason\">{}: {}</p>",
            escaped(words.why_now),
            escaped(&step.reason)
        );
    }
    text.extend(step.figure.as_ref().map(figure));
    let pieces: Vec<String> = step
        .pieces
        .iter()
        .map(|(words, part)| {
            format!(
                "<a href=\"#part-{0}\" data-part=\"{0}\">{1}</a>",
                escaped(part),
                escaped(words)
            )
        })
        .collect();
    let escape = |all: &[String]| all.iter().map(|one| escaped(one)).collect::<Vec<_>>();
    let rows = [
        (words.pieces, pieces),
        (words.fixings, escape(&step.fixings)),
        (words.tools, escape(&step.tools)),
    ];
    let mut said = String::new();
    for (name, all) in rows.iter().filter(|(_, all)| !all.is_empty()) {
        // Writing to a text cannot fail.
        let _ = write!(
            said,
            "<dt>{}</dt>\n<dd>{}</dd>\n",
            escaped(name),
            all.join("; ")
        );
    }
    if !said.is_empty() {
        let _ = write!(text, "<dl>\n{said}</dl>\n");
    }
    if !step.cautions.is_empty() {
        text.push_str(&caution(document, &step.cautions));
    }
    text.push_str("<ul class=\"acts\">\n");
    for act in &step.acts {
        let _ = writeln!(text, "<li>{}</li>", ticked(&escaped(act)));
    }
    for check in &step.checks {
        let said = format!("{}: {}", escaped(words.check), escaped(check));
        let _ = writeln!(text, "<li class=\"check\">{}</li>", ticked(&said));
    }
    text.push_str("</ul>\n");
    text.extend(step.photographs.iter().map(figure));
    text.push_str("</article>\n");
    text
}

fn check(check: &Check) -> String {
    let below = check.below.iter().map(|(words, blank)| {
        let blank = if *blank {
            " <span class=\"blank\"></span>"
        } else {
            ""
        };
        format!("<li>{}{blank}</li>\n", escaped(words))
    });
    format!(
        "<div class=\"to-check\">\n{}\n<ul>\n{}</ul>\n</div>\n",
        ticked(&escaped(&check.words)),
        below.collect::<String>()
    )
}

fn cuts(cuts: &Cuts) -> String {
    let mut text = format!(
        "<h3 id=\"{}\">{}</h3>\n{}",
        escaped(&cuts.anchor),
        escaped(&cuts.title),
        figure(&cuts.figure)
    );
    if !cuts.key.is_empty() {
        let key = cuts.key.iter().map(|(mark, words)| {
            format!("<dt>{}</dt>\n<dd>{}</dd>\n", escaped(mark), escaped(words))
        });
        let _ = write!(
            text,
            "<dl class=\"key\">\n{}</dl>\n",
            key.collect::<String>()
        );
    }
    text.push_str("<ul class=\"acts\">\n");
    for line in &cuts.lines {
        let line = match line {
            CutLine::Note(words) => format!("<li>{}</li>", escaped(words)),
            CutLine::Setting(words) => format!("<li class=\"setting\">{}</li>", escaped(words)),
            CutLine::Cut(number, words) => {
                let said = format!("<strong>{}</strong> {}", escaped(number), escaped(words));
                format!("<li>{}</li>", ticked(&said))
            }
        };
        text.push_str(&line);
        text.push('\n');
    }
    text.push_str("</ul>\n");
    text
}
