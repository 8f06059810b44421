//! The sheets: what is drawn on each and where.

use jigless_model::caution::{DEFER_SHORT, Medium, called_for};
use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::units::Unit;
use jigless_model::whole::Box3;
use jigless_solid::view::{Camera, LineSettings, PictureSettings};

use super::dimensions::{Along, overall, running, running_room};
use super::options::PdfDrawingsOptions;
use super::parts_list;
use super::standard_scale::reduction;
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
    fn view(
        &self,
        scene: &Scene,
        camera: &Camera,
        scale: f64,
        corner: Point,
    ) -> (Bounds, Vec<Item>) {
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
        (
            on_paper.moved(by),
            items.iter().map(|item| item.moved(by)).collect(),
        )
    }

    /// Front, side and top, with overall and main dimensions.
    fn three_sides(&self, bounds: Box3) -> Draft {
        let size = [0, 1, 2].map(|axis| bounds.size(axis));
        let (across, upward) = (self.places(bounds, 0), self.places(bounds, 1));
        let (row, column) = (
            running_room(&across, self.lengths),
            running_room(&upward, self.lengths),
        );
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
        let (front, mut items) = self.view(&closed, &Camera::front(), scale, front_at);
        let (side, seen) = self.view(&closed, &side_camera, scale, side_at);
        items.extend(seen);
        let (top, seen) = self.view(&closed, &Camera::top(), scale, top_at);
        items.extend(seen);

        let on = |from: f64, places: &[(f64, f64)]| -> Vec<(f64, f64)> {
            places
                .iter()
                .map(|(at, mm)| (from + at * scale, *mm))
                .collect()
        };
        let lengths = self.lengths;
        for (along, origin, places) in [
            (Along::Upward, front.min.y, &upward),
            (Along::Across, front.min.x, &across),
        ] {
            let places = on(origin, places);
            items.extend(running(along, front, origin, &places, FIRST_ROW, lengths));
        }
        for (along, view, mm, away) in [
            (Along::Upward, front, size[1], FIRST_ROW + column + 4.0),
            (Along::Across, front, size[0], FIRST_ROW + row + 6.0),
            (Along::Across, side, size[2], FIRST_ROW),
            (Along::Upward, top, size[2], FIRST_ROW),
        ] {
            items.extend(overall(along, view, mm, away, lengths));
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
    fn places(&self, bounds: Box3, axis: usize) -> Vec<(f64, f64)> {
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
            .map(|at| (at - from, at - from))
            .filter(|(at, _)| *at > 0.05 && *at < bounds.size(axis) - 0.05)
            .collect()
    }

    /// Cut through from front to back and from left to right.
    fn cut_through(&self, bounds: Box3) -> Draft {
        let size = [0, 1, 2].map(|axis| bounds.size(axis));
        let room = self.room();
        let below = FIRST_ROW + 4.0 + CAPTION;
        let wide = room.width() - 2.0 * FIRST_ROW - 20.0;
        let high = room.height() - below;
        let stacked = size[0] / wide > 1.0 && room.height() > room.width();
        let needed = if stacked {
            (size[0].max(size[2]) / wide).max((size[1] * 2.0) / (high - below))
        } else {
            ((size[0] + size[2]) / wide).max(size[1] / high)
        };
        let reduction = reduction(needed);
        let scale = 1.0 / reduction;
        let centre = bounds.centre();
        // Off the middle, where a divider may stand.
        let beside = [centre[0] - 0.23 * size[0], centre[1], centre[2]];
        let sections = [
            (
                self.whole.section(centre, [0.0, 0.0, 1.0]),
                Camera::front(),
                size[0],
                "Cut through from left to right, seen from the front",
            ),
            (
                self.whole.section(beside, [-1.0, 0.0, 0.0]),
                Camera::left(),
                size[2],
                "Cut through from front to back, seen from the left",
            ),
        ];
        let mut items = Vec::new();
        let drawn = size.map(|length| length * scale);
        let mut corner = if stacked {
            let free = (high - below - 2.0 * drawn[1]) / 3.0;
            Point::new(
                room.centre().x - drawn[0] / 2.0,
                room.max.y - drawn[1] - free,
            )
        } else {
            let free = (wide + 20.0 - drawn[0] - drawn[2]) / 3.0;
            Point::new(
                room.min.x + FIRST_ROW + free,
                room.centre().y - drawn[1] / 2.0 + below / 2.0,
            )
        };
        for (scene, camera, width, name) in sections {
            let (view, seen) = self.view(&scene, &camera, scale, corner);
            items.extend(seen);
            items.extend(overall(Along::Across, view, width, FIRST_ROW, self.lengths));
            items.extend(overall(
                Along::Upward,
                view,
                size[1],
                FIRST_ROW,
                self.lengths,
            ));
            items.push(caption(
                Point::new(view.centre().x, view.min.y - FIRST_ROW - 6.5),
                name,
            ));
            corner = if stacked {
                Point::new(
                    room.centre().x - drawn[2] / 2.0,
                    corner.y - drawn[1] - below - 4.0,
                )
            } else {
                let free = (wide + 20.0 - drawn[0] - drawn[2]) / 3.0;
                corner + Point::new(drawn[0] + FIRST_ROW + free, 0.0)
            };
        }
        Draft {
            items,
            shows: "Sections",
            scale: format!("1:{reduction}"),
        }
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
