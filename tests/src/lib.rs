//! What the end-to-end tests share: the fixtures, the built program, and readers that know nothing of Jigless.
//!
//! The tests themselves are in `tests/tests`. They run the program as a person does, and measure what it wrote with
//! other people's software: `ezdxf` and GDAL for DXF, `pdfplumber`, `pikepdf` and `qpdf` for PDF, Chromium for SVG.

pub mod any_cabinet;
pub mod cabinet;
pub mod expectation;
pub mod fixtures;
pub mod formats;
pub mod fuzz;
pub mod manual;
pub mod modules;
pub mod paper;
pub mod plans;
pub mod program;
pub mod readers;
pub mod report;

/// The worked examples of the contributors' guide, compiled and run.
#[doc = include_str!("../../DEVELOPERS.md")]
#[cfg(doctest)]
pub struct ContributorsGuide;
