//! What was last chosen of each export of a design, remembered from one run of the program to the next.
//!
//! Choices are kept as words and numbers of their own names, so that one that is no longer offered, or was spoiled, falls
//! back to the usual one and takes nothing else with it.

use super::{Choices, MOST_PIXELS, Picture};
use ::export::{BookletPaper, UnitsChoice};
use draw::animation::MOST_PER_STEP;
use draw::cutting::{CuttingLayout, Dashes, ScoreStyle};
use draw::inserts::Choice;
use draw::template::{Paper, Sides};
use keep::Keep;
use model::{Document, Length};
use serde::de::IgnoredAny;
use serde::{Deserialize, Deserializer, Serialize};
use std::collections::BTreeMap;
use std::path::Path;

/// What they are kept under.
const NAME: &str = "exports";

/// The most designs whose choices are remembered; beyond that the one that was longest without any is forgotten.
const MOST_DESIGNS: usize = 100;

/// The longest time that an animation rests, hundredths of a second.
const MOST_HOLD: u32 = 6000;

const PAPERS: [(Paper, &str); 5] = [
    (Paper::Letter, "letter"),
    (Paper::A4, "a4"),
    (Paper::Tabloid, "tabloid"),
    (Paper::A3, "a3"),
    (Paper::Sheet, "sheet"),
];
const BOOKLET_PAPERS: [(BookletPaper, &str); 2] = [(BookletPaper::Letter, "letter"), (BookletPaper::A4, "a4")];
const SIDES: [(Sides, &str); 2] = [(Sides::Front, "front"), (Sides::Both, "both")];
const UNITS: [(UnitsChoice, &str); 4] = [
    (UnitsChoice::Own, "own"),
    (UnitsChoice::Inches, "in"),
    (UnitsChoice::Millimetres, "mm"),
    (UnitsChoice::Both, "both"),
];
const INSERTS: [(Choice, &str); 3] = [(Choice::All, "all"), (Choice::Cards, "cards"), (Choice::Mats, "mats")];
const LAYOUTS: [(CuttingLayout, &str); 2] = [(CuttingLayout::Sheet, "sheet"), (CuttingLayout::Pieces, "pieces")];
const PICTURES: [(Picture, &str); 2] = [(Picture::Sheet, "sheet"), (Picture::Folded, "folded")];

/// All that is kept: the designs, the last one first.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Remembered {
    #[serde(deserialize_with = "readable")]
    designs: Vec<Entry>,
}

/// The choices of a design, which is known by where its file is.
#[derive(Debug, Serialize, Deserialize)]
struct Entry {
    file: String,
    chosen: Settings,
}

