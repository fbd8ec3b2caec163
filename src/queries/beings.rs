//! Whoever does something: the pronouns, and the people and animals that children's stories have most.
//!
//! Source: common practice, collected for this program.

/// Pronouns that are subjects.
pub(super) const SUBJECTS: [&str; 7] = ["he", "she", "they", "it", "we", "you", "i"];

/// Whether a word is several people or animals.
pub(super) fn is_people(word: &str) -> bool {
    const IRREGULAR: [&str; 6] = ["children", "mice", "men", "women", "geese", "people"];
    IRREGULAR.contains(&word) || word.strip_suffix('s').is_some_and(is_being)
}

/// Whether a word is one person or animal of those that stories have most.
pub(super) fn is_being(word: &str) -> bool {
    BEINGS.contains(&word)
}

const BEINGS: [&str; 62] = [
    "boy",
    "girl",
    "man",
    "woman",
    "child",
    "bear",
    "dog",
    "cat",
    "fox",
    "king",
    "queen",
    "princess",
    "prince",
    "dragon",
    "witch",
    "wizard",
    "mother",
    "father",
    "teacher",
    "sister",
    "brother",
    "friend",
    "mouse",
    "rabbit",
    "pirate",
    "owl",
    "wolf",
    "horse",
    "pony",
    "monster",
    "giant",
    "robot",
    "knight",
    "farmer",
    "captain",
    "baker",
    "grandmother",
    "grandfather",
    "hero",
    "heroine",
    "twin",
    "bird",
    "frog",
    "duck",
    "hen",
    "pig",
    "lion",
    "tiger",
    "elephant",
    "monkey",
    "penguin",
    "puppy",
    "kitten",
    "goat",
    "snail",
    "beetle",
    "hedgehog",
    "badger",
    "squirrel",
    "fairy",
    "ghost",
    "villager",
];
