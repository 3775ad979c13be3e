//! Folios and parts said in few words, for tests.

use foliowright_make::{Constraint, Making, Why};
use model::part::{
    Anchor, AnchorFrom, Band, Closure, ClosureKind, Edges, Flap, GlueArea, Gluing, Hinge, Insert, Job, Mat, Page,
    Paper, Placement, Pocket, Rotation, Source,
};
use model::{
    Crease, Direction, Document, Face, FoldAngle, Layout, Length, Line, LineId, PanelRef, Part, PartId, PartKind,
    Place, Point, Run, SheetEdge, Size, Step, Turn, Unit, Work,
};

/// A length in inches.
#[track_caller]
pub(crate) fn inches(text: &str) -> Length {
    Length::parse_in(text, Unit::Inch).unwrap()
}

/// A point in inches.
#[track_caller]
pub(crate) fn at(x: &str, y: &str) -> Point {
    Point::new(inches(x), inches(y))
}

/// A design under construction.
#[derive(Debug, Clone)]
pub(crate) struct Sketch(pub(crate) Document);

#[allow(dead_code, reason = "not every test file uses every word")]
impl Sketch {
    pub(crate) fn on(size: &str) -> Self {
        Self(Document::new(Size::parse(size).unwrap(), Unit::Inch))
    }

    /// An upright score from edge to edge that folds all the way, as a step of its own.
    pub(crate) fn fold(mut self, id: u32, distance: &str, direction: Direction) -> Self {
        let (from, run) = (model::Datum::Edge, Run::FULL);
        let place = Place::Measured { turn: Turn::None, from, distance: inches(distance), run };
        let crease = Crease { direction, angle: FoldAngle::Flat, pressed: None };
        self.0.lines.push(Line::new(LineId(id), place, Work::Score(crease)));
        self.0.steps.push(Step::of(vec![LineId(id)]));
        self
    }

    /// A cut straight across the sheet, from edge to edge, so far from the top.
    pub(crate) fn cut(mut self, id: u32, down: &str) -> Self {
        let (from, run) = (model::Datum::Edge, Run::FULL);
        let place = Place::Measured { turn: Turn::Once, from, distance: inches(down), run };
        self.0.lines.push(Line::new(LineId(id), place, Work::Cut));
        self
    }

    pub(crate) fn base(mut self, x: &str, y: &str) -> Self {
        self.0.base = Some(at(x, y));
        self
    }

    pub(crate) fn part(mut self, part: Part) -> Self {
        self.0.parts.push(part);
        self
    }

    pub(crate) fn making(&self) -> Making {
        Making::of(&self.0, &Layout::of(&self.0))
    }
}

/// A sheet of 12 in with flaps of 3 in that fold over the base, the left one first; what is above 2 in comes off.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn gate() -> Sketch {
    Sketch::on("12x14in").fold(1, "3", Direction::Valley).fold(2, "9", Direction::Valley).cut(3, "2").base("6", "8")
}

/// A part as it is said, then moved and so on.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn part(id: u32, kind: PartKind, on: PanelRef) -> Part {
    let source = if matches!(kind, PartKind::Closure(_)) { Source::Bought } else { Source::FolioStock };
    let place = Placement::centred(on);
    Part { id: PartId(id), name: String::new(), kind, source, place, also: Vec::new() }
}

/// What is said of a part besides.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) trait Said: Sized {
    fn from(self, source: Source) -> Self;
    fn moved(self, across: &str, down: &str) -> Self;
    fn on_back(self) -> Self;
    fn turned(self, degrees: &str) -> Self;
    fn glued_too(self, panel: usize, face: Face, to: PanelRef, area: GlueArea) -> Self;
}

impl Said for Part {
    fn from(self, source: Source) -> Self {
        Self { source, ..self }
    }

    /// From the middle.
    fn moved(mut self, across: &str, down: &str) -> Self {
        let anchor = |distance| Anchor { from: AnchorFrom::Middle, distance: inches(distance) };
        (self.place.across, self.place.down) = (anchor(across), anchor(down));
        self
    }