/// Choices by their names.
#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
struct Settings(#[serde(deserialize_with = "readable_values")] BTreeMap<String, Setting>);

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
enum Setting {
    Flag(bool),
    /// A count, or a length in nanometres.
    Number(i64),
    Word(String),
}

/// Something, or what can't be read as that.
#[derive(Deserialize)]
#[serde(untagged)]
enum Lenient<T> {
    Read(T),
    Other(IgnoredAny),
}

impl<T> Lenient<T> {
    fn read(self) -> Option<T> {
        match self {
            Self::Read(value) => Some(value),
            Self::Other(_) => None,
        }
    }
}

fn readable<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Entry>, D::Error> {
    let all: Vec<Lenient<Entry>> = Vec::deserialize(from)?;
    Ok(all.into_iter().filter_map(Lenient::read).collect())
}

fn readable_values<'de, D: Deserializer<'de>>(from: D) -> Result<BTreeMap<String, Setting>, D::Error> {
    let all: BTreeMap<String, Lenient<Setting>> = BTreeMap::deserialize(from)?;
    Ok(all.into_iter().filter_map(|(name, value)| Some((name, value.read()?))).collect())
}

/// What was last chosen for the design of a file; the usual where nothing was, or it can't be read.
pub(crate) fn recall(keep: &Keep, file: Option<&Path>, document: &Document) -> Choices {
    let mut choices = Choices::usual(document);
    let known = file.zip(keep.read::<Remembered>(NAME));
    if let Some((file, known)) = known {
        let place = place(file);
        if let Some(entry) = known.designs.iter().find(|entry| entry.file == place) {
            entry.chosen.restore(&mut choices);
        }
    }
    choices
}

/// Keeps what was chosen for the design of a file.
pub(crate) fn remember(keep: &Keep, file: &Path, choices: &Choices) {
    let mut known: Remembered = keep.read(NAME).unwrap_or_default();
    let file = place(file);
    known.designs.retain(|entry| entry.file != file);
    known.designs.insert(0, Entry { file, chosen: Settings::of(choices) });
    known.designs.truncate(MOST_DESIGNS);
    // Where nothing can be kept, the usual holds the next time.
    keep.write(NAME, &known);
}

/// The one name of a file that it has by whatever way it was found.
fn place(file: &Path) -> String {
    let absolute = || std::path::absolute(file).unwrap_or_else(|_| file.to_owned());
    std::fs::canonicalize(file).unwrap_or_else(|_| absolute()).to_string_lossy().into_owned()
}

fn word<T: PartialEq>(table: &[(T, &str)], value: &T) -> Setting {
    Setting::Word(table.iter().find(|(one, _)| one == value).map_or("", |(_, word)| word).to_owned())
}

impl Settings {
    fn of(choices: &Choices) -> Self {
        let Choices { template, booklet, inserts, cutting, .. } = choices;
        let (scores, dashes) = match cutting.scores {
            ScoreStyle::Solid => ("solid", None),
            ScoreStyle::Dashed(dashes) => ("dashed", Some(dashes)),
            ScoreStyle::Perforated(dashes) => ("perforated", Some(dashes)),
        };
        let length = |length: Length| Setting::Number(length.nm());
        let number = |number: u32| Setting::Number(i64::from(number));
        let mut all = vec![
            ("template paper", word(&PAPERS, &template.paper)),
            ("template sides", word(&SIDES, &template.sides)),
            ("template artwork", Setting::Flag(template.artwork)),
            ("booklet paper", word(&BOOKLET_PAPERS, &booklet.paper)),
            ("booklet units", word(&UNITS, &booklet.units)),
            ("inserts paper", word(&PAPERS, &inserts.paper)),
            ("inserts print", word(&INSERTS, &inserts.which)),
            ("inserts corner", length(inserts.corner)),
            ("inserts margin", length(inserts.margin)),
            ("cutting layout", word(&LAYOUTS, &cutting.layout)),
            ("cutting scores", Setting::Word(scores.to_owned())),
            ("cutting turn over", Setting::Flag(cutting.turn_over)),
            ("cutting outline", Setting::Flag(cutting.outline)),
            ("cutting marks", Setting::Flag(cutting.marks)),
            ("picture of", word(&PICTURES, &choices.picture)),
            ("picture width", number(choices.width)),
            ("picture clear", Setting::Flag(choices.is_clear)),
            ("contact width", number(choices.contact_width)),
            ("animation width", number(choices.moving_width)),
            ("animation per step", number(choices.pace.per_step)),
            ("animation hold", number(choices.pace.hold)),
        ];
        if let Some(dashes) = dashes {
            all.extend([("cutting dash", length(dashes.dash())), ("cutting gap", length(dashes.gap()))]);
        }
        Self(all.into_iter().map(|(name, setting)| (name.to_owned(), setting)).collect())
    }

    /// Takes over what is there and may be chosen.
    fn restore(&self, choices: &mut Choices) {
        let Choices { template, booklet, inserts, cutting, .. } = choices;
        self.word("template paper", &PAPERS, &mut template.paper);
        self.word("template sides", &SIDES, &mut template.sides);
        self.flag("template artwork", &mut template.artwork);
        self.word("booklet paper", &BOOKLET_PAPERS, &mut booklet.paper);
        self.word("booklet units", &UNITS, &mut booklet.units);
        // One of the sheet's own size is no paper for cards.
        self.word("inserts paper", &PAPERS[..4], &mut inserts.paper);
        self.word("inserts print", &INSERTS, &mut inserts.which);
        self.length("inserts corner", &mut inserts.corner);
        self.length("inserts margin", &mut inserts.margin);
        self.word("cutting layout", &LAYOUTS, &mut cutting.layout);
        self.scores(&mut cutting.scores);
        self.flag("cutting turn over", &mut cutting.turn_over);
        self.flag("cutting outline", &mut cutting.outline);
        self.flag("cutting marks", &mut cutting.marks);
        self.word("picture of", &PICTURES, &mut choices.picture);
        self.number("picture width", (1, MOST_PIXELS.0), &mut choices.width);
        self.flag("picture clear", &mut choices.is_clear);
        self.number("contact width", (1, MOST_PIXELS.0), &mut choices.contact_width);
        self.number("animation width", (1, MOST_PIXELS.1), &mut choices.moving_width);
        self.number("animation per step", (1, MOST_PER_STEP), &mut choices.pace.per_step);
        self.number("animation hold", (0, MOST_HOLD), &mut choices.pace.hold);
    }

    fn scores(&self, into: &mut ScoreStyle) {
        let dashes = |usual: Dashes| {
            let (mut dash, mut gap) = (usual.dash(), usual.gap());
            self.length("cutting dash", &mut dash);
            self.length("cutting gap", &mut gap);
            Dashes::new(dash, gap).unwrap_or(usual)
        };
        match self.0.get("cutting scores") {
            Some(Setting::Word(word)) if word == "dashed" => *into = ScoreStyle::Dashed(dashes(Dashes::PRESSED)),
            Some(Setting::Word(word)) if word == "perforated" => *into = ScoreStyle::Perforated(dashes(Dashes::CUT)),
            _ => {}
        }
    }

    fn word<T: Copy>(&self, name: &str, table: &[(T, &str)], into: &mut T) {
        if let Some(Setting::Word(word)) = self.0.get(name)
            && let Some((value, _)) = table.iter().find(|(_, one)| one == word)
        {
            *into = *value;
        }
    }

    fn flag(&self, name: &str, into: &mut bool) {
        if let Some(Setting::Flag(flag)) = self.0.get(name) {
            *into = *flag;
        }
    }

    fn number(&self, name: &str, (least, most): (u32, u32), into: &mut u32) {
        if let Some(Setting::Number(number)) = self.0.get(name)
            && let Some(number) = u32::try_from(*number).ok().filter(|number| (least..=most).contains(number))
        {
            *into = number;
        }
    }

    fn length(&self, name: &str, into: &mut Length) {
        if let Some(Setting::Number(nm)) = self.0.get(name)
            && (0..=Length::LIMIT.nm()).contains(nm)
        {
            *into = Length::from_nm(*nm);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use draw::animation::Pace;
    use std::fs;

    /// Choices none of which is the usual one.
    fn unusual() -> Choices {
        let document = file::starters::demo();
        let mut choices = Choices::usual(&document);
        choices.template.paper = Paper::Tabloid;
        choices.template.sides = Sides::Both;
        choices.template.artwork = true;
        choices.booklet.paper = BookletPaper::A4;
        choices.booklet.units = UnitsChoice::Both;
        choices.inserts.paper = Paper::A3;
        choices.inserts.which = Choice::Mats;
        choices.inserts.corner = Length::EIGHTH;
        choices.inserts.margin = Length::MILLIMETRE * 4;
        choices.cutting.layout = CuttingLayout::Pieces;
        let dashes = Dashes::new(Length::MILLIMETRE * 3, Length::MILLIMETRE * 2).unwrap();
        choices.cutting.scores = ScoreStyle::Dashed(dashes);
        choices.cutting.turn_over = true;
        choices.cutting.outline = true;
        choices.cutting.marks = true;
        choices.picture = Picture::Folded;
        choices.width = 333;
        choices.is_clear = true;
        choices.contact_width = 444;
        choices.moving_width = 555;
        choices.pace = Pace { per_step: 7, hold: 250 };
        choices
    }

    fn room() -> (tempfile::TempDir, Keep) {
        let room = tempfile::tempdir().unwrap();
        let keep = Keep::at(room.path().join("state"));
        (room, keep)
    }

    #[test]
    fn every_choice_is_remembered_for_its_design_alone() {
        let (room, keep) = room();
        let demo = file::starters::demo();
        let [mine, other] = ["mine.folio", "other.folio"].map(|name| room.path().join(name));
        fs::write(&mine, "").unwrap();
        remember(&keep, &mine, &unusual());
        assert_eq!(recall(&keep, Some(&mine), &demo), unusual());
        assert_eq!(recall(&keep, Some(&other), &demo), Choices::usual(&demo));
        assert_eq!(recall(&keep, None, &demo), Choices::usual(&demo));
        // By another way to the same file, and on another paper unit.
        fs::create_dir(room.path().join("folder")).unwrap();
        assert_eq!(recall(&keep, Some(&room.path().join("folder/../mine.folio")), &demo), unusual());
        let perforated = Choices { cutting: draw::cutting::CuttingOptions::default(), ..unusual() };
        remember(&keep, &mine, &perforated);
        assert_eq!(recall(&keep, Some(&mine), &demo), perforated, "the last one holds");
    }

    #[test]
    fn what_is_spoiled_or_no_longer_offered_is_the_usual_and_takes_nothing_with_it() {
        let (room, keep) = room();
        let demo = file::starters::demo();
        let mine = room.path().join("mine.folio");
        remember(&keep, &mine, &unusual());
        let file = room.path().join("state/exports.json");
        let text = fs::read_to_string(&file).unwrap();
        for (now, then, name) in [
            ("\"tabloid\"", "\"papyrus\"", "a paper of another time"),
            ("\"template paper\": \"tabloid\"", "\"template paper\": [7, {}]", "no word"),
            ("333", "-4", "no width"),
            ("333", "99999999999999999999999", "no number"),
            ("333", "16001", "more than is made"),
            ("\"cutting gap\": 2000000", "\"cutting gap\": 1", "a gap that is none"),
            ("\"animation per step\": 7", "\"animation per step\": 0", "no pictures"),
        ] {
            assert!(text.contains(now), "{name}");
            fs::write(&file, text.replace(now, then)).unwrap();
            let (found, usual) = (recall(&keep, Some(&mine), &demo), Choices::usual(&demo));
            assert_ne!(found, unusual(), "{name}");
            let mended = Choices {
                template: unusual().template,
                cutting: unusual().cutting,
                width: unusual().width,
                pace: unusual().pace,
                ..found.clone()
            };
            assert_eq!(mended, unusual(), "{name}: nothing else is lost");
            assert!(found.template.paper == usual.template.paper || found.template == unusual().template);
        }
        for broken in ["", "{", "[]", "{\"designs\": 3}", "null"] {
            fs::write(&file, broken).unwrap();
            assert_eq!(recall(&keep, Some(&mine), &demo), Choices::usual(&demo), "{broken}");
            remember(&keep, &mine, &unusual());
            assert_eq!(recall(&keep, Some(&mine), &demo), unusual(), "{broken}: it is kept anew");
        }
        // One design's that can't be read leaves the others'.
        let text = fs::read_to_string(&file).unwrap();
        fs::write(&file, text.replace("\"designs\": [", "\"designs\": [ 7, {\"file\": 1},")).unwrap();
        assert_eq!(recall(&keep, Some(&mine), &demo), unusual());
    }

    #[test]
    fn as_many_designs_as_said_are_remembered_the_last_ones() {
        let (room, keep) = room();
        let demo = file::starters::demo();
        let file = |i: usize| room.path().join(format!("{i}.folio"));
        for i in 0..MOST_DESIGNS + 2 {
            remember(&keep, &file(i), &unusual());
        }
        let is_known = |i: usize| recall(&keep, Some(&file(i)), &demo) == unusual();
        assert!(!is_known(0) && !is_known(1) && (2..MOST_DESIGNS + 2).all(is_known));
    }
}
