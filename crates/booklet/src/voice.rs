//! The design as it is said: in one unit, or in two at once.

use crate::Subject;
use crate::units::{Units, merged, unbroken};
use allot::{Allotment, Settings, allot};
use model::part::PartLayout;
use model::{Document, Length, Size, Unit};

/// The design in each of the units that it is said in.
pub(crate) struct Voice<'a> {
    versions: Vec<Version<'a>>,
}

/// The design in one unit.
pub(crate) struct Version<'a> {
    pub(crate) document: Document,
    /// Where the paper of parts comes from, said in that unit.
    pub(crate) supply: Option<std::borrow::Cow<'a, Allotment>>,
}

impl Version<'_> {
    pub(crate) const fn unit(&self) -> Unit {
        self.document.units
    }

    /// The little sheet of a part.
    pub(crate) fn pattern(&self, laid: &PartLayout) -> Document {
        Document { units: self.document.units, ..laid.pattern.document.clone() }
    }
}

impl<'a> Voice<'a> {
    pub(crate) fn new(subject: &Subject<'a>, units: Units) -> Self {
        let version = |unit: Unit| {
            let document = Document { units: unit, ..subject.document.clone() };
            let supply = subject.supply.map(|supply| {
                if unit == subject.document.units {
                    std::borrow::Cow::Borrowed(supply)
                } else {
                    // The same plan, in other words.
                    std::borrow::Cow::Owned(allot(&document, subject.layout, &Settings::of(&document)))
                }
            });
            Version { document, supply }
        };
        Self { versions: std::iter::once(units.first).chain(units.second).map(version).collect() }
    }

    /// A sentence, made in each unit.
    pub(crate) fn say(&self, make: impl Fn(&Version<'_>) -> String) -> String {
        match self.versions.as_slice() {
            [first, second] => merged(&make(first), &make(second), [first.unit(), second.unit()]),
            versions => versions.first().map_or_else(String::new, |only| unbroken(&make(only))),
        }
    }

    /// Several sentences, as many in each unit.
    pub(crate) fn say_all(&self, make: impl Fn(&Version<'_>) -> Vec<String>) -> Vec<String> {
        match self.versions.as_slice() {
            [first, second] => {
                let units = [first.unit(), second.unit()];
                make(first).iter().zip(&make(second)).map(|(own, other)| merged(own, other, units)).collect()
            }
            versions => versions.iter().flat_map(make).map(|said| unbroken(&said)).collect(),
        }
    }

    pub(crate) fn length(&self, length: Length) -> String {
        self.say(|version| length.readable(version.unit()))
    }

    pub(crate) fn size(&self, width: Length, height: Length) -> String {
        self.say(|version| size_text(width, height, version.unit()))
    }
}

/// "5 1/2 x 4 in", rounded as lengths are read.
pub(crate) fn size_text(width: Length, height: Length, unit: Unit) -> String {
    let (width, height) = (width.readable(unit), height.readable(unit));
    match (width.rsplit_once(' '), height.rsplit_once(' ')) {
        (Some((number, a)), Some((_, b))) if a == b => format!("{number} x {height}"),
        _ => format!("{width} x {height}"),
    }
}

/// The size of a sheet.
pub(crate) fn sheet_size(voice: &Voice<'_>, size: Size) -> String {
    voice.size(size.width(), size.height())
}
