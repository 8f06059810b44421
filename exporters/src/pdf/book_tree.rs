//! The tree of what is read, in which order and as what (ISO 32000-1, 14.7 and 14.8).

use std::collections::BTreeMap;

use jigless_model::geom::Bounds;
use jigless_model::units::mm_to_points;
use lopdf::{Dictionary, Document, Object, ObjectId, dictionary};

use super::book_page::{BookInk, Node};
use super::finish::{text, whole};
use crate::drawing::Item;

/// An element in the making.
struct Element {
    tag: &'static str,
    id: ObjectId,
    parent: ObjectId,
    kids: Vec<Object>,
    /// The page of its first content.
    page: Option<ObjectId>,
    alternative: Option<String>,
    bounds: Option<Bounds>,
}

/// The tree in the making.
pub(super) struct Tree {
    root: ObjectId,
    whole: ObjectId,
    elements: Vec<Element>,
    by_node: BTreeMap<u32, usize>,
    /// For each number of a page or an annotation, what it belongs to.
    parents: Vec<Object>,
}

impl Tree {
    /// A tree of nothing yet.
    pub(super) fn new(document: &mut Document) -> Self {
        let (root, whole) = (document.new_object_id(), document.new_object_id());
        let element = Element {
            tag: "Document",
            id: whole,
            parent: root,
            kids: Vec::new(),
            page: None,
            alternative: None,
            bounds: None,
        };
        Self {
            root,
            whole,
            elements: vec![element],
            by_node: BTreeMap::new(),
            parents: Vec::new(),
        }
    }

    /// The number under which it is written what a page or an annotation belongs to.
    pub(super) fn number(&mut self) -> usize {
        self.parents.push(Object::Null);
        self.parents.len() - 1
    }

    /// Writes what a page's marked contents belong to, in their order, or what an annotation does.
    pub(super) fn belongs(&mut self, number: usize, to: Object) {
        self.parents[number] = to;
    }

    /// Adds what is drawn under a number on a page; gives the element that it belongs to.
    pub(super) fn add(
        &mut self,
        document: &mut Document,
        ink: &BookInk,
        (page, number): (ObjectId, usize),
    ) -> Option<ObjectId> {
        let index = self.element(document, &ink.place)?;
        let element = &mut self.elements[index];
        element.kids.push(Object::Dictionary(dictionary! {
            "Type" => "MCR", "Pg" => page, "MCID" => whole(number),
        }));
        element.page.get_or_insert(page);
        if element.tag == "Figure" {
            element.alternative.clone_from(&ink.alternative);
            let boxes = ink.items.iter().filter_map(Item::bounds);
            let boxes = boxes.chain(ink.photograph.as_ref().map(|(_, bounds)| *bounds));
            element.bounds = boxes.reduce(Bounds::union);
        }
        Some(element.id)
    }

    /// Adds an annotation to the element of a link.
    pub(super) fn annotate(
        &mut self,
        document: &mut Document,
        place: &[Node],
        (page, annotation): (ObjectId, ObjectId),
    ) -> Option<ObjectId> {
        let index = self.element(document, place)?;
        let element = &mut self.elements[index];
        element.kids.push(Object::Dictionary(dictionary! {
            "Type" => "OBJR", "Pg" => page, "Obj" => annotation,
        }));
        Some(element.id)
    }

    fn element(&mut self, document: &mut Document, place: &[Node]) -> Option<usize> {
        let mut above = 0;
        for node in place {
            above = if let Some(index) = self.by_node.get(&node.id) {
                *index
            } else {
                let id = document.new_object_id();
                let parent = &mut self.elements[above];
                parent.kids.push(Object::Reference(id));
                let element = Element {
                    tag: node.tag,
                    id,
                    parent: parent.id,
                    kids: Vec::new(),
                    page: None,
                    alternative: None,
                    bounds: None,
                };
                self.elements.push(element);
                self.by_node.insert(node.id, self.elements.len() - 1);
                self.elements.len() - 1
            };
        }
        (!place.is_empty()).then_some(above)
    }

    /// Writes the tree; gives its root.
    pub(super) fn finish(self, document: &mut Document) -> ObjectId {
        for element in self.elements {
            let mut written = dictionary! {
                "Type" => "StructElem",
                "S" => element.tag,
                "P" => element.parent,
                "K" => element.kids,
            };
            if let Some(page) = element.page {
                written.set("Pg", page);
            }
            if let Some(words) = &element.alternative {
                written.set("Alt", text(words));
            }
            if let Some(attributes) = attributes(element.tag, element.bounds) {
                written.set("A", attributes);
            }
            document.set_object(element.id, written);
        }
        let mut numbers = Vec::new();
        let next = whole(self.parents.len());
        for (number, parent) in self.parents.into_iter().enumerate() {
            numbers.push(Object::Integer(whole(number)));
            numbers.push(parent);
        }
        let parents = document.add_object(dictionary! { "Nums" => numbers });
        let root = dictionary! {
            "Type" => "StructTreeRoot",
            "K" => vec![Object::Reference(self.whole)],
            "ParentTree" => parents,
            "ParentTreeNextKey" => next,
        };
        document.set_object(self.root, root);
        self.root
    }
}

/// What readers ask to know of heads of tables and of figures.
fn attributes(tag: &str, bounds: Option<Bounds>) -> Option<Dictionary> {
    match (tag, bounds) {
        ("TH", _) => Some(dictionary! { "O" => "Table", "Scope" => "Column" }),
        ("Figure", Some(bounds)) => {
            let corners = [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y];
            let corners = corners.map(|mm| Object::Real(mm_to_points(mm) as f32));
            Some(dictionary! {
                "O" => "Layout", "Placement" => "Block", "BBox" => corners.to_vec(),
            })
        }
        _ => None,
    }
}
