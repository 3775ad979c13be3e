//! Five folios, one that closes and four that don't or will disappoint: the checker names exactly the panels concerned.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

use check::Finding;
use file::starters::ALL;
use foliowright_tests::design;
use session::Derived;

/// The findings worse than notes, each with its rule and the panels and lines that it names.
fn named(text: &str) -> Vec<(&'static str, Vec<String>, Vec<u32>)> {
    let (_, derived) = design(text).unwrap();
    let worse = derived.findings.iter().filter(|finding| finding.severity > check::Severity::Note);
    worse.map(|finding| of(finding, &derived)).collect()
}

fn of(finding: &Finding, derived: &Derived) -> (&'static str, Vec<String>, Vec<u32>) {
    let mut panels: Vec<String> =
        finding.spot.panels.iter().map(|&panel| derived.layout.panel(panel).name.clone()).collect();
    panels.sort();
    (finding.rule, panels, finding.spot.lines.iter().map(|line| line.0).collect())
}

/// The demo's text with something else in place of what is there once.
#[track_caller]
fn changed(from: &str, to: &str) -> String {
    let text = ALL[0].text;
    assert_eq!(text.matches(from).count(), 1, "{from} is there once");
    text.replace(from, to)
}

#[test]
fn the_demo_closes() {
    assert_eq!(named(ALL[0].text), []);
}

#[test]
fn a_wrong_mountain_or_valley_at_a_kept_crossing_is_named_with_its_panels() {
    // Four right angles fold flat with three of one kind and one of the other (Maekawa and Justin): all valleys don't.
    let map = |left: &str| {
        format!(
            r#"{{ "format": "foliowright folio", "version": 2, "title": "Map", "units": "in",
                "stock": {{ "width": "12 in", "height": "12 in", "caliper": "0.3 mm" }},
                "lines": [
                    {{ "id": 1, "place": {{ "turn": 0, "from": "edge", "distance": "6 in" }}, "work": "score",
                       "fold": "valley" }},
                    {{ "id": 2, "place": {{ "turn": 1, "from": "edge", "distance": "6 in", "end": "line 1" }},
                       "work": "score", "fold": "{left}" }},
                    {{ "id": 3, "place": {{ "turn": 1, "from": "edge", "distance": "6 in", "start": "line 1" }},
                       "work": "score", "fold": "valley" }}
                ],
                "base": {{ "x": "3 in", "y": "3 in" }}, "steps": [[1], [2, 3]] }}"#
        )
    };
    assert_eq!(named(&map("mountain")), []);
    let wrong = named(&map("valley"));
    let panels = ["Bottom flap", "Right flap", "Right flap 2"].map(String::from).to_vec();
    assert_eq!(wrong.iter().map(|(rule, panels, _)| (*rule, panels)).collect::<Vec<_>>(), [("still-joined", &panels)]);
    let (_, derived) = design(&map("valley")).unwrap();
    let mend = &derived.findings.iter().find(|finding| finding.rule == "still-joined").unwrap().mend;
    assert!(mend.contains("no mountains and 4 valleys meet"), "{mend}");
}

#[test]
fn a_corner_that_was_not_cut_names_the_scores_that_it_holds() {
    // The cut up the lower left corner: both scores that end there hang together with the corner.
    let cut = r#",
    {
      "id": 14,
      "name": "Lower left corner",
      "place": { "along": "line 2", "start": "line 11" },
      "work": "cut"
    }"#;
    let wrong = named(&changed(cut, ""));
    let told: Vec<(&str, &Vec<u32>)> = wrong.iter().map(|(rule, _, lines)| (*rule, lines)).collect();
    // And where the other cut ends in the base it may tear.
    let expected = [("still-joined", &vec![7]), ("still-joined", &vec![8]), ("tearing-corner", &vec![])];
    assert_eq!(told, expected);
}

#[test]
fn an_order_that_blocks_itself_names_the_flap_and_what_lies_on_it() {
    // The tip of the right flap folds to its back; once the left flap lies on it, it can't.
    let order = |steps: &str| {
        format!(
            r#"{{ "format": "foliowright folio", "version": 2, "title": "Tip", "units": "in",
                "stock": {{ "width": "17 in", "height": "6 in", "caliper": "0.3 mm" }},
                "lines": [
                    {{ "id": 1, "place": {{ "turn": 0, "from": "edge", "distance": "5 in" }}, "work": "score",
                       "fold": "valley" }},
                    {{ "id": 2, "place": {{ "turn": 0, "from": "edge", "distance": "11 in" }}, "work": "score",
                       "fold": "valley" }},
                    {{ "id": 3, "place": {{ "turn": 0, "from": "edge", "distance": "16 in" }}, "work": "score",
                       "fold": "mountain" }}
                ],
                "base": {{ "x": "8 in", "y": "3 in" }}, "steps": {steps} }}"#
        )
    };
    let panels = ["Left flap", "Right flap 2"].map(String::from).to_vec();
    let wrong = named(&order("[[2], [1], [3]]"));
    assert!(wrong.contains(&("blocked", panels, Vec::new())), "{wrong:?}");
    assert!(named(&order("[[2], [3], [1]]")).iter().all(|(rule, ..)| *rule != "blocked"));
    // The engine finds an order by itself.
    let (document, derived) = design(&order("[]")).unwrap();
    let found = session::closing::find(&document, &derived).unwrap();
    let text = order(&format!(
        "{:?}",
        found.steps.iter().map(|s| s.lines.iter().map(|l| l.0).collect()).collect::<Vec<Vec<u32>>>()
    ));
    assert!(named(&text).iter().all(|(rule, ..)| *rule != "blocked"), "{text}");
}

#[test]
fn a_gusset_too_thin_for_what_it_wraps_is_named_with_the_next_groove() {
    // Board of 2 mm: the top gusset wraps three layers of it and has to be 8 mm (the gap is the layers between and one
    // caliper more), where 1/4 in is 6.35 mm.
    let text = changed("\"caliper\": \"0.3 mm\"", "\"caliper\": \"2 mm\"");
    assert_eq!(
        named(&text).iter().map(|(rule, panels, _)| (*rule, panels.join(", "))).collect::<Vec<_>>(),
        [("thin-gusset", "Top gusset".to_owned())]
    );
    let (_, derived) = design(&text).unwrap();
    let finding = &derived.findings[0];
    assert!(finding.sentence.contains("it has to be 8 mm") && finding.mend.contains("3/8 in"), "{finding:?}");
}
