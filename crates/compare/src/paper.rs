//! Papers: how large, how heavy, how thick, what is printed on them.

use crate::{About, Difference};
use model::{Caliper, Document, Face, Grain, Pattern, Side, Stock, Unit};

pub(crate) fn differences(before: &Document, after: &Document) -> Vec<Difference> {
    let unit = after.units;
    let mut says = of_stock("The sheet", &before.stock, &after.stock, unit);
    let called = |stock: &Stock| {
        if stock.name.is_empty() { "another paper".to_owned() } else { format!("\"{}\"", stock.name) }
    };
    for further in &after.further_stocks {
        match before.further_stock(further.id) {
            Some(old) => says.extend(of_stock(&capital(&called(&further.stock)), old, &further.stock, unit)),
            None => says.push(format!("{} is used too.", capital(&called(&further.stock)))),
        }
    }
    let gone = before.further_stocks.iter().filter(|further| after.further_stock(further.id).is_none());
    says.extend(gone.map(|further| format!("{} is no longer used.", capital(&called(&further.stock)))));
    if before.cutting != after.cutting {
        says.push(if before.cutting.edge == after.cutting.edge {
            "Parts are cut with their folds along the grain or not, otherwise than before.".to_owned()
        } else {
            format!(
                "{} is trimmed off the edges of offcuts before parts are cut, not {}.",
                after.cutting.edge.readable(unit),
                before.cutting.edge.readable(unit)
            )
        });
    }
    says.into_iter().map(|says| Difference { about: About::Paper, says }).collect()
}

fn of_stock(name: &str, old: &Stock, new: &Stock, unit: Unit) -> Vec<String> {
    let mut says = Vec::new();
    if old.size != new.size {
        says.push(format!("{name} is {}, not {}.", new.size.text(unit), old.size.text(unit)));
    }
    if old.name != new.name && !new.name.is_empty() {
        says.push(format!("{name} is called \"{}\".", new.name));
    }
    match (old.weight, new.weight) {
        (old, new) if old == new => {}
        (Some(old), Some(new)) => says.push(format!("{name} weighs {new}, not {old}.")),
        (None, Some(new)) => says.push(format!("{name} weighs {new}.")),
        (_, None) => says.push(format!("How much {} weighs is not known.", small(name))),
    }
    if old.thickness() != new.thickness() {
        says.push(match (old.thickness(), new.thickness(), new.caliper) {
            (_, None, _) | (_, _, Caliper::Unknown) => format!("How thick {} is is not known.", small(name)),
            (Some(old), Some(new), _) => {
                format!("{name} is {} thick, not {}.", new.readable(Unit::Millimetre), old.readable(Unit::Millimetre))
            }
            (None, Some(new), _) => format!("{name} is {} thick.", new.readable(Unit::Millimetre)),
        });
    }
    for face in [Face::Front, Face::Back] {
        says.extend(of_side(name, face, old.side(face), new.side(face)));
    }
    if old.grain != new.grain {
        says.push(match new.grain {
            Some(Grain::Upright) => format!("The grain of {} runs from top to bottom.", small(name)),
            Some(Grain::Level) => format!("The grain of {} runs from side to side.", small(name)),
            None => format!("Which way the grain of {} runs is not known.", small(name)),
        });
    }
    says
}

fn of_side(name: &str, face: Face, old: &Side, new: &Side) -> Vec<String> {
    let (name, face) = (small(name), face.word());
    let mut says = Vec::new();
    if old.pattern != new.pattern {
        says.push(match new.pattern {
            Pattern::Plain => format!("The {face} of {name} is plain."),
            Pattern::AnyWay => format!("The {face} of {name} has a pattern that is right whichever way it is turned."),
            Pattern::OneWay(_) => format!("The {face} of {name} has a pattern with an up."),
        });
    }
    if old.colour != new.colour {
        says.push(match new.colour {
            Some(colour) => format!("The {face} of {name} has the colour {colour}."),
            None => format!("The {face} of {name} has no colour of its own."),
        });
    }
    if old.artwork != new.artwork {
        says.push(match &new.artwork {
            Some(artwork) => format!("The {face} of {name} is printed with \"{}\".", artwork.file),
            None => format!("The {face} of {name} has no artwork."),
        });
    }
    says
}

/// "The sheet" in the midst of a sentence.
fn small(name: &str) -> String {
    name.strip_prefix("The ").map_or_else(|| name.to_owned(), |rest| format!("the {rest}"))
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
