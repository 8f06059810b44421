//! One sheet with rectangles anywhere on it, and the largest empty rectangles between them.

/// A rectangle, in whole micrometres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rectangle {
    pub(super) x: i32,
    pub(super) y: i32,
    pub(super) width: i32,
    pub(super) height: i32,
}

impl Rectangle {
    pub(super) fn right(&self) -> i32 {
        self.x + self.width
    }

    pub(super) fn top(&self) -> i32 {
        self.y + self.height
    }

    pub(super) fn area(&self) -> i64 {
        i64::from(self.width) * i64::from(self.height)
    }

    pub(super) fn meets(&self, other: &Self) -> bool {
        self.x < other.right()
            && other.x < self.right()
            && self.y < other.top()
            && other.y < self.top()
    }

    fn holds(&self, other: &Self) -> bool {
        self.x <= other.x
            && self.y <= other.y
            && self.right() >= other.right()
            && self.top() >= other.top()
    }

    /// The length along which another one lies against it from outside.
    fn contact(&self, other: &Self) -> i32 {
        let shared = |a: (i32, i32), b: (i32, i32)| (a.1.min(b.1) - a.0.max(b.0)).max(0);
        if self.x == other.right() || other.x == self.right() {
            shared((self.y, self.top()), (other.y, other.top()))
        } else if self.y == other.top() || other.y == self.top() {
            shared((self.x, self.right()), (other.x, other.right()))
        } else {
            0
        }
    }
}

/// A piece where it lies.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lying {
    pub(super) at: Rectangle,
    pub(super) kind: u32,
    pub(super) turned: bool,
}

/// A sheet.
#[derive(Debug)]
pub(super) struct Sheet {
    /// Number of its size.
    pub(super) size: usize,
    pub(super) whole: Rectangle,
    pub(super) lying: Vec<Lying>,
    /// The largest empty rectangles; they overlap one another.
    pub(super) rooms: Vec<Rectangle>,
    /// The greatest width and height of one.
    pub(super) widest: i32,
    pub(super) highest: i32,
    /// Sum of the areas of its pieces.
    pub(super) used: i64,
    fresh: Vec<Rectangle>,
}

impl Clone for Sheet {
    fn clone(&self) -> Self {
        let mut sheet = Sheet::new(self.size, self.whole.width, self.whole.height);
        sheet.clone_from(self);
        sheet
    }

    /// Keeps the memory of what it writes over.
    fn clone_from(&mut self, other: &Self) {
        self.size = other.size;
        self.whole = other.whole;
        self.lying.clone_from(&other.lying);
        self.rooms.clone_from(&other.rooms);
        self.widest = other.widest;
        self.highest = other.highest;
        self.used = other.used;
    }
}

impl Sheet {
    /// An empty sheet.
    pub(super) fn new(size: usize, width: i32, height: i32) -> Self {
        let whole = Rectangle {
            x: 0,
            y: 0,
            width,
            height,
        };
        Self {
            size,
            whole,
            lying: Vec::new(),
            rooms: vec![whole],
            widest: width,
            highest: height,
            used: 0,
            fresh: Vec::new(),
        }
    }

    pub(super) fn put(&mut self, piece: Lying) {
        self.lying.push(piece);
        self.used += piece.at.area();
        self.cut_off(piece.at);
        self.measure();
    }

    /// Takes out every piece that meets a window; their kinds are handed to `out`.
    pub(super) fn clear(&mut self, window: Rectangle, out: &mut Vec<u32>) {
        let used = &mut self.used;
        self.lying.retain(|piece| {
            let stays = !piece.at.meets(&window);
            if !stays {
                out.push(piece.kind);
                *used -= piece.at.area();
            }
            stays
        });
    }

    /// Works out the empty rectangles anew.
    pub(super) fn look_at_rooms(&mut self) {
        self.rooms.clear();
        self.rooms.push(self.whole);
        for index in 0..self.lying.len() {
            self.cut_off(self.lying[index].at);
        }
        self.measure();
    }

    fn measure(&mut self) {
        self.widest = self.rooms.iter().map(|room| room.width).max().unwrap_or(0);
        self.highest = self.rooms.iter().map(|room| room.height).max().unwrap_or(0);
    }

    /// Takes a rectangle off all empty ones.
    fn cut_off(&mut self, taken: Rectangle) {
        let fresh = &mut self.fresh;
        fresh.clear();
        self.rooms.retain(|room| {
            if !room.meets(&taken) {
                return true;
            }
            let rests = [
                Rectangle {
                    width: taken.x - room.x,
                    ..*room
                },
                Rectangle {
                    x: taken.right(),
                    width: room.right() - taken.right(),
                    ..*room
                },
                Rectangle {
                    height: taken.y - room.y,
                    ..*room
                },
                Rectangle {
                    y: taken.top(),
                    height: room.top() - taken.top(),
                    ..*room
                },
            ];
            fresh.extend(rests.into_iter().filter(|r| r.width > 0 && r.height > 0));
            false
        });
        let kept = self.rooms.len();
        for (index, room) in fresh.iter().enumerate() {
            let others = fresh.iter().enumerate();
            let within = self.rooms[..kept].iter().any(|other| other.holds(room))
                || others
                    .filter(|(other, _)| *other != index)
                    .any(|(other, of)| of.holds(room) && (of != room || other < index));
            if !within {
                self.rooms.push(*room);
            }
        }
    }

    /// How much of the border of a rectangle lies against pieces and edges.
    pub(super) fn contact(&self, at: &Rectangle) -> i32 {
        let edge = |touches: bool, length: i32| if touches { length } else { 0 };
        let edges = edge(at.x == 0, at.height)
            + edge(at.y == 0, at.width)
            + edge(at.right() == self.whole.width, at.height)
            + edge(at.top() == self.whole.height, at.width);
        let pieces = self.lying.iter().map(|piece| piece.at.contact(at));
        edges + pieces.sum::<i32>()
    }

    /// The square of the largest empty rectangle, as a share of the sheet.
    pub(super) fn looseness(&self) -> f64 {
        let whole = self.whole.area() as f64;
        let largest = self.rooms.iter().map(Rectangle::area).max().unwrap_or(0) as f64 / whole;
        let free = 1.0 - self.used as f64 / whole;
        largest * largest + free * free
    }
}
