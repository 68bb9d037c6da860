use proptest::prelude::*;
use rstest::rstest;

use super::*;

fn row(line: usize, name: &str, ah: i64, mohm: i64, volts: i64, note: &str) -> Row {
    Row {
        line,
        name: name.to_owned(),
        amp_hours: Some(AmpHours::from_milli(ah)),
        resistance_mohm: Some(Milliohms(mohm)),
        rest_volts: Some(Volts::from_milli(volts)),
        health: None,
        note: note.to_owned(),
    }
}

/// One unit of 52.3 Ah, 1.85 mohm, 29.41 V in every dialect.
#[rstest]
#[case::heads("unit,Ah,mohm,V\nU1,52.3,1.85,29.41\n", 2)]
#[case::no_heads("U1,52.3,1.85,29.41\n", 1)]
#[case::other_order("OCV (V);IR [mOhm];Capacity (mAh);Module\n29,41;1,85;52300;U1\n", 2)]
#[case::tabs_and_units("id\tcapacity\tR\tvolts\r\nU1\t52300 mAh\t0.00185 ohm\t29410 mV\r\n", 2)]
#[case::greek("Nr.;cap Ah;R m\u{3a9};U;V\nU1;52,3 Ah;1850 \u{b5}\u{3a9};;29,41\n", 2)]
#[case::bom_comment_blank(
    "\u{feff}# measured in the shop\n\nname,\"capacity, Ah\",\"resistance, mohm\",\"rest, V\"\n\"U1\",\"52.3\",1.85,29.41\n",
    4
)]
fn reads_every_dialect(#[case] text: &str, #[case] line: usize) {
    let sheet = read_sheet(text);
    assert_eq!(sheet.faults, []);
    assert_eq!(sheet.rows, [row(line, "U1", 52_300, 1_850, 29_410, "")]);
}

#[test]
fn tells_every_fault_by_line_and_keeps_what_is_right() {
    let text = "unit,Ah,mohm,V,date\nU1,52.3,1.85,29.41,May\nU2,fifty,1.85,29.41,\nU3,52.3,-1,29.41 A,\n,50,2,29,\nU1,50,2,29,\n";
    let sheet = read_sheet(text);
    assert_eq!(sheet.rows, [row(2, "U1", 52_300, 1_850, 29_410, "May")]);
    let told: Vec<(usize, &str)> = sheet.faults.iter().map(|f| (f.line, f.column.as_str())).collect();
    assert_eq!(told, [(3, "Ah"), (4, "mohm"), (4, "V"), (5, "unit"), (6, "unit")]);
    assert_eq!(
        sheet.faults[0].to_string(),
        "line 3, Ah: \"fifty\" is not a plain number"
    );
}

#[test]
fn a_sheet_without_names_says_so() {
    let sheet = read_sheet("Ah,V\n50,29\n");
    assert_eq!(sheet.faults[0].column, "the heads");
    assert!(sheet.rows.is_empty());
}

proptest! {
    #[test]
    fn what_is_written_reads_back(
        rows in proptest::collection::vec(("[A-Za-z0-9]{1,8}", 1..200_000_i64, 1..90_000_i64, 1..900_000_i64, "[a-z,; \"]{0,12}"), 1..12),
    ) {
        let mut written: Vec<Row> = Vec::new();
        for (name, ah, mohm, volts, note) in rows {
            if written.iter().all(|r| r.name != name) {
                written.push(row(written.len() + 2, &name, ah, mohm, volts, note.trim()));
            }
        }
        let sheet = read_sheet(&sheet_text(&written));
        prop_assert_eq!(sheet.faults, []);
        prop_assert_eq!(sheet.rows, written);
    }

    #[test]
    fn nonsense_never_panics(text in "\\PC{0,200}", more in "[-0-9a-zA-Z,;\t\n\" .#%]{0,200}") {
        read_sheet(&text);
        read_sheet(&more);
        read_sheet(&format!("unit,Ah\n{more}"));
    }
}
