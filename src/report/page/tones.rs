//! What a wood looks like when it is freshly cut: a light and a dark tone for its rings. Chosen by eye from common
//! descriptions of the woods (common practice, no source); they colour pictures and decide nothing.

/// Tones of a wood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tones {
    /// Earlywood.
    pub light: &'static str,
    /// Latewood.
    pub dark: &'static str,
}

const PALE: Tones = Tones { light: "#e9d9b4", dark: "#cfb586" };

/// Words that may stand in the name of a wood, and its tones. The first that fits holds.
const WOODS: [(&str, Tones); 20] = [
    ("hornbeam", Tones { light: "#e9ddc0", dark: "#cdbb93" }),
    ("beech", Tones { light: "#deb98d", dark: "#bf9063" }),
    ("maple", Tones { light: "#ecdab7", dark: "#d3b483" }),
    ("sycamore", Tones { light: "#eee0c4", dark: "#d6c29a" }),
    ("birch", Tones { light: "#e6cfa2", dark: "#c9a873" }),
    ("ash", Tones { light: "#e4cda1", dark: "#b9976a" }),
    ("oak", Tones { light: "#cfa971", dark: "#9c7541" }),
    ("walnut", Tones { light: "#8f6a49", dark: "#5c3f29" }),
    ("cherry", Tones { light: "#cc946a", dark: "#a46a44" }),
    ("pear", Tones { light: "#d6a27f", dark: "#b87d5b" }),
    ("apple", Tones { light: "#c98f6a", dark: "#a56c4a" }),
    ("plum", Tones { light: "#b97a5a", dark: "#85503d" }),
    ("elm", Tones { light: "#c39a6c", dark: "#93693f" }),
    ("boxwood", Tones { light: "#e8cf87", dark: "#cdae5f" }),
    ("olive", Tones { light: "#c9a468", dark: "#8a6434" }),
    ("lignum", Tones { light: "#7d6a3f", dark: "#4a4427" }),
    ("lime", Tones { light: "#ecd9b0", dark: "#d6bd8d" }),
    ("poplar", Tones { light: "#dfd3a8", dark: "#b9b083" }),
    ("hickory", Tones { light: "#d9b98b", dark: "#b18a5b" }),
    ("pine", Tones { light: "#e8c88e", dark: "#c3924f" }),
];

/// The tones of a wood by its name; a pale hardwood's if the name says nothing.
pub fn of(wood: &str) -> Tones {
    let wood = wood.to_lowercase();
    WOODS.iter().find(|(word, _)| wood.contains(word)).map_or(PALE, |&(_, tones)| tones)
}
