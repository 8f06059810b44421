//! What every sheet says of the part that it shows.

use chrono::DateTime;
use jigless_model::export::ExportInput;
use jigless_model::plan::Part;
use jigless_model::side::Face;

use super::measure::Lengths;

/// The words of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Caption {
    /// What the part is called.
    pub(crate) part: String,
    /// Which face is up.
    pub(crate) face: String,
    /// The same in capitals, with which of a handed pair it is: `INSIDE FACE UP · LEFT`.
    pub(crate) up: String,
    /// How it differs from the other one of a handed pair.
    pub(crate) pair: Option<String>,
    /// Which of a handed pair it is.
    pub(crate) hand: Option<Hand>,
    /// How many, of what.
    pub(crate) make: String,
    /// How thick, with the unit.
    pub(crate) thick: String,
    /// What it is made of.
    pub(crate) stock: String,
    /// Size of the part and the unit of every number.
    pub(crate) size: String,
    /// The plan, its revision, its digest, and the date if there is one.
    pub(crate) plan: String,
}

/// Which of a handed pair a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Hand {
    /// The word on the paper: `LEFT` where the part's own name says so.
    pub(crate) word: &'static str,
    /// Whether it stands on the right of the other one where both are seen from the front.
    pub(crate) stands_right: bool,
}

impl Hand {
    fn of(part: &Part) -> Option<Self> {
        let pair = part.pair.as_ref()?;
        let says = |side: &str| part.id.split(['-', '_']).any(|word| word == side);
        let (word, stands_right) = match (says("left"), says("right")) {
            (true, false) => ("LEFT", false),
            (false, true) => ("RIGHT", true),
            _ if pair.mirrored => ("MIRROR IMAGE", true),
            _ => ("AS DRAWN", false),
        };
        Some(Self { word, stands_right })
    }
}

impl Caption {
    /// The words for one face of a part.
    pub(crate) fn new(input: &ExportInput, part: &Part, face: Face, lengths: Lengths) -> Self {
        let side = |face: Face| match part.face_label(face) {
            Some(label) => format!("{} ({label})", face.name()),
            None => face.name().to_owned(),
        };
        let pair = part.pair.as_ref().map(|pair| {
            let other = input.plan.part(&pair.other);
            let name = other.map_or(pair.other.as_str(), |other| other.title.as_str());
            format!("the other one of the pair is {name}")
        });
        let stock = &part.stock;
        let hand = Hand::of(part);
        let own = part.face_label(face).unwrap_or(face.name()).to_uppercase();
        let own = own.strip_suffix(" FACE").unwrap_or(&own);
        let up = match hand {
            Some(hand) => format!("{own} FACE UP · {}", hand.word),
            None => format!("{own} FACE UP"),
        };
        let plan = [
            Some(input.plan.title.clone()),
            input
                .plan
                .revision
                .as_ref()
                .map(|r| format!("revision {r}")),
            Some(format!("plan {}", short(&input.plan.digest))),
            input.stamp.date.and_then(iso_date),
        ];
        Self {
            part: part.title.clone(),
            face: format!("{} face up", side(face)),
            pair,
            up,
            hand,
            make: format!(
                "make {}, {} thick as measured, {}",
                part.count,
                lengths.for_calipers().full(stock.thickness),
                stock.label
            ),
            thick: lengths.for_calipers().full(stock.thickness),
            stock: stock.label.clone(),
            size: format!(
                "part {} × {}, all numbers in {}",
                lengths.bare(part.width),
                lengths.bare(part.height),
                lengths.describe()
            ),
            plan: plan.into_iter().flatten().collect::<Vec<_>>().join(" · "),
        }
    }
}

/// Enough of a digest to keep two plans apart.
fn short(digest: &str) -> &str {
    digest.get(..8).unwrap_or(digest)
}

/// The UTC day of a moment in seconds since 1970: `2025-03-01`. `None` beyond the calendar's reach.
pub(crate) fn iso_date(seconds: i64) -> Option<String> {
    let moment = DateTime::from_timestamp(seconds, 0)?;
    Some(moment.format("%Y-%m-%d").to_string())
}
