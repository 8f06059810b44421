//! The sheets: what is drawn on each and where.

use jigless_model::caution::{DEFER_SHORT, Medium, called_for};
use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::units::Unit;
use jigless_model::whole::{Box3, Triple};
use jigless_solid::view::{Camera, LineSettings, PictureSettings};

use super::dimensions::{RowAt, chain, chain_room, overall, running, running_room};
use super::options::PdfDrawingsOptions;
use super::parts_list;
use super::standard_scale::{first_that_fits, reduction};
use super::title_block::{self, HEIGHT, ProjectionAngle, SheetWords, block, caption};
use crate::cautions;
use crate::drawing::measure::Lengths;
use crate::drawing::{Item, Role, TextLine};
use crate::pdf::{PageFormat, PaperSheet};
use crate::views::{Look, Marking, Scene, Whole, balloons, inked};

/// From a view to its first row of dimensions, in millimetres.
const FIRST_ROW: f64 = 8.0;
/// Free paper around views, in millimetres.
const AROUND: f64 = 6.0;
/// Room for the words under a view, in millimetres.
const CAPTION: f64 = 6.0;

/// What all sheets have in common.
pub(super) struct Drawing<'a> {
    pub(super) input: &'a ExportInput<'a>,
    pub(super) options: &'a PdfDrawingsOptions,
    pub(super) whole: &'a Whole<'a>,
    pub(super) format: PageFormat,
    pub(super) lengths: Lengths,
}

/// A sheet before its number is known.
pub(super) struct Draft {
    items: Vec<Item>,
    shows: &'static str,
    scale: String,
}

/// The whole cut through, seen from a side.
struct Section<'a> {
    scene: Scene<'a>,
    camera: Camera,
    /// The axis of the whole that runs across the paper.
    axis: usize,
    /// What is free between boards along that axis, and upward.
    free: [Vec<(f64, f64)>; 2],
    name: &'static str,
}

impl Section<'_> {
    /// Room that dimensions and the name take below the view and to its left, at a scale, in millimetres.
    fn rows(&self, width: f64, scale: f64, lengths: Lengths) -> [f64; 2] {
        let room = |free: &[(f64, f64)]| {
            let pieces = free
                .iter()
                .map(|(from, to)| (from * scale, to * scale, to - from));
            let pieces: Vec<(f64, f64, f64)> = pieces.collect();
            FIRST_ROW + chain_room(&pieces, lengths) + 5.0 + 4.0
        };
        let left = room(&self.free[1]).max(self.beside(width * scale));
        [room(&self.free[0]) + CAPTION, left]
    }

    /// How far the name reaches beyond a view of a width on paper, in millimetres.
    fn beside(&self, width: f64) -> f64 {
        let name = caption(Point::default(), self.name);
        let name = name.bounds().map_or(0.0, Bounds::width);
        ((name - width) / 2.0).max(0.0)
    }
}

/// A view on paper.
struct Seen {
    /// Its box.
    on: Bounds,
    items: Vec<Item>,
    /// Where the origin of the thing lies.
    by: Point,
}