    /// On the back of its panel, its front seen there.
    fn on_back(mut self) -> Self {
        self.place.face = Face::Back;
        self.place.showing = Face::Front;
        self
    }

    fn turned(mut self, degrees: &str) -> Self {
        self.place.rotation = Rotation::parse(degrees).unwrap();
        self
    }

    fn glued_too(mut self, panel: usize, face: Face, to: PanelRef, area: GlueArea) -> Self {
        self.also.push(Gluing { panel, face, to, area });
        self
    }
}

/// The base of [`gate`].
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn base() -> PanelRef {
    PanelRef::Sheet(at("6", "8"))
}

/// A part's only or first panel.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const fn of(id: u32, panel: usize) -> PanelRef {
    PanelRef::Part(PartId(id), panel)
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn hinge(length: &str, leaf: &str) -> PartKind {
    PartKind::Hinge(Hinge { length: inches(length), leaf: inches(leaf), free_leaf: inches(leaf) })
}

/// A pocket of these measures, open at the top.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn pocket(width: &str, height: &str) -> PartKind {
    let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]);
    pocket_glued(width, height, glued, "0")
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn pocket_glued(width: &str, height: &str, glued: Edges, gusset: &str) -> PartKind {
    let strip = GlueArea::USUAL_STRIP;
    let (width, height, gusset) = (inches(width), inches(height), inches(gusset));
    PartKind::Pocket(Pocket { width, height, glued, strip, rim: Length::ZERO, gusset })
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn mat(width: &str, height: &str) -> PartKind {
    PartKind::Mat(Mat { width: inches(width), height: inches(height) })
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn insert(width: &str, height: &str) -> PartKind {
    PartKind::Insert(Insert { width: inches(width), height: inches(height), caliper: None })
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn closure(kind: ClosureKind) -> PartKind {
    let side = inches("1/2");
    PartKind::Closure(Closure { kind, width: side, height: side, thickness: inches("1/16") })
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn page(width: &str, height: &str) -> PartKind {
    let (width, height, strip) = (inches(width), inches(height), inches("1/2"));
    PartKind::Page(Page { width, height, hinged: SheetEdge::Left, strip })
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn flap(width: &str, reach: &str) -> PartKind {
    let (width, reach, strip) = (inches(width), inches(reach), inches("1/2"));
    PartKind::Flap(Flap { width, reach, edge: SheetEdge::Right, strip })
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn band() -> PartKind {
    let (around, width, overlap) = (inches("13"), inches("2"), inches("1/2"));
    PartKind::Band(Band { around, width, overlap, is_upright: false })
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const SCORE: Job = Job::Score(Paper::Folio);
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const CUT: Job = Job::Cut(Paper::Folio);

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const fn score(id: u32) -> Job {
    Job::Score(Paper::Part(PartId(id)))
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const fn cut(id: u32) -> Job {
    Job::Cut(Paper::Part(PartId(id)))
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const fn fold(id: u32) -> Job {
    Job::Fold(PartId(id))
}

#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) const fn put(id: u32) -> Job {
    Job::Put(PartId(id))
}

/// Why one job comes directly before another.
#[allow(dead_code, reason = "not every test file uses every word")]
pub(crate) fn why(making: &Making, first: Job, then: Job) -> Option<Why> {
    let is_it = |it: &&Constraint| (it.first, it.then) == (first, then);
    making.constraints.iter().find(is_it).map(|it| it.why)
}

/// Every job exactly once, in an order that obeys, and from wherever one stands there is a next job.
#[allow(dead_code, reason = "not every test file uses every word")]
#[track_caller]
pub(crate) fn keeps_its_promises(making: &Making) {
    assert_eq!(making.broken(&making.jobs), None);
    let mut sorted = making.jobs.clone();
    sorted.sort();
    sorted.dedup();
    assert_eq!(sorted.len(), making.jobs.len());
    let mut done = Vec::new();
    while let Some(&next) = making.next(&done).last() {
        done.push(next);
    }
    assert_eq!(done.len(), making.jobs.len(), "{done:?}");
    assert_eq!(making.broken(&done), None);
}
