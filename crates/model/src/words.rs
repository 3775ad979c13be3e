//! How several names are said in a sentence, for all who make sentences.

/// "a", "a and b", "a, b and c"; nothing for no names.
#[must_use]
pub fn listed(names: impl IntoIterator<Item = String>) -> String {
    let mut names: Vec<String> = names.into_iter().collect();
    match names.pop() {
        None => String::new(),
        Some(last) if names.is_empty() => last,
        Some(last) => format!("{} and {last}", names.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_two_are_joined_by_and() {
        let said = |names: &[&str]| listed(names.iter().map(|&name| name.to_owned()));
        assert_eq!(
            [said(&[]), said(&["a"]), said(&["a", "b"]), said(&["a", "b", "c"])],
            ["", "a", "a and b", "a, b and c"]
        );
    }
}
