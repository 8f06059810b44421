//! `page-html`: the document of a plan as one file of HTML, which loads nothing from elsewhere and reads without scripts.
//!
//! | file | does |
//! |---|---|
//! | `exporter` | the exporter |
//! | `blocks` | the blocks of a document as elements |
//! | `frame` | head, contents, and what the page may load |
//! | `style.css` | how it looks on screens and on paper |

mod blocks;
mod exporter;
mod frame;

pub use exporter::PageHtml;
