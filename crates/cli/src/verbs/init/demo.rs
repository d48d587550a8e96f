//! The folder of the invented Fernhollow Conservatory.

use guardcell_folder::init::NewFile;

macro_rules! demo_files {
    ($($name:literal),+ $(,)?) => {
        [$(($name, include_str!(concat!("../../../../../demo-data/", $name)))),+]
    };
}

pub(super) fn files() -> Vec<NewFile> {
    let files = demo_files![
        "site.toml",
        "collection.csv",
        "water.toml",
        "tap.toml",
        "rain.toml",
        "conditions.csv",
        "labels/fernhollow-bloom-10-30-20.txt",
        "labels/fernhollow-drop-6-2-5.toml",
        "labels/fernhollow-leaf-20-20-20.toml",
        "labels/fernhollow-mist-15-5-15.toml",
        "labels/fernhollow-plain-8-8-14.json",
        "labels/fernhollow-single-salts.csv",
    ];
    files.map(|(name, text)| NewFile { name: name.to_owned(), text: text.to_owned() }).to_vec()
}