impl Drawing<'_> {
    fn frame(&self) -> Bounds {
        self.format.printable()
    }

    /// What of a sheet lies above the title block.
    fn room(&self) -> Bounds {
        let frame = self.frame();
        Bounds::new(frame.min + Point::new(0.0, HEIGHT), frame.max).grown(-AROUND)
    }

    fn angle(&self) -> ProjectionAngle {
        match self.input.plan.units {
            Unit::Millimetre => ProjectionAngle::First,
            Unit::Inch => ProjectionAngle::Third,
        }
    }

    /// The sheets, numbered.
    pub(super) fn sheets(&self) -> Vec<PaperSheet> {
        let Some(bounds) = self.whole.bounds() else {
            return Vec::new();
        };
        let mut drafts = vec![self.three_sides(bounds), self.cut_through(bounds)];
        drafts.extend(self.apart());
        drafts.push(self.cautions());
        let count = drafts.len();
        let numbered = drafts.into_iter().enumerate();
        numbered
            .map(|(index, draft)| {
                let units = self.lengths.describe();
                let words = SheetWords {
                    shows: draft.shows,
                    scale: &draft.scale,
                    sheet: (index + 1, count),
                    units: &units,
                };
                let mut items = draft.items;
                items.extend(block(
                    self.input,
                    self.options,
                    self.frame(),
                    self.angle(),
                    &words,
                ));
                items.push(self.deferring(count));
                PaperSheet {
                    format: self.format,
                    items,
                    viewports: Vec::new(),
                }
            })
            .collect()
    }

    /// What the work can do to people, on the last sheet.
    fn cautions(&self) -> Draft {
        let cautions = called_for(self.input.plan, self.input.workpieces, Medium::Whole);
        let room = self.room();
        let top_left = Point::new(room.min.x, room.max.y);
        Draft {
            items: cautions::lines(top_left, room.width(), cautions::READING, &cautions),
            shows: "Cautions",
            scale: "not to scale".to_owned(),
        }
    }

    /// The line over every title block: whose word goes before the drawing, and where the cautions are.
    fn deferring(&self, last: usize) -> Item {
        let words = format!("{DEFER_SHORT} Sheet {last} has those of this work.");
        let at = self.frame().min + Point::new(AROUND, HEIGHT + 2.0);
        let text = TextLine::new(at, cautions::SMALL, &words);
        Item::text(
            Role::Frame,
            text.fitted(self.frame().width() - 2.0 * AROUND),
        )
    }

    /// A view at a scale, its lower left corner at a place.
    fn view(&self, scene: &Scene, camera: &Camera, scale: f64, corner: Point) -> Seen {
        let settings = PictureSettings {
            lines: LineSettings {
                hidden: self.options.hidden,
                beside: 0.5 / scale,
                ..LineSettings::default()
            },
            areas: true,
        };
        let picture = scene.picture(camera, &settings);
        let look = Look {
            scale,
            tint: self.options.inks,
            fine: true,
        };
        let by = corner - picture.bounds.min * scale;
        let items = inked(self.input.plan, scene, &picture, look);
        let on_paper = Bounds {
            min: picture.bounds.min * scale,
            max: picture.bounds.max * scale,
        };
        Seen {
            on: on_paper.moved(by),
            items: items.iter().map(|item| item.moved(by)).collect(),
            by,
        }
    }

    /// Front, side and top, with overall and main dimensions.
    fn three_sides(&self, bounds: Box3) -> Draft {
        let size = [0, 1, 2].map(|axis| bounds.size(axis));
        let (across, upward) = (self.places(bounds, 0), self.places(bounds, 1));
        let [row, column] = [&across, &upward].map(|places| running_room(places, self.lengths));
        let room = self.room();
        // To the left of the front: running heights and the overall one; under each view its dimensions and its name.
        let left = FIRST_ROW + column + 6.0;
        let below = FIRST_ROW + row + 8.0 + CAPTION;
        let between = FIRST_ROW + 10.0;
        let under_top = FIRST_ROW + 4.0 + CAPTION;
        let wide = room.width() - left - between;
        let high = room.height() - below - under_top;
        let reduction = reduction(((size[0] + size[2]) / wide).max((size[1] + size[2]) / high));
        let scale = 1.0 / reduction;
        let drawn = size.map(|length| length * scale);
        let (side_camera, side_name) = match self.angle() {
            ProjectionAngle::First => (Camera::left(), "Seen from the left"),
            ProjectionAngle::Third => (Camera::right_side(), "Seen from the right"),
        };
        let free = Point::new(
            (wide - drawn[0] - drawn[2]) / 2.0,
            (high - drawn[1] - drawn[2]) / 2.0,
        );
        let low = room.min + Point::new(left + free.x, free.y);
        let (front_at, top_at) = match self.angle() {
            ProjectionAngle::First => {
                let top_at = low + Point::new(0.0, under_top);
                (top_at + Point::new(0.0, drawn[2] + below), top_at)
            }
            ProjectionAngle::Third => {
                let front_at = low + Point::new(0.0, below);
                (front_at, front_at + Point::new(0.0, drawn[1] + under_top))
            }
        };
        let side_at = front_at + Point::new(drawn[0] + between, 0.0);
        let closed = self.whole.closed();
        let mut items = Vec::new();
        let [front, side, top] = [
            (Camera::front(), front_at),
            (side_camera, side_at),
            (Camera::top(), top_at),
        ]
        .map(|(camera, at)| {
            let seen = self.view(&closed, &camera, scale, at);
            items.extend(seen.items);
            seen.on
        });

        let lengths = self.lengths;
        for (at, origin, places) in [
            (RowAt::Left, front.min.y, &upward),
            (RowAt::Below, front.min.x, &across),
        ] {
            let places: Vec<(f64, f64)> =
                places.iter().map(|mm| (origin + mm * scale, *mm)).collect();
            items.extend(running(at, front, origin, &places, FIRST_ROW, lengths));
        }
        let [over_column, over_row] = [column, row].map(|room| FIRST_ROW + room);
        for (at, view, mm, away) in [
            (
                RowAt::Left,
                front,
                size[1],
                (over_column, over_column + 4.0),
            ),
            (RowAt::Below, front, size[0], (over_row, over_row + 6.0)),
            (RowAt::Below, side, size[2], (0.0, FIRST_ROW)),
            (RowAt::Left, top, size[2], (0.0, FIRST_ROW)),
        ] {
            items.extend(overall(at, view, mm, away, lengths));
        }
        let under = |view: Bounds, down: f64| Point::new(view.centre().x, view.min.y - down);
        items.push(caption(under(front, FIRST_ROW + row + 11.5), "Front"));
        items.push(caption(under(side, FIRST_ROW + 6.5), side_name));
        items.push(caption(under(top, 6.5), "Seen from above"));
        Draft {
            items,
            shows: "Views and main dimensions",
            scale: format!("1:{reduction}"),
        }
    }

    /// Where boards that lie or stand across an axis begin and end, measured from the left or from the floor: main
    /// dimensions. The overall one is drawn by itself.
    fn places(&self, bounds: Box3, axis: usize) -> Vec<f64> {
        let parts = &self.input.plan.parts;
        let mut places: Vec<f64> = Vec::new();
        for piece in &self.whole.pieces {
            let part = &parts[piece.part];
            let body = part.bodies()[piece.number];
            // What moves, and what belongs to a drawer or tray, is measured on drawings of its own.
            if part.group.is_some() || body.thick_axis() != axis {
                continue;
            }
            places.extend([piece.bounds.min[axis], piece.bounds.max[axis]]);
        }
        let from = bounds.min[axis];
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < 0.05);
        places
            .into_iter()
            .map(|at| at - from)
            .filter(|at| *at > 0.05 && *at < bounds.size(axis) - 0.05)
            .collect()
    }

    /// What is free along an axis between the boards that a plane cuts through, from where to where: of a point on the plane
    /// and the axis that it lies across.
    fn openings(
        &self,
        bounds: Box3,
        axis: usize,
        (at, across): (Triple, usize),
    ) -> Vec<(f64, f64)> {
        /// Less than this between boards is play and nothing that is used, in millimetres.
        const PLAY: f64 = 1.0;
        let parts = &self.input.plan.parts;
        let mut boards: Vec<(f64, f64)> = self
            .whole
            .pieces
            .iter()
            .filter(|piece| {
                let part = &parts[piece.part];
                let own = piece.bounds;
                let is_cut = own.min[across] < at[across] && at[across] < own.max[across];
                let stands = part.bodies()[piece.number].thick_axis() == axis;
                // What closes off less than half of the whole bounds no room of it.
                let other = 3 - axis - across;
                let bounds_it = own.size(other) > bounds.size(other) / 2.0;
                part.group.is_none() && stands && is_cut && bounds_it
            })
            .map(|piece| (piece.bounds.min[axis], piece.bounds.max[axis]))
            .collect();
        boards.sort_by(|a, b| a.0.total_cmp(&b.0));
        if axis == 1 {
            // The floor bounds the lowest.
            boards.insert(0, (bounds.min[1], bounds.min[1]));
        }
        let mut free = Vec::new();
        let mut from = boards.first().map_or(0.0, |first| first.0);
        for (begin, end) in boards {
            if begin - from > PLAY {
                free.push((from, begin));
            }
            from = from.max(end);
        }
        free
    }

    /// Cut through from front to back and from left to right, with the whole lengths and, in a chain, what is free between
    /// the boards.
    fn cut_through(&self, bounds: Box3) -> Draft {
        /// Between the two views, in millimetres.
        const BETWEEN: f64 = 10.0;
        /// Nothing is reduced more than this.
        const SMALLEST: f64 = 1e6;
        let centre = bounds.centre();
        // Off the middle, where a divider may stand.
        let beside = [centre[0] - 0.23 * bounds.size(0), centre[1], centre[2]];
        let sections = [
            Section {
                scene: self.whole.section(centre, [0.0, 0.0, 1.0]),
                camera: Camera::front(),
                axis: 0,
                free: [0, 1].map(|axis| self.openings(bounds, axis, (centre, 2))),
                name: "Section from the front",
            },
            Section {
                scene: self.whole.section(beside, [-1.0, 0.0, 0.0]),
                camera: Camera::left(),
                axis: 2,
                free: [2, 1].map(|axis| self.openings(bounds, axis, (beside, 0))),
                name: "Section from the left",
            },
        ];
        let room = self.room();
        let size = |section: &Section, scale: f64| {
            let (width, height) = (bounds.size(section.axis), bounds.size(1));
            let [below, left] = section.rows(width, scale, self.lengths);
            let right = section.beside(width * scale);
            (left + width * scale + right, below + height * scale)
        };
        let laid_out = |one_to: f64| [0, 1].map(|n| size(&sections[n], 1.0 / one_to));
        let fits = |[(wide, high), (wide_2, high_2)]: [(f64, f64); 2], stacked: bool| {
            let (across, upward) = if stacked {
                (wide.max(wide_2), high + high_2 + BETWEEN)
            } else {
                (wide + wide_2 + BETWEEN, high.max(high_2))
            };
            across <= room.width() && upward <= room.height()
        };
        let (one_to, sizes) = first_that_fits(SMALLEST, laid_out, |sizes| {
            fits(*sizes, false) || fits(*sizes, true)
        });
        let stacked = !fits(sizes, false) && fits(sizes, true);
        let scale = 1.0 / one_to;
        let mut items = Vec::new();
        let free = if stacked {
            (room.height() - sizes[0].1 - sizes[1].1) / 3.0
        } else {
            (room.width() - sizes[0].0 - sizes[1].0) / 3.0
        };
        let mut at = Point::new(room.min.x, room.max.y);
        for (section, (wide, high)) in sections.iter().zip(sizes) {
            // The lower left corner of the view with its dimensions.
            let low = if stacked {
                at.y -= free + high;
                Point::new(room.centre().x - wide / 2.0, at.y)
            } else {
                at.x += free;
                Point::new(at.x, room.centre().y - high / 2.0)
            };
            at.x += wide;
            let [below, left] = section.rows(bounds.size(section.axis), scale, self.lengths);
            items.extend(self.section_drawn(section, scale, low + Point::new(left, below), bounds));
        }
        Draft {
            items,
            shows: "Sections",
            scale: format!("1:{one_to}"),
        }
    }

    /// A section with its dimensions and its name.
    fn section_drawn(
        &self,
        section: &Section,
        scale: f64,
        corner: Point,
        bounds: Box3,
    ) -> Vec<Item> {
        let lengths = self.lengths;
        let Seen { on, mut items, by } = self.view(&section.scene, &section.camera, scale, corner);
        let rows = [
            (RowAt::Below, section.axis, &section.free[0]),
            (RowAt::Left, 1, &section.free[1]),
        ];
        for (at, axis, free) in rows {
            let on_paper = |along: f64| {
                let mut point = [0.0; 3];
                point[axis] = along;
                let place = section.camera.paper(point) * scale + by;
                if axis == 1 { place.y } else { place.x }
            };
            let mut pieces: Vec<(f64, f64, f64)> = free
                .iter()
                .map(|(from, to)| {
                    let (a, b) = (on_paper(*from), on_paper(*to));
                    (a.min(b), a.max(b), to - from)
                })
                .collect();
            pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
            items.extend(chain(at, on, &pieces, FIRST_ROW, lengths));
            let over = FIRST_ROW + chain_room(&pieces, lengths);
            let away = if pieces.is_empty() {
                (0.0, FIRST_ROW)
            } else {
                (over, over + 5.0)
            };
            items.extend(overall(at, on, bounds.size(axis), away, lengths));
        }
        let [below, _] = section.rows(bounds.size(section.axis), scale, lengths);
        let under = Point::new(on.centre().x, on.min.y - below + 1.0);
        items.push(caption(under, section.name));
        items
    }

    /// Moved apart, with marks and the parts list; what the list has no room for goes on on more sheets.
    fn apart(&self) -> Vec<Draft> {
        let parts = parts_list::in_order(self.input);
        let room = self.room();
        let camera = Camera::axonometric(32_f64.to_radians(), 24_f64.to_radians());
        let most = parts_list::lines_in(room.height() * 0.45);
        let here = parts.len().min(most);
        let height = parts_list::height_of(here);
        let split = room.min.y + height;
        let above = Bounds::new(Point::new(room.min.x, split + 2.0), room.max);
        let scene = self
            .whole
            .apart(&camera)
            .unwrap_or_else(|| self.whole.closed());
        let mut items = self.fitted(&scene, &camera, above, Marking::Units);
        let list_room = Bounds::new(room.min, Point::new(room.max.x, split));
        items.extend(parts_list::list(list_room, &parts[..here], self.lengths));
        let draft = |items: Vec<Item>, shows: &'static str| Draft {
            items,
            shows,
            scale: "not to scale".to_owned(),
        };
        let mut drafts = vec![draft(items, "Exploded view and parts list")];
        for more in parts[here..].chunks(parts_list::lines_in(room.height()).max(1)) {
            drafts.push(draft(
                parts_list::list(room, more, self.lengths),
                "Parts list",
            ));
        }
        for (group, scene) in self.whole.groups_apart(&camera) {
            let top = Bounds::new(room.min, room.max - Point::new(0.0, 8.0));
            let mut items = self.fitted(&scene, &camera, top, Marking::Pieces);
            items.push(title_block::caption(
                Point::new(room.centre().x, room.max.y - 4.0),
                group,
            ));
            drafts.push(draft(items, "Exploded view of a group"));
        }
        drafts
    }

    /// A picture as large as a box lets it be, with marks.
    fn fitted(
        &self,
        scene: &Scene,
        camera: &Camera,
        inside: Bounds,
        marking: Marking,
    ) -> Vec<Item> {
        const BESIDE: f64 = 12.0;
        let (room, extent) = (inside.grown(-BESIDE), scene.extent(camera));
        let scale = (room.width() / extent.width().max(1.0))
            .min(room.height() / extent.height().max(1.0))
            .min(1.0);
        let settings = PictureSettings {
            lines: LineSettings {
                beside: 0.5 / scale,
                ..LineSettings::default()
            },
            areas: true,
        };
        let picture = scene.picture(camera, &settings);
        let look = Look {
            scale,
            tint: self.options.inks,
            fine: true,
        };
        let by = inside.centre() - picture.bounds.centre() * scale;
        let mut items = inked(self.input.plan, scene, &picture, look);
        let (marks, _) = balloons(
            &picture,
            scale,
            &items,
            inside.moved(by * -1.0),
            &scene.wanted(marking),
        );
        items.extend(marks);
        items.iter().map(|item| item.moved(by)).collect()
    }
}
