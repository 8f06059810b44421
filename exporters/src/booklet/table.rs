//! Tables: columns as wide as their words ask for, rows that stay together, heads that are repeated.

use std::rc::Rc;

use jigless_model::geom::Point;

use super::setter::Setter;
use super::sheet::{BODY, SMALL, WIDTH};
use super::slab::{Setting, Slab, rule, set, tick, unread};
use super::typeset::{Run, lines, natural, widest_word};
use crate::document::{Align, Row, Table};
use crate::drawing::{BookFace, Ink};
use crate::pdf::book_page::{BookInk, Node};

/// Between two columns, in millimetres.
const GAP: f64 = 4.0;
/// Width of the column of boxes to tick, in millimetres.
const TICKS: f64 = 6.0;
/// Width of a column to write in, in millimetres.
const BLANK: f64 = 36.0;

/// A table as slabs: its head and its rows.
pub(super) fn table(setter: &Setter, place: &[Node], table: &Table) -> Vec<Slab> {
    let own = setter.numbers.inside(place, "Table");
    let ticked = table.rows.iter().any(|row| row.tick);
    let left = if ticked { TICKS } else { 0.0 };
    let rows: Vec<Vec<Vec<Run>>> = table
        .rows
        .iter()
        .map(|row| {
            let cells = row.cells.iter();
            cells
                .map(|cell| setter.runs(cell, BookFace::Regular))
                .collect()
        })
        .collect();
    let heads: Vec<Vec<Run>> = table
        .columns
        .iter()
        .map(|column| vec![Run::new(&column.head, BookFace::Bold)])
        .collect();
    let widths = widths(&heads, &rows, WIDTH - left);
    let mut head = line(setter, &own, "TH", table, &heads, (&widths, left));
    head.above = 3.0;
    head.with_next = true;
    let bottom = Point::new(0.0, -head.height);
    head.inks
        .push(unread(vec![rule(bottom, WIDTH, 0.35, Ink::BLACK)]));
    let repeated = Rc::new(head.clone());
    let mut slabs = vec![head];
    for (
        Row {
            tick: box_before, ..
        },
        cells,
    ) in table.rows.iter().zip(&rows)
    {
        let mut slab = line(setter, &own, "TD", table, cells, (&widths, left));
        if *box_before {
            slab.inks.push(unread(vec![tick(0.0, BODY)]));
        }
        slab.height += 0.9;
        let bottom = Point::new(0.0, -slab.height);
        let light = Ink(170, 170, 170);
        slab.inks
            .push(unread(vec![rule(bottom, WIDTH, 0.13, light)]));
        slab.above = 0.8;
        slab.head = Some(Rc::clone(&repeated));
        slabs.push(slab);
    }
    // No row is alone at the foot or the top of a page.
    let count = slabs.len();
    if count > 2 {
        slabs[1].with_next = true;
        slabs[count - 2].with_next = true;
    }
    slabs
}

/// A row.
fn line(
    setter: &Setter,
    own: &[Node],
    tag: &'static str,
    table: &Table,
    cells: &[Vec<Run>],
    (widths, left): (&[f64], f64),
) -> Slab {
    let row = setter.numbers.inside(own, "TR");
    let size = if tag == "TH" { SMALL } else { BODY };
    let mut slab = Slab::default();
    let mut x = left;
    for (index, runs) in cells.iter().enumerate() {
        let width = widths.get(index).copied().unwrap_or(BLANK);
        let place = setter.numbers.inside(&row, tag);
        let lines = lines(runs, size, width, setter.document.words.tag);
        let align = table.columns.get(index).map(|column| column.align);
        let setting = Setting {
            right: (align == Some(Align::Right)).then_some(width),
            ..Setting::black(size)
        };
        let cell = set(setter.numbers, &place, runs, &lines, setting).indented(x);
        if cell.inks.is_empty() {
            // A cell to write in is a cell.
            slab.inks.push(BookInk {
                place: place.clone(),
                ..unread(Vec::new())
            });
        }
        slab.height = slab.height.max(cell.height);
        slab.inks.extend(cell.inks);
        x += width + GAP;
    }
    slab
}

/// The widths of columns in millimetres: what their words take in one line each where there is room; otherwise what is
/// left beyond their widest words is shared out by what they would like to have.
fn widths(heads: &[Vec<Run>], rows: &[Vec<Vec<Run>>], whole: f64) -> Vec<f64> {
    let count = heads.len();
    let room = whole - GAP * (count.max(1) - 1) as f64;
    let column = |index: usize, of: fn(&[Run], f64) -> f64| {
        let cells = rows.iter().filter_map(|row| row.get(index));
        let body = cells.map(|runs| of(runs, BODY)).fold(0.0, f64::max);
        let body = if body > 0.0 { body } else { BLANK };
        body.max(of(&heads[index], SMALL)) + 0.1
    };
    let wanted: Vec<f64> = (0..count).map(|index| column(index, natural)).collect();
    let all: f64 = wanted.iter().sum();
    if all <= room {
        // What is over goes to the columns by their widths, up to what reads well.
        let more = ((room - all) / count.max(1) as f64).min(12.0);
        return wanted.iter().map(|width| width + more).collect();
    }
    // Narrow columns have what they want, as long as an even share of what is left is more than that.
    let mut given = vec![0.0; count];
    let mut waiting: Vec<usize> = (0..count).collect();
    let mut left = room;
    loop {
        let even = left / waiting.len().max(1) as f64;
        let (narrow, wide): (Vec<usize>, Vec<usize>) =
            waiting.iter().partition(|index| wanted[**index] <= even);
        if narrow.is_empty() {
            break;
        }
        for index in narrow {
            given[index] = wanted[index];
            left -= wanted[index];
        }
        waiting = wide;
    }
    let least: Vec<f64> = waiting
        .iter()
        .map(|index| column(*index, widest_word))
        .collect();
    let needed: f64 = least.iter().sum();
    let over: f64 = waiting.iter().map(|index| wanted[*index]).sum::<f64>() - needed;
    let share = ((left - needed) / over.max(1e-9)).clamp(0.0, 1.0);
    // Where not even the widest words have room, they are divided.
    let tight = (left / needed.max(1e-9)).min(1.0);
    for (index, least) in waiting.into_iter().zip(least) {
        given[index] = (least + (wanted[index] - least) * share) * tight;
    }
    given
}
