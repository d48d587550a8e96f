use super::*;
use crate::tree::Clash;
use guardcell::film::{AirRequest, FilmRequest};
use guardcell::solution::acid::AcidTarget;

struct Cells(&'static [&'static str]);

impl Row for Cells {
    fn cell(&self, index: usize) -> Option<Cell<'_>> {
        Cell::text(self.0.get(index)?)
    }
}

fn tree(names: &[&str]) -> Tree {
    let mut tree = Tree::default();
    for (i, name) in names.iter().enumerate() {
        tree.add(name, i).unwrap();
    }
    tree
}

#[test]
fn nested_columns_fill_nested_fields_and_blank_ones_are_not_given() {
    let columns =
        tree(&["id", "temp_c", "rh_percent", "composition.ca_mmol_l", "air_words", "course"]);
    let mut wanted = FilmRequest::new(21.5, 70.0);
    wanted.composition.ca_mmol_l = 1.5;
    let row = Cells(&["shelf 3", "21.5", "70", "1.5", "", ""]);
    assert_eq!(read::<FilmRequest>(&columns, &row).unwrap(), wanted);
    let row = Cells(&["shelf 3", "21.5", "70", "1.5", "gale", ""]);
    let e = read::<FilmRequest>(&columns, &row).unwrap_err();
    assert_eq!(e.pointer(), "/air_words");
    assert!(e.detail().contains("unknown word \"gale\""), "{e}");
}

#[test]
fn a_fault_names_its_column() {
    let columns = tree(&["temp_c", "rh_percent"]);
    let fault = |cells| read::<AirRequest>(&columns, &Cells(cells)).unwrap_err();
    let error = fault(&["21,5", "70"]);
    assert_eq!((error.pointer(), error.detail()), ("/temp_c", "\"21,5\" is not a number"));
    assert_eq!(fault(&["NaN", "70"]).detail(), "\"NaN\" is not a number");
    assert_eq!(fault(&["", "70"]).pointer(), "/temp_c");
    let e = read::<FilmRequest>(
        &tree(&["temp_c", "rh_percent", "composition.k_mmol_l"]),
        &Cells(&["1", "2", "x"]),
    );
    assert_eq!(e.unwrap_err().pointer(), "/composition/k_mmol_l");
}

#[test]
fn one_of_several_forms() {
    #[derive(serde::Deserialize)]
    struct Asked {
        target: AcidTarget,
    }
    let columns = tree(&["target.ph", "target.alkalinity_mg_l_caco3"]);
    let read = |cells| read::<Asked>(&columns, &Cells(cells)).map(|a| a.target);
    assert_eq!(read(&["6", ""]).unwrap(), AcidTarget::Ph(6.0));
    assert_eq!(read(&["", "60"]).unwrap(), AcidTarget::AlkalinityMgLCaco3(60.0));
    assert!(read(&["", ""]).unwrap_err().pointer() == "/target");
    assert!(read(&["6", "60"]).is_err(), "both at once are no target");
}

#[test]
fn a_column_within_another_is_refused() {
    let mut columns = tree(&["composition"]);
    assert_eq!(columns.add("composition.ca_mmol_l", 1), Err(Clash("composition.ca_mmol_l".into())));
    assert_eq!(columns.add("composition", 2), Err(Clash("composition".into())));
}

#[test]
fn numbers_of_a_column_fill_numbers_words_and_counts() {
    #[derive(Debug, PartialEq, serde::Deserialize)]
    struct Asked {
        id: String,
        hours: u16,
        temp_c: f64,
        under_cover: bool,
    }
    struct Typed([Cell<'static>; 4]);
    impl Row for Typed {
        fn cell(&self, index: usize) -> Option<Cell<'_>> {
            self.0.get(index).copied()
        }
    }
    let columns = tree(&["id", "hours", "temp_c", "under_cover"]);
    let read = |cells| read::<Asked>(&columns, &Typed(cells));
    let wanted = Asked { id: "7".to_owned(), hours: 36, temp_c: 20.0, under_cover: true };
    assert_eq!(
        read([Cell::Int(7), Cell::Float(36.0), Cell::Int(20), Cell::Bool(true)]),
        Ok(wanted)
    );
    let fault = |cells| read(cells).unwrap_err();
    let hours = fault([Cell::Int(7), Cell::Float(36.5), Cell::Int(20), Cell::Bool(true)]);
    assert_eq!(
        (hours.pointer(), hours.detail()),
        ("/hours", "\"36.5\" is not a whole number from 0 to 65535")
    );
    let hours = fault([Cell::Int(7), Cell::Int(-1), Cell::Int(20), Cell::Bool(true)]);
    assert_eq!(hours.pointer(), "/hours");
    let temp = fault([Cell::Int(7), Cell::Int(1), Cell::Float(f64::NAN), Cell::Bool(true)]);
    assert_eq!((temp.pointer(), temp.code()), ("/temp_c", Code::BadNumber));
    let cover = fault([Cell::Int(7), Cell::Int(1), Cell::Float(1.0), Cell::Int(1)]);
    assert_eq!(cover.pointer(), "/under_cover");
}
