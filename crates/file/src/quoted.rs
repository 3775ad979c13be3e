//! Values that stand in a project file as text in quotes (lengths, lines, stops, units), as one of a few numbers
//! (turns, degrees), as a list of two, or as text or an object. Each error is raised where the value stands, so that its
//! line in the file is known.

use schemars::Schema;
use serde::de::value::MapAccessDeserializer;
use serde::de::{Error, MapAccess, Unexpected, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::marker::PhantomData;

/// Something that is written as a word or two.
pub(crate) trait Worded: Sized {
    /// What belongs in its place, for the sentence about a number or a list that stands there instead.
    const EXPECTED: &'static str;

    /// Reads it; the error says what is wrong with the text and how to mend it.
    fn read(text: &str) -> Result<Self, String>;
}

/// A [`Worded`] value of the version that is written, or of all versions.
pub(crate) trait Written: Worded {
    /// What the schema calls it.
    const NAME: &'static str;

    /// Writes it so that `read` gives the same back.
    fn words(&self) -> String;

    /// What a schema can say of its words.
    fn schema() -> Schema;
}

/// Something that is written as one of a few whole numbers.
pub(crate) trait Numbered: Sized {
    /// What belongs in its place, for the sentence about anything else that stands there.
    const EXPECTED: &'static str;

    /// What the schema calls it.
    const NAME: &'static str;

    /// All the numbers.
    const ALL: &'static [u64];

    /// Reads it.
    fn read(number: u64) -> Option<Self>;

    /// Writes it so that `read` gives the same back.
    fn number(&self) -> u64;
}

/// A [`Worded`] value in quotes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Quoted<T>(pub(crate) T);

/// A [`Numbered`] value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Plain<T>(pub(crate) T);

/// Two values in a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Pair<T>(pub(crate) [T; 2]);

/// A [`Worded`] value in quotes, or an object for what takes more than words. What belongs in its place, as the words say
/// it, speaks of both.
pub(crate) enum WordsOr<W, K> {
    /// In quotes.
    Words(W),
    /// In { }.
    Keys(K),
}

impl<T: Written> Serialize for Quoted<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0.words())
    }
}

impl<'de, T: Worded> Deserialize<'de> for Quoted<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_str(Words(PhantomData))
    }
}

struct Words<T>(PhantomData<T>);

impl<T: Worded> Visitor<'_> for Words<T> {
    type Value = Quoted<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(T::EXPECTED)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Quoted<T>, E> {
        T::read(text).map(Quoted).map_err(E::custom)
    }
}

impl<T: Numbered> Serialize for Plain<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u64(self.0.number())
    }
}

impl<'de, T: Numbered> Deserialize<'de> for Plain<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_u64(Number(PhantomData))
    }
}

struct Number<T>(PhantomData<T>);

impl<T: Numbered> Visitor<'_> for Number<T> {
    type Value = Plain<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(T::EXPECTED)
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Plain<T>, E> {
        T::read(number).map(Plain).ok_or_else(|| E::invalid_value(Unexpected::Unsigned(number), &self))
    }
}

impl<W: Written, K: Serialize> Serialize for WordsOr<W, K> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Words(value) => serializer.serialize_str(&value.words()),
            Self::Keys(keys) => keys.serialize(serializer),
        }
    }
}

impl<'de, W: Worded, K: Deserialize<'de>> Deserialize<'de> for WordsOr<W, K> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(WordsOrKeys(PhantomData))
    }
}

struct WordsOrKeys<W, K>(PhantomData<(W, K)>);

impl<'de, W: Worded, K: Deserialize<'de>> Visitor<'de> for WordsOrKeys<W, K> {
    type Value = WordsOr<W, K>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(W::EXPECTED)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<WordsOr<W, K>, E> {
        W::read(text).map(WordsOr::Words).map_err(E::custom)
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<WordsOr<W, K>, A::Error> {
        K::deserialize(MapAccessDeserializer::new(map)).map(WordsOr::Keys)
    }
}

impl<T: Serialize> Serialize for Pair<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Pair<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Vec::deserialize(deserializer).and_then(Self::of)
    }
}

impl<T> Pair<T> {
    /// The two that a list holds.
    pub(crate) fn of<E: Error>(list: Vec<T>) -> Result<Self, E> {
        let says = |list: Vec<T>| E::custom(format!("the list holds {} and two belong in it; write two", list.len()));
        list.try_into().map(Self).map_err(says)
    }
}
