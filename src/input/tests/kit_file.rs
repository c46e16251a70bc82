//! Kit files read into their values, and what is said about bad ones.

use super::super::{KitSpec, Reuse, Source};
use super::{KIT, changed, said};

fn read(text: &str) -> Result<KitSpec, String> {
    KitSpec::read(&Source::new("k.toml", text)).map_err(|report| report.to_string())
}

fn refused(from: &str, to: &str) -> String {
    read(&changed(KIT, from, to)).expect_err("the file is bad")
}

#[test]
fn a_good_file_becomes_its_values() {
    let kit = read(KIT).unwrap();
    assert_eq!(kit.identity.number.value, "LV2-KIT-01");
    assert_eq!(kit.identity.revision.value, "A");
    assert_eq!(kit.identity.issued, "2026-03-02");
    let quantities: Vec<_> = kit.patterns.iter().map(|p| p.quantity).collect();
    assert_eq!(quantities, [2, 1]);
    let bolt = &kit.bolts[0];
    let parts: Vec<_> = bolt.stack.iter().map(|item| item.part.as_str()).collect();
    assert_eq!(parts, ["spacer", "washer", "nut"]);
    assert_eq!((bolt.count, bolt.stack[1].count), (2, 2));
    assert_eq!(bolt.torque.as_ref().unwrap().least, 86.0);
    let panel = &kit.panels[0];
    assert_eq!(panel.overlaps[0].value, "Rear fascia");
    assert_eq!(panel.fasteners[0].reuse, Reuse::Replace);
    assert_eq!(panel.fasteners[1].shared_with[0].value, "Rear fascia");
    assert_eq!(kit.handover.pin_hole_to_bumper, Some(75.0));
    // 16 1/4 in of 25.4 mm; 176.37 lb of 0.45359237 kg.
    assert_eq!(kit.handover.ground_to_receiver, Some(412.75));
    assert!((kit.handover.vehicle.tongue.unwrap() - 80.0001).abs() < 1e-4);
    assert_eq!(kit.handover.carried[0].mass.value, 18.0);
    assert!(KitSpec::is_meant(&Source::new("k", KIT)));
    assert!(!KitSpec::is_meant(&Source::new("p", super::PATTERN)));
}

#[test]
fn a_kit_of_one_pattern_needs_little() {
    let kit = read(
        "format = 1\n[kit]\nnumber = \"K\"\nrevision = \"1\"\ntitle = \"T\"\n\
         issued = 2026-01-01\n[[pattern]]\nfile = \"p.toml\"\n",
    )
    .unwrap();
    assert!(kit.panels.is_empty() && kit.bolts.is_empty());
    assert_eq!(kit.handover.bracket.towed, None);
}

#[test]
fn mistakes_are_told_at_their_place_all_at_once() {
    let text = changed(KIT, "quantity = 2", "quantity = 0");
    let text = changed(&text, "\"86 N m\"", "\"86\"");
    let text = changed(&text, "number = \"LV2-KIT-01\"", "number = \"../up\"");
    let text = changed(&text, "reuse = \"keep\"", "reuse = \"kep\"");
    let report = read(&text).unwrap_err();
    for place in [":5:10:", ":15:12:", ":29:10:", ":45:9:"] {
        assert!(
            report.contains(&format!("k.toml{place} error: ")),
            "{place}\n{report}"
        );
    }
    let said = said(&report);
    assert!(said.contains(&"`quantity = 0` is out of range: 1 to 999 is allowed"));
    assert!(said.contains(&"`torque = \"86\"` is not a torque"));
    assert!(said.contains(&"hint: did you mean `keep`?"));
}

#[test]
fn names_of_panels_must_be_known() {
    let report = refused(
        "overlaps = [\"Rear fascia\"]",
        "overlaps = [\"Rear facia\"]",
    );
    assert_eq!(
        said(&report),
        [
            "no panel is called `Rear facia`",
            "hint: did you mean `Rear fascia`?"
        ]
    );
    let report = refused(
        "overlaps = [\"Rear fascia\"]",
        "overlaps = [\"Rear under-panel\"]",
    );
    assert_eq!(
        said(&report),
        ["panel `Rear under-panel` can't name itself here"]
    );
    let report = refused("name = \"Rear fascia\"", "name = \"Rear under-panel\"");
    assert!(
        report.contains("`Rear under-panel` names two panels"),
        "{report}"
    );
    let report = refused("file = \"fascia.toml\"", "file = \"under-panel.toml\"");
    assert!(
        report.contains("`under-panel.toml` names two patterns"),
        "{report}"
    );
}

#[test]
fn a_shared_fastener_is_told_under_one_panel() {
    let panel = |name: &str, kind: &str, other: &str| {
        format!(
            "[[panel]]\nname = \"{name}\"\n[[panel.fastener]]\nkind = \"{kind}\"\ncount = 2\n\
             reuse = \"replace\"\nshared_with = [\"{other}\"]\n"
        )
    };
    let first = "[[panel]]\nname = \"Rear fascia\"";
    let once = panel("Apron", "rivet", "Rear fascia") + "[[panel]]\nname = \"Tray\"\n" + first;
    let text = changed(KIT, first, &once);
    read(&text).unwrap();
    for kind in ["rivet", "Rivet", " rivets "] {
        let twice = panel("Apron", "rivet", "Tray") + &panel("Tray", kind, "Apron") + first;
        let report = refused(first, &twice);
        assert_eq!(
            said(&report),
            [
                &format!("`{kind}` through these panels is told under `Apron` already"),
                "hint: tell all that go through the same panels once, under one of them"
            ]
        );
    }
    let two_kinds = panel("Apron", "rivet", "Tray") + &panel("Tray", "screw", "Apron") + first;
    read(&changed(KIT, first, &two_kinds)).unwrap();
}

#[test]
fn the_tongue_holds_what_is_carried() {
    let report = refused("mass = \"18 kg\"", "mass = \"80.1 kg\"");
    assert!(
        report
            .contains("with `step plate` 80.1 kg are carried on the tongue, and it may hold 80 kg"),
        "{report}"
    );
    assert!(read(&changed(KIT, "mass = \"18 kg\"", "mass = \"80 kg\"")).is_ok());
}

#[test]
fn what_must_be_there() {
    for (line, missing) in [
        ("revision = \"A\"\n", "`revision` is missing in `[kit]`"),
        ("issued = 2026-03-02\n", "`issued` is missing in `[kit]`"),
        ("count = 6\n", "`count` is missing in `[[fastener]]`"),
    ] {
        assert_eq!(said(&refused(line, ""))[0], missing);
    }
    let report = refused("revision = \"A\"", "revision = \"\"");
    assert_eq!(said(&report), ["`revision` is empty"]);
}
