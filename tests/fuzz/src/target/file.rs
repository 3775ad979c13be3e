//! Any text is refused with a sentence, or is a design that is written and read back as it is.

pub(crate) fn run(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else { return };
    match file::from_text(text) {
        Ok(design) => {
            let written = file::to_text(&design);
            let read = file::from_text(&written).unwrap_or_else(|error| panic!("{error} in {written}"));
            assert_eq!(read, design);
            assert_eq!(file::to_text(&read), written);
        }
        Err(error) => {
            let said = error.to_string();
            assert!(!said.is_empty() && !said.contains(char::is_control) && said.len() < 4_000, "{said:?}");
        }
    }
}
