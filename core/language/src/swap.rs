//! A plan whose parts are made of another of its stocks.

use jigless_model::diag::nearest;

use crate::load::{Entry, Node, Tree, Value};

/// Gives a stock all that is said of another one: thickness, sheets, prices, density. What only names a value keeps doing
/// so, and the value becomes the other stock's: formulas use the thickness by that name.
///
/// # Errors
/// What is wrong and how to mend it, where there is no such stock, or a value would have to be several readings.
pub fn swap_stock(tree: &mut Tree, stock: &str, other: &str) -> Result<(), (String, String)> {
    let source = find(tree, "stock", other)
        .ok_or_else(|| unknown(tree, other))?
        .clone();
    let target = find(tree, "stock", stock).ok_or_else(|| unknown(tree, stock))?;
    let named = target
        .get("thickness")
        .and_then(Node::scalar)
        .map(|scalar| scalar.text.clone());
    let value = named.filter(|name| find(tree, "values", name).is_some());
    if let Some(name) = value {
        let thickness = source.get("thickness");
        let Some(thickness) = thickness.filter(|node| node.scalar().is_some()) else {
            let message = format!(
                "`{other}` has several readings of its thickness, and `{name}` is one value"
            );
            return Err((message, format!("give `{other}` a single thickness")));
        };
        // The other stock may name a value that is named itself; what it is called stays true.
        let thickness = thickness.clone();
        replace(tree, "values", &name, thickness);
    }
    replace(tree, "stock", stock, source);
    Ok(())
}

fn roots(tree: &Tree) -> impl Iterator<Item = &Node> {
    std::iter::once(&tree.main).chain(&tree.included)
}

fn find<'a>(tree: &'a Tree, section: &str, name: &str) -> Option<&'a Node> {
    roots(tree).find_map(|root| root.get(section)?.get(name))
}

fn replace(tree: &mut Tree, section: &str, name: &str, by: Node) {
    let roots = std::iter::once(&mut tree.main).chain(&mut tree.included);
    for root in roots {
        if let Some(node) = entry(root, section).and_then(|section| entry(section, name)) {
            *node = by;
            return;
        }
    }
}

fn entry<'a>(node: &'a mut Node, key: &str) -> Option<&'a mut Node> {
    let Value::Map(entries) = &mut node.value else {
        return None;
    };
    let found = entries.iter_mut().find(|entry| entry.key.value == key);
    found.map(|entry| &mut entry.value)
}

fn unknown(tree: &Tree, name: &str) -> (String, String) {
    let sections = roots(tree).filter_map(|root| root.get("stock"));
    let entries = sections.flat_map(|section| match &section.value {
        Value::Map(entries) => entries.as_slice(),
        _ => &[],
    });
    let known: Vec<&str> = entries
        .map(|entry: &Entry| entry.key.value.as_str())
        .collect();
    let fix = match nearest(name, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the stocks of this plan are {}", known.join(", ")),
    };
    (format!("there is no stock `{name}`"), fix)
}
