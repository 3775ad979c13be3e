use model::*;
use std::time::Instant;
fn mm(x: f64) -> Length {
    Length::from_mm_rounded(x).unwrap()
}
fn line(doc: &mut Document, turn: Turn, at: f64, run: Option<(f64, f64)>, work: Work) -> LineId {
    let id = doc.next_line();
    let run = run.map_or(Run::FULL, |(a, b)| Run { from: Stop::At(mm(a)), to: Stop::At(mm(b)) });
    doc.lines.push(Line {
        id,
        name: String::new(),
        place: Place::Measured { turn, from: Datum::Edge, distance: mm(at), run },
        work,
    });
    id
}
fn crease(v: bool) -> Work {
    Work::Score(Crease { direction: if v { Direction::Valley } else { Direction::Mountain }, angle: FoldAngle::Flat })
}
fn time(name: &str, doc: &Document) {
    let t = Instant::now();
    let layout = Layout::of(doc);
    let tl = t.elapsed();
    let a = foliowright_fold::assemble(doc, &layout).unwrap();
    let t = Instant::now();
    let mut n = 0;
    let mut best = std::time::Duration::MAX;
    for _ in 0..5 {
        let t = Instant::now();
        let f = foliowright_fold::close(&a);
        n = f.troubles().len();
        best = best.min(t.elapsed());
        if t.elapsed().as_secs() > 1 {
            break;
        }
    }
    println!(
        "{name}: {} panels {} steps layout {tl:?} close {best:?} troubles {n} ({:?})",
        a.panels.len(),
        a.steps.len(),
        t.elapsed()
    );
}
fn main() {
    for n in [40, 100, 500] {
        let size = Size::new(mm(10.0 * n as f64), mm(100.0)).unwrap();
        let mut doc = Document::new(size, Unit::Millimetre);
        let ids: Vec<LineId> =
            (1..n).map(|i| line(&mut doc, Turn::None, 10.0 * i as f64, None, crease(i % 2 == 0))).collect();
        doc.base = Some(Point::new(mm(5.0), mm(5.0)));
        doc.steps = ids.iter().map(|&l| Step { lines: vec![l] }).collect();
        time("pleats one by one", &doc);
        doc.steps = vec![Step { lines: ids }];
        time("pleats at once", &doc);
    }
    for (rows, cols) in [(5, 4), (20, 12)] {
        let w = 2.0 * cols as f64 * 10.0 + 100.0;
        let h = rows as f64 * 20.0;
        let mut doc = Document::new(Size::new(mm(w), mm(h)).unwrap(), Unit::Millimetre);
        let mut steps = Vec::new();
        for c in 0..cols {
            steps.push(line(&mut doc, Turn::None, 10.0 * (c + 1) as f64, None, crease(true)));
        }
        for c in 0..cols {
            steps.push(line(&mut doc, Turn::None, w - 10.0 * (c + 1) as f64, None, crease(true)));
        }
        for r in 1..rows {
            let e = 10.0 * cols as f64;
            line(&mut doc, Turn::Once, 20.0 * r as f64, Some((0.0, e)), Work::Cut);
            line(&mut doc, Turn::Once, 20.0 * r as f64, Some((w - e, w)), Work::Cut);
        }
        doc.base = Some(Point::new(mm(w / 2.0), mm(h / 2.0)));
        doc.steps = steps.iter().map(|&l| Step { lines: vec![l] }).collect();
        time("ribbons rolled", &doc);
    }
    // gusseted envelope: 4 gussets
    let mut doc = Document::new(Size::new(mm(300.0), mm(300.0)).unwrap(), Unit::Millimetre);
    let sq = Work::Score(Crease { direction: Direction::Valley, angle: FoldAngle::Square });
    let mut st = vec![];
    for (turn, a, b) in
        [(Turn::None, 100.0, 94.0), (Turn::Once, 100.0, 94.0), (Turn::None, 200.0, 206.0), (Turn::Once, 200.0, 206.0)]
    {
        let x = line(&mut doc, turn, a, None, sq);
        let y = line(&mut doc, turn, b, None, sq);
        st.push(Step { lines: vec![x, y] });
    }
    for turn in [Turn::None, Turn::Once] {
        for at in [100.0, 200.0] {
            for r in [(0.0, 100.0), (200.0, 300.0)] {
                line(&mut doc, turn, at, Some(r), Work::Cut);
            }
        }
    }
    doc.steps = st;
    time("gusseted envelope", &doc);
    let all: Vec<LineId> = doc.steps.iter().flat_map(|s| s.lines.clone()).collect();
    doc.steps = vec![Step { lines: all }];
    time("gusseted envelope at once", &doc);
}
