//! What sections are filled from.

use jigless_model::caution::{Caution, Medium, called_for};
use jigless_model::export::ExportInput;
use jigless_model::mark::Marks;
use jigless_model::plan::{Part, Stock};
use jigless_solid::{Weights, weights};
use jigless_steps::{Telling, WorkStep};
use jigless_words::{DocumentWords, Words, said};

use super::options::DocumentOptions;
use crate::drawing::measure::Lengths;
use crate::views::Whole;

/// A plan with everything that is worked out of it once.
pub(crate) struct Context<'a> {
    pub(crate) input: ExportInput<'a>,
    pub(crate) options: &'a DocumentOptions,
    pub(crate) language: &'static Words,
    /// The words of a document in that language.
    pub(crate) words: &'static DocumentWords,
    pub(crate) marks: Marks,
    pub(crate) whole: Whole<'a>,
    pub(crate) steps: Vec<WorkStep>,
    pub(crate) lengths: Lengths,
    pub(crate) cautions: Vec<Caution>,
    pub(crate) weights: Weights,
}

impl<'a> Context<'a> {
    /// What is worked out of a plan whose own words are in the language already.
    pub(crate) fn new(input: &ExportInput<'a>, options: &'a DocumentOptions) -> Self {
        let (plan, words) = (input.plan, options.language.words(input.plan));
        let lengths = Lengths::on_paper(plan.units, options.units, options.fractions);
        let lengths = lengths.in_language(words);
        let telling = Telling {
            words,
            length: &|mm| lengths.full(mm),
            thickness: &|mm| lengths.for_calipers().full(mm),
        };
        Self {
            input: *input,
            options,
            language: words,
            words: &words.document,
            marks: Marks::of(plan),
            whole: Whole::new(input),
            steps: jigless_steps::steps_told(plan, input.workpieces, telling),
            lengths,
            weights: weights(input.workpieces),
            cautions: called_for(plan, input.workpieces, Medium::Whole),
        }
    }

    /// The stocks that parts are made of, in the order of the plan.
    pub(crate) fn stocks(&self) -> impl Iterator<Item = &'a Stock> + '_ {
        let used = |stock: &&Stock| self.parts().any(|part| part.stock.id == stock.id);
        self.input.plan.stock.iter().map(AsRef::as_ref).filter(used)
    }

    /// The parts that were asked for.
    pub(crate) fn parts(&self) -> impl Iterator<Item = &'a Part> + '_ {
        self.input
            .workpieces
            .iter()
            .map(|workpiece| &*workpiece.part)
    }

    /// The parts by their marks.
    pub(crate) fn parts_by_mark(&self) -> Vec<&'a Part> {
        let mut parts: Vec<&Part> = self.parts().collect();
        parts.sort_by_key(|part| {
            let mark = self.marks.mark(&part.id);
            (mark.len(), mark)
        });
        parts
    }

    /// The mark of a part.
    pub(crate) fn mark(&self, part: &Part) -> &str {
        self.marks.mark(&part.id)
    }

    /// What one piece of a part weighs, in kilograms, where it is known.
    pub(crate) fn weight(&self, part: &str) -> Option<f64> {
        let mut weights = self.parts().zip(&self.weights.pieces);
        weights.find_map(|(own, weight)| (own.id == part).then_some(*weight)?)
    }

    /// What the whole weighs, what of it is not known, and how many people lift it; nothing where no weight is known.
    pub(crate) fn weight_in_words(&self) -> Vec<String> {
        let (words, weights) = (self.words, &self.weights);
        if weights.pieces.iter().all(Option::is_none) {
            return Vec::new();
        }
        let number = |value| self.language.decimal(value, 1);
        let mut lines = vec![said(words.whole_weight, &[&number(weights.whole)])];
        if !weights.unknown.is_empty() {
            lines.push(said(words.weight_unknown, &[&weights.unknown.join(", ")]));
        }
        let people = weights.people(self.input.plan).into_iter();
        lines.extend(
            people.map(|(alone, people)| said(words.people, &[&number(alone), &number(people)])),
        );
        lines
    }

    /// What stands behind `1 :` of a scale: `2.5`, `10`.
    pub(crate) fn one_to(&self, scale: f64) -> String {
        self.language.decimal(scale, 2)
    }

    /// A length with its unit.
    pub(crate) fn full(&self, mm: f64) -> String {
        self.lengths.full(mm)
    }

    /// A thickness with its unit: with decimals, since it is measured with a caliper.
    pub(crate) fn thickness(&self, mm: f64) -> String {
        self.lengths.for_calipers().full(mm)
    }

    /// `800 × 900`, in the unit that the document says once.
    pub(crate) fn size(&self, width: f64, height: f64) -> String {
        format!(
            "{} × {}",
            self.lengths.bare(width),
            self.lengths.bare(height)
        )
    }
}
